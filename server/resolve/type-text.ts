/**
 * Reads the catalogue's type texts: `list<BluetoothGattService>?`, `fun(BluetoothDevice) -> void`, `Promise<T>`.
 *
 * `T.(A) -> B` has a receiver; `A | B` is a union. A name is a type parameter where the caller says so, else the
 * catalogue's type of that name, else just a name.
 */
import { platformType } from '../catalogue/index.js';
import type { Language } from '../ir/ir.js';
import type { Ty } from './api.js';
import { ANY, asNullable, funTy, platformTy, ty, unionOf, variable } from './types.js';

const read = new Map<string, Ty>();

/** @param variables names that are type parameters in this text */
export function typeOfText(language: Language, text: string, variables: readonly string[] = []): Ty {
  const key = `${language}|${variables.join()}|${text}`;
  let known = read.get(key);
  if (known === undefined) {
    known = new Reader(language, text, variables).whole();
    read.set(key, known);
  }
  return known;
}

class Reader {
  private at = 0;

  constructor(private readonly language: Language, private readonly text: string, private readonly variables: readonly string[]) {}

  whole(): Ty {
    return this.union();
  }

  private union(): Ty {
    const members = [this.suffixed()];
    while (this.skip('|')) members.push(this.suffixed());
    if (members.length === 1) return members[0]!;
    const known = members.filter((member) => member.name !== 'null');
    return unionOf(known, known.length < members.length || members.some((member) => member.nullable));
  }

  private suffixed(): Ty {
    let type = this.primary();
    for (;;) {
      if (this.skip('?')) type = asNullable(type);
      else if (this.skip('[]')) type = ty('list', [type]);
      else return type;
    }
  }

  private primary(): Ty {
    if (this.skip('(')) {
      const inner = this.union();
      this.skip(')');
      return inner;
    }
    const name = this.name();
    if (name === 'fun') return this.fun();
    const args = this.skip('<') ? this.list('>') : [];
    if (name === '') this.at = this.text.length;
    return name === '' ? ANY : named(this.language, name, args, this.variables);
  }

  /** After `fun`: `(A, B) -> C`, or `<R>(A) -> C` with a receiver. */
  private fun(): Ty {
    const receiver = this.skip('<') ? this.list('>')[0] : undefined;
    const params = this.skip('(') ? this.list(')') : [];
    const result = this.skip('->') ? this.union() : ty('void');
    return funTy({ params, result, ...(receiver && { receiver }) });
  }

  private list(close: string): Ty[] {
    const items: Ty[] = [];
    while (this.at < this.text.length && !this.skip(close)) {
      items.push(this.union());
      this.skip(',');
    }
    return items;
  }

  private name(): string {
    this.space();
    const match = /^[\w$]+(\.[\w$]+)*/.exec(this.text.slice(this.at));
    if (match === null) return '';
    this.at += match[0].length;
    return match[0];
  }

  private skip(sign: string): boolean {
    this.space();
    if (!this.text.startsWith(sign, this.at)) return false;
    this.at += sign.length;
    return true;
  }

  private space(): void {
    while (this.text[this.at] === ' ') this.at++;
  }
}

function named(language: Language, name: string, args: readonly Ty[], variables: readonly string[]): Ty {
  if (variables.includes(name)) return variable(name);
  const platform = platformType(language, name);
  return platform === undefined ? ty(name, args) : platformTy(platform, args);
}
