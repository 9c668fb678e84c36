// How long the rest of the job may take, from what is measured now; a range, because the vehicle decides.

import { MINUTE_MS } from './constants.ts';
import type { Plan } from './plan.ts';
import type { StageData } from './stages/data.ts';
import { minimumMs, pumpedMs, targetPa, usualMs, vacuumPa } from './stages/evacuate.ts';
import { usualFillMs } from './stages/fill.ts';
import { watchMs } from './stages/hold.ts';
import { deliveredKg, isOpened } from './stages/stage.ts';
import type { Stage } from './stages.ts';
import type { ControllerState } from './state.ts';

export type Span = { readonly low: number; readonly high: number };

const PROMPT: Span = { low: 10_000, high: 2 * MINUTE_MS };
/** One question from the start of the engine to its standstill, and a second where the sides do not bear out the answer. */
const WARMING: Span = { low: 15 * MINUTE_MS, high: 25 * MINUTE_MS };
const WEIGHING_MS = 9_000;
/** Full compressor flow at room temperature (estimate). */
const BRISK_KG_PER_S = 0.005;
const TRICKLE_KG_PER_S = 1e-4;
/** Less than this does not tell the rate of a filling (estimate). */
const TELLS_KG = 0.1;

const REPAIR: Span = { low: WEIGHING_MS, high: MINUTE_MS };

const plus = (a: Span, b: Span): Span => ({ low: a.low + b.low, high: a.high + b.high });
const spent = (span: Span, ms: number): Span => ({
  low: Math.max(span.low - ms, 0),
  high: Math.max(span.high - ms, 0),
});

export function remainingMs(state: ControllerState, nowMs: number): Span {
  const { stage } = state;
  if (stage === undefined) return { low: 0, high: 0 };
  let span = now(stage, state, nowMs);
  for (const next of laterStages(state, stage.stage)) span = plus(span, usual(next, state));
  return span;
}

/** What a leak check has let in is taken back by stages that stand elsewhere in the service, if at all. */
function laterStages({ plan, chart }: ControllerState, stage: Stage): readonly Stage[] {
  const order = chart.context.givingBack ? GIVING_BACK : plan.stages;
  return order.slice(order.indexOf(stage) + 1);
}

const GIVING_BACK: readonly Stage[] = ['recover', 'rest', 'recover-hoses'];

/** A stage that has not begun. */
export function usual(stage: Stage, state: ControllerState): Span {
  const { plan, accounts } = state;
  switch (stage) {
    case 'identify':
      return PROMPT;
    case 'fill':
      return fillingOf(plan.ticket.fillKg ?? 0, plan);
    // Mostly there is no air to be let off.
    case 'purge-air':
      return { low: plan.purgeAir.lookMs, high: plan.purgeAir.mostMs + plan.purgeAir.restMs };
    case 'settle':
      return plus(plan.ticket.warmUp ? WARMING : PROMPT, {
        low: 2 * WEIGHING_MS,
        high: MINUTE_MS + 2 * WEIGHING_MS,
      });
    case 'recover':
      return {
        low: (plan.ticket.nominalChargeKg / BRISK_KG_PER_S) * 1000,
        high: plan.recover.totalMs,
      };
    case 'rest':
      return { low: plan.rest.longMs + WEIGHING_MS, high: plan.rest.timeoutMs + WEIGHING_MS };
    case 'drain-oil':
      return {
        low: 3 * plan.drainOil.lookMs + 2 * WEIGHING_MS,
        high: 2 * MINUTE_MS + 2 * WEIGHING_MS,
      };
    // The repair itself is the operator's own time, which nobody can tell: it is left out.
    case 'repair':
      return REPAIR;
    case 'evacuate': {
      const least = minimumMs({ plan, accounts });
      return { low: least, high: Math.max(1.5 * least, usualMs({ plan, accounts })) };
    }
    case 'hold': {
      // What a hold cannot tell apart by then it goes on watching.
      const { equaliseMs, extendedMs } = plan.hold;
      return { low: equaliseMs + watchMs({ plan, accounts }), high: 2 * equaliseMs + extendedMs };
    }
    case 'add-oil':
      return plus(PROMPT, { low: 0, high: plan.adds.length * MINUTE_MS });
    case 'verify':
      return plus(PROMPT, { low: plan.verify.watchMs + plan.verify.leastMs, high: plan.verify.mostMs });
    case 'clear-hoses':
      return plus(plus(PROMPT, PROMPT), {
        low: plan.clearHoses.leastMs + plan.clearHoses.watchMs,
        high: plan.clearHoses.joins * (plan.clearHoses.mostMs + plan.clearHoses.watchMs),
      });
    case 'leak-check':
      return plus(PROMPT, {
        low: MINUTE_MS + plan.leakCheck.settleMs,
        high: 3 * MINUTE_MS + plan.leakCheck.settleMostMs,
      });
    case 'charge':
      return {
        low: MINUTE_MS + plan.charge.blowDownMs,
        high: 4 * MINUTE_MS + plan.charge.blowDownMs,
      };
    case 'recover-hoses':
      return plus(PROMPT, {
        low: plan.hoses.restMs + WEIGHING_MS,
        high: 3 * plan.hoses.restMs + plan.hoses.drawTimeoutMs + WEIGHING_MS,
      });
  }
}

