// Settle: weigh, connect, and see what pressure the vehicle has before anything is drawn.
import { SURE } from '../constants.ts';
import { hoseForceFrom, surerForce, type Weighing } from '../estimates/masses.ts';
import { barometerPa, hosePa } from '../estimates/pressures.ts';
import { saturationPa } from '../estimates/saturation.ts';
import { netMassKg } from '../estimates/scale.ts';
import { surelyOverPa, tankExcessPa } from '../estimates/tank-air.ts';
import type { NoticeDraft } from '../notices.ts';
import { SAFE_COMMANDS } from '../signals.ts';
import { lookApart, machineLeaks, startApart } from './apart.ts';
import type { SettleData } from './data-recovery.ts';
import { exchanged, lookedAt, startPulseTest, stepPulseTest } from './pulse-test.ts';
import { atAfresh, confirms, forPorts, kilopascals, type StageInput, type StageStep } from './stage.ts';
import { comesTogether, engineDoubted, sidesApartPa, sidesTolerancePa } from './standstill.ts';
import { tankUnfit } from './tank-fit.ts';
import { stepWarmUp, wantsWarming } from './warm-up.ts';
import { whenWeighed } from './weighing.ts';

const JOINED_MS = 3_000;
const ABOVE_BAROMETER_PA = 5_000;
const VEHICLE_VALVES = forPorts();

export const enterSettle = (nowMs: number): SettleData => ({
  stage: 'settle',
  step: 'weigh',
  sinceMs: nowMs,
  stepSinceMs: nowMs,
  weighing: undefined,
  apart: undefined,
  pulseTest: undefined,
  warmed: false,
  stopAsked: false,
  apartPa: 0,
  partedSinceMs: undefined,
  warmTold: [],
});

type Step = StageStep<SettleData>;

export function stepSettle(data: SettleData, input: StageInput): Step {
  switch (data.step) {
    case 'weigh':
      return whenWeighed(data, input, weigh);
    case 'flush':
      return confirms(input.answers, 'flush-hoses')
        ? { data: atAfresh(data, 'connect', input.nowMs), wanted: SAFE_COMMANDS }
        : { data, wanted: SAFE_COMMANDS, prompt: 'flush-hoses' };
    case 'connect':
      return confirms(input.answers, 'connect-hoses')
        ? { data: atAfresh(data, 'look', input.nowMs), wanted: SAFE_COMMANDS }
        : { data, wanted: SAFE_COMMANDS, prompt: 'connect-hoses' };
    case 'look':
      return look(data, input);
    case 'join':
      return join(data, input);
    case 'warm':
    case 'warm-stop':
      return stepWarmUp(data, input);
    case 'apart':
      return apart(data, input);
    case 'pulse':
      return data.pulseTest === undefined
        ? { data: atAfresh(data, 'look', input.nowMs), wanted: SAFE_COMMANDS }
        : stepPulseTest(data, data.pulseTest, input);
    case 'weigh-connected':
      return whenWeighed(data, input, weighConnected);
  }
}

function weigh(data: SettleData, input: StageInput, weighed: Weighing): Step {
  const unfit = tankUnfit(input, netMassKg(weighed.counts, input.equipment) - weighed.offsetKg);
  return {
    data: atAfresh(data, input.plan.ticket.electricCompressor ? 'flush' : 'connect', input.nowMs),
    wanted: SAFE_COMMANDS,
    accounts: {
      ...input.accounts,
      weighed,
      weighedFirst: weighed,
      tankExcessFirstPa: tankExcessPa(input.seen, input.plan.curve),
    },
    ...(unfit.length === 0
      ? { notices: airPerhaps(input) }
      : { event: 'tank-unfit' as const, notices: unfit }),
  };
}

/** Where nothing is known of its rest, a tank above saturation is told and left alone. */
function airPerhaps({ plan, equipment, seen }: StageInput): readonly NoticeDraft[] {
  if (plan.stages.includes('purge-air') || equipment.tank.contaminated === true) return [];
  const overPa = surelyOverPa(seen, equipment, plan.curve);
  return overPa > 0 && (tankExcessPa(seen, plan.curve) ?? 0) > plan.purgeAir.toldPa
    ? [{ code: 'air-perhaps', with: { excess: kilopascals(overPa) } }]
    : [];
}

