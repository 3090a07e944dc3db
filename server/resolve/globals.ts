/**
 * Values that the platform puts in every file's reach: TypeScript's `navigator` and `window`, and types used by their names.
 */
import { globalType } from '../catalogue/index.js';
import type { Name } from '../ir/ir.js';
import type { Ty } from './api.js';
import type { Core } from './core.js';
import { typeOfText } from './type-text.js';
import { metaOf, platformTy } from './types.js';

/** A name without a declaration: a global value, or a type of the catalogue or the program that is used by its name. */
export function globalValue(core: Core, expr: Name): Ty | undefined {
  const language = core.languageAt(expr);
  const value = globalType(language, expr.name);
  if (value !== undefined) return typeOfText(language, value);
  const type = core.typeNamed(expr.name, [], expr);
  if (type?.class !== undefined) return type.class.form === 'object' ? type : metaOf(type);
  return type?.platform && metaOf(platformTy(type.platform));
}
