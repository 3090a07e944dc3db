/** Walks and look-ups over a profile's attributes. */
import { BASE_UUID } from './uuid.js';
import type { Attribute, Characteristic, Profile, Property, Service } from './types.js';

/** Every attribute with those that hold it, outermost first. */
export function attributesOf(profile: Profile): readonly { readonly attribute: Attribute; readonly within: readonly Attribute[] }[] {
  return profile.services.flatMap((service) => [
    { attribute: service, within: [] },
    ...service.characteristics.flatMap((characteristic) => [
      { attribute: characteristic, within: [service] },
      ...(characteristic.descriptors ?? []).map((descriptor) => ({ attribute: descriptor, within: [service, characteristic] })),
    ]),
  ]);
}

/** What the profile says of a UUID (128-bit lower-case text); several, where several services hold it. */
export function attributesWith(profile: Profile, uuid: string): ReturnType<typeof attributesOf> {
  return attributesOf(profile).filter(({ attribute }) => attribute.uuid?.value === uuid);
}

export function characteristicsOf(profile: Profile): readonly { readonly characteristic: Characteristic; readonly service: Service }[] {
  return profile.services.flatMap((service) => service.characteristics.map((characteristic) => ({ characteristic, service })));
}

/** Whether the characteristic has one of these properties; undefined where the profile does not state its properties. */
export function allows(characteristic: Characteristic, ...any: readonly Property[]): boolean | undefined {
  return characteristic.properties?.some(({ value }) => any.includes(value));
}

/** How a sentence calls the attribute: its name, else its UUID in the shortest form, else what it is. */
export function callOf(attribute: Attribute): string {
  if (attribute.name !== undefined) return `"${attribute.name.value}"`;
  const uuid = attribute.uuid?.value;
  return uuid === undefined ? `this ${attribute.kind}` : `${attribute.kind} ${shortest(uuid)}`;
}

/** `0x2902` for a UUID on the Bluetooth base UUID, the whole text otherwise. */
export function shortest(uuid: string): string {
  return uuid.endsWith(BASE_UUID) ? `0x${uuid.slice(0, -BASE_UUID.length).replace(/^0000/, '').toUpperCase()}` : uuid;
}