/** Machine valves shut: the hoses alone show the two sides. */
function look(data: SettleData, input: StageInput): Step {
  const { plan, equipment, seen, nowMs } = input;
  const waitedMs = nowMs - data.stepSinceMs;
  const pressurePa = hosePa(seen, plan.ticket.ports);
  const stay = { data, wanted: SAFE_COMMANDS };
  if (waitedMs < plan.settle.waitMs || waitsForCompressor(waitedMs, input)) return stay;
  if (wantsWordAlone(data, input)) return { ...stay, data: atAfresh(data, 'warm-stop', nowMs) };
  if (pressurePa === undefined)
    return { data: atAfresh(data, 'join', nowMs), wanted: VEHICLE_VALVES[plan.ticket.ports] };
  const sdPa = Math.max(equipment.pressure.highSideSdPa, equipment.pressure.lowSideSdPa);
  if (pressurePa <= equipment.pressure.manifoldSpanPa + SURE * sdPa) {
    // With one port the high-side valve opens alone: what it joins shows as well which side answers.
    const pulseTest = plan.ticket.ports === 1 ? startPulseTest(input) : undefined;
    return {
      data: { ...atAfresh(data, 'join', nowMs), pulseTest },
      wanted: VEHICLE_VALVES[plan.ticket.ports],
    };
  }
  const differencePa = sidesApartPa(input) ?? 0;
  const tolerancePa = sidesTolerancePa(input);
  if (
    differencePa > tolerancePa &&
    waitedMs < (data.warmed ? plan.settle.afterEngineMs : plan.settle.equaliseMs)
  )
    return stay;
  const notices: NoticeDraft[] = [];
  if (differencePa > tolerancePa) {
    if (data.warmed && !data.stopAsked && !comesTogether(data.apartPa, differencePa, input)) {
      const notice = engineDoubted(waitedMs, differencePa);
      return { ...stay, data: atAfresh(data, 'warm-stop', nowMs), notices: [notice] };
    }
    notices.push({ code: 'sides-differ', with: { difference: kilopascals(differencePa) } });
  }
  return pressurised(data, input, pressurePa, notices);
}

/** Its first wait lies better here, where sides and scale come to rest, than in the half hour that a recovery may take. */
export const waitsForCompressor = (
  waitedMs: number,
  { plan, equipment, compressorRestLeftMs }: Pick<StageInput, 'plan' | 'equipment' | 'compressorRestLeftMs'>,
): boolean =>
  plan.stages.includes('recover') &&
  waitedMs < equipment.compressor.minimumOffMs &&
  compressorRestLeftMs > plan.settle.compressorRestMs;

/** Where the sides do not show that the engine stands still, that is asked for by itself. */
const wantsWordAlone = (data: SettleData, input: StageInput): boolean =>
  data.warmed && !data.stopAsked && sidesApartPa(input) === undefined;

function pressurised(
  data: SettleData,
  input: StageInput,
  pressurePa: number,
  notices: readonly NoticeDraft[],
): Step {
  const { plan, equipment, seen, nowMs } = input;
  const { identification } = input.accounts;
  if (identification?.verdict === 'overridden' && identification.why === 'no-pressure') {
    return {
      data,
      wanted: SAFE_COMMANDS,
      event: 'vehicle-found-pressurised',
      notices: [...notices, { code: 'vehicle-not-identified', with: { pressure: kilopascals(pressurePa) } }],
    };
  }
  if (plan.service === 'evacuate-and-charge') {
    const joined = data.step === 'join' && data.apart === undefined && seen.manifoldPa !== undefined;
    if (joined)
      return {
        data: { ...atAfresh(data, 'apart', nowMs), apart: startApart(nowMs) },
        wanted: SAFE_COMMANDS,
        notices,
      };
    return {
      data,
      wanted: SAFE_COMMANDS,
      event: 'vehicle-found-pressurised',
      notices: [...notices, { code: 'vehicle-pressurised', with: { pressure: kilopascals(pressurePa) } }],
    };
  }
  if (wantsWarming(data, input))
    return { data: atAfresh(data, 'warm', nowMs), wanted: SAFE_COMMANDS, notices };
  const temperatureK = seen.ambientK ?? seen.tankTemperatureK;
  const excessPa =
    temperatureK === undefined || data.warmed
      ? 0
      : pressurePa - saturationPa(plan.curve, temperatureK + SURE * equipment.temperatureSdK);
  const told =
    excessPa > plan.settle.excessPa + SURE * equipment.pressure.highSideSdPa
      ? [...notices, { code: 'pressure-above-saturation', with: { excess: kilopascals(excessPa) } } as const]
      : notices;
  const pulseTest = data.step === 'look' ? startPulseTest(input) : undefined;
  const next = atAfresh(data, pulseTest === undefined ? 'weigh-connected' : 'pulse', nowMs);
  return { data: { ...next, pulseTest }, wanted: SAFE_COMMANDS, notices: told };
}