/** The running stage, judged by what it shows. */
function now(stage: StageData, state: ControllerState, nowMs: number): Span {
  const elapsedMs = nowMs - stage.sinceMs;
  switch (stage.stage) {
    case 'recover':
      return recovering(state, nowMs);
    case 'fill':
      return filling(stage, state);
    case 'rest':
      return resting(state, elapsedMs, nowMs, stage.samplesPa);
    case 'evacuate': {
      const { seen } = state;
      const leftMs = Math.max(minimumMs(state) - pumpedMs(stage, nowMs), 0);
      const below =
        seen !== undefined && (vacuumPa(seen) ?? Number.POSITIVE_INFINITY) <= targetPa({ ...state, seen });
      const mostMs = usualMs(state) - pumpedMs(stage, nowMs);
      const seals = below && !isOpened(state);
      return { low: leftMs, high: seals ? leftMs + MINUTE_MS : Math.max(mostMs, leftMs + 10 * MINUTE_MS) };
    }
    case 'charge':
      return charging(stage, state);
    default:
      return spent(usual(stage.stage, state), elapsedMs);
  }
}

/** Half as fast in a cold room, half as fast again in a warm one (estimate). */
const fillingOf = (massKg: number, plan: Plan): Span => {
  const usuallyMs = usualFillMs(massKg, plan);
  return { low: usuallyMs / 1.5, high: 2 * usuallyMs };
};

/** By what has come so far, once that is enough to tell. */
function filling(stage: Extract<StageData, { stage: 'fill' }>, state: ControllerState): Span {
  const { weighed } = state.accounts;
  const cameKg = weighed === undefined ? 0 : -deliveredKg(weighed, state);
  const leftKg = Math.max(stage.targetKg - cameKg, 0);
  const { restMs } = state.plan.fill;
  if (stage.why !== undefined) return { low: 0, high: restMs + WEIGHING_MS };
  if (cameKg < TELLS_KG) return fillingOf(leftKg, state.plan);
  // Rests between are in what it has taken so far.
  const atThisRateMs = (leftKg / cameKg) * (stage.openedAtMs - stage.sinceMs);
  return { low: 0.9 * atThisRateMs + restMs, high: 1.3 * atThisRateMs + restMs + MINUTE_MS };
}

/** Of the whole recovery; less than nothing where it has taken longer. */
const budgetMs = ({ plan, accounts }: ControllerState, nowMs: number): number =>
  plan.recover.totalMs - (nowMs - (accounts.recoveryStartedAtMs ?? nowMs));

function recovering(state: ControllerState, nowMs: number): Span {
  const { plan, accounts, estimates } = state;
  const live = accounts.weighed === undefined ? 0 : deliveredKg(accounts.weighed, state);
  const leftKg = Math.max(plan.ticket.nominalChargeKg - (accounts.recoveredKg ?? 0) + live, 0);
  const flow = Math.max(estimates.scale.slowFlowKgPerS, TRICKLE_KG_PER_S);
  const atThisFlowMs = (leftKg / flow) * 1000;
  const high = Math.max(budgetMs(state, nowMs), MINUTE_MS);
  return {
    low: Math.min((leftKg / BRISK_KG_PER_S) * 1000, high),
    high: Math.min(1.5 * atThisFlowMs + MINUTE_MS, high),
  };
}

/** A rise that will end in a restart makes the rest of the budget likely. */
function resting(
  state: ControllerState,
  elapsedMs: number,
  nowMs: number,
  samplesPa: readonly number[],
): Span {
  const { plan } = state;
  const risePa = (samplesPa.at(-1) ?? 0) - (samplesPa[0] ?? 0);
  const quiet = spent(usual('rest', state), elapsedMs);
  if (risePa < plan.rest.risePa / 2) return quiet;
  return {
    low: quiet.low + plan.rest.earliestMs,
    high: Math.max(budgetMs(state, nowMs), quiet.high) + plan.rest.longMs,
  };
}

function charging(stage: Extract<StageData, { stage: 'charge' }>, state: ControllerState): Span {
  const { plan, estimates } = state;
  const flow = -estimates.scale.flowKgPerS;
  if (stage.reference === undefined || stage.step !== 'full' || !(flow > TRICKLE_KG_PER_S))
    return usual('charge', state);
  const leftKg = Math.max(stage.targetKg - deliveredKg(stage.reference, state), 0);
  const fineMs = 10 * plan.charge.pulseSettleMs + plan.charge.blowDownMs + WEIGHING_MS;
  const low = Math.min((leftKg / flow) * 1000 + fineMs, plan.charge.timeoutMs);
  return { low, high: Math.min(2 * low + fineMs, plan.charge.timeoutMs) };
}
