/** The front ends' writers, as the engine asks for them. */
import type { Writers } from '../engine/edits.js';
import { styleAt } from '../frontend/index.js';
import { writeKotlin } from '../frontend/kotlin/write.js';
import { writeTypeScript } from '../frontend/typescript/write.js';

export const writers: Writers = {
  styleAt,
  write: (node, language, style, source) => (language === 'kotlin' ? writeKotlin : writeTypeScript)(node, style, source),
};
