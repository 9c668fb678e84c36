// Runs one drawn whole job and notes every prompt that it waited for.

import { clockMs, fluidOnce, PACING } from '../../app/bench/whole-jobs.ts';
import type { ScanLoop } from '../../app/run/loop.ts';
import { prepare } from '../../app/run/prepare.ts';
import { runSession } from '../../app/run/session.ts';
import { toScenario } from '../../app/scenario/scenario.ts';
import type { Prompt } from '../../controller/operator.ts';
import type { ProfileName } from '../../sim/profiles.ts';
import { gramsScenario } from './grams-scenario.ts';

export type HandsOnRow = {
  readonly seed: number;
  readonly flammable: boolean;
  readonly engine: boolean;
  readonly warmed: boolean;
  /** In their order; one that is asked again stands again. */
  readonly prompts: readonly string[];
  /** Notices that call for a hand though no question begins with them. */
  readonly calls: number;
  /** Prompts that named no evidence. */
  readonly withoutEvidence: number;
  readonly minutes: number;
};

/** The hoses are taken off after the end; a warming engine is stopped within the question that had it started. */
const CALLS: readonly string[] = ['hoses-safe', 'warm-up-enough', 'warm-up-cut-short', 'warm-up-in-vain'];

/** The jobs of the grams; every second vehicle whose engine can run is warmed by it first. */
export async function handsOnJob(profile: ProfileName, seed: number): Promise<HandsOnRow> {
  const file = gramsScenario(profile, seed);
  const engine = file.ticket.engine === 'can-run';
  const warmed = engine && seed % 2 === 0;
  const scenario = toScenario({ ...file, ticket: { ...file.ticket, warmUp: warmed } }, file.name);
  const asked: Prompt[] = [];
  let calls = 0;
  let loop: ScanLoop | undefined;
  const facts = await runSession(prepare(scenario, file.name, fluidOnce, clockMs), {
    pacing: PACING,
    started: (begun) => {
      loop = begun;
    },
    observers: [
      ({ notices }) => {
        calls += notices.filter(({ code }) => CALLS.includes(code)).length;
        const prompt = loop?.state.prompt;
        if (prompt !== undefined && prompt.askedAtMs !== asked.at(-1)?.askedAtMs) asked.push(prompt);
      },
    ],
  });
  return {
    seed,
    flammable: file.ticket.refrigerant === 'R-1234yf',
    engine,
    warmed,
    prompts: asked.map(({ id }) => id),
    calls,
    withoutEvidence: asked.filter(({ evidence }) => evidence === '').length,
    minutes: facts.simulatedMs / 60_000,
  };
}
