// Evacuate: pump the vehicle down to a level and a plateau, never by time alone.
import { SURE } from '../constants.ts';
import type { Equipment } from '../equipment.ts';
import type { Seen } from '../estimates/seen.ts';
import { TRIPLE_POINT_PA, WATER_READS, waterVapourPa } from '../estimates/water.ts';
import type { NoticeDraft } from '../notices.ts';
import { SAFE_COMMANDS } from '../signals.ts';
import type { StageEvent } from '../stage-events.ts';
import { lookApart, machineLeaks, startApart } from './apart.ts';
import type { EvacuateData } from './data-vacuum.ts';
import { cameBack, hasRisen, isBack, lowestOf } from './evacuate-rise.ts';
import {
  at,
  forPorts,
  isOpened,
  kilopascals,
  minutes,
  type StageInput,
  type StageStep,
  want,
} from './stage.ts';

const JOINED = forPorts('vacuumPump');
const SHUT = want('vacuumPump');
const PUMP = forPorts('vacuumPump', 'vacuumValve');
/** Water that boils fast has frozen; its ice, at −8 °C and warmer, has at least this share of the melting pressure (estimate). */
const ICE_SHARE = 0.5;
/** The vapour pressure of water at 40 °C: a manifold that rises by more while it is shut off holds no mere water. */
const MACHINE_PA = 7_400;
const SATURATED_AT_MOST = 1.2;

export const enterEvacuate = (nowMs: number): EvacuateData => ({
  stage: 'evacuate',
  step: 'join',
  sinceMs: nowMs,
  stepSinceMs: nowMs,
  pumpingSinceMs: undefined,
  pumpedMs: 0,
  lowestPa: undefined,
  plateauFromPa: undefined,
  plateauSinceMs: nowMs,
  plateau: false,
  flatLooks: 0,
  boilingTold: false,
  apart: undefined,
  early: false,
  boilingLooked: false,
  lowestManifoldPa: undefined,
  cameBackPa: undefined,
});

type Step = StageStep<EvacuateData>;

/** The vehicle-end sensor where it reads, else the manifold: what decides about vacuum. */
export const vacuumPa = (seen: Seen): number | undefined => seen.vehicleVacuumPa ?? seen.manifoldPa;

/** What the deciding sensor may be off by: the thermal one reads true near nothing, the absolute one has a zero. */
export const vacuumDoubtPa = (thermal: boolean, { pressure }: Equipment): number =>
  thermal ? 0 : SURE * pressure.manifoldSdPa;

/** The level to reach, with what the sensor in use may be off by. */
export function targetPa({ plan, equipment, seen }: Pick<StageInput, 'plan' | 'equipment' | 'seen'>): number {
  return plan.evacuate.targetPa + vacuumDoubtPa(seen.vehicleVacuumPa !== undefined, equipment);
}

type Asked = Pick<StageInput, 'plan' | 'accounts'>;

export function minimumMs({ plan, accounts }: Asked): number {
  return (
    again({ plan, accounts }) ??
    (isOpened({ plan, accounts }) ? plan.evacuate.openedMs : plan.evacuate.unopenedMs)
  );
}

/** How long after a hold that was not tight, or after air was drawn in. */
function again({ plan, accounts }: Asked): number | undefined {
  if (accounts.suspected !== undefined) return plan.evacuate.suspectMs;
  return accounts.evacuations > 0 ? plan.evacuate.repeatMs : undefined;
}

/** By then the hold says more than the pump, unless the pressure is high and still falls. */
export function usualMs({ plan, accounts }: Asked): number {
  const repeatedMs = again({ plan, accounts });
  if (repeatedMs !== undefined) return repeatedMs;
  return isOpened({ plan, accounts }) ? plan.evacuate.openedMostMs : plan.evacuate.unopenedMostMs;
}

/** Nothing that more pumping would take away: a plateau at the target, and for an opened system as dry as can be seen. */
function isDone(data: EvacuateData, input: StageInput, pressurePa: number): boolean {
  const { plan, seen } = input;
  const reached = data.plateau && pressurePa <= targetPa(input);
  if (!isOpened(input)) return reached;
  return reached && seen.vehicleVacuumPa !== undefined && pressurePa <= plan.evacuate.dryPa;
}

/** Good enough for the hold to judge, or fed by something that only the hold can tell: water, ice or a gross leak. */
function isEnough(data: EvacuateData, { plan, equipment, seen }: StageInput, pressurePa: number): boolean {
  const doubtPa = vacuumDoubtPa(seen.vehicleVacuumPa !== undefined, equipment);
  return (
    pressurePa <= plan.evacuate.enoughPa + doubtPa || (data.plateau && pressurePa <= plan.evacuate.roughPa)
  );
}

