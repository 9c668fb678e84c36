// Verify: the performance test. Prove the valves shut, ask for the engine, wait until it is steady, read the pattern.
import { SURE, ZERO_CELSIUS_K } from '../constants.ts';
import { judgePerformance, type PerformanceVerdict } from '../estimates/performance.ts';
import type { NoticeDraft } from '../notices.ts';
import { SAFE_COMMANDS } from '../signals.ts';
import type { StageEvent } from '../stage-events.ts';
import type { Accounts, PerformanceAccount } from '../state.ts';
import { hosesWillBeCleared } from './charge-target.ts';
import type { VerifyData } from './data-checks.ts';
import { shownKg } from './draw.ts';
import { allShut, at, confirms, deliveredKg, kilopascals, type StageInput, type StageStep } from './stage.ts';

/** More than this into the tank while every valve is shut: the high side lifts a valve backwards (estimate). */
const REVERSE_KG = 0.01;

export const enterVerify = (nowMs: number): VerifyData => ({
  stage: 'verify',
  step: 'prove',
  sinceMs: nowMs,
  stepSinceMs: nowMs,
  provenSinceMs: undefined,
  highPa: [],
  lowPa: [],
  sampledAtMs: nowMs,
});

type Step = StageStep<VerifyData>;

export function stepVerify(data: VerifyData, input: StageInput): Step {
  switch (data.step) {
    case 'prove':
      return prove(data, input);
    case 'start':
      return start(data, input);
    case 'run':
      return run(data, input);
  }
}

/** Valves told to shut, and nothing leaving or entering the tank. */
function standsStill(input: StageInput): boolean {
  const { plan, estimates, accounts, permitted } = input;
  const { scale } = estimates;
  const { weighed } = accounts;
  return (
    allShut(permitted) &&
    scale.trust === 'trusted' &&
    Math.abs(scale.slowFlowKgPerS) < plan.verify.stillKgPerS &&
    weighed !== undefined &&
    Math.abs(deliveredKg(weighed, input)) < plan.verify.provenKg
  );
}

/** Only a machine that stands still, and both sides that are seen, let an engine start. */
const isProven = (input: StageInput): boolean =>
  standsStill(input) && input.seen.highSidePa !== undefined && input.seen.lowSidePa !== undefined;

function prove(data: VerifyData, input: StageInput): Step {
  const { plan, nowMs } = input;
  const wanted = SAFE_COMMANDS;
  if (input.engine === 'running') return { data: runFrom(data, nowMs), wanted };
  const provenSinceMs = isProven(input) ? (data.provenSinceMs ?? nowMs) : undefined;
  const next = provenSinceMs === data.provenSinceMs ? data : { ...data, provenSinceMs };
  if (provenSinceMs !== undefined && nowMs - provenSinceMs >= plan.verify.watchMs) {
    return { data: at(next, 'start', nowMs), wanted };
  }
  if (nowMs - data.stepSinceMs < plan.verify.proveTimeoutMs) return { data: next, wanted };
  return standsStill(input)
    ? { ...leave(next, 'sides-not-seen', { code: 'sides-not-seen' }), ...ofNoHelp(input) }
    : leave(next, 'valves-not-proven', { code: 'valves-not-proven' });
}

const leave = (data: VerifyData, result: string, notice: NoticeDraft): Step => ({
  data,
  wanted: SAFE_COMMANDS,
  event: 'engine-not-used',
  result,
  notices: [notice],
});

/** A charge that counted on the engine to suck the hoses dry is short of what they hold. */
const ofNoHelp = (input: StageInput): { readonly event: StageEvent; readonly accounts: Accounts } =>
  hosesWillBeCleared(input)
    ? { event: 'engine-of-no-help', accounts: { ...input.accounts, engineOfNoHelp: true } }
    : { event: 'engine-not-used', accounts: input.accounts };

function start(data: VerifyData, input: StageInput): Step {
  const wanted = SAFE_COMMANDS;
  return confirms(input.answers, 'start-engine')
    ? { data: runFrom(data, input.nowMs), wanted }
    : { data, wanted, prompt: 'start-engine' };
}

const runFrom = (data: VerifyData, nowMs: number): VerifyData => ({
  ...data,
  step: 'run',
  stepSinceMs: nowMs,
  highPa: [],
  lowPa: [],
  sampledAtMs: nowMs,
});

function run(data: VerifyData, input: StageInput): Step {
  const { plan, nowMs } = input;
  const { verify } = plan;
  const wanted = SAFE_COMMANDS;
  const danger = dangerOf(input);
  if (danger !== undefined) {
    const left = leave(data, danger.code, danger);
    return { ...left, ...(danger.code === 'pushed-into-tank' ? doubted(input) : ofNoHelp(input)) };
  }
  if (nowMs - data.sampledAtMs < verify.sampleMs) return { data, wanted };
  const next = sample(data, input);
  const ranMs = nowMs - data.stepSinceMs;
  const highPa = next.highPa.at(-1);
  const lowPa = next.lowPa.at(-1);
  if (highPa === undefined || lowPa === undefined) {
    return ranMs < verify.mostMs
      ? { data: next, wanted }
      : leave(next, 'pressure-unknown', { code: 'performance-not-measured' });
  }
  if (ranMs >= verify.apartMs && highPa - lowPa < verify.apartPa + apartDoubtPa(input)) {
    return conclude(next, input, 'compressor-not-running');
  }
  const steady = ranMs >= verify.leastMs && isSteady(next, input);
  return steady || ranMs >= verify.mostMs ? conclude(next, input, undefined) : { data: next, wanted };
}

