/** The front ends' writers, as the engine asks for them. */
import type { Writers } from '../engine/edits.js';
import { styleAt, write } from '../frontend/index.js';

export const writers: Writers = { styleAt, write };
