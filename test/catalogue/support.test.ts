/**
 * The classes and functions around a link against those who make them: Android's and Java's declarations, the Kotlin
 * standard library and coroutines as the compiler's package ships them, and TypeScript's own library files.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import ts from 'typescript';
import { describe, expect, it } from 'vitest';
import { allLifecycle, allRunners, extendsType, platformType, platformTypeNames, type PlatformMember, type PlatformType } from '../../server/catalogue/index.js';
import { declaredClasses, root, type DeclaredClass } from './files.js';
import { jarNames } from './jar.js';

const own = (type: PlatformType): readonly PlatformMember[] => type.members.filter((member) => member.kind !== 'constructor');
const types = (language: 'kotlin' | 'typescript'): readonly PlatformType[] => platformTypeNames(language).map((name) => platformType(language, name)!);

// ---- Android and Java ----------------------------------------------------

const PLATFORM = /^(android\.(app|content|os|util|view|widget|service|bluetooth)|java)\./;
const ANDROIDX = /^androidx\.(core|lifecycle|fragment|activity|appcompat|preference)\./;
const platform = declaredClasses('android-platform-37.d.ts', PLATFORM, () => true);
const androidx = declaredClasses('androidx-32.d.ts', ANDROIDX, () => true);
const declared = new Map<string, DeclaredClass>([...platform, ...androidx]);

/** A declared class and all that it extends, nearest first. */
function lineage(name: string): readonly DeclaredClass[] {
  const first = declared.get(name);
  const line = first === undefined ? [] : [first];
  for (const each of line) line.push(...each.supertypes.flatMap((above) => declared.get(above) ?? []).filter((above) => !line.includes(above)));
  return line;
}

/** Extensions that Kotlin libraries add to Java classes, and properties that stand for them. */
const KOTLIN_ADDITIONS = new Set([
  'java.util.Queue.removeFirstOrNull', 'android.content.Context.getSystemService',
  'androidx.lifecycle.ViewModel.viewModelScope', 'androidx.lifecycle.LifecycleOwner.lifecycle', 'androidx.lifecycle.LifecycleOwner.lifecycleScope',
]);
/** `java.util.Queue` stands for the double-ended queues too. */
const QUEUES = ['java.util.Queue', 'java.util.Deque', 'java.util.concurrent.BlockingQueue'];

describe('Android and Java classes (npm @nativescript/types-android)', () => {
  const ours = types('kotlin').filter((type) => declared.has(type.qualified) && !type.qualified.startsWith('android.bluetooth'));

  it('are found there', () => {
    const absent = types('kotlin').filter((type) => /^(android|java)\./.test(type.qualified) && !declared.has(type.qualified)).map((type) => type.qualified);
    // The type files leave the job scheduler out.
    expect(absent).toEqual(['android.app.job.JobService']);
    console.info(`Android and Java classes beside Bluetooth: ${ours.length}`);
  });

  it('have no member that the platform lacks', () => {
    const invented = ours.flatMap((type) => own(type).filter((member) => {
      const homes = QUEUES.includes(type.qualified) ? QUEUES : [type.qualified];
      const found = homes.flatMap(lineage).some((each) => each.members.some((other) => other.name === member.name));
      return !found && !KOTLIN_ADDITIONS.has(`${type.qualified}.${member.name}`);
    }).map((member) => `${type.name}.${member.name}`));
    expect(invented).toEqual([]);
  });

  it('answer as the platform does', () => {
    const differing: string[] = [];
    for (const type of ours) {
      for (const member of own(type).filter((each) => each.kind === 'method' || each.kind === 'callback')) {
        const results = lineage(type.qualified).flatMap((each) => each.members.filter((other) => other.name === member.name).map((other) => other.result));
        if (results.length === 0) continue;
        const kind = (text: string): string => {
          const plain = text.replace(/\?$| \| null$/, '');
          return ['void', 'boolean', 'number', 'string'].includes(plain) ? plain : 'object';
        };
        if (!results.map(kind).includes(kind(member.result ?? 'void'))) differing.push(`${type.name}.${member.name}: ${member.result} for ${results.join()}`);
      }
    }
    expect(differing).toEqual([]);
  });

  it('extend what they extend there', () => {
    for (const type of ours) {
      for (const parent of type.supertypes ?? []) {
        const above = platformType('kotlin', parent.replace(/<.*/, ''))!;
        // The declarations leave out interfaces with type parameters.
        if (declared.has(above.qualified) && type.name !== 'CompletableFuture') expect(lineage(type.qualified).map((each) => each.name), type.qualified).toContain(above.qualified);
      }
    }
  });

  it('have the values of the release constants (Build.VERSION_CODES)', () => {
    for (const member of own(platformType('kotlin', 'Build.VERSION_CODES')!)) {
      expect(Number(declared.get('android.os.Build.VERSION_CODES')?.members.find((other) => other.name === member.name)?.result), member.name).toBe(member.value);
    }
  });

  it('have the lifecycle functions of the rows', () => {
    const missing = allLifecycle().filter((row) => {
      const type = row.language === 'typescript' ? undefined : platformType('kotlin', row.on);
      return type !== undefined && declared.has(type.qualified) && !subclassesToo(type.qualified).some((each) => each.members.some((member) => member.name === row.name));
    });
    expect(missing.map((row) => `${row.on}.${row.name}`)).toEqual([]);
  });
});

