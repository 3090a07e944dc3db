/**
 * The format of a device profile as a JSON Schema (draft 7): which keys there are, what they hold, within which bounds.
 * An editor may complete from it, and the reference page is written from its descriptions. How a UUID or a function's name
 * is spelled, and whether the statements agree with each other, is not the schema's matter (`build.ts`, `checks.ts`).
 */
import type { Does } from '../catalogue/types.js';
import { GREATEST_MTU, LEAST_MTU, LONGEST_VALUE } from './figures.js';
import type { Platform, Property, Requirement } from './types.js';

/** The part of JSON Schema that the format needs. `title` is a noun that messages can put into a sentence. */
export interface Schema {
  readonly $schema?: string;
  readonly title: string;
  readonly description: string;
  readonly type?: JsonType | readonly JsonType[];
  readonly properties?: Readonly<Record<string, Schema>>;
  readonly additionalProperties?: false | Schema;
  readonly required?: readonly string[];
  readonly items?: Schema;
  readonly minItems?: number;
  readonly enum?: readonly string[];
  /** What each word of `enum` means, in the same order. */
  readonly enumDescriptions?: readonly string[];
  readonly anyOf?: readonly Schema[];
  readonly minimum?: number;
  readonly maximum?: number;
  readonly minLength?: number;
  /** What the bounds are, and where they are written down. */
  readonly bounds?: { readonly below?: string; readonly above?: string; readonly source?: string };
}

export type JsonType = 'object' | 'array' | 'string' | 'integer' | 'number';

/** Keywords of ours that a validator has to let pass. */
export const ANNOTATIONS = ['enumDescriptions', 'bounds'] as const;

// ---- Words --------------------------------------------------------------

const PROPERTY_WORDS: Readonly<Record<Property, string>> = {
  broadcast: 'the value may stand in advertisements (0x01)',
  read: 'reads (0x02)',
  'write without response': 'write commands, which nobody acknowledges (0x04)',
  write: 'write requests, which the peripheral answers (0x08)',
  notify: 'notifications, which nobody acknowledges (0x10)',
  indicate: 'indications, which the client confirms (0x20)',
  'authenticated signed writes': 'signed write commands (0x40)',
  'extended properties': 'more properties stand in the descriptor 0x2900 (0x80)',
};

const REQUIREMENT_WORDS: Readonly<Record<Requirement, string>> = {
  none: 'open to everybody',
  encryption: 'an encrypted link',
  authentication: 'an encrypted link whose pairing was authenticated',
  authorization: 'a permission that the peripheral gives itself',
};

const PLATFORM_WORDS: Readonly<Record<Platform, string>> = {
  android: 'Android', chromeos: 'ChromeOS', ios: 'iOS', linux: 'Linux', macos: 'macOS', windows: 'Windows',
};

const ROLE_WORDS: Readonly<Record<Does, string>> = {
  'starts-operation': 'asks the stack for something that ends in a completion',
  'opens-link': 'yields a client or server that must be closed',
  'closes-link': 'gives that client or server back',
  'disconnects-link': 'ends the radio link, without giving the client back',
  subscribes: 'registers for the value changes of a characteristic',
  unsubscribes: 'gives that registration back',
  'writes-descriptor': 'writes a descriptor',
  'writes-value': 'writes a characteristic',
  'reads-value': 'reads a characteristic or descriptor',
  'negotiates-mtu': 'asks for an ATT_MTU',
  discovers: 'discovers services',
  'starts-scan': 'starts a scan',
  'stops-scan': 'stops a scan',
  hints: 'only a wish: no result depends on it',
};

function words<T extends string>(title: string, description: string, meanings: Readonly<Record<T, string>>): Schema {
  return { title, description, enum: Object.keys(meanings), enumDescriptions: Object.values<string>(meanings) };
}

// ---- Parts --------------------------------------------------------------

function text(title: string, description: string): Schema {
  return { title, description, type: 'string', minLength: 1 };
}

/** An attribute's UUID. Outside this project YAML reads many UUIDs as numbers, hence the types. */
function uuid(of: string): Schema {
  return {
    title: 'a UUID',
    description: `UUID of the ${of}: 4, 8 or 32 hexadecimal digits, with or without \`0x\`, a long one with its hyphens. It is read as written, so \`2902\` and \`12E5\` need no quotes.`,
    type: ['string', 'integer', 'number'],
  };
}

