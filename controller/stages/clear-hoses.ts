// Clear hoses: the high coupler closed, the running engine's low side sucks the high hose dry. The pressure proves both.
import { ROOM_K, SURE } from '../constants.ts';
import { hoseGaugePa } from '../estimates/pressures.ts';
import { saturationPa } from '../estimates/saturation.ts';
import { netMassKg } from '../estimates/scale.ts';
import { SAFE_COMMANDS } from '../signals.ts';
import type { ClearHosesData, JoinedLook } from './data-hoses.ts';
import { at, confirms, grams, kilopascals, type StageInput, type StageStep, want } from './stage.ts';

const JOIN = want('highSideValve', 'lowSideValve');
/** High hose and manifold alone. */
const WATCH = want('highSideValve');

export const enterClearHoses = (nowMs: number): ClearHosesData => ({
  stage: 'clear-hoses',
  step: 'close',
  sinceMs: nowMs,
  stepSinceMs: nowMs,
  asks: 0,
  joins: 0,
  startHighPa: 0,
  startLowPa: 0,
  looks: [],
  watchFromPa: 0,
});

type Step = StageStep<ClearHosesData>;

export function stepClearHoses(data: ClearHosesData, input: StageInput): Step {
  if (input.engine !== 'running') return giveUp(data, 'engine-stopped');
  const { highSidePa, lowSidePa } = input.seen;
  if (data.step === 'close') {
    return confirms(input.answers, 'close-high-coupler')
      ? { data: { ...at(data, 'look', input.nowMs), asks: data.asks + 1 }, wanted: SAFE_COMMANDS }
      : { data, wanted: SAFE_COMMANDS, prompt: 'close-high-coupler' };
  }
  if (highSidePa === undefined || lowSidePa === undefined) return giveUp(data, 'pressure-unknown');
  switch (data.step) {
    case 'look':
      return look(data, input, highSidePa, lowSidePa);
    case 'join':
      return join(data, input, highSidePa, lowSidePa);
    case 'poured':
      return poured(data, input);
    case 'watch':
      return watch(data, input, highSidePa);
    case 'tell':
      return tell(data, input, highSidePa);
  }
}

function look(data: ClearHosesData, input: StageInput, highPa: number, lowPa: number): Step {
  const { plan, nowMs } = input;
  if (nowMs - data.stepSinceMs < plan.clearHoses.lookMs) return { data, wanted: SAFE_COMMANDS };
  const starts = { startHighPa: highPa, startLowPa: lowPa, looks: [] };
  return { data: { ...at(data, 'join', nowMs), joins: data.joins + 1, ...starts }, wanted: JOIN };
}

/** As the platform shows it, whatever the filter takes for a hand. */
function rawOf({ nowMs, seen, estimates, equipment, accounts }: StageInput): JoinedLook | undefined {
  const { scale } = estimates;
  if (seen.scaleCounts === undefined || scale.trust === 'not-read' || scale.trust === 'stuck')
    return undefined;
  const hosePa = hoseGaugePa(seen);
  return {
    kg: netMassKg(scale.counts, equipment) - accounts.hoseForce.kgPerPa * hosePa,
    hosePa,
    atMs: nowMs,
  };
}

function looked(data: ClearHosesData, input: StageInput): ClearHosesData {
  const { lookEveryMs, pouringLooks } = input.plan.clearHoses;
  const last = data.looks.at(-1);
  if (last !== undefined && input.nowMs - last.atMs < lookEveryMs) return data;
  const look = rawOf(input);
  return { ...data, looks: look === undefined ? [] : [...data.looks, look].slice(-pouringLooks) };
}

/** What the tank has lost since the first of the looks, beyond what the hoses may push less. */
function lostKg({ looks: [first] }: ClearHosesData, input: StageInput): number {
  const now = rawOf(input);
  if (first === undefined || now === undefined) return 0;
  const forceKg = SURE * input.accounts.hoseForce.sdKgPerPa * Math.abs(first.hosePa - now.hosePa);
  return first.kg - now.kg - forceKg;
}

/** From look to look as a charge valve pours that stands open; a hand or a tool goes at once. */
function pours(data: ClearHosesData, input: StageInput): boolean {
  const { looks } = data;
  const { pouringLooks, pouringLeastKg, pouringMostKg, pouredKg } = input.plan.clearHoses;
  const falls = looks.slice(1).map(({ kg }, index) => looks[index]!.kg - kg);
  const steady = falls.every((kg) => kg >= pouringLeastKg && kg <= pouringMostKg);
  return looks.length === pouringLooks && steady && lostKg(data, input) > pouredKg;
}