/** A row on `Service` also stands for functions that only its subclasses have (`onHandleIntent`). */
function subclassesToo(name: string): readonly DeclaredClass[] {
  return [...lineage(name), ...[...declared.values()].filter((each) => each.supertypes.includes(name))];
}

// ---- Kotlin --------------------------------------------------------------

const lib = join(root, 'node_modules/kotlin-compiler/lib');
const stdlib = jarNames(join(lib, 'kotlin-stdlib.jar'), ['kotlin/', 'kotlin/collections/', 'kotlin/collections/unsigned/', 'kotlin/text/', 'kotlin/sequences/', 'kotlin/concurrent/', 'kotlin/io/', 'kotlin/coroutines/', 'kotlin/coroutines/intrinsics/', 'kotlin/ranges/', 'kotlin/math/', 'kotlin/system/', 'kotlin/time/']);
const coroutines = jarNames(join(lib, 'kotlinx-coroutines-core-jvm.jar'), ['kotlinx/coroutines/', 'kotlinx/coroutines/channels/', 'kotlinx/coroutines/flow/', 'kotlinx/coroutines/sync/', 'kotlinx/coroutines/selects/']);
const kotlinNames = new Set([...stdlib.names, ...coroutines.names]);

describe('Kotlin (npm kotlin-compiler: kotlin-stdlib.jar, kotlinx-coroutines-core-jvm.jar)', () => {
  const ours = types('kotlin').filter((type) => /^kotlinx?\./.test(type.qualified));
  const neutral = new Set(['string', 'number', 'boolean', 'bytes', 'list', 'set', 'map']);

  it('has the classes of coroutines under those names', () => {
    const absent = ours.filter((type) => !neutral.has(type.name) && !coroutines.classes.has(type.qualified.replaceAll('.', '/')) && !stdlib.classes.has(type.qualified.replaceAll('.', '/')));
    // These the compiler maps to classes of Java, or keeps among the collections.
    expect(absent.map((type) => type.name)).toEqual(['Map.Entry', 'IndexedValue', 'Iterator', 'Sequence', 'Throwable']);
  });

  it('has the members and functions', () => {
    const invented = ours.flatMap((type) => own(type).map((member) => [type.name, member.name] as const)).filter(([, name]) => {
      const capital = name.charAt(0).toUpperCase() + name.slice(1);
      return ![name, `get${capital}`, `${name}-impl`].some((each) => kotlinNames.has(each)) && ![...kotlinNames].some((each) => each.startsWith(`${name}-`));
    });
    // Compose's extensions; instructions of the virtual machine; a member of the Java class behind.
    expect(invented.map((each) => each.join('.'))).toEqual([
      'StateFlow.collectAsState', 'StateFlow.collectAsStateWithLifecycle', 'number.toChar', 'number.ushr', 'Throwable.getLocalizedMessage',
    ]);
  });

  it('has every function that a row of runners names, or the row is for Android or a library', () => {
    const elsewhere = new Set([...declared.values()].flatMap((each) => [...each.members.map((member) => member.name), ...(each.name.startsWith('android.widget.') ? [] : [each.name.replace(/^.*\./, '')])]));
    const unknown = new Set(allRunners().filter((row) => row.language === 'kotlin' && !row.name.includes('*') && !kotlinNames.has(row.name) && !elsewhere.has(row.name)
      && ![...kotlinNames].some((each) => each.startsWith(`${row.name}-`))).map((row) => row.name));
    expect([...unknown].sort()).toEqual(Object.values(LIBRARY_FUNCTIONS).flat().sort());
  });
});

/**
 * Functions of libraries that are not installed here. From memory. (`Surface` and `item` are missing from the list only
 * because something else has those names.)
 */
