import { defineConfig } from 'vitest/config';
import { yamlForVite } from '../client/yaml-module.mjs';

export default defineConfig({
  plugins: [yamlForVite()],
  test: {
    include: ['test/**/*.test.ts'],
    root: new URL('..', import.meta.url).pathname,
    testTimeout: 120_000,
    hookTimeout: 300_000,
    maxWorkers: 2,
  },
});
