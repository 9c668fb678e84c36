// A file that is good, but of another kind than the command takes: named as what it is, with the command that takes it.
import { InputError } from '../cli/command.ts';
import { scenarioSchema } from './schema.ts';

/** What a plan has and a scenario has not, and the other way round: both may have a name and faults. */
const OF_A_PLAN = ['base', 'draws'];
const OF_A_SCENARIO = Object.keys(scenarioSchema.shape).filter((key) => key !== 'name' && key !== 'faults');

const hasAny = (value: unknown, keys: readonly string[]): boolean =>
  keys.some((key) => Object.hasOwn(Object(value), key));

/** @throws InputError for the plan of a campaign where a scenario or a ticket must stand. */
export function checkNoPlan(value: unknown, source: string): void {
  if (hasAny(value, OF_A_PLAN) && !hasAny(value, OF_A_SCENARIO))
    throw new InputError(
      `${source}: is the plan of a campaign; coldbench campaign takes it, give another file here`,
    );
}

/** @throws InputError for a scenario where a plan must stand. */
export function checkNoScenario(value: unknown, source: string): void {
  if (hasAny(value, OF_A_SCENARIO) && !hasAny(value, OF_A_PLAN))
    throw new InputError(
      `${source}: is a scenario; coldbench run takes it, or name it as the base of a plan`,
    );
}
