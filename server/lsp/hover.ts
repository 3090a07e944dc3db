/**
 * What is known of the UUID under the pointer: what it is assigned to, and what the device profile says of it.
 */
import { MarkupKind } from 'vscode-languageserver/node';
import type { Hover, Position } from 'vscode-languageserver/node';
import { assignedNumbers, shortUuid, source } from '../catalogue/index.js';
import type { AssignedNumber } from '../catalogue/index.js';
import type { Attribute, Security, Service, Size } from '../profile/types.js';
import { Lines, uriOf } from './places.js';
import type { ProfileInForce, Workbench } from './workbench.js';

export function hover(path: string, position: Position, workbench: Workbench): Hover | null {
  const text = workbench.textOf(path);
  if (text === undefined) return null;
  const lines = new Lines(text);
  const place = workbench.uuidAt(path, lines.offset(position));
  if (!place) return null;
  const inForce = workbench.profileFor(path);
  const paragraphs = [spelled(place.uuid), ...assignments(place.uuid), ...(inForce ? inProfile(place.uuid, inForce, workbench) : [])];
  return { range: lines.range(place.at), contents: { kind: MarkupKind.Markdown, value: paragraphs.join('\n\n') } };
}

function spelled(uuid: string): string {
  const short = shortUuid(uuid);
  return short === undefined ? `\`${uuid}\`` : `\`0x${short.toString(16).toUpperCase().padStart(4, '0')}\` · \`${uuid}\``;
}

// ---- Assigned numbers ---------------------------------------------------

function assignments(uuid: string): string[] {
  const assigned = assignedNumbers(uuid);
  if (assigned.length > 0) return assigned.map(assignment);
  return [shortUuid(uuid) === undefined ? 'A UUID of its maker’s own: no assigned number.' : 'Not among the assigned numbers known here.'];
}

function assignment({ name, kind, identifier, origin }: AssignedNumber): string {
  const what = kind === 'member' ? `**${name}**, a member’s own service` : `**${name}**, ${kind}`;
  return `${what}${identifier === undefined ? '' : ` (\`${identifier}\`)`} — ${source(origin).title}`;
}

// ---- Device profile -----------------------------------------------------

function inProfile(uuid: string, { profile, stale }: ProfileInForce, workbench: Workbench): string[] {
  const device = profile.device.name?.value;
  const where = `[device profile${device === undefined ? '' : ` of ${device}`}](${uriOf(profile.path)}`;
  const described = profile.services.flatMap((service) => attributesOf(service)).filter(({ attribute }) => attribute.uuid?.value === uuid);
  if (described.length === 0) return [`Not in the ${where})`];
  const text = stale ? undefined : workbench.textOf(profile.path);
  const lines = text === undefined ? undefined : new Lines(text);
  return described.map((it) => `${description(it)} — ${where}${lines ? `#L${lines.range(it.attribute.at).start.line + 1}` : ''})`);
}

/** An attribute and the names of those that hold it, the nearest first. */
interface Held {
  readonly attribute: Attribute;
  readonly within: readonly Attribute[];
}

function attributesOf(service: Service): Held[] {
  return [
    { attribute: service, within: [] },
    ...service.characteristics.flatMap((characteristic) => [
      { attribute: characteristic, within: [service] },
      ...(characteristic.descriptors ?? []).map((descriptor) => ({ attribute: descriptor, within: [characteristic, service] })),
    ]),
  ];
}

function description({ attribute, within }: Held): string {
  const name = attribute.name?.value;
  const holders = within.flatMap((holder) => holder.name?.value ?? []);
  const title = [name === undefined ? `a ${attribute.kind}` : `**${name}**, ${attribute.kind}`, ...holders].join(' of ');
  return [
    title,
    ...(attribute.kind === 'characteristic' && attribute.properties ? [attribute.properties.map(({ value }) => value).join(', ')] : []),
    ...(attribute.kind !== 'service' && attribute.size ? [bytes(attribute.size)] : []),
    ...(attribute.kind !== 'service' ? requirements(attribute.security) : []),
  ].join(' · ');
}

function bytes({ minimum, maximum }: Size): string {
  const unit = maximum === 1 ? 'byte' : 'bytes';
  return minimum === maximum ? `${maximum} ${unit}` : `${minimum} to ${maximum} ${unit}`;
}

function requirements({ read, write }: Security): string[] {
  const said = (verb: string, needs: Security['read']) => (needs.length === 0 ? [] : [`${verb}: ${needs.map(({ value }) => value).join(' and ')}`]);
  return [...said('reading', read), ...said('writing', write)];
}