const size: Schema = {
  title: 'a value size',
  description: 'Length of the value in bytes: one number where it is fixed, or `minimum` and `maximum`.',
  type: ['integer', 'object'],
  minimum: 0,
  maximum: LONGEST_VALUE,
  bounds: { above: 'the longest value that an attribute can hold', source: 'Core Specification, Vol 3, Part F; AOSP GATT_MAX_ATTR_LEN' },
  additionalProperties: false,
  properties: {
    minimum: sizeBound('Shortest value, in bytes; 0 where it is not given.'),
    maximum: sizeBound(`Longest value, in bytes; ${LONGEST_VALUE} where it is not given.`),
  },
};

function sizeBound(description: string): Schema {
  return {
    title: 'a size', description, type: 'integer', minimum: 0, maximum: LONGEST_VALUE,
    bounds: { above: 'the longest value that an attribute can hold', source: 'Core Specification, Vol 3, Part F; AOSP GATT_MAX_ATTR_LEN' },
  };
}

function requirement(description: string): Schema {
  const one = words('a security requirement', 'What the link or the peripheral must provide.', REQUIREMENT_WORDS);
  return {
    title: 'a security requirement',
    description,
    anyOf: [one, { title: 'a list of security requirements', description: 'Several, where all of them hold.', type: 'array', minItems: 1, items: one }],
  };
}

const security: Schema = {
  title: 'the security of an attribute',
  description: 'What a client must have before the attribute answers it.',
  type: 'object',
  additionalProperties: false,
  properties: {
    read: requirement('Required for reading: one word, or a list where several hold.'),
    write: requirement('Required for writing, of every kind: one word, or a list where several hold.'),
  },
};

const descriptor: Schema = {
  title: 'a descriptor',
  description: 'A descriptor of the characteristic.',
  type: 'object',
  additionalProperties: false,
  required: ['uuid'],
  properties: { uuid: uuid('descriptor'), name: text('a name', 'Name by which findings call it.'), size, security },
};

const characteristic: Schema = {
  title: 'a characteristic',
  description: 'A characteristic of the service.',
  type: 'object',
  additionalProperties: false,
  required: ['uuid'],
  properties: {
    uuid: uuid('characteristic'),
    name: text('a name', 'Name by which findings call it.'),
    properties: {
      title: 'the properties of a characteristic',
      description: 'What the characteristic allows, in the words of the Core Specification. Left out: not known, and nothing is concluded from it.',
      type: 'array', minItems: 1,
      items: words('a characteristic property', 'One property.', PROPERTY_WORDS),
    },
    size,
    security,
    descriptors: {
      title: 'the descriptors of a characteristic',
      description: 'The descriptors, if you list them: then all of them, 0x2902 included. Left out: not known.',
      type: 'array', items: descriptor,
    },
  },
};

const service: Schema = {
  title: 'a service',
  description: 'A service of the device.',
  type: 'object',
  additionalProperties: false,
  required: ['uuid'],
  properties: {
    uuid: uuid('service'),
    name: text('a name', 'Name by which findings call it.'),
    characteristics: {
      title: 'the characteristics of a service', description: 'Its characteristics.', type: 'array', minItems: 1, items: characteristic,
    },
  },
};

const device: Schema = {
  title: 'the device',
  description: 'The peripheral that the app talks to.',
  type: 'object',
  additionalProperties: false,
  properties: {
    name: text('a name', 'Name of the product.'),
    maker: text('a maker', 'Who makes it.'),
    company: {
      title: 'a company identifier',
      description: 'Company identifier that the Bluetooth SIG assigned to the maker, as in manufacturer data: four hexadecimal digits, with or without `0x`, read as written.',
      type: ['string', 'integer', 'number'],
    },
    description: text('a description', 'What it does, in a sentence or two.'),
  },
};

function apiLevel(description: string): Schema {
  return { title: 'an API level', description, type: 'integer', minimum: 1 };
}

