/** What every operator is: a name, what it plants, which rule owes an answer, and where it finds places to plant. */
import type { Ground } from '../ground.js';
import type { Planted, RuleId } from '../mutant.js';

export interface Operator {
  readonly name: string;
  /** What is planted, as a phrase for the table. */
  readonly plants: string;
  readonly language: 'kotlin' | 'typescript' | 'both';
  readonly rule: RuleId;
  plant(ground: Ground): Iterable<Planted>;
}
