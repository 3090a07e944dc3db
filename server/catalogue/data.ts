/**
 * The catalogue's data as they stand in the YAML files, before anything is expanded. A test holds the files to these
 * shapes; at run time they are trusted. What the entries mean is told in `types.ts`.
 */
import androidAdvertise from '../../rules/catalogue/android-advertise.yaml';
import androidDevice from '../../rules/catalogue/android-device.yaml';
import androidGatt from '../../rules/catalogue/android-gatt.yaml';
import lifecycle from '../../rules/catalogue/lifecycle.yaml';
import androidScan from '../../rules/catalogue/android-scan.yaml';
import androidSupport from '../../rules/catalogue/android-support.yaml';
import appearance from '../../rules/catalogue/assigned/appearance.yaml';
import blocklist from '../../rules/catalogue/assigned/blocklist.yaml';
import characteristics from '../../rules/catalogue/assigned/characteristics.yaml';
import companies from '../../rules/catalogue/assigned/companies.yaml';
import descriptors from '../../rules/catalogue/assigned/descriptors.yaml';
import members from '../../rules/catalogue/assigned/members.yaml';
import services from '../../rules/catalogue/assigned/services.yaml';
import vendors from '../../rules/catalogue/assigned/vendors.yaml';
import javaSupport from '../../rules/catalogue/java-support.yaml';
import kotlinSupport from '../../rules/catalogue/kotlin-support.yaml';
import kotlinValues from '../../rules/catalogue/kotlin-values.yaml';
import limits from '../../rules/catalogue/limits.yaml';
import runners from '../../rules/catalogue/runners.yaml';
import sources from '../../rules/catalogue/sources.yaml';
import statusCodes from '../../rules/catalogue/status-codes.yaml';
import webBluetooth from '../../rules/catalogue/web-bluetooth.yaml';
import webPlatform from '../../rules/catalogue/web-platform.yaml';
import type { Answer, AssignedNumber, Does, Language, Lifecycle, LimitRange, OsLimit, Runner, Slot, StatusCode, Sync } from './types.js';

/** What stands behind a member's signature; all of it optional. */
export interface MemberFacts {
  readonly since?: number;
  readonly deprecated?: number;
  readonly does?: readonly Does[];
  readonly answer?: Answer;
  readonly slot?: Slot;
  readonly completedBy?: readonly string[];
  readonly sync?: Sync;
  readonly sources?: readonly string[];
}

/** Signature text, as `signature.ts` reads it, to what is known of the member. */
export type Signatures = Readonly<Record<string, MemberFacts | null>>;

export interface ConstantFacts {
  readonly value?: number | string | boolean | readonly number[];
  /** Where the value does not tell it. */
  readonly type?: string;
  readonly since?: number;
  readonly deprecated?: number;
  readonly sources?: readonly string[];
}

export interface TypeEntry {
  readonly kind: 'class' | 'interface' | 'object';
  /** The package or module, where it differs from the file's. */
  readonly in?: string;
  readonly extends?: readonly string[];
  readonly params?: readonly string[];
  /** Other names under which the same type is met. */
  readonly also?: readonly string[];
  /** Stands for every member that does not say otherwise. */
  readonly since?: number;
  readonly deprecated?: number;
  readonly sources?: readonly string[];
  readonly constants?: Readonly<Record<string, ConstantFacts>>;
  readonly constructors?: Signatures;
  readonly statics?: Signatures;
  readonly properties?: Signatures;
  readonly methods?: Signatures;
  readonly callbacks?: Signatures;
}

export interface PlatformFile {
  readonly language: Language;
  /** Absent where types have none: the web. */
  readonly package?: string;
  readonly sources: readonly string[];
  readonly types: Readonly<Record<string, TypeEntry>>;
  /** Top-level functions. */
  readonly functions?: Signatures;
  /** Type aliases that source may name, as type texts. */
  readonly aliases?: Readonly<Record<string, string>>;
  /** Global values, as type texts: `navigator`. */
  readonly globals?: Readonly<Record<string, string>>;
}

export interface RunnerRow extends Omit<Runner, 'name' | 'on'> {
  readonly names: readonly string[];
  readonly on?: readonly string[];
}

export interface LifecycleRow extends Omit<Lifecycle, 'name' | 'on'> {
  readonly names: readonly string[];
  readonly on: readonly string[];
}

export interface LimitRow extends Omit<OsLimit, 'ranges'> {
  readonly ranges: readonly (Omit<LimitRange, 'value'> & { readonly value: number | 'none' })[];
}

export interface NumberFile {
  readonly kind: AssignedNumber['kind'];
  readonly origin: string;
  /** What every identifier begins with. */
  readonly prefix?: string;
  /**
   * Short number, or 128-bit text, to name and identifier. `web`: a name that Web Bluetooth accepts; true when it is the
   * identifier's own.
   */
  readonly numbers: Readonly<Record<string, { readonly name: string; readonly id?: string; readonly kind?: AssignedNumber['kind']; readonly origin?: string; readonly web?: true | string }>>;
}

export interface SourceEntry {
  readonly title: string;
  /** Repository and path, section of a standard, or package. */
  readonly where: string;
}

export interface BlocklistEntry {
  readonly kind: 'service' | 'characteristic' | 'descriptor';
  readonly uuid: string;
  readonly name: string;
  /** What a page may not do with it. */
  readonly excludes: 'all' | 'reads' | 'writes';
}

export interface BlockedManufacturerData {
  readonly company: number;
  /** First bytes of the data behind the company identifier. */
  readonly prefix: readonly number[];
  readonly name: string;
}

export interface AppearanceCategory {
  readonly name: string;
  readonly sub?: Readonly<Record<string, string>>;
}

export const platformFiles = [
  androidGatt, androidDevice, androidScan, androidAdvertise, androidSupport, javaSupport, kotlinSupport, kotlinValues, webBluetooth, webPlatform,
] as readonly PlatformFile[];
export const runnerRows = (runners as { readonly runners: readonly RunnerRow[] }).runners;
export const lifecycleRows = (lifecycle as { readonly lifecycle: readonly LifecycleRow[] }).lifecycle;
export const limitRows = (limits as { readonly limits: readonly LimitRow[] }).limits;
export const statusRows = (statusCodes as { readonly codes: readonly StatusCode[] }).codes;
export const sourceRows = sources as Readonly<Record<string, SourceEntry>>;
export const numberFiles = [services, characteristics, descriptors, members, vendors] as readonly NumberFile[];
export const blocklistRows = (blocklist as { readonly entries: readonly BlocklistEntry[] }).entries;
export const blockedManufacturerRows = (blocklist as { readonly manufacturers: readonly BlockedManufacturerData[] }).manufacturers;
export const companyRows = (companies as { readonly companies: Readonly<Record<string, string>> }).companies;
export const appearanceRows = (appearance as { readonly categories: Readonly<Record<string, AppearanceCategory>> }).categories;