/** Shut in, a scale that somebody leaned on comes back; a tank that has poured into the hoses does not. */
function poured(data: ClearHosesData, input: StageInput): Step {
  const { plan, nowMs, estimates } = input;
  const { clearHoses } = plan;
  const waitedMs = nowMs - data.stepSinceMs;
  const quiet = estimates.scale.trust === 'trusted' && waitedMs >= clearHoses.pouredMs;
  if (!quiet && waitedMs < clearHoses.pouredMostMs) return { data, wanted: SAFE_COMMANDS };
  const kg = lostKg(data, input);
  if (kg < clearHoses.pouredKg)
    return data.joins < clearHoses.joins
      ? { data: at(data, 'look', nowMs), wanted: SAFE_COMMANDS }
      : { data, wanted: SAFE_COMMANDS, event: 'hoses-not-cleared' };
  return {
    data,
    wanted: SAFE_COMMANDS,
    event: 'tank-poured',
    notices: [{ code: 'tank-poured', with: { grams: grams(kg) } }],
  };
}

/** A closed coupler lets the hose fall to the low side; an open one keeps feeding it. */
function join(before: ClearHosesData, input: StageInput, highPa: number, lowPa: number): Step {
  const data = looked(before, input);
  const { plan, nowMs, equipment } = input;
  const { clearHoses } = plan;
  const joinedMs = nowMs - data.stepSinceMs;
  const doubtPa = SURE * Math.hypot(equipment.pressure.highSideSdPa, equipment.pressure.lowSideSdPa);
  const apartPa = data.startHighPa - data.startLowPa;
  const tellsApart = joinedMs >= clearHoses.fallMs && apartPa > clearHoses.apartPa + doubtPa;
  const stays = tellsApart && data.startHighPa - highPa < clearHoses.fallShare * apartPa;
  // A tank that pours feeds the hose as an open coupler does.
  const fed = stays && lostKg(data, input) > clearHoses.pouredKg;
  if (fed || pours(data, input)) return { data: at(data, 'poured', nowMs), wanted: SAFE_COMMANDS };
  if (stays) return couplerOpen(data, input, highPa);
  const even = highPa - lowPa < clearHoses.joinedPa + doubtPa;
  const dry = joinedMs >= clearHoses.leastMs && even;
  if (!dry && joinedMs < clearHoses.mostMs) return { data, wanted: JOIN };
  return { data: { ...at(data, 'watch', nowMs), watchFromPa: highPa }, wanted: WATCH };
}

/** Cut off from the low side, liquid that is left boils up; what rises is shut in at once. */
function watch(data: ClearHosesData, input: StageInput, highPa: number): Step {
  const { plan, nowMs } = input;
  const { clearHoses } = plan;
  if (highPa - data.watchFromPa > clearHoses.risePa) {
    return { data: at(data, 'tell', nowMs), wanted: SAFE_COMMANDS };
  }
  if (nowMs - data.stepSinceMs < clearHoses.watchMs) return { data, wanted: WATCH };
  return cleared(data, input);
}

const cleared = (data: ClearHosesData, { accounts }: StageInput): Step => ({
  data,
  wanted: SAFE_COMMANDS,
  event: 'hoses-cleared',
  accounts: { ...accounts, hosesCleared: true },
});

/** Beyond saturation only the vehicle's compressor can have brought it, or the tank, which the scale shows; below it is liquid still boiling. */
function tell(data: ClearHosesData, input: StageInput, highPa: number): Step {
  const { plan, nowMs, seen, equipment } = input;
  const { clearHoses } = plan;
  if (lostKg(data, input) > clearHoses.pouredKg)
    return { data: at(data, 'poured', nowMs), wanted: SAFE_COMMANDS };
  const warmestPa = saturationPa(plan.curve, seen.ambientK ?? seen.tankTemperatureK ?? ROOM_K);
  const beyondPa = clearHoses.tellPa + SURE * equipment.pressure.highSideSdPa;
  if (highPa > warmestPa + beyondPa) return couplerOpen(data, input, highPa);
  if (nowMs - data.stepSinceMs < clearHoses.tellMs) return { data, wanted: SAFE_COMMANDS };
  if (data.joins < clearHoses.joins) return { data: at(data, 'look', nowMs), wanted: SAFE_COMMANDS };
  return { ...cleared(data, input), result: 'liquid-left', notices: [{ code: 'hoses-not-dry' }] };
}

/** Asked again, and after that the hoses are recovered as they are. */
function couplerOpen(data: ClearHosesData, { plan, nowMs }: StageInput, highPa: number): Step {
  if (data.asks >= plan.clearHoses.asks) return giveUp(data, 'coupler-open');
  return {
    data: { ...at(data, 'close', nowMs), joins: 0 },
    wanted: SAFE_COMMANDS,
    notices: [{ code: 'high-coupler-open', with: { pressure: kilopascals(highPa) } }],
  };
}

const giveUp = (data: ClearHosesData, result: string): Step => ({
  data,
  wanted: SAFE_COMMANDS,
  event: 'hoses-not-cleared',
  result,
  notices: [{ code: 'hoses-not-cleared' }],
});