const apartDoubtPa = ({ equipment: { pressure } }: StageInput): number =>
  SURE * Math.hypot(pressure.highSideSdPa, pressure.lowSideSdPa);

/** What no test is worth: a high side near its limit, and refrigerant pushed backwards into the tank. */
function dangerOf(input: StageInput): NoticeDraft | undefined {
  const { plan, seen, accounts, estimates } = input;
  if (seen.highSidePa !== undefined && seen.highSidePa > plan.verify.highLimitPa) {
    return { code: 'high-side-too-high', with: { pressure: kilopascals(seen.highSidePa) } };
  }
  if (accounts.weighed === undefined || estimates.scale.trust !== 'trusted') return undefined;
  return shownKg(input) > REVERSE_KG + unreadForceKg(input) ? { code: 'pushed-into-tank' } : undefined;
}

/** Nothing but the scale tells of it, and a zero that runs away looks the same: all of it may be that. */
function doubted(input: StageInput): { readonly accounts: Accounts } {
  const { accounts } = input;
  return {
    accounts: { ...accounts, scaleMovesKg: Math.max(accounts.scaleMovesKg ?? 0, shownKg(input)) },
  };
}

/** A hose that is not read is taken to press as the other does; it may press as much less, or the high one up to its limit. */
function unreadForceKg({ plan, seen, accounts }: StageInput): number {
  const { highSidePa, lowSidePa } = seen;
  const unread = [highSidePa, lowSidePa].filter((pa) => pa === undefined).length;
  return (unread / 2) * Math.abs(accounts.hoseForce.kgPerPa) * (highSidePa ?? plan.verify.highLimitPa);
}

/** The last minute of both sides; a gap starts it over. */
function sample(data: VerifyData, { plan, nowMs, seen }: StageInput): VerifyData {
  const { highSidePa, lowSidePa } = seen;
  if (highSidePa === undefined || lowSidePa === undefined) {
    return { ...data, highPa: [], lowPa: [], sampledAtMs: nowMs };
  }
  const keep = plan.verify.steadySamples - 1;
  return {
    ...data,
    highPa: [...data.highPa.slice(-keep), highSidePa],
    lowPa: [...data.lowPa.slice(-keep), lowSidePa],
    sampledAtMs: nowMs,
  };
}

const mean = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length;
const span = (values: readonly number[]): number => Math.max(...values) - Math.min(...values);

function isSteady({ highPa, lowPa }: VerifyData, { plan }: StageInput): boolean {
  const { steadySamples, steadyHighShare, steadyLowShare } = plan.verify;
  return (
    highPa.length >= steadySamples &&
    span(highPa) < steadyHighShare * mean(highPa) &&
    span(lowPa) < steadyLowShare * mean(lowPa)
  );
}

/** A verdict is advice: whatever it says, the job goes on. */
function conclude(data: VerifyData, input: StageInput, known: PerformanceVerdict | undefined): Step {
  const { plan, seen, equipment } = input;
  const { ambientK, ventK } = seen;
  const [highPa, lowPa] = [mean(data.highPa), mean(data.lowPa)];
  const { event, accounts } =
    known === 'compressor-not-running'
      ? ofNoHelp(input)
      : { event: 'verified' as const, accounts: input.accounts };
  const wanted = SAFE_COMMANDS;
  if (ambientK === undefined) {
    const notices: NoticeDraft[] = [{ code: 'performance-not-measured' }];
    return { data, wanted, event, result: 'not-judged', accounts, notices };
  }
  const verdict =
    known ??
    (ambientK < plan.verify.coldestK
      ? 'too-cold-to-judge'
      : judgePerformance({
          curve: plan.curve,
          ambientK,
          highPa,
          lowPa,
          ventK,
          highDoubtPa: SURE * equipment.pressure.highSideSdPa,
          lowDoubtPa: SURE * equipment.pressure.lowSideSdPa,
        }));
  const performance = { verdict, highPa, lowPa, ...(ventK === undefined ? {} : { ventK }), ambientK };
  return {
    data,
    wanted,
    event,
    result: verdict,
    accounts: { ...accounts, performance },
    notices: [noticeOf(performance)],
  };
}

function noticeOf({ verdict, highPa, lowPa, ventK, ambientK }: PerformanceAccount): NoticeDraft {
  const celsius = (temperatureK: number): string => (temperatureK - ZERO_CELSIUS_K).toFixed(0);
  return {
    code: `performance-${verdict}`,
    with: {
      high: kilopascals(highPa),
      low: kilopascals(lowPa),
      ambient: celsius(ambientK),
      vent:
        ventK === undefined
          ? 'no thermometer is in the vents'
          : `the vents blow at ${celsius(ventK)} °C, which humid air makes warmer`,
    },
  };
}
