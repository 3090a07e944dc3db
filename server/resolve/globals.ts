/**
 * Values that the platform puts in every file's reach: TypeScript's `navigator` and `window`.
 */
import { globalType } from '../catalogue/index.js';
import { platformType } from '../catalogue/index.js';
import type { Name } from '../ir/ir.js';
import type { Ty } from './api.js';
import type { Core } from './core.js';
import { typeOfText } from './type-text.js';
import { metaOf, platformTy } from './types.js';

/** A name without a declaration: a global value, or a type of the catalogue that is used by its name. */
export function globalValue(core: Core, expr: Name, member?: string): Ty | undefined {
  const language = core.languageAt(expr);
  if (member !== undefined) return undefined;
  const value = globalType(language, expr.name);
  if (value !== undefined) return typeOfText(language, value);
  const type = core.typeNamed(expr.name, [], expr);
  if (type?.class !== undefined) return type.class.form === 'object' ? type : metaOf(type);
  const platform = type?.platform ?? (type === undefined ? platformType(language, expr.name) : undefined);
  return platform && metaOf(platformTy(platform));
}
