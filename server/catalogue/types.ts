/**
 * The shapes of the catalogue: what the platform APIs are, need, return and complete with; who runs a lambda; the limits
 * of each OS version; assigned numbers and status codes. The data stands in `rules/catalogue/*.yaml`, one file an API or
 * table, and is bundled as JSON: nothing here is read from disk at run time.
 *
 * Type texts use the program model's neutral names (`number`, `string`, `boolean`, `void`, `bytes`, `list<T>`, `set<T>`,
 * `map<K, V>`, `any`) and a `?` for a value that may be null: `list<BluetoothGattService>`, `BluetoothGattService?`,
 * `Promise<BluetoothRemoteGATTServer>`, `fun(BluetoothDevice) -> void`.
 */

/** What a call does, in the words that rules and profiles use. */
export type Does =
  /** Asks the stack for something that ends in a completion: a callback with a status, or a settled promise. */
  | 'starts-operation'
  /** Yields a client or server object that holds a system resource until it is closed. */
  | 'opens-link'
  /** Gives that resource back. In Web Bluetooth `disconnect()` is the release. */
  | 'closes-link'
  /** Ends the radio link; on Android the client object stays registered. */
  | 'disconnects-link'
  /** Registers for value changes of a characteristic; takes a place among the OS's registrations. */
  | 'subscribes'
  | 'unsubscribes'
  /** Writes a descriptor (the CCCD among others). */
  | 'writes-descriptor'
  | 'writes-value'
  | 'reads-value'
  | 'negotiates-mtu'
  | 'discovers'
  | 'starts-scan'
  | 'stops-scan'
  /** A wish that the stack may ignore: no result depends on it. */
  | 'hints';

/** How a call says that it was accepted. */
export type Answer =
  /** true: accepted for sending. */
  | 'accept-flag'
  /** 0 (`BluetoothStatusCodes.SUCCESS`): accepted for sending. */
  | 'accept-status'
  /** A promise that rejects when the operation fails. */
  | 'promise'
  /** Yields an object or null. */
  | 'object'
  | 'none';

/** How an operation uses the one slot of a link. */
export type Slot =
  /** Guarded by the platform's busy flag: a second one is refused. */
  | 'guarded'
  /** Not guarded, but collides with a running one (discovery, MTU, RSSI, PHY). */
  | 'collides'
  /** Needs no slot: local, or fire and forget. */
  | 'none';

/** How a call joins two threads of control: the one that waits for a result and the one that brings it. */
export type Sync =
  /** Does not return, or does not resume, before somebody else has woken it: `await`, `receive`, `take`, `join`. */
  | 'waits'
  /** Wakes who waits: `complete`, `resume`, `send`, `countDown`. */
  | 'wakes'
  /** Takes and gives back the right to go on: `Mutex.lock`, `Semaphore.acquire`. */
  | 'locks'
  | 'unlocks';

export type Language = 'kotlin' | 'typescript';

export interface PlatformType {
  /** Nested types with their outer's name: `ScanSettings.Builder`. */
  readonly name: string;
  /** `android.bluetooth.BluetoothGatt`; for the web, the bare name. */
  readonly qualified: string;
  readonly language: Language;
  readonly kind: 'class' | 'interface' | 'object';
  readonly supertypes?: readonly string[];
  readonly typeParams?: readonly string[];
  /** API level, where the platform counts. */
  readonly since?: number;
  readonly members: readonly PlatformMember[];
}

export interface PlatformMember {
  readonly name: string;
  readonly kind: 'method' | 'property' | 'constant' | 'constructor' | 'callback';
  readonly static?: boolean;
  /** Type parameters of its own: `getSystemService<T>(serviceClass: Class<T>) -> T`. */
  readonly typeParams?: readonly string[];
  readonly params?: readonly PlatformParam[];
  /** Type text; absent: void. */
  readonly result?: string;
  /** API level; absent for the web, and for what was there before level 18. */
  readonly since?: number;
  /** API level from which it is deprecated; 0: deprecated, level not known. */
  readonly deprecated?: number;
  readonly does?: readonly Does[];
  readonly answer?: Answer;
  readonly slot?: Slot;
  /** Names of the callbacks that complete it (Android). */
  readonly completedBy?: readonly string[];
  readonly sync?: Sync;
  /** A constant's value. */
  readonly value?: number | string | boolean | readonly number[];
  /** Keys of `sources.yaml`. */
  readonly sources?: readonly string[];
}

export interface PlatformParam {
  readonly name: string;
  readonly type: string;
  /** What the value means, where a rule cares. */
  readonly is?: 'link' | 'status' | 'state' | 'enable' | 'payload' | 'mtu' | 'characteristic' | 'descriptor' | 'device' | 'callback' | 'auto-connect';
  readonly optional?: boolean;
  /** Stands for any number of arguments. */
  readonly rest?: boolean;
}

