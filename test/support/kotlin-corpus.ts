/** Real Kotlin sources: what general-purpose npm packages (navigation, maps, contacts, files, keyboard) ship for Android. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

const NODE_MODULES = new URL('../../node_modules/', import.meta.url).pathname;

const PACKAGES = [
  '@rnmapbox/maps', 'expo-calendar', 'expo-contacts', 'expo-dev-launcher', 'expo-dev-menu', 'expo-file-system', 'expo-manifests',
  'expo-media-library', 'react-native-keyboard-controller', 'react-native-screens',
];

export interface KotlinSource {
  readonly path: string;
  /** Newlines as the compiler counts them: one character each. */
  readonly text: string;
}

/** All of them, in the order of their paths. */
export function kotlinSources(): KotlinSource[] {
  const paths = PACKAGES.flatMap((name) =>
    readdirSync(join(NODE_MODULES, name), { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile() && entry.name.endsWith('.kt'))
      .map((entry) => join(entry.parentPath, entry.name)));
  return paths.sort().map((path) => ({ path, text: readFileSync(path, 'utf8').replaceAll('\r\n', '\n') }));
}
