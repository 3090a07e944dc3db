/**
 * Comments that say why a failure is tolerated at a place. A comment that only announces what comes, or warns of a failure
 * that somebody has yet to handle, says no such thing.
 */

/** Words with which people say so. common practice, no source */
const TOLERATES: readonly RegExp[] = [
  /\b(?:best[- ]effort|fire[- ]and[- ]forget|don'?t care|do not care|tolerat\w*|harmless|does ?n[o']t matter|do ?n[o']t matter|does not matter|no matter|not (?:fatal|critical|important)|non-?(?:fatal|critical)|no-floating-promises|either way|on purpose|deliberate\w*|intentional\w*|made good|nobody (?:waits|misses))\b/i,
  /\bignor\w*.{0,40}\b(?:fail\w*|errors?|results?|return\w*|status|refus\w*|reject\w*|outcome)\b/i,
  /\b(?:fail\w*|errors?|results?|status|refus\w*|reject\w*|outcome)\b.{0,40}\bignor\w*/i,
  /^\W*ignor\w*\W*$/i,
  /\b(?:fails|failed|failing|refused|rejected)\b.{0,60}\b(?:stays?|remains?|still|keeps?|anyway|no harm|fine|ok|okay|nothing (?:is )?lost)\b/i,
];
/** Somebody meant to come back to it. common practice, no source */
const WARNS = /\b(?:todo|fixme|xxx|hack|must|should)\b/i;

export function saysTolerated(comment: string): boolean {
  const text = comment.replace(/^[\s/*#]+|[\s*/]+$/g, '').replace(/\s*\n[\s*/]*/g, ' ');
  return TOLERATES.some(pattern => pattern.test(text)) && !WARNS.test(text);
}
