// Repair: the machine stands safe for hours or days while the vehicle is opened, mended and closed again.
import { SURE } from '../constants.ts';
import { isAbnormal, lossOf } from '../estimates/abnormal-loss.ts';
import type { Weighing } from '../estimates/masses.ts';
import { barometerPa, hosePa } from '../estimates/pressures.ts';
import { saturationPa } from '../estimates/saturation.ts';
import { netMassKg } from '../estimates/scale.ts';
import { judgesLoss } from '../jurisdiction.ts';
import type { NoticeDraft } from '../notices.ts';
import { SAFE_COMMANDS } from '../signals.ts';
import type { RepairAccount } from '../state.ts';
import type { RepairData } from './data-recovery.ts';
import {
  atAfresh,
  confirms,
  forPorts,
  grams,
  kilopascals,
  type StageInput,
  type StageStep,
} from './stage.ts';
import { whenWeighed } from './weighing.ts';

const VEHICLE_VALVES = forPorts();
/** Hoses, manifold and vehicle have become one pressure (estimate). */
const JOINED_MS = 3_000;
/** By the absolute sensor: no higher than the atmosphere. */
const ABOVE_BAROMETER_PA = 5_000;

export const enterRepair = (nowMs: number): RepairData => ({
  stage: 'repair',
  step: 'look',
  sinceMs: nowMs,
  stepSinceMs: nowMs,
  highZeroPa: undefined,
  lowZeroPa: undefined,
  back: false,
  follows: 'evacuate',
  weighing: undefined,
});

type Step = StageStep<RepairData>;

export function stepRepair(data: RepairData, input: StageInput): Step {
  if (input.accounts.repair === undefined) return decide(data, input);
  switch (data.step) {
    case 'look':
      return look(data, input);
    case 'wait':
      return wait(data, input);
    case 'check':
      return check(data, input);
    case 'weigh':
      return whenWeighed(data, input, weigh);
  }
}

/** Asked for by the ticket, or demanded by what the vehicle has lost. */
function decide(data: RepairData, input: StageInput): Step {
  const { plan, accounts } = input;
  const wanted = SAFE_COMMANDS;
  const begun = (repair: RepairAccount, notices: readonly NoticeDraft[] = []): Step => ({
    data,
    wanted,
    accounts: { ...accounts, repair },
    notices,
  });
  const loss = lossOf(plan, accounts);
  const judged = loss === undefined ? {} : { loss };
  if (plan.ticket.repair) return begun({ why: 'asked', ...judged });
  const notNeeded = { data, wanted, event: 'repair-not-needed' } as const;
  if (!judgesLoss(plan.ticket)) return notNeeded;
  if (loss === undefined) return begun({ why: 'came-empty' }, [{ code: 'loss-of-all' }]);
  if (!isAbnormal(loss)) return { ...notNeeded, result: 'no-abnormal-loss' };
  const figures = {
    missing: grams(loss.missingKg),
    doubt: grams(loss.uncertaintyKg),
    allowed: grams(loss.allowedKg),
    age:
      plan.ticket.vehicleAgeYears === undefined
        ? 'one year, because the ticket gives no age'
        : `${loss.years.toFixed(1)} years`,
  };
  return begun({ why: 'abnormal-loss', loss }, [{ code: 'loss-abnormal', with: figures }]);
}

type Joined =
  | { readonly is: 'joining' }
  | { readonly is: 'unknown' }
  | { readonly is: 'high' | 'low'; readonly pressurePa: number };

/** Near the atmosphere only the absolute sensor decides; above its span the gauges say enough, and nothing is opened. */
function joined(data: RepairData, { plan, equipment, seen, nowMs }: StageInput): Joined {
  const { highSideSdPa, lowSideSdPa, manifoldSpanPa } = equipment.pressure;
  const gaugePa = hosePa(seen, plan.ticket.ports);
  const waitedMs = nowMs - data.stepSinceMs;
  const sdPa = Math.max(highSideSdPa, lowSideSdPa);
  if (gaugePa !== undefined && gaugePa > manifoldSpanPa + SURE * sdPa)
    return { is: 'high', pressurePa: gaugePa };
  if (waitedMs < JOINED_MS) return { is: 'joining' };
  if (seen.manifoldOverSpan) return { is: 'high', pressurePa: gaugePa ?? manifoldSpanPa };
  const pressurePa = seen.manifoldPa;
  if (pressurePa === undefined)
    return waitedMs < plan.settle.equaliseMs ? { is: 'joining' } : { is: 'unknown' };
  const high = pressurePa > barometerPa(seen) + ABOVE_BAROMETER_PA;
  return { is: high ? 'high' : 'low', pressurePa };
}

/** Before anybody is told to open the vehicle, the absolute sensor has to say that nothing is in it. */
function look(data: RepairData, input: StageInput): Step {
  const { plan, seen, nowMs } = input;
  const found = joined(data, input);
  switch (found.is) {
    case 'joining':
      return { data, wanted: VEHICLE_VALVES[plan.ticket.ports] };
    case 'unknown':
      return {
        data,
        wanted: SAFE_COMMANDS,
        event: 'timed-out',
        result: 'pressure-unknown',
        notices: [{ code: 'pressure-unknown' }],
      };
    case 'high':
      return tooHigh(data, input, found.pressurePa);
    case 'low':
      return {
        data: {
          ...atAfresh(data, 'wait', nowMs),
          highZeroPa: zero(seen.highSidePa, found.pressurePa),
          lowZeroPa: zero(seen.lowSidePa, found.pressurePa),
        },
        wanted: SAFE_COMMANDS,
      };
  }
}

const zero = (gaugePa: number | undefined, truePa: number): number | undefined =>
  gaugePa === undefined ? undefined : gaugePa - truePa;

