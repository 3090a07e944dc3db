/**
 * Which files concern the server: the documents it is sent while they are open, and those on disk whose changes it hears of.
 */
export const PROFILE_GLOB = '**/*.device.{yaml,yml}';

export const LANGUAGES = ['kotlin', 'typescript', 'typescriptreact', 'javascript', 'javascriptreact', 'vue', 'svelte'];

/** A selector that both VS Code and the language client take. */
export const DOCUMENTS: { scheme: string; language: string; pattern?: string }[] = [
  ...LANGUAGES.map((language) => ({ scheme: 'file', language })),
  { scheme: 'file', language: 'yaml', pattern: PROFILE_GLOB },
];

/** Sources, device profiles, and the build files that state the API levels. */
export const WATCHED = [
  PROFILE_GLOB,
  '**/build.gradle',
  '**/*.{kt,kts,ts,tsx,mts,cts,js,jsx,mjs,cjs,vue,svelte}',
];
