import { describe, expect, it } from 'vitest';
import { atLeast, defaultSettings, parseSettings } from '../../server/engine/settings.js';

const IDS = new Set(['link-not-closed', 'status-unchecked']);

describe('settings', () => {
  it('are the defaults when nothing is set', () => {
    for (const nothing of [undefined, null, {}]) expect(parseSettings(nothing, IDS)).toEqual({ settings: defaultSettings, problems: [] });
  });

  it('read levels and the severity a run fails on', () => {
    const { settings, problems } = parseSettings({ rules: { 'link-not-closed': 'off', 'status-unchecked': 'error' }, failOn: 'hint' }, IDS);
    expect([...settings.levels]).toEqual([['link-not-closed', 'off'], ['status-unchecked', 'error']]);
    expect(settings.failOn).toBe('hint');
    expect(problems).toEqual([]);
  });

  it.each([
    [[], 'The settings are not an object.'],
    [{ failOn: 'off' }, 'failOn is "off"; it may be error, warning or hint.'],
    [{ failOn: undefined }, 'failOn is undefined; it may be error, warning or hint.'],
    [{ rules: 'all' }, 'rules is not an object of rule ids and levels.'],
    [{ rules: { 'link-left-open': 'hint' } }, 'There is no rule named link-left-open.'],
    [{ rules: { 'link-not-closed': 3 } }, 'rules.link-not-closed is 3; it may be off, hint, warning or error.'],
    [{ loud: true }, 'There is no setting named loud.'],
  ])('name what they cannot use and leave it at its default: %j', (value, problem) => {
    expect(parseSettings(value, IDS)).toEqual({ settings: defaultSettings, problems: [problem] });
  });

  it('order severities from hint to error', () => {
    expect(atLeast('warning', 'warning')).toBe(true);
    expect(atLeast('hint', 'warning')).toBe(false);
    expect(atLeast('error', 'hint')).toBe(true);
  });
});
