/**
 * API levels out of Gradle build files. The statements are those of the Android Gradle plugin's two languages, as its
 * documentation and templates write them (from memory); each case is a form that real build files have.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readGradle } from '../../server/profile/gradle.js';
import { unmark } from './marked.js';

interface Case {
  readonly why: string;
  readonly text: string;
  readonly kts?: true;
  /** minSdk, targetSdk, compileSdk. */
  readonly levels: readonly (number | undefined)[];
  readonly unresolved?: readonly string[];
}

const android = (body: string): string => `android {\n  defaultConfig {\n    ${body}\n  }\n}\n`;

const CASES: readonly Case[] = [
  { why: 'Kotlin, assigned', kts: true, text: 'android { compileSdk = 35\n defaultConfig { applicationId = "org.example.hive"\n minSdk = «24»\n targetSdk = 34 } }', levels: [24, 34, 35] },
  { why: 'Groovy, called without parentheses', text: android('minSdkVersion «21»\n    targetSdkVersion 33'), levels: [21, 33] },
  { why: 'Groovy, the newer names', text: android('minSdk «21»\n targetSdk 33'), levels: [21, 33] },
  { why: 'called with parentheses', text: android('minSdkVersion(«21»)\n targetSdkVersion(33)'), levels: [21, 33] },
  { why: 'set', kts: true, text: android('minSdk.set(«21»)'), levels: [21] },
  { why: 'in one line', text: 'android { defaultConfig { minSdk «21»; targetSdk 33 } }', levels: [21, 33] },
  { why: 'on the next line', kts: true, text: android('minSdk =\n      «21»'), levels: [21] },
  { why: 'with a path', kts: true, text: 'android.defaultConfig.minSdk = «26»\nandroid.defaultConfig.targetSdk = 34\n', levels: [26, 34] },
  { why: 'as a block that names a release', kts: true, text: 'android {\n  compileSdk { version = release(36) }\n  defaultConfig { minSdk { version = release(«24») } }\n}', levels: [24, undefined, 36] },
  { why: 'as text', text: android(`minSdkVersion "«21»"`).replace('"«21»"', '«"21"»'), levels: [21] },
  { why: 'compileSdk by platform name', text: 'android { compileSdkVersion "android-34" }', levels: [undefined, undefined, 34] },
  { why: 'in a convention for all modules', kts: true, text: 'subprojects {\n  afterEvaluate {\n    extensions.configure<LibraryExtension> { defaultConfig { minSdk = «23» } }\n  }\n}', levels: [23] },
  { why: 'in a multiplatform library', kts: true, text: 'kotlin { androidLibrary { minSdk = «24»; compileSdk = 35 } }', levels: [24, undefined, 35] },

  { why: 'comments of both kinds', text: android('// minSdkVersion 14\n /* minSdkVersion 15\n minSdkVersion 16 */ minSdkVersion «21» // 19\n # minSdk 3'), levels: [21] },
  { why: 'nested comments, which only Kotlin has', kts: true, text: android('/* /* minSdk = 14 */ minSdk = 15 */ minSdk = «21»'), levels: [21] },
  { why: 'no nested comments in Groovy', text: android('/* /* minSdk 14 */ minSdk «21»'), levels: [21] },
  { why: 'strings', kts: true, text: android('buildConfigField("String", "A", "\\"minSdk = 3 // \\"")\n val s = """\n minSdk = 4\n """\n minSdk = «21»'), levels: [21] },
  { why: 'strings with holes', kts: true, text: android('versionName = "a${ if (x) "}" else "minSdk = 3" }"\n minSdk = «21»'), levels: [21] },
  { why: 'a Groovy pattern with quotes and strokes', text: android(`def p = ~/"minSdk '\\/\\/ x/\n minSdk «21»\n def q = a / b / c`), levels: [21] },
  { why: 'a single quote with a dollar', text: android(`resValue 'string', 'a', '\${'\n minSdk «21»`), levels: [21] },

  { why: 'the smallest of the flavours', text: `${android('minSdk 24\n targetSdk 34')}android { productFlavors {\n  demo { minSdk «21» ; targetSdk 30 }\n  full { minSdk 26 }\n} }`, levels: [21, 34] },
  { why: 'flavours of Kotlin', kts: true, text: 'android { productFlavors { create("demo") { minSdk = 26 }; register("full") { minSdk = «23» } } }', levels: [23] },
  { why: 'flavours that disagree on the target', text: 'android { productFlavors { a { targetSdk 33 }\n b { targetSdk 34 } } }', levels: [] },
  { why: 'both ways of a condition', kts: true, text: android('if (isLegacy) { minSdk = «21» } else { minSdk = 26 }'), levels: [21] },
  { why: "a lint check's own target", kts: true, text: 'android { defaultConfig { minSdk = «24» }\n lint { targetSdk = 33 }\n testOptions { targetSdk = 30 } }', levels: [24] },

  { why: 'a constant of the file', kts: true, text: `val oldest = 24\n${android('minSdk = «oldest»')}`, levels: [24] },
  { why: 'a constant with a type', kts: true, text: `private val oldest: Int = 24\n${android('minSdk = «oldest»')}`, levels: [24] },
  { why: 'a constant through another', text: `def a = 24\ndef b = a\n${android('minSdk «b»')}`, levels: [24] },
  { why: 'constants in a circle', text: `def a = b\ndef b = a\n${android('minSdk «b»')}`, levels: [undefined], unresolved: ['minSdk'] },
  { why: 'a constant of an object', kts: true, text: `object Levels { const val OLDEST = 24 }\n${android('minSdk = «Levels.OLDEST»')}`, levels: [24] },
  { why: 'ext as a block', text: `buildscript { ext {\n  minSdkVersion = 21\n  targetSdkVersion = 33\n} }\n${android('minSdkVersion «rootProject.ext.minSdkVersion»\n targetSdkVersion rootProject.ext.targetSdkVersion')}`, levels: [21, 33] },
  { why: 'ext with a dot', text: `ext.oldest = 21\n${android('minSdkVersion «ext.oldest»')}`, levels: [21] },
  { why: 'ext in brackets', text: `ext["oldest"] = 21\n${android('minSdkVersion «project.ext["oldest"]»')}`, levels: [21] },
  { why: 'ext as a map', text: `ext.versions = [minSdk: 21, 'targetSdk': 33]\n${android('minSdk «rootProject.ext.versions.minSdk»\n targetSdk versions["targetSdk"]')}`, levels: [21, 33] },
  { why: 'ext set whole', text: `ext = [\n  oldest: 21,\n  newest: 33\n]\n${android('minSdk «oldest»')}`, levels: [21] },
  { why: 'extra of Kotlin', kts: true, text: `extra["oldest"] = 24\n${android('minSdk = «rootProject.extra["oldest"] as Int»')}`, levels: [24] },
  { why: 'extra applied', kts: true, text: `extra.apply {\n  set("oldest", 24)\n}\n${android('minSdk = «extra.get("oldest").toString().toInt()»')}`, levels: [24] },
  { why: 'by extra', kts: true, text: `val oldest by extra(24)\nval newest by extra { 35 }\n${android('minSdk = «oldest»\n targetSdk = newest')}`, levels: [24, 35] },
  { why: 'a name given twice', kts: true, text: `val oldest = 24\nfun f() { val oldest = 26 }\n${android('minSdk = «oldest»')}`, levels: [undefined], unresolved: ['minSdk'] },

  { why: 'a version catalogue', kts: true, text: `val minSdk2 = 3\n${android('minSdk = «libs.versions.minSdk.get().toInt()»\n targetSdk = 34')}`, levels: [undefined, 34], unresolved: ['minSdk'] },
  { why: 'a version catalogue of the same word as a constant', kts: true, text: `val minSdk = 3\n${android('defaultConfig.minSdk = «libs.versions.minSdk.get().toInt()»')}`, levels: [undefined], unresolved: ['minSdk'] },
  { why: 'a property of the build', kts: true, text: android('minSdk = «(project.findProperty("minSdk") as String).toInt()»'), levels: [undefined], unresolved: ['minSdk'] },
  { why: 'a property with a fallback', kts: true, text: `val oldest = 3\n${android('minSdk = «oldest ?: 21»')}`, levels: [undefined], unresolved: ['minSdk'] },
  { why: 'a calculation', kts: true, text: android('minSdk = «20 + 1»'), levels: [undefined], unresolved: ['minSdk'] },
  { why: 'a function call', text: android("minSdkVersion «safeExtGet('minSdkVersion', 21)»"), levels: [undefined], unresolved: ['minSdk'] },
  { why: 'a text with a hole', kts: true, text: android('minSdk = «"$oldest".toInt()»'), levels: [undefined], unresolved: ['minSdk'] },
  { why: 'a preview by letter', text: android('minSdkVersion «"S"»'), levels: [undefined], unresolved: ['minSdk'] },
  { why: 'one flavour that cannot be read', kts: true, text: `${android('minSdk = 24')}android { productFlavors { create("x") { minSdk = libs.versions.x.get().toInt() } } }`, levels: [undefined], unresolved: ['minSdk'] },
  { why: 'reading a level is not stating it', kts: true, text: 'println(android.defaultConfig.minSdk)\nif (minSdk > 21) {}\nval x = minSdk\nfoo(minSdk = 3)\nminSdk.let { }', levels: [] },
  { why: 'nothing', text: '', levels: [] },
];

