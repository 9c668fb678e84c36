// How long each stage may take before it is left: no state is without an exit.

import type { ChartState } from './chart-state.ts';
import type { Prompt } from './operator.ts';
import type { Plan } from './plan.ts';
import type { StageData } from './stages/data.ts';
import type { Stage } from './stages.ts';

/** `whole`: counted from the stage's beginning, else from that of its current step. */
export type StageLimit = { readonly ms: number; readonly whole: boolean };

export function stageLimitMs(stage: Stage, prompt: Prompt | undefined, plan: Plan): StageLimit {
  if (stage === 'repair') return { ms: plan.repair.timeoutMs, whole: true };
  if (prompt !== undefined) return { ms: plan.times.promptMs, whole: false };
  const spareMs = plan.weighing.timeoutMs + plan.times.spareMs;
  switch (stage) {
    case 'identify':
      return { ms: plan.times.promptMs, whole: true };
    case 'fill':
      return { ms: plan.fill.mostMs + plan.fill.dryMs + spareMs, whole: false };
    case 'purge-air':
      return { ms: 2 * plan.purgeAir.mostMs + 2 * spareMs, whole: true };
    case 'settle':
      return { ms: plan.settle.timeoutMs, whole: false };
    case 'recover':
      return { ms: 2 * plan.recover.runMs + spareMs, whole: true };
    case 'rest':
      return { ms: plan.rest.timeoutMs + spareMs, whole: true };
    case 'drain-oil':
      return { ms: plan.drainOil.timeoutMs + plan.drainOil.returnMs + 2 * spareMs, whole: true };
    case 'evacuate':
      return { ms: plan.evacuate.timeoutMs + plan.evacuate.joinTimeoutMs + spareMs, whole: true };
    case 'hold':
      return { ms: plan.hold.timeoutMs, whole: true };
    case 'add-oil':
      return { ms: plan.addOil.timeoutMs + plan.drainOil.foamMs, whole: false };
    case 'leak-check':
      return {
        ms: Math.max(
          plan.charge.timeoutMs + plan.charge.assistMs + plan.charge.blowDownMs + 2 * spareMs,
          plan.leakCheck.settleMostMs + plan.leakCheck.blindMs,
        ),
        whole: false,
      };
    case 'charge':
      return {
        ms:
          plan.charge.timeoutMs +
          plan.charge.engineProveMs +
          plan.charge.engineHelpMs +
          plan.charge.assistMs +
          plan.charge.blowDownMs +
          plan.charge.drawBackMs +
          2 * spareMs,
        whole: true,
      };
    case 'verify':
      return { ms: plan.verify.timeoutMs, whole: false };
    case 'clear-hoses':
      return { ms: plan.clearHoses.timeoutMs, whole: false };
    case 'recover-hoses':
      return { ms: plan.hoses.timeoutMs, whole: false };
  }
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