export const pumpedMs = (data: EvacuateData, nowMs: number): number =>
  data.pumpedMs + (data.pumpingSinceMs === undefined ? 0 : nowMs - data.pumpingSinceMs);

export function stepEvacuate(data: EvacuateData, input: StageInput): Step {
  switch (data.step) {
    case 'join':
      return join(data, input);
    case 'pump':
      return pump(data, input);
    case 'apart':
      return apart(data, input);
  }
}

/** What boils in the vehicle is shut off: only what the machine lets in raises the manifold beyond water's pressure. */
function apart(data: EvacuateData, input: StageInput): Step {
  const { look, risePa } = lookApart(data.apart ?? startApart(input.nowMs), input);
  const looked = countTime({ ...data, apart: look }, false, input.nowMs);
  if (risePa === undefined) return { data: looked, wanted: SHUT };
  const { cameBackPa } = looked;
  // Shut off from the vehicle it would stand where it was; beyond the sensor's span nobody sees it rise.
  const backPa = cameBackPa === undefined ? 0 : (shownPa(input) ?? cameBackPa) - cameBackPa;
  const machinePa = Math.max(risePa, backPa);
  if (machinePa > MACHINE_PA)
    return stop(looked, input, 'vacuum-not-reached', machineLeaks(machinePa), 'machine-leaks');
  if (cameBackPa !== undefined)
    return stop(looked, input, 'vacuum-not-reached', cameBack(looked, cameBackPa), 'vacuum-came-back');
  const joined = at({ ...looked, apart: undefined, lowestManifoldPa: undefined }, 'join', input.nowMs);
  return { data: joined, wanted: JOINED[input.plan.ticket.ports] };
}

const lookApartFirst = (data: EvacuateData, { nowMs }: StageInput): Step => ({
  data: { ...data, step: 'apart', apart: startApart(nowMs) },
  wanted: SHUT,
});

/** The pump comes up to speed while hoses and vehicle show the absolute sensor their pressure. */
function join(data: EvacuateData, input: StageInput): Step {
  const { plan, seen, equipment, nowMs } = input;
  const wanted = JOINED[plan.ticket.ports];
  const waitedMs = nowMs - data.stepSinceMs;
  if (waitedMs < plan.evacuate.pumpUpMs) return { data, wanted };
  if (seen.manifoldPa !== undefined && seen.manifoldPa <= equipment.vacuumPump.openLimitPa) {
    return { data: { ...at(data, 'pump', nowMs), plateauSinceMs: nowMs }, wanted };
  }
  if (waitedMs < plan.evacuate.joinTimeoutMs) return { data, wanted };
  return stop(data, input, 'vacuum-not-reached', cannotOpen(input), 'pump-cannot-open');
}

const shownPa = ({ seen, equipment }: StageInput): number | undefined =>
  seen.manifoldOverSpan ? equipment.pressure.manifoldSpanPa : seen.manifoldPa;

/** Past its end the absolute sensor says no more than that the pressure is at least that. */
function cannotOpen(input: StageInput): NoticeDraft {
  const pressurePa = shownPa(input);
  return pressurePa === undefined
    ? { code: 'vacuum-blind' }
    : { code: 'pump-cannot-open', with: { pressure: kilopascals(pressurePa) } };
}

function pump(data: EvacuateData, input: StageInput): Step {
  const { plan, seen, nowMs } = input;
  const wanted = PUMP[plan.ticket.ports];
  const open = input.permitted.vacuumValve.on;
  const next = lowestOf(plateauOf(countTime(data, open, nowMs), input), input);
  const pressurePa = vacuumPa(seen);
  const timeMs = pumpedMs(next, nowMs);
  // Nothing is pumped on for long before it is known that the machine itself lets nothing in.
  const low = seen.manifoldPa !== undefined && seen.manifoldPa <= plan.evacuate.roughPa;
  if (!next.early && low && timeMs >= plan.evacuate.apartMs)
    return lookApartFirst({ ...next, early: true }, input);
  if (low && hasRisen(next, input)) return lookApartFirst(next, input);
  if (
    nowMs - (next.pumpingSinceMs ?? nowMs) >= plan.evacuate.roughMs &&
    seen.manifoldPa !== undefined &&
    seen.manifoldPa > plan.evacuate.roughPa
  ) {
    // It was lower: something has opened, and before the vehicle is accused the machine is looked at.
    if (isBack(next, input)) return lookApartFirst({ ...next, cameBackPa: seen.manifoldPa }, input);
    const figures = {
      seconds: (plan.evacuate.roughMs / 1000).toFixed(0),
      pressure: kilopascals(seen.manifoldPa),
    };
    return stop(
      next,
      input,
      'vacuum-not-reached',
      { code: 'rough-vacuum-failed', with: figures },
      'rough-vacuum-failed',
    );
  }
  if (pressurePa !== undefined) {
    const done = timeMs >= minimumMs(input) && isDone(next, input, pressurePa);
    const enough = timeMs >= usualMs(input) && isEnough(next, input, pressurePa);
    if (done || enough) return stop(next, input, 'vacuum-reached');
  }
  if (nowMs - data.sinceMs < plan.evacuate.timeoutMs) {
    const advice = boilingAdvice(next, input);
    if (advice === undefined) return { data: next, wanted };
    if (!next.boilingLooked) return lookApartFirst({ ...next, boilingLooked: true }, input);
    return { data: { ...next, boilingTold: true }, wanted, notices: [advice] };
  }
  if (seen.manifoldPa === undefined && !seen.manifoldOverSpan)
    return stop(next, input, 'vacuum-not-reached', { code: 'vacuum-blind' });
  const figures = {
    minutes: minutes(plan.evacuate.timeoutMs),
    pressure: pressurePa?.toFixed(0) ?? 'unknown',
    target: targetPa(input).toFixed(0),
  };
  return stop(next, input, 'vacuum-not-reached', { code: 'vacuum-not-reached', with: figures });
}