const targets: Schema = {
  title: 'the targets',
  description: 'The systems that the app must run on. A verdict that hangs on a minimum which nobody states is only a hint.',
  type: 'object',
  additionalProperties: false,
  properties: {
    android: {
      title: 'the Android targets',
      description: 'Android API levels (numbers, not release names). Where they are left out, `build.gradle` or `build.gradle.kts` is asked.',
      type: 'object',
      additionalProperties: false,
      properties: {
        minimum: apiLevel('Oldest API level that the app is installed on (`minSdk`).'),
        target: apiLevel('API level that the app is made for (`targetSdk`).'),
      },
    },
    browser: {
      title: 'the browser targets',
      description: 'Where the web application must run.',
      type: 'object',
      additionalProperties: false,
      properties: {
        minimum: {
          title: 'the browser minimums',
          description: 'Name of a browser or engine (`chrome`, `chromium`, …) and the oldest major version of it.',
          type: 'object',
          additionalProperties: { title: 'a browser version', description: 'Oldest major version, a whole number.', type: 'integer', minimum: 1 },
        },
        platforms: {
          title: 'the platforms', description: 'Systems on which that browser must work. Limits of Android count for a page only if `android` stands here.',
          type: 'array', minItems: 1, items: words('a platform', 'One system.', PLATFORM_WORDS),
        },
      },
    },
  },
};

function mtu(description: string): Schema {
  return {
    title: 'an ATT_MTU', description, type: 'integer', minimum: LEAST_MTU, maximum: GREATEST_MTU,
    bounds: {
      below: 'the ATT_MTU with which every LE link begins', above: 'the largest ATT_MTU that Android takes',
      source: 'AOSP GATT_DEF_BLE_MTU_SIZE and GATT_MAX_MTU_SIZE',
    },
  };
}

const link: Schema = {
  title: 'the link',
  description: 'What the radio link carries.',
  type: 'object',
  additionalProperties: false,
  properties: {
    att_mtu: {
      title: 'the ATT_MTU',
      description: 'The ATT_MTU in bytes, three of which a write or a notification needs for itself.',
      type: 'object',
      additionalProperties: false,
      properties: {
        requested: mtu('What the app asks for. Android 14 and later ask for 517 whatever the app says.'),
        negotiated: mtu('What the exchange ends with: the smaller of what the phone and the peripheral offer.'),
      },
    },
    peripherals: {
      title: 'a number of peripherals', description: 'How many peripherals the app holds connected at once.', type: 'integer', minimum: 1,
    },
  },
};

function functions(title: string, description: string): Schema {
  return {
    title, description, type: 'array', minItems: 1,
    items: { title: 'a function', description: '`Class.function`, or a bare `function` for one outside any class.', type: 'string', minLength: 1 },
  };
}

const role = words('a role', 'One thing that the function does.', ROLE_WORDS);

/** The whole format. */
export const schema: Schema = {
  $schema: 'http://json-schema.org/draft-07/schema#',
  title: 'a device profile',
  description: 'What a peripheral is, what the app must run on, and which functions of the app the checks should know.',
  type: 'object',
  additionalProperties: false,
  properties: {
    device,
    targets,
    link,
    services: { title: 'the services', description: 'The services that the app uses.', type: 'array', minItems: 1, items: service },
    queue: functions('the queue', 'Functions through which every operation must go. An operation that is started past them is reported.'),
    teardown: functions('the teardown functions', 'Functions that end the link.'),
    wrappers: {
      title: 'the wrappers',
      description: 'Functions of your own that stand for calls of the platform: the name, and what the function does (one word, or a list). The checks then treat a call of it like one of the platform\'s own.',
      type: 'object',
      additionalProperties: {
        title: 'what a wrapper does',
        description: 'One role, or a list of them.',
        anyOf: [role, { title: 'a list of roles', description: 'Several roles.', type: 'array', minItems: 1, items: role }],
      },
    },
  },
};

/** The schema of what stands at a path of keys and positions, or undefined where the format knows nothing. */
export function schemaAt(path: readonly (string | number)[]): Schema | undefined {
  return path.reduce<Schema | undefined>((at, step) => (at === undefined ? undefined : below(at, step)), schema);
}

function below(at: Schema, step: string | number): Schema | undefined {
  if (typeof step === 'number') return at.items ?? at.anyOf?.find((choice) => choice.items !== undefined)?.items;
  if (at.properties !== undefined && Object.hasOwn(at.properties, step)) return at.properties[step];
  return at.additionalProperties === false ? undefined : at.additionalProperties;
}

export const properties = Object.keys(PROPERTY_WORDS) as readonly Property[];
export const requirements = Object.keys(REQUIREMENT_WORDS) as readonly Requirement[];
export const platforms = Object.keys(PLATFORM_WORDS) as readonly Platform[];
export const roles = Object.keys(ROLE_WORDS) as readonly Does[];
