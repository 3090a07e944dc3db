/** Prints the outcomes of the editor's tests, and the line that sums them up. */

/** @param {readonly { name: string, milliseconds: number, error?: string }[]} outcomes */
export function report(outcomes) {
  for (const { name, milliseconds, error } of outcomes) console.log(`${error === undefined ? '  ok  ' : '  FAIL'} ${name} (${milliseconds} ms)${error === undefined ? '' : `\n${error}`}`);
  const failed = outcomes.filter(({ error }) => error !== undefined).length;
  console.log(`editor: ${outcomes.length - failed} passed, ${failed} failed`);
  process.exitCode = failed > 0 ? 1 : 0;
}
