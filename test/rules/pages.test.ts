/**
 * The pages of the rules are executed: a block marked `bad` is reported by the page's rule, one marked `good` is not, both as
 * they stand but for the imports that everybody writes. A block `yaml profile` is the device profile of all blocks below it.
 * What a page says about sources is held against the catalogue.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { rules } from '../../rules/index.js';
import { source } from '../../server/catalogue/index.js';
import { findingsIn } from '../support/rule-cases.js';

const FAMILIES = new URL('../../rules/', import.meta.url);
const pages = readdirSync(FAMILIES, { recursive: true, encoding: 'utf8' })
  .filter((name) => /^[^/\\]+[/\\][^/\\]+\.md$/.test(name))
  .map((name) => ({ id: name.replace(/^.*[/\\]|\.md$/g, ''), text: readFileSync(new URL(name, FAMILIES), 'utf8') }));

const IMPORTS = `import android.bluetooth.*
import android.bluetooth.le.*
import android.content.Context
import android.os.Handler
import androidx.lifecycle.ViewModel
import java.util.UUID
import kotlinx.coroutines.*
`;

interface PageBlock {
  readonly language: 'kotlin' | 'typescript';
  readonly is: 'bad' | 'good';
  readonly text: string;
  readonly profile?: string;
}

function blocksOf(page: string): readonly PageBlock[] {
  const found: PageBlock[] = [];
  let profile: string | undefined;
  for (const [, language, is, text] of page.matchAll(/^```(\w+) (\w+)\n([\s\S]*?)^```$/gm)) {
    if (language === 'yaml' && is === 'profile') profile = text!;
    else if ((language === 'kotlin' || language === 'typescript') && (is === 'bad' || is === 'good')) found.push({ language, is, text: text!, ...(profile !== undefined && { profile }) });
    else throw new Error(`a block that nobody knows how to run: ${language} ${is}`);
  }
  return found;
}

function run(id: string, { language, text, profile }: PageBlock): readonly string[] {
  const files = new Map([language === 'kotlin' ? ['Page.kt', IMPORTS + text] : ['page.ts', text]] as [string, string][]);
  if (profile !== undefined) files.set('page.device.yaml', profile);
  return findingsIn(files, id).findings.map(({ severity, message }) => `${severity}: ${message}`);
}

describe('pages', () => {
  for (const { id, text } of pages) {
    it(`${id}: is the page of a rule, whose sources the catalogue holds`, () => {
      const rule = rules.find((each) => each.id === id);
      expect(rule).toBeDefined();
      for (const key of rule!.sources) expect(source(key), key).toBeDefined();
    });

    it(`${id}: says what is wrong, what happens, why, how to mend and accept it, and when the rule is silent`, () => {
      const heads = [...text.matchAll(/^## (.+)$/gm)].map(([, head]) => head);
      expect(heads).toEqual(['What is wrong', 'What happens', 'Why', 'Faulty', 'Right', 'Ways to mend it', 'Accepting it', 'When the rule is silent']);
      expect(text).toContain(`linkwright accepts ${id}:`);
    });

    it(`${id}: shows a faulty and a right way in both languages`, () => {
      const shown = new Set(blocksOf(text).map(({ language, is }) => `${language} ${is}`));
      expect([...shown].sort()).toEqual(['kotlin bad', 'kotlin good', 'typescript bad', 'typescript good']);
    });

    blocksOf(text).forEach((block, i) => {
      it(`${id}: block ${i + 1}, ${block.language}, is ${block.is}`, () => {
        const found = run(id, block);
        if (block.is === 'bad') expect(found.length, block.text).toBeGreaterThan(0);
        else expect(found, block.text).toEqual([]);
      });
    });
  }
});