/** How a known function treats a lambda that it is given. */
export interface Runner {
  /** The receiver's type; `nothing`: called without one; absent: any receiver, or none. */
  readonly on?: string;
  readonly name: string;
  readonly language: Language | 'both';
  /** Position of the lambda among the arguments; `last` for the trailing one; `every` for each function argument. */
  readonly lambda: number | 'last' | 'every';
  readonly runs: RunMode;
  /** What the lambda's parameters are, in order. */
  readonly passes?: readonly Passed[];
  /** What the lambda's `this` is (Kotlin). `receiver` holds only where the call has one: `run { }` has none. */
  readonly self?: Passed;
  /** What the call yields; where no word fits, `result` holds its type. */
  readonly yields?: Yielded;
  /** Type text of what the call yields. */
  readonly result?: string;
  /** What becomes of the lambda's own value. */
  readonly value: 'yielded' | 'tested' | 'dropped' | 'awaited' | 'collected';
  /** When a function runs that the lambda returns: the cleanup of an effect. */
  readonly returned?: RunMode;
  /** What the runner guarantees between two runs of what it is given. */
  readonly order?: 'mutual-exclusion' | 'one-thread' | 'after-previous';
  /** It returns only when the lambda has resumed it (suspendCancellableCoroutine, new Promise), or all that it started has ended. */
  readonly waits?: 'resume' | 'completion';
  /** Where the lambda's failure goes: to the caller, into the promise, deferred or result, to a handler, to nobody. */
  readonly failure?: 'caller' | 'promise' | 'nobody' | 'handler';
}

export type RunMode =
  /** Exactly once, before the call returns. A suspending function returns when it resumes. */
  | 'now'
  /** At most once, before the call returns. */
  | 'now-maybe'
  /** Any number of times, one after the other, before the call returns. */
  | 'now-many'
  /** At most once, some time after (another thread, the next turn of a loop). */
  | 'later'
  /** Any number of times, after the call returned. */
  | 'later-many'
  /** When the surrounding thing ends: awaitClose, onDispose, an effect's cleanup. */
  | 'at-teardown';

export type Passed =
  | 'receiver' | 'first-argument' | 'element' | 'index' | 'entry' | 'key' | 'value' | 'accumulator'
  /** What a promise was fulfilled with, or what a result holds. */
  | 'settled-value' | 'error'
  /** A coroutine scope, or a builder's own receiver. */
  | 'scope'
  /** What resumes the caller, once. */
  | 'continuation' | 'resolve' | 'reject'
  /** A DOM event. */
  | 'event'
  | 'unknown';

export type Yielded =
  /** The lambda's value; or null when it did not run or the time was up. */
  | 'lambda' | 'lambda-or-null'
  | 'receiver' | 'receiver-or-null' | 'first-argument'
  | 'element' | 'element-or-null' | 'list-of-lambda'
  /** A promise, deferred or Kotlin `Result` of the lambda's value; what the continuation is resumed with. */
  | 'promise-of-lambda' | 'deferred' | 'result-of-lambda' | 'resumed'
  /** A flow, sequence or observable of the lambda's values. */
  | 'receiver-of-lambda'
  | 'job' | 'boolean' | 'number' | 'void';

/** A function of the platform or a framework that is called when something ends or begins. */
export interface Lifecycle {
  readonly language: Language | 'both';
  /** The type whose subclasses it is overridden in; `any`: whatever the type, or none. */
  readonly on: string;
  readonly name: string;
  readonly phase: 'start' | 'teardown' | 'pause';
  /** Whether the platform calls it in any case (onDestroy), or only on some ways (onStop, onUnbind). */
  readonly certain: boolean;
}

/** One limit as it stands over ranges of Android API levels, in order. */
export interface OsLimit {
  readonly name: string;
  /** AOSP constant. */
  readonly constant: string;
  /** What is counted together: `GATT client`, `phone, over all apps`. */
  readonly per: string;
  /** Absent: a count. */
  readonly unit?: 'bytes' | 'milliseconds' | 'seconds';
  readonly ranges: readonly LimitRange[];
  /** From which API level makers cannot change it. */
  readonly firmFrom?: number;
}

/** API levels `from` to `to` (inclusive; absent: and later), and what they grant. */
export interface LimitRange {
  readonly from: number;
  readonly to?: number;
  /** Releases in words: `5.0 to 11`. */
  readonly release: string;
  /** Infinite where there is no limit. */
  readonly value: number;
  /** Key of `sources.yaml`. */
  readonly source: string;
  /** A later release of the same API level that grants another figure. */
  readonly later?: { readonly release: string; readonly value: number; readonly source: string };
}

export interface AssignedNumber {
  readonly kind: 'service' | 'characteristic' | 'descriptor' | 'declaration' | 'member';
  /** 128-bit lower-case text. */
  readonly uuid: string;
  readonly name: string;
  /** Reverse-DNS identifier where the table gives one. */
  readonly identifier?: string;
  /** Key of `sources.yaml`. */
  readonly origin: string;
}

export interface StatusCode {
  readonly value: number;
  readonly name: string;
  readonly where: 'att' | 'android' | 'hci' | 'scan' | 'advertise' | 'bluetooth-status';
  readonly meaning: string;
  readonly sources: readonly string[];
}