describe('a build file', () => {
  it.each(CASES)('$why', ({ text: marked, kts, levels, unresolved = [] }) => {
    const { text, places } = unmark(marked);
    const found = readGradle(text, kts ? 'app/build.gradle.kts' : 'app/build.gradle');
    expect([found.minSdk?.value, found.targetSdk?.value, found.compileSdk?.value]).toEqual([levels[0], levels[1], levels[2]]);
    expect(found.unresolved.map(({ name }) => name)).toEqual(unresolved);
    const [place] = places;
    if (place !== undefined) expect(text.slice(found.minSdk?.at.start ?? found.unresolved[0]?.at.start, found.minSdk?.at.end ?? found.unresolved[0]?.at.end)).toBe(text.slice(place.start, place.end));
    if (place !== undefined) expect(found.minSdk?.at ?? found.unresolved[0]?.at).toEqual(place);
  });

  it('names the application', () => {
    expect(readGradle(android('applicationId "org.example.hive"\n applicationIdSuffix ".x"'), 'build.gradle').applicationId?.value).toBe('org.example.hive');
    expect(readGradle(android('applicationId = "a.$b"'), 'build.gradle.kts').applicationId).toBeUndefined();
  });

  it('may take constants from the build files above', () => {
    const root = readGradle('ext { minSdkVersion = 21; targetSdkVersion = 33 }', 'build.gradle');
    expect([root.minSdk, root.targetSdk]).toEqual([undefined, undefined]);
    const app = readGradle(android('minSdkVersion rootProject.ext.minSdkVersion'), 'app/build.gradle', [root]);
    expect(app.minSdk?.value).toBe(21);
  });

  it('never throws, and every place lies in it', () => {
    const pieces = fc.constantFrom('minSdk', ' = ', '21', '{', '}', '(', ')', '[', ']', '"', "'", '"""', '/*', '*/', '//', '\n', 'ext', 'extra', '.', 'set', ',', 'val ', 'by ', '$', '${', 'a', ':', ' ', '/', '`', ';');
    const holds = (text: string, path: string): void => {
      const { minSdk, unresolved } = readGradle(text, path);
      for (const at of [minSdk?.at, ...unresolved.map((level) => level.at)]) {
        if (at !== undefined) expect(at.start >= 0 && at.end <= text.length && at.start < at.end).toBe(true);
      }
    };
    fc.assert(fc.property(fc.array(pieces, { maxLength: 60 }), fc.constantFrom('build.gradle', 'build.gradle.kts'), (parts, path) => holds(parts.join(''), path)), { numRuns: 5000 });
    fc.assert(fc.property(fc.string({ unit: 'binary' }), (text) => holds(text, 'build.gradle')), { numRuns: 1000 });
  });

  it('takes time in proportion to its length', () => {
    const start = performance.now();
    readGradle(`${'{'.repeat(20_000)}${'minSdk = (\n'.repeat(2_000)}`, 'build.gradle.kts');
    expect(performance.now() - start).toBeLessThan(5000);
  });
});
