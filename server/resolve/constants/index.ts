/** The door of the constants: what `Resolver.constants` answers. */
import type { Constants } from '../api.js';
import type { Core } from '../core.js';
import { entriesOf, itemsOf } from './items.js';
import { byteLength } from './lengths.js';
import { uuidOf } from './uuids.js';
import { Evaluator } from './values.js';

export function constantsOf(core: Core): Constants {
  const evaluator = new Evaluator(core);
  return {
    text: (expr) => {
      const value = evaluator.value(expr);
      return value?.is === 'text' ? value.text : undefined;
    },
    whole: (expr) => {
      const value = evaluator.value(expr);
      return value?.is === 'number' && typeof value.value === 'number' && Number.isInteger(value.value) ? value.value : undefined;
    },
    bool: (expr) => {
      const value = evaluator.value(expr);
      return value?.is === 'bool' ? value.value : undefined;
    },
    uuid: (expr) => uuidOf(evaluator, expr),
    byteLength: (expr) => byteLength(evaluator, expr),
    bytes: (expr) => {
      const value = evaluator.value(expr);
      return value?.is === 'bytes' ? value.bytes : undefined;
    },
    items: (expr) => itemsOf(core, expr),
    entries: (expr) => entriesOf(core, expr),
  };
}
