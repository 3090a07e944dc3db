/**
 * What a device profile says, once read: the peripheral and its attributes, the systems the app must run on, and the
 * functions of the app that the checks should know by name. Every statement keeps the place it was read from, so that a
 * finding can point at it. Types only; reading is `read.ts`, and what follows from the figures is `budget.ts`.
 *
 * Sizes are bytes, Android versions are API levels, UUIDs are 128-bit lower-case text.
 */
import type { Does } from '../catalogue/types.js';
import type { Span } from '../ir/ir.js';

/** A value and where it stands in the profile's text. */
export interface Placed<T> {
  readonly value: T;
  readonly at: Span;
}

export interface Profile {
  readonly path: string;
  readonly device: Device;
  readonly targets: StatedTargets;
  readonly link: Link;
  readonly services: readonly Service[];
  /** Absent where the profile declares no queue; then the checks look for the app's own. */
  readonly queue?: FunctionList;
  readonly teardown?: FunctionList;
  readonly wrappers: readonly Wrapper[];
}

export interface Device {
  readonly name?: Placed<string>;
  readonly maker?: Placed<string>;
  /** 16-bit company identifier, as in manufacturer data. */
  readonly company?: Placed<number>;
  readonly description?: Placed<string>;
}

// ---- Targets and link ---------------------------------------------------

/** The targets as the profile states them; what holds in the end, build files included, is `targets.ts`. */
export interface StatedTargets {
  readonly android?: StatedAndroid;
  readonly browser?: StatedBrowser;
}

export interface StatedAndroid {
  /** The key `android`. */
  readonly at: Span;
  readonly minimum?: Placed<number>;
  readonly target?: Placed<number>;
}

export interface StatedBrowser {
  /** The key `browser`. */
  readonly at: Span;
  /** Browser or engine name, lower case, with the oldest major version it must run in. */
  readonly minimum: readonly BrowserMinimum[];
  readonly platforms: readonly Placed<Platform>[];
}

export interface BrowserMinimum {
  readonly name: string;
  /** The browser's name. */
  readonly at: Span;
  readonly version: number;
}

export type Platform = 'android' | 'chromeos' | 'ios' | 'linux' | 'macos' | 'windows';

export interface Link {
  /** What the app asks for. */
  readonly requestedMtu?: Placed<number>;
  /** What the exchange ends with: the smaller of what both sides offer. */
  readonly negotiatedMtu?: Placed<number>;
  /** How many peripherals the app holds connected at once. */
  readonly peripherals?: Placed<number>;
}

// ---- Attributes ---------------------------------------------------------

interface AttributeOf<K extends 'service' | 'characteristic' | 'descriptor'> {
  readonly kind: K;
  /** The whole entry. */
  readonly at: Span;
  /** Absent where it is missing or unreadable, which is then a problem; the rest of the entry still counts. */
  readonly uuid?: Placed<string>;
  readonly name?: Placed<string>;
}

export interface Service extends AttributeOf<'service'> {
  readonly characteristics: readonly Characteristic[];
}

export interface Characteristic extends AttributeOf<'characteristic'> {
  /** Absent where the profile does not say. */
  readonly properties?: readonly Placed<Property>[];
  readonly size?: Size;
  readonly security: Security;
  /** Absent where the profile does not list them, which is not the same as none. */
  readonly descriptors?: readonly Descriptor[];
}

export interface Descriptor extends AttributeOf<'descriptor'> {
  readonly size?: Size;
  readonly security: Security;
}

export type Attribute = Service | Characteristic | Descriptor;

/** Characteristic properties, in the words of the Core Specification (Vol 3, Part G). */
export type Property =
  | 'broadcast' | 'read' | 'write without response' | 'write' | 'notify' | 'indicate' | 'authenticated signed writes' | 'extended properties';

/** Length of a value in bytes, inclusive; a fixed size has both bounds equal. */
export interface Size {
  readonly at: Span;
  readonly minimum: number;
  readonly maximum: number;
}

export interface Security {
  /** Empty where the profile does not say; `none` is said. */
  readonly read: readonly Placed<Requirement>[];
  readonly write: readonly Placed<Requirement>[];
}

export type Requirement = 'none' | 'encryption' | 'authentication' | 'authorization';

// ---- Functions of the app -----------------------------------------------

export interface FunctionList {
  /** The key. */
  readonly at: Span;
  readonly functions: readonly FunctionName[];
}

/** `Class.function`, or a bare `function` for one outside any class. */
export interface FunctionName {
  readonly name: string;
  readonly span: Span;
}

/** A function of the app, described with the catalogue's words. */
export interface Wrapper extends FunctionName {
  readonly does: readonly Placed<Does>[];
}

// ---- Problems -----------------------------------------------------------

/**
 * `error`: something could not be read, or cannot be; `warning`: it was read, and contradicts itself or the rest;
 * `hint`: worth a look.
 */
export type Severity = 'error' | 'warning' | 'hint';

/** Something wrong in a profile, in whole sentences. */
export interface Problem {
  readonly at: Span;
  readonly message: string;
  readonly severity: Severity;
  /** Other places of the same profile. */
  readonly related?: readonly { readonly at: Span; readonly message: string }[];
}
