// The scenario of one job of a campaign: what its plan and its seed make of it, whatever runs before or beside it.
import { mixed, Random } from '../../sim/random.ts';
import { InputError } from '../cli/command.ts';
import { toScenario } from '../scenario/scenario.ts';
import { type Distribution, draw, keysIn, type Scalar } from './distribution.ts';
import type { Chance } from './draw.ts';
import type { CampaignPlan, PlannedStrike } from './plan.ts';

type Tree = { [key: string]: unknown; equipment?: unknown; faults?: unknown };

/** @param job from 1. */
export const seedOfJob = (campaignSeed: number, job: number): number =>
  mixed(mixed(campaignSeed) + job) >>> 0;

const isTree = (value: unknown): value is Tree =>
  value !== null && typeof value === 'object' && !Array.isArray(value);

const valueAt = (tree: Tree, key: string): unknown =>
  key.split('.').reduce<unknown>((at, part) => (isTree(at) ? at[part] : undefined), tree);

function setAt(tree: Tree, key: string, value: unknown): void {
  const parts = key.split('.');
  const last = parts.pop()!;
  let at = tree;
  for (const part of parts) {
    const next = at[part];
    at[part] = isTree(next) ? next : {};
    at = at[part] as Tree;
  }
  at[last] = value;
}

/** Where chance comes from: each purpose has a stream of its own, so that a key more shifts no other. */
type Chances = (purpose: string) => Chance;

const chancesOf =
  (seed: number): Chances =>
  (purpose) =>
    new Random(seed, `plan ${purpose}`);

/** The short form of the equipment is its profile. */
function copyOfBase({ base }: CampaignPlan): Tree {
  const tree = structuredClone(base) as Tree;
  const { equipment } = tree;
  if (typeof equipment === 'string') tree.equipment = { profile: equipment };
  return tree;
}

function strikeOf(
  { probability: _, ...strike }: PlannedStrike,
  chance: Chance,
  lookUp: (key: string) => unknown,
) {
  const drawn = Object.entries(strike).flatMap(([key, distribution]) =>
    distribution === undefined ? [] : [[key, draw(distribution, chance, lookUp)] as const],
  );
  return Object.fromEntries(drawn);
}

function scenarioWith(plan: CampaignPlan, chances: Chances, head: { name: string; seed: number }): Tree {
  const tree: Tree = { ...copyOfBase(plan), ...head };
  const lookUp = (key: string): unknown => valueAt(tree, key);
  for (const [key, distribution] of Object.entries(plan.draws))
    setAt(tree, key, draw(distribution, chances(key), lookUp));
  const struck = plan.faults.flatMap((strike, index) => {
    const chance = chances(`fault ${index}`);
    return chance.uniform() < strike.probability ? [strikeOf(strike, chance, lookUp)] : [];
  });
  const faults = [...((tree.faults as unknown[] | undefined) ?? []), ...struck];
  return faults.length === 0 ? tree : { ...tree, faults };
}

/** A scenario file of its own, which `coldbench run` takes. */
export function scenarioOfJob(plan: CampaignPlan, campaignSeed: number, job: number): unknown {
  const seed = seedOfJob(campaignSeed, job);
  return scenarioWith(plan, chancesOf(seed), { name: `${plan.name}, job ${job}`, seed });
}

const HIGHEST: Chance = { uniform: () => 1 - 2 ** -53, normal: () => 0 };
const MIDDLE: Chance = { uniform: () => 0.5, normal: () => 0 };
const LOWEST: Chance = { uniform: () => 0, normal: () => 0 };

const HEAD = { name: 'a job', seed: 1 };

/** Every choice of a key in turn, all else in its middle. */
function* choicesOf(plan: CampaignPlan): Generator<readonly [what: string, scenario: unknown]> {
  const fixedAt = (key: string, value: Scalar): CampaignPlan => ({
    ...plan,
    draws: { ...plan.draws, [key]: { fixed: value } satisfies Distribution },
  });
  for (const [key, { choice }] of Object.entries(plan.draws))
    for (const value of choice ?? [])
      yield [`with ${key} ${value}`, scenarioWith(fixedAt(key, value), () => MIDDLE, HEAD)];
}

function checkReferences({ draws, faults }: CampaignPlan, tree: Tree, source: string): void {
  const known = new Set<string>();
  const check = (at: string, distribution: Distribution | number | undefined): void => {
    if (distribution === undefined || typeof distribution === 'number') return;
    for (const key of keysIn(distribution))
      if (!known.has(key) && typeof valueAt(tree, key) !== 'number')
        throw new InputError(
          `${source}: ${at} refers to ${key}, which is no number of the base and is not drawn above it`,
        );
  };
  for (const [key, distribution] of Object.entries(draws)) {
    check(`draws.${key}`, distribution);
    known.add(key);
  }
  for (const [index, strike] of faults.entries())
    for (const [key, distribution] of Object.entries(strike)) check(`faults[${index}].${key}`, distribution);
}

/**
 * Tries the plan at the ends of everything that it draws, with every fault that may strike, before a job is run.
 * @throws InputError naming `source`, the key and the remedy.
 */
export function checkPlan(plan: CampaignPlan, source: string): void {
  checkReferences(plan, copyOfBase(plan), source);
  const striking = plan.faults.map((strike) => ({ ...strike, probability: strike.probability && 1 }));
  const all = { ...plan, faults: striking };
  for (const [what, scenario] of choicesOf(plan)) toScenario(scenario, `${source}, ${what}`);
  const ends = [
    ['with every draw in its middle', MIDDLE],
    ['with every draw at its lowest', LOWEST],
    ['with every draw at its highest', HIGHEST],
  ] as const;
  for (const [what, chance] of ends)
    toScenario(
      scenarioWith(all, () => chance, HEAD),
      `${source}, ${what}`,
    );
}
