import type { Plugin } from 'esbuild';

export function pagesForEsbuild(): Plugin;
