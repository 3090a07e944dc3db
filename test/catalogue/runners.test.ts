/**
 * Who runs a lambda, and lifecycle functions: the rows that the analysis leans on most, held against what their makers
 * say of them (Kotlin's documented contracts `callsInPlace`, ECMA-262, the frameworks' reference).
 */
import { describe, expect, it } from 'vitest';
import { lifecycleOf, runnersOf, type Runner } from '../../server/catalogue/index.js';

const row = (language: 'kotlin' | 'typescript', name: string, on?: string): Runner => {
  const found = runnersOf(language, name).find((each) => each.on === on);
  if (found === undefined) throw new Error(`no row for ${name} on ${on}`);
  return found;
};

describe('Kotlin', () => {
  // kotlin-stdlib, Standard.kt: `contract { callsInPlace(block, InvocationKind.EXACTLY_ONCE) }`, signatures of T.let, T.run, with, T.apply, T.also.
  it.each([
    ['let', ['receiver'], undefined, 'lambda'], ['run', undefined, 'receiver', 'lambda'], ['with', undefined, 'first-argument', 'lambda'],
    ['apply', undefined, 'receiver', 'receiver'], ['also', ['receiver'], undefined, 'receiver'], ['use', ['receiver'], undefined, 'lambda'],
    ['takeIf', ['receiver'], undefined, 'receiver-or-null'],
  ] as const)('%s runs once, at once', (name, passes, self, yields) => {
    expect(row('kotlin', name)).toMatchObject({ runs: 'now', lambda: 'last', yields, failure: 'caller' });
    expect(row('kotlin', name).passes).toEqual(passes);
    expect(row('kotlin', name).self).toBe(self);
  });

  it('locks keep others out while they run their lambda (kotlinx.coroutines Mutex.withLock, kotlin.synchronized)', () => {
    for (const name of ['synchronized', 'withLock']) expect(row('kotlin', name)).toMatchObject({ runs: 'now', order: 'mutual-exclusion', yields: 'lambda' });
    expect(row('kotlin', 'withPermit', 'Semaphore').order).toBe('mutual-exclusion');
  });

  it('the same name means something else on a list, a sequence and a flow', () => {
    expect(row('kotlin', 'map', 'list')).toMatchObject({ runs: 'now-many', yields: 'list-of-lambda', value: 'collected' });
    expect(row('kotlin', 'map', 'Sequence').runs).toBe('later-many');
    expect(row('kotlin', 'map', 'Flow').runs).toBe('later-many');
    expect(row('kotlin', 'onEach', 'list')).toMatchObject({ runs: 'now-many', yields: 'receiver', value: 'dropped' });
    expect(row('kotlin', 'collect', 'Flow')).toMatchObject({ runs: 'now-many', order: 'after-previous' });
  });

  it('coroutine builders run later, scoping functions at once (kotlinx.coroutines Builders.common.kt, CoroutineScope.kt)', () => {
    expect(row('kotlin', 'launch')).toMatchObject({ runs: 'later', yields: 'job', value: 'dropped' });
    expect(row('kotlin', 'async')).toMatchObject({ runs: 'later', yields: 'deferred', value: 'awaited' });
    for (const name of ['withContext', 'coroutineScope', 'runBlocking', 'withTimeout']) expect(row('kotlin', name)).toMatchObject({ runs: 'now', yields: 'lambda', waits: 'completion' });
    expect(row('kotlin', 'withTimeoutOrNull').yields).toBe('lambda-or-null');
    expect(row('kotlin', 'suspendCancellableCoroutine')).toMatchObject({ runs: 'now', passes: ['continuation'], waits: 'resume', yields: 'resumed' });
    for (const name of ['awaitClose', 'onDispose', 'invokeOnCompletion']) expect(row('kotlin', name).runs).toBe('at-teardown');
  });

  it('handlers post and listeners listen, under any name that fits the pattern', () => {
    expect(row('kotlin', 'post', 'Handler')).toMatchObject({ runs: 'later', value: 'dropped', order: 'one-thread' });
    expect(row('kotlin', 'setOnRefreshListener')).toMatchObject({ name: 'setOnRefreshListener', runs: 'later-many', value: 'dropped' });
    expect(row('kotlin', 'setOnClickListener').passes).toEqual(['receiver']);
    expect(runnersOf('kotlin', 'setListener')).toEqual([]);
    expect(runnersOf('typescript', 'setOnRefreshListener')).toEqual([]);
    expect(runnersOf('kotlin', 'enqueue')).toEqual([]);
  });

  it('rows for certain receivers come first', () => {
    const rows = runnersOf('kotlin', 'forEach');
    expect(rows.map((each) => each.on)).toEqual(['map', undefined]);
  });
});

