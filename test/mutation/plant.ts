/** Every mutant of an app, in the order of operators and places. */
import type { Ground } from './ground.js';
import type { Mutant } from './mutant.js';
import { operators } from './operators/index.js';

export function mutantsOf(ground: Ground): readonly Mutant[] {
  return operators.filter(({ language }) => language === 'both' || language === ground.language).flatMap((operator) =>
    [...operator.plant(ground)].map((planted): Mutant => ({
      app: ground.app.name, operator: operator.name, path: planted.edits[0]!.path, edits: planted.edits,
      rule: planted.rule ?? operator.rule, places: planted.places ?? [], level: planted.level ?? 'warning', also: planted.also ?? [],
      ...(planted.equivalent !== undefined && { equivalent: planted.equivalent }),
    })));
}
