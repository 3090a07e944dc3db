import { describe, expect, it } from 'vitest';
import type { Finding } from '../../server/engine/rule.js';
import { nothingPublished, publish, type Event, type Publication } from '../../server/project/publish.js';

const finding = (message: string): Finding => ({
  rule: 'r', severity: 'warning', path: '/A.kt', at: { start: 0, end: 1 }, message, related: [], fixes: [], within: '',
});
const result = (messages: string[], version?: number, path = '/A.kt'): Publication => ({
  path, text: 'text', findings: messages.map(finding), ...(version !== undefined && { version }),
});

/** What is sent for each event, as `path@version: messages`. */
function sentFor(events: readonly Event[]): string[][] {
  let state = nothingPublished;
  return events.map((event) => {
    const step = publish(state, event);
    state = step.state;
    return step.send.map(({ path, version, findings }) => `${path}@${version ?? 'disk'}: ${findings.map((one) => one.message).join(' ')}`.trim());
  });
}

const started = (run: number): Event => ({ is: 'started', run });
const cancelled = (run: number): Event => ({ is: 'cancelled', run });
const edited = (version: number): Event => ({ is: 'edited', path: '/A.kt', version });
const closed = (stays: boolean): Event => ({ is: 'closed', path: '/A.kt', stays });
const checked = (run: number, publication: Publication): Event => ({ is: 'checked', run, result: publication });

describe('what is published', () => {
  it('carries the version of the document that was checked', () => {
    expect(sentFor([edited(3), started(1), checked(1, result(['x'], 3))])).toEqual([[], [], ['/A.kt@3: x']]);
  });

  it('is nothing for a file on disk that has no findings and never had', () => {
    expect(sentFor([started(1), checked(1, result([])), checked(1, result([], undefined, '/B.kt'))]).flat()).toEqual([]);
  });

  it('is once the same: equal findings for an equal version are not sent again', () => {
    expect(sentFor([started(1), checked(1, result(['x'])), started(2), checked(2, result(['x'])), started(3), checked(3, result([]))]).flat())
      .toEqual(['/A.kt@disk: x', '/A.kt@disk:']);
  });

  it('is sent again for a new version, so that fixes fit the text', () => {
    expect(sentFor([edited(1), started(1), checked(1, result(['x'], 1)), edited(2), started(2), checked(2, result(['x'], 2))]).flat())
      .toEqual(['/A.kt@1: x', '/A.kt@2: x']);
  });
});

describe('what is not published', () => {
  it('a result of a cancelled run, nor anything in its place', () => {
    expect(sentFor([edited(1), started(1), checked(1, result(['x'], 1)), edited(2), started(2), cancelled(2), checked(2, result([], 2))]).flat())
      .toEqual(['/A.kt@1: x']);
  });

  it('a late result of the run before', () => {
    expect(sentFor([edited(1), started(1), started(2), checked(1, result(['old'], 1)), checked(2, result(['new'], 1))]).flat()).toEqual(['/A.kt@1: new']);
  });

  it('a result for a version that the editor no longer shows', () => {
    expect(sentFor([edited(1), started(1), edited(2), checked(1, result(['x'], 1))]).flat()).toEqual([]);
  });

  it('a result for a document that was closed meanwhile', () => {
    expect(sentFor([edited(1), started(1), closed(false), checked(1, result(['x'], 1))]).flat()).toEqual([]);
  });

  it('anything for an edit alone: the marks stay until a result replaces them', () => {
    expect(sentFor([edited(1), started(1), checked(1, result(['x'], 1)), edited(2), edited(3), cancelled(1)]).flat()).toEqual(['/A.kt@1: x']);
  });
});

describe('closing', () => {
  it('clears a file that only the editor knew', () => {
    expect(sentFor([edited(1), started(1), checked(1, result(['x'], 1)), closed(false)]).flat()).toEqual(['/A.kt@1: x', '/A.kt@disk:']);
  });

  it('leaves a file of the project as it is, until its text on disk is checked', () => {
    expect(sentFor([edited(1), started(1), checked(1, result(['x'], 1)), closed(true), started(2), checked(2, result(['y']))]).flat())
      .toEqual(['/A.kt@1: x', '/A.kt@disk: y']);
  });

  it('sends nothing for a file that showed nothing', () => {
    expect(sentFor([edited(1), started(1), checked(1, result([], 1)), closed(false)]).flat()).toEqual(['/A.kt@1:']);
  });

  it('clears a file that is gone', () => {
    expect(sentFor([started(1), checked(1, result(['x'])), { is: 'gone', path: '/A.kt' }, { is: 'gone', path: '/A.kt' }]).flat())
      .toEqual(['/A.kt@disk: x', '/A.kt@disk:']);
  });
});
