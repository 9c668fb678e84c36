// What every command that works on the simulated bench is given: a scenario, a seed, units.
import type { StateOutOfRange } from '../../sim/network/equilibrium.ts';
import demo from '../scenario/demo.json' with { type: 'json' };
import { readScenario, type Scenario, toScenario } from '../scenario/scenario.ts';
import { UNIT_SYSTEMS, type UnitSystem } from '../units.ts';
import { InputError, RunBroken } from './command.ts';

const HIGHEST_SEED = 0xffffffff;

/** @throws InputError for what is no seed. */
export function seedFrom(text: string | undefined): number | undefined {
  if (text === undefined) return undefined;
  const seed = Number(text);
  if (!/^\d+$/.test(text) || seed > HIGHEST_SEED)
    throw new InputError(`--seed must be a whole number from 0 to ${HIGHEST_SEED}, not '${text}'`);
  return seed;
}

/** The option's whole number from 1. @throws InputError for what is none. */
export function wholeFrom(
  values: ReadonlyMap<string, string>,
  name: string,
  most: number,
): number | undefined {
  const text = values.get(name);
  if (text === undefined) return undefined;
  const value = Number(text);
  if (!/^[1-9]\d*$/.test(text) || value > most)
    throw new InputError(`--${name} must be a whole number from 1 to ${most}, not '${text}'`);
  return value;
}

/** @throws InputError for what is no system of units. */
export function unitSystemFrom(text: string | undefined): UnitSystem {
  if (text === undefined) return 'si';
  const system = UNIT_SYSTEMS.find((name) => name === text);
  if (system === undefined)
    throw new InputError(`--units must be ${UNIT_SYSTEMS.join(' or ')}, not '${text}'`);
  return system;
}

export type BenchArguments = { readonly path: string | undefined; readonly seed: number | undefined };

/** Without a path it is the demo. */
export function scenarioFor({ path, seed }: BenchArguments): { scenario: Scenario; source: string } {
  const scenario = path === undefined ? toScenario(demo, 'the demo') : readScenario(path);
  return {
    scenario: seed === undefined ? scenario : { ...scenario, seed },
    source: path ?? 'the demo',
  };
}

export const broken = (error: StateOutOfRange, { tank }: Scenario, source: string): RunBroken =>
  new RunBroken(
    `${source}: the simulation has left the range where the properties of ${tank.refrigerant} hold: ` +
      `${error.message}; check masses, volumes and temperatures of the scenario`,
  );