describe('TypeScript', () => {
  // ECMA-262: Promise ( executor ) calls the executor before it returns; reactions are jobs, run later.
  it('a promise runs its executor at once and its reactions later', () => {
    expect(row('typescript', 'Promise')).toMatchObject({ runs: 'now', passes: ['resolve', 'reject'], waits: 'resume', failure: 'promise' });
    expect(runnersOf('typescript', 'then').map((each) => [each.lambda, each.runs, each.passes?.[0], each.yields])).toEqual([
      [0, 'later', 'settled-value', 'promise-of-lambda'], [1, 'later', 'error', 'promise-of-lambda'],
    ]);
    expect(row('typescript', 'catch')).toMatchObject({ runs: 'later', passes: ['error'] });
    expect(row('typescript', 'finally').yields).toBe('receiver');
  });

  it('array functions run at once, timers and listeners later (ECMA-262; HTML, timers; DOM, event listeners)', () => {
    expect(row('typescript', 'forEach')).toMatchObject({ runs: 'now-many', passes: ['element', 'index'], value: 'dropped' });
    expect(row('typescript', 'forEach', 'map').passes).toEqual(['value', 'key']);
    expect(row('typescript', 'map', 'list')).toMatchObject({ runs: 'now-many', value: 'collected' });
    expect(row('typescript', 'setTimeout')).toMatchObject({ runs: 'later', failure: 'nobody' });
    expect(row('typescript', 'addEventListener')).toMatchObject({ lambda: 1, runs: 'later-many', passes: ['event'], failure: 'nobody' });
    expect(row('typescript', 'request', 'LockManager')).toMatchObject({ runs: 'later', order: 'mutual-exclusion', yields: 'promise-of-lambda' });
  });

  it('what an effect returns runs at teardown (React useEffect, Svelte onMount)', () => {
    for (const name of ['useEffect', 'useLayoutEffect']) expect(row('typescript', name)).toMatchObject({ runs: 'later-many', returned: 'at-teardown' });
    expect(row('typescript', 'onMount', 'nothing').returned).toBe('at-teardown');
    for (const name of ['onUnmounted', 'onBeforeUnmount', 'onDestroy']) expect(row('typescript', name).runs).toBe('at-teardown');
  });
});

describe('lifecycle functions', () => {
  it('of a class are found through what it extends', () => {
    expect(lifecycleOf('kotlin', 'AppCompatActivity', 'onDestroy')).toMatchObject({ phase: 'teardown', certain: true });
    expect(lifecycleOf('kotlin', 'LifecycleService', 'onDestroy')?.phase).toBe('teardown');
    expect(lifecycleOf('kotlin', 'AndroidViewModel', 'onCleared')).toMatchObject({ phase: 'teardown', certain: true });
    expect(lifecycleOf('kotlin', 'BottomSheetDialogFragment', 'onDestroyView')?.phase).toBe('teardown');
    expect(lifecycleOf('kotlin', 'Closeable', 'close')).toMatchObject({ phase: 'teardown', certain: false });
    expect(lifecycleOf('kotlin', 'Service', 'onUnbind')).toMatchObject({ phase: 'pause', certain: false });
  });

  it('are none on other classes', () => {
    expect(lifecycleOf('kotlin', 'BluetoothGattCallback', 'onDestroy')).toBeUndefined();
    expect(lifecycleOf('kotlin', undefined, 'onDestroy')).toBeUndefined();
    expect(lifecycleOf('kotlin', 'ViewModel', 'clear')).toBeUndefined();
  });

  it('of web components and frameworks tell by their name', () => {
    for (const name of ['componentWillUnmount', 'disconnectedCallback', 'ngOnDestroy', 'unmounted']) expect(lifecycleOf('typescript', undefined, name)).toMatchObject({ phase: 'teardown', certain: true });
    expect(lifecycleOf('typescript', 'event', 'beforeunload')).toMatchObject({ phase: 'teardown', certain: false });
    expect(lifecycleOf('typescript', 'event', 'visibilitychange')?.phase).toBe('pause');
    expect(lifecycleOf('typescript', 'registered', 'onUnmounted')?.phase).toBe('teardown');
  });
});
