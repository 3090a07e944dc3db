import type { Plugin as EsbuildPlugin } from 'esbuild';
import type { Plugin as VitePlugin } from 'vitest/config';

export function yamlModule(text: string, path: string): string;
export function yamlForEsbuild(): EsbuildPlugin;
export function yamlForVite(): VitePlugin;
