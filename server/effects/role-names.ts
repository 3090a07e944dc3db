/** Names of catalogue members, to look by name first: most calls of a program are of no interest. */
import { platformType, platformTypeNames, type Does, type Language, type PlatformMember } from '../catalogue/index.js';

const LANGUAGES: readonly Language[] = ['kotlin', 'typescript'];
const known = new Map<string, ReadonlySet<string>>();

/** Members that have a role, or that one. */
export function namesWithRole(does?: Does): ReadonlySet<string> {
  return namesOf(does ?? 'any role', member => (does === undefined ? member.does !== undefined : member.does?.includes(does) === true));
}

/** Callbacks that bring something of a link: a status, a device, a value. */
export function callbackNames(): ReadonlySet<string> {
  return namesOf('callback', member => member.kind === 'callback' && member.params?.some(param => param.is !== undefined) === true);
}

function namesOf(key: string, wanted: (member: PlatformMember) => boolean): ReadonlySet<string> {
  let names = known.get(key);
  if (!names) {
    const members = LANGUAGES.flatMap(language => platformTypeNames(language).flatMap(type => platformType(language, type)?.members ?? []));
    known.set(key, names = new Set(members.filter(wanted).map(member => member.name)));
  }
  return names;
}
