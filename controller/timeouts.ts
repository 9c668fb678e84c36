// How long each stage may take before it is left: no state is without an exit.

import type { ChartState } from './chart-state.ts';
import type { Prompt } from './operator.ts';
import type { Plan } from './plan.ts';
import type { StageData } from './stages/data.ts';
import type { Stage } from './stages.ts';

/** `whole`: counted from the stage's beginning, else from that of its current step. */
export type StageLimit = { readonly ms: number; readonly whole: boolean };

/** A function each: were they branches of one, every scan would be compiled anew whenever a stage is the first of its kind. */
const LIMITS: { readonly [S in Stage]: (plan: Plan, spareMs: number) => StageLimit } = {
  identify: ({ times }) => ({ ms: times.promptMs, whole: true }),
  fill: ({ fill }, spareMs) => ({ ms: fill.mostMs + fill.dryMs + spareMs, whole: false }),
  'purge-air': ({ purgeAir }, spareMs) => ({ ms: 2 * purgeAir.mostMs + 2 * spareMs, whole: true }),
  settle: ({ settle }) => ({ ms: settle.timeoutMs, whole: false }),
  recover: ({ recover }, spareMs) => ({ ms: 2 * recover.runMs + spareMs, whole: true }),
  rest: ({ rest }, spareMs) => ({ ms: rest.timeoutMs + spareMs, whole: true }),
  'drain-oil': ({ drainOil }, spareMs) => ({
    ms: drainOil.timeoutMs + drainOil.returnMs + 2 * spareMs,
    whole: true,
  }),
  repair: ({ repair }) => ({ ms: repair.timeoutMs, whole: true }),
  evacuate: ({ evacuate }, spareMs) => ({
    ms: evacuate.timeoutMs + evacuate.joinTimeoutMs + spareMs,
    whole: true,
  }),
  hold: ({ hold }) => ({ ms: hold.timeoutMs, whole: true }),
  'add-oil': ({ addOil, drainOil }) => ({ ms: addOil.timeoutMs + drainOil.foamMs, whole: false }),
  'leak-check': ({ charge, leakCheck }, spareMs) => ({
    ms: Math.max(
      charge.timeoutMs + charge.assistMs + charge.blowDownMs + 2 * spareMs,
      leakCheck.settleMostMs + leakCheck.blindMs,
    ),
    whole: false,
  }),
  charge: ({ charge }, spareMs) => ({
    ms:
      charge.timeoutMs +
      charge.engineProveMs +
      charge.engineHelpMs +
      charge.assistMs +
      charge.blowDownMs +
      charge.drawBackMs +
      2 * spareMs,
    whole: true,
  }),
  verify: ({ verify }) => ({ ms: verify.timeoutMs, whole: false }),
  'clear-hoses': ({ clearHoses }) => ({ ms: clearHoses.timeoutMs, whole: false }),
  'recover-hoses': ({ hoses }) => ({ ms: hoses.timeoutMs, whole: false }),
};

/** While a question stands its own limit holds, but a repair takes as long as it takes. */
export function stageLimitMs(stage: Stage, prompt: Prompt | undefined, plan: Plan): StageLimit {
  if (prompt !== undefined && stage !== 'repair') return { ms: plan.times.promptMs, whole: false };
  return LIMITS[stage](plan, plan.weighing.timeoutMs + plan.times.spareMs);
}

/** How long a halt may last. One within a repair may last as long as the repair: the machine is as safe in either. */
export function haltLimitMs({ value, context }: ChartState, plan: Plan): number {
  if (context.interrupted === 'repair') return plan.repair.timeoutMs;
  return value === 'paused' ? plan.times.pauseMs : plan.times.tripMs;
}

/** While a question stood no other time ran: an operator may take hours, and the machine is safe. */
export function afterPrompt(
  data: StageData,
  before: StageData,
  prompt: Prompt | undefined,
  nowMs: number,
): StageData {
  if (prompt === undefined) return data;
  const waitedMs = nowMs - prompt.askedAtMs;
  return {
    ...data,
    sinceMs: data.sinceMs + waitedMs,
    stepSinceMs: data.stepSinceMs + (data.stepSinceMs === before.stepSinceMs ? waitedMs : 0),
  };
}