/** Near the atmosphere only the absolute sensor decides: vehicle joined to the manifold, everything else shut. */
function join(before: SettleData, input: StageInput): Step {
  const { plan, seen, nowMs } = input;
  const { pulseTest } = before;
  const data = pulseTest === undefined ? before : { ...before, pulseTest: lookedAt(pulseTest, input) };
  const wanted = VEHICLE_VALVES[plan.ticket.ports];
  if (nowMs - data.stepSinceMs < JOINED_MS) return { data, wanted };
  if (seen.manifoldOverSpan) {
    const pressurePa = hosePa(seen, plan.ticket.ports) ?? plan.settle.emptyPa;
    return exchanged(data, input) ?? pressurised(data, input, pressurePa, []);
  }
  const pressurePa = seen.manifoldPa;
  if (pressurePa === undefined) {
    if (nowMs - data.stepSinceMs < plan.settle.equaliseMs) return { data, wanted };
    const gaugePa = hosePa(seen, plan.ticket.ports);
    if (gaugePa !== undefined && gaugePa > plan.settle.emptyPa + plan.settle.excessPa) {
      return pressurised(data, input, gaugePa, []);
    }
    return {
      data,
      wanted: SAFE_COMMANDS,
      event: 'timed-out',
      result: 'pressure-unknown',
      notices: [{ code: 'pressure-unknown' }],
    };
  }
  const emptyPa = Math.min(plan.settle.emptyPa, barometerPa(seen) + ABOVE_BAROMETER_PA);
  if (pressurePa > emptyPa) return pressurised(data, input, pressurePa, []);
  if (liquidMayHide(input)) {
    return {
      data,
      wanted: SAFE_COMMANDS,
      event: 'vehicle-too-cold',
      notices: [{ code: 'vehicle-too-cold' }],
    };
  }
  const asked = plan.service === 'evacuate-and-charge';
  const code = plan.service === 'leak-check' ? 'checked-from-empty' : 'vehicle-empty';
  const found: NoticeDraft = { code, with: { pressure: kilopascals(pressurePa) } };
  const { accounts } = input;
  const sampled = accounts.identification?.verdict === 'accepted';
  return {
    data,
    wanted: SAFE_COMMANDS,
    event: 'vehicle-found-empty',
    notices: asked ? [] : sampled ? [found, { code: 'empty-yet-sampled' }] : [found],
    ...(sampled ? { accounts: { ...accounts, emptyYetSampled: true } } : {}),
  };
}

/** More than the warmth of the machine brings within the look (estimate). */
const MACHINE_PA = 5_000;

/** A vehicle that is said to be empty may have its pressure from the machine. */
function apart(data: SettleData, input: StageInput): Step {
  const { look, risePa } = lookApart(data.apart ?? startApart(input.nowMs), input);
  const looked = { ...data, apart: look };
  const wanted = SAFE_COMMANDS;
  if (risePa === undefined) return { data: looked, wanted };
  if (risePa <= MACHINE_PA) return pressurised(looked, input, look.fromPa ?? input.plan.settle.emptyPa, []);
  const notices = [machineLeaks(risePa)];
  return { data: looked, wanted, event: 'vehicle-found-pressurised', result: 'machine-leaks', notices };
}

/** So cold that a full vehicle has no more pressure than the atmosphere: empty cannot be told from full. */
function liquidMayHide({ plan, seen }: StageInput): boolean {
  const temperatureK = seen.ambientK ?? seen.tankTemperatureK;
  if (temperatureK === undefined) return true;
  return saturationPa(plan.curve, temperatureK - plan.settle.vehicleColderK) < plan.settle.emptyPa;
}

/** Nothing moved but the hose pressure: what the scale shows more or less is the hoses' force. */
function weighConnected(data: SettleData, input: StageInput, weighed: Weighing): Step {
  const { accounts, equipment } = input;
  const found = { data, wanted: SAFE_COMMANDS, event: 'pressure-found' } as const;
  const before = accounts.weighed;
  if (before === undefined) return found;
  const hoseForce = surerForce(accounts.hoseForce, hoseForceFrom(before, weighed, equipment));
  return { ...found, accounts: { ...accounts, hoseForce } };
}
