/** The Kotlin compiler takes the sources of these rules, and what their fixes make of them. */
import { expect, it } from 'vitest';
import { kotlinErrors, missingForCheck, type KotlinSource } from '../support/kotlin-check.js';
import { afterFix, casesOf, findingsIn } from '../support/rule-cases.js';

const RULES = ['start-result-unchecked', 'status-unchecked'];
/** Sources that use a library which is not there. */
const UNKNOWN = /\bsome\.library\b/;

/** Each source, and each fix of each finding that asks for nothing. */
function kotlinTexts(): readonly KotlinSource[] {
  return RULES.flatMap((rule) => casesOf(rule).flatMap((one): KotlinSource[] => {
    const [first, ...others] = one.files;
    if (!first?.[0].endsWith('.kt') || others.length > 0 || UNKNOWN.test(first[1])) return [];
    const { findings, snapshot } = findingsIn(one.files, rule);
    const fixed = findings.flatMap((finding) => finding.fixes.filter(({ asks }) => asks === undefined).map((fix) => ({
      name: `${rule}/${one.name} at ${finding.at.start}: ${fix.title}`, text: afterFix(one.files, snapshot, finding, fix).get(first[0])!,
    })));
    return [{ name: `${rule}/${one.name}`, text: first[1] }, ...fixed];
  }));
}

it('sources and their fixed forms compile', () => {
  const missing = missingForCheck();
  if (missing !== undefined) {
    console.info(`The Kotlin sources of the rules were not compiled: ${missing} is not there.`);
    return;
  }
  const texts = kotlinTexts();
  const errors = kotlinErrors(texts);
  console.info(`${texts.length} Kotlin texts compiled, ${errors.size} with an error`);
  expect([...errors].map(([name, error]) => `${name}: ${error}`)).toEqual([]);
}, 300_000);