/** Nobody works at the vehicle yet: it is drawn down once more, as long as a recovery may go on. */
function tooHigh(data: RepairData, { plan, nowMs, accounts }: StageInput, pressurePa: number): Step {
  const left = { data, wanted: SAFE_COMMANDS };
  const pressure = kilopascals(pressurePa);
  if (!plan.stages.includes('recover')) {
    return {
      ...left,
      event: 'vehicle-found-pressurised',
      notices: [{ code: 'vehicle-pressurised', with: { pressure } }],
    };
  }
  const spentMs = nowMs - (accounts.recoveryStartedAtMs ?? nowMs);
  const exhausted = accounts.cycles.length >= plan.recover.cycles || spentMs >= plan.recover.totalMs;
  return {
    ...left,
    event: exhausted ? 'liquid-left' : 'pressure-rose',
    notices: [{ code: exhausted ? 'repair-refused' : 'repair-put-off', with: { pressure } }],
  };
}

/** Everything off. The question is withdrawn while the sides show pressure. */
function wait(data: RepairData, input: StageInput): Step {
  const { plan, seen, nowMs } = input;
  const wanted = SAFE_COMMANDS;
  const abovePa = sidesAbovePa(data, input);
  const back =
    abovePa === undefined ? data.back : abovePa > (data.back ? plan.repair.gonePa : plan.repair.backPa);
  const next = back === data.back ? data : { ...data, back };
  if (!back) {
    return confirms(input.answers, 'repair-vehicle')
      ? { data: atAfresh(next, 'check', nowMs), wanted }
      : { data: next, wanted, prompt: 'repair-vehicle' };
  }
  const offered = mayRecover(barometerPa(seen) + (abovePa ?? 0), input);
  if (offered && confirms(input.answers, 'recover-again'))
    return { data: { ...atAfresh(next, 'weigh', nowMs), follows: 'recover' }, wanted };
  const asking = offered
    ? ({ data: next, wanted, prompt: 'recover-again' } as const)
    : { data: next, wanted };
  if (data.back) return asking;
  const above = kilopascals(abovePa ?? 0);
  return {
    ...asking,
    notices: [{ code: offered ? 'repair-pressure-back' : 'repair-foreign-pressure', with: { above } }],
  };
}

/** By how much the higher side stands above the atmosphere. A gauge whose zero was not learnt counts as far as it is sure. */
function sidesAbovePa(data: RepairData, { plan, equipment, seen }: StageInput): number | undefined {
  const { highSideSdPa, lowSideSdPa } = equipment.pressure;
  const highPa =
    seen.highSidePa === undefined ? undefined : seen.highSidePa - (data.highZeroPa ?? SURE * highSideSdPa);
  const lowPa =
    plan.ticket.ports === 1 || seen.lowSidePa === undefined
      ? undefined
      : seen.lowSidePa - (data.lowZeroPa ?? SURE * lowSideSdPa);
  if (highPa === undefined && lowPa === undefined) return undefined;
  return Math.max(highPa ?? Number.NEGATIVE_INFINITY, lowPa ?? Number.NEGATIVE_INFINITY) - barometerPa(seen);
}

/** What stands above saturation is no refrigerant alone, but gas of a leak test: it must not go into the tank. */
function mayRecover(pressurePa: number, { plan, equipment, seen }: StageInput): boolean {
  const temperatureK = seen.ambientK ?? seen.tankTemperatureK;
  if (!plan.stages.includes('recover') || temperatureK === undefined) return false;
  const warmestK = temperatureK + SURE * equipment.temperatureSdK;
  return pressurePa < saturationPa(plan.curve, warmestK) + plan.settle.excessPa;
}

/** The word that it is mended is believed when the absolute sensor finds no pressure; else the question stands again. */
function check(data: RepairData, input: StageInput): Step {
  const { plan, nowMs, accounts } = input;
  const found = joined(data, input);
  if (found.is === 'joining') return { data, wanted: VEHICLE_VALVES[plan.ticket.ports] };
  if (found.is === 'low') {
    const { repair } = accounts;
    return {
      data: { ...atAfresh(data, 'weigh', nowMs), follows: 'evacuate' },
      wanted: SAFE_COMMANDS,
      accounts: { ...accounts, repair: repair && { ...repair, confirmedAtMs: nowMs } },
    };
  }
  const notice: NoticeDraft =
    found.is === 'unknown'
      ? { code: 'repair-unproven' }
      : { code: 'repair-under-pressure', with: { pressure: kilopascals(found.pressurePa) } };
  return { data: atAfresh(data, 'wait', nowMs), wanted: SAFE_COMMANDS, notices: [notice] };
}

/** Scales drift over days and tanks are changed: what follows counts from here, and nothing is booked for the time between. */
function weigh(data: RepairData, input: StageInput, weighed: Weighing): Step {
  const { accounts, equipment, plan } = input;
  const before = accounts.weighed;
  // What the scale took for a push counts too: a tank that was changed is a push that stays.
  const gainKg =
    before === undefined ? 0 : netMassKg(weighed.counts, equipment) - netMassKg(before.counts, equipment);
  const moved = Math.abs(gainKg) > plan.repair.scaleKg;
  const figures = { moved: grams(Math.abs(gainKg)), direction: gainKg > 0 ? 'more' : 'less' };
  const again = data.follows === 'recover';
  return {
    data,
    wanted: SAFE_COMMANDS,
    event: again ? 'pressure-rose' : 'repaired',
    accounts: {
      ...accounts,
      weighed,
      // A recovery begun anew has all its time.
      recoveryStartedAtMs: again ? undefined : accounts.recoveryStartedAtMs,
    },
    notices: moved ? [{ code: 'tank-moved-in-repair', with: figures }] : [],
  };
}