const LIBRARY_FUNCTIONS: Readonly<Record<string, readonly string[]>> = {
  'AndroidX lifecycle, activity, fragment and core extensions': [
    'activityViewModels', 'doAfterTextChanged', 'doOnTextChanged', 'launchWhenCreated', 'launchWhenResumed', 'launchWhenStarted', 'liveData', 'repeatOnLifecycle', 'viewModel',
    'viewModels', 'withCreated', 'withResumed', 'withStarted',
  ],
  'Compose runtime, foundation and Material': [
    'AnimatedVisibility', 'Box', 'Button', 'Card', 'Column', 'DisposableEffect', 'DropdownMenuItem', 'ElevatedButton', 'ExtendedFloatingActionButton',
    'FilledTonalButton', 'FloatingActionButton', 'IconButton', 'LaunchedEffect', 'LazyColumn', 'LazyRow', 'LifecycleEventEffect',
    'LifecycleResumeEffect', 'LifecycleStartEffect', 'OutlinedButton', 'Row', 'Scaffold', 'SideEffect', 'TextButton', 'awaitDispose', 'clickable',
    'combinedClickable', 'derivedStateOf', 'items', 'itemsIndexed', 'onDispose', 'onPauseOrDispose', 'onStopOrDispose', 'produceState', 'remember',
    'rememberSaveable', 'snapshotFlow', 'stickyHeader',
  ],
  'RxJava and RxKotlin': [
    'defer', 'doFinally', 'doOnDispose', 'doOnTerminate', 'flatMapCompletable', 'flatMapSingle', 'fromAction', 'fromCallable', 'fromRunnable', 'setCancellable', 'subscribeBy',
  ],
  'kotlinx.serialization': ['buildJsonArray', 'buildJsonObject'],
  'kotlinx-coroutines-test': ['runTest'],
};

// ---- JavaScript and the DOM ----------------------------------------------

const libFolder = join(root, 'node_modules/typescript/lib');
const browser = new Map<string, Set<string>>();
const functions = new Set<string>();
for (const file of readdirSync(libFolder).filter((name) => /^lib\.(es|dom|decorators)[\w.]*\.d\.ts$/.test(name))) {
  const source = ts.createSourceFile(file, readFileSync(join(libFolder, file), 'utf8'), ts.ScriptTarget.Latest);
  for (const statement of source.statements) {
    if (ts.isFunctionDeclaration(statement) && statement.name !== undefined) functions.add(statement.name.text);
    if (ts.isInterfaceDeclaration(statement)) {
      const members = browser.get(statement.name.text) ?? new Set();
      browser.set(statement.name.text, members);
      for (const member of statement.members) if (member.name !== undefined && ts.isIdentifier(member.name)) members.add(member.name.text);
      for (const parent of (statement.heritageClauses ?? []).flatMap((clause) => clause.types)) members.add(`extends ${(parent.expression as ts.Identifier).text}`);
    }
    if (ts.isVariableStatement(statement)) {
      // `declare var AbortSignal: { timeout(…): AbortSignal }` holds the static members.
      for (const { name, type } of statement.declarationList.declarations) {
        if (!ts.isIdentifier(name) || type === undefined || !ts.isTypeLiteralNode(type)) continue;
        const members = browser.get(`${name.text}Constructor`) ?? new Set();
        browser.set(`${name.text}Constructor`, members);
        for (const member of type.members) if (member.name !== undefined && ts.isIdentifier(member.name)) members.add(member.name.text);
      }
    }
  }
}

function browserHas(type: string, member: string): boolean {
  const members = browser.get(type);
  return members !== undefined && (members.has(member) || [...members].some((each) => each.startsWith('extends ') && browserHas(each.slice(8), member)));
}

describe('JavaScript and the DOM (TypeScript\'s library files)', () => {
  const names: Readonly<Record<string, readonly string[]>> = {
    bytes: ['DataView', 'Uint8Array', 'ArrayBuffer', 'ArrayBufferConstructor', 'Uint8ArrayConstructor'], list: ['Array', 'ArrayConstructor'], set: ['Set'], map: ['Map'],
    string: ['String', 'StringConstructor'], number: ['Number', 'NumberConstructor'], Object: ['ObjectConstructor'],
  };

  it('has the members of the catalogue\'s types', () => {
    const invented = types('typescript').filter((type) => !type.name.startsWith('Bluetooth') && !/^(RequestDeviceOptions|WatchAdvertisementsOptions|\w+EventHandlers)$/.test(type.name)).flatMap((type) => {
      const homes = names[type.name] ?? [type.name, `${type.name}Constructor`];
      return own(type).filter((member) => !homes.some((home) => browserHas(home, member.name))).map((member) => `${type.name}.${member.name}`);
    });
    // A union of two interfaces there; `code` is DOMException's; `alloc` and `concat` are those of Node.js's Buffer.
    expect(invented).toEqual([
      'Navigator.bluetooth', 'PromiseSettledResult.status', 'PromiseSettledResult.value', 'PromiseSettledResult.reason', 'Error.code', 'bytes.alloc', 'bytes.concat',
    ]);
  });
});

it('a subclass of a platform class is one', () => {
  expect(extendsType('kotlin', 'AppCompatActivity', 'Context')).toBe(true);
  expect(extendsType('kotlin', 'MutableStateFlow', 'Flow')).toBe(true);
  expect(extendsType('kotlin', 'Channel', 'ReceiveChannel')).toBe(true);
  expect(extendsType('kotlin', 'Flow', 'StateFlow')).toBe(false);
  expect(extendsType('typescript', 'BluetoothDevice', 'EventTarget')).toBe(true);
});