/**
 * A pressure that stands for minutes between that of ice and that of water at room temperature is water that boils, or
 * freezes: only heat helps, and it is said while there is time (common practice: more than three minutes at 6 to 40 mbar).
 */
function boilingAdvice(data: EvacuateData, { plan, equipment, seen }: StageInput): NoticeDraft | undefined {
  if (data.boilingTold || data.flatLooks < plan.evacuate.boilingLooks) return undefined;
  const { vehicleVacuumPa, manifoldPa, ambientK } = seen;
  const vapourPa = vehicleVacuumPa === undefined ? manifoldPa : vehicleVacuumPa / WATER_READS;
  if (vapourPa === undefined || ambientK === undefined) return undefined;
  const doubtPa = vacuumDoubtPa(vehicleVacuumPa !== undefined, equipment);
  const least = ICE_SHARE * TRIPLE_POINT_PA + doubtPa;
  if (vapourPa < least || vapourPa > SATURATED_AT_MOST * waterVapourPa(ambientK) + doubtPa) return undefined;
  return { code: 'water-boils', with: { pressure: vapourPa.toFixed(0) } };
}

/** Only time with the pump's valve really open counts. */
function countTime(data: EvacuateData, open: boolean, nowMs: number): EvacuateData {
  if (open === (data.pumpingSinceMs !== undefined)) return data;
  return open
    ? { ...data, pumpingSinceMs: nowMs }
    : { ...data, pumpedMs: pumpedMs(data, nowMs), pumpingSinceMs: undefined };
}

function plateauOf(data: EvacuateData, input: StageInput): EvacuateData {
  const { plan, equipment, seen, nowMs } = input;
  const pressurePa = vacuumPa(seen);
  if (pressurePa === undefined) return data;
  // The offset of the manifold sensor hides what is below it: no better vacuum is claimed.
  const toldPa = seen.vehicleVacuumPa ?? Math.max(pressurePa, equipment.pressure.manifoldSdPa);
  const lowestPa = Math.min(data.lowestPa ?? toldPa, toldPa);
  const due = data.plateauFromPa === undefined || nowMs - data.plateauSinceMs >= plan.evacuate.plateauMs;
  if (!due) return lowestPa === data.lowestPa ? data : { ...data, lowestPa };
  const fromPa = data.plateauFromPa;
  const slackPa = Math.max(
    plan.evacuate.plateauFraction * pressurePa,
    seen.vehicleVacuumPa === undefined ? 2 * equipment.pressure.manifoldResolutionPa : 0,
  );
  const plateau = fromPa !== undefined && fromPa - pressurePa <= slackPa;
  const flatLooks = plateau ? data.flatLooks + 1 : 0;
  return { ...data, lowestPa, plateauFromPa: pressurePa, plateauSinceMs: nowMs, plateau, flatLooks };
}

function stop(
  data: EvacuateData,
  input: StageInput,
  event: StageEvent,
  notice?: NoticeDraft,
  result?: string,
): Step {
  const { accounts, nowMs } = input;
  const before = accounts.evacuation;
  const lowestPa = Math.min(before?.lowestPa ?? Number.MAX_VALUE, data.lowestPa ?? Number.MAX_VALUE);
  const evacuation =
    lowestPa === Number.MAX_VALUE
      ? before
      : { lowestPa, minutes: (before?.minutes ?? 0) + pumpedMs(data, nowMs) / 60_000 };
  return {
    data,
    wanted: SAFE_COMMANDS,
    event,
    ...(result === undefined ? {} : { result }),
    notices: notice === undefined ? [] : [notice],
    accounts: { ...accounts, evacuation, evacuations: accounts.evacuations + 1 },
  };
}
