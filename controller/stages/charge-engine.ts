// The last help for a charge: the running engine sucks the rest in. Its low side is never open to the tank: a short pulse
// fills the closed manifold, then the manifold is opened to the low side, which boils the pulse and draws it in as vapour.
import { SURE } from '../constants.ts';
import { startCount } from '../estimates/condenser.ts';
import { barometerPa } from '../estimates/pressures.ts';
import type { NoticeDraft } from '../notices.ts';
import { SAFE_COMMANDS } from '../signals.ts';
import { engineParts } from './charge-stall.ts';
import { at, given } from './charge-steps.ts';
import { chargeTargetKg, hosesWillBeCleared } from './charge-target.ts';
import type { ChargeData, EngineHelp } from './data-charge.ts';
import { counting, cutOffSuction, keptAfter, shownKg, wantsFanStopped } from './draw.ts';
import { confirms, counted, grams, type StageInput, type StageStep, want } from './stage.ts';

type Step = StageStep<ChargeData>;

const DRAW = want('recoveryValve', 'compressor');
const DRAW_STILL = want('recoveryValve', 'compressor', 'fanStop');
const EMPTY = want('lowSideValve');
/** One pulse into the closed manifold: what the interlocks let pass, counted down by the rig. */
const PULSE_MS = 100;
const PULSE = counted(want('chargeValve'), 'chargeValve', PULSE_MS);
/** The valve has surely shut before the other opens (estimate). */
const SHUT_FOR_CERTAIN_MS = 400;
/** Only the calm end of a look is averaged. */
const CALM_MS = 2_500;
/** A pulse brings about this much, until it has been learnt (estimate). */
const FIRST_YIELD_KG = 0.0015;
const LEARN = 0.5;
/** More than this back in the tank: the high side pushes through a valve (estimate). */
const BACK_KG = 0.02;
/** A hose that stands no higher than this proves nothing about its valve (estimate). */
const PROVING_PA = 200_000;

/** Planned, warm enough for its compressor, watched by both gauges, and not tried yet. */
export const mayUseEngine = (data: ChargeData, input: StageInput): boolean =>
  data.part === 'whole' &&
  input.seen.highSidePa !== undefined &&
  input.seen.lowSidePa !== undefined &&
  !engineParts(input) &&
  input.plan.stages.includes('verify') &&
  !data.drawsBack &&
  hosesWillBeCleared(input) &&
  data.engineHelp === undefined;

export function beginEngineHelp(data: ChargeData, input: StageInput): Step {
  const { nowMs } = input;
  const engineHelp: EngineHelp = {
    count: startCount(nowMs, shownKg(input)),
    fanStopped: wantsFanStopped(input),
    drew: false,
    startedAtMs: undefined,
    left: 0,
    fired: 0,
    yieldKg: FIRST_YIELD_KG,
    fromKg: 0,
    sumKg: 0,
    samples: 0,
  };
  return {
    data: at({ ...data, engineHelp }, 'clear-manifold', nowMs),
    wanted: SAFE_COMMANDS,
    notices: [{ code: 'charge-waits-engine', with: { charged: grams(given(data, input)) } }],
  };
}

const withHelp = (data: ChargeData, help: EngineHelp, change: Partial<EngineHelp>): ChargeData => ({
  ...data,
  engineHelp: { ...help, ...change },
});

/** What ends it: the charge is done, or falls short; either way every valve is shut and the tank is weighed. */
const end = (
  data: ChargeData,
  input: StageInput,
  result: 'charged' | 'stalled',
  notice?: NoticeDraft,
): Step => {
  const figures = { charged: grams(given(data, input)), target: grams(data.targetKg) };
  const short: NoticeDraft[] = result === 'charged' ? [] : [{ code: 'charge-fell-short', with: figures }];
  return {
    data: { ...at(data, 'weigh-after', input.nowMs), result },
    wanted: SAFE_COMMANDS,
    notices: notice === undefined ? short : [notice, ...short],
  };
};

export function stepEngineHelp(data: ChargeData, help: EngineHelp, input: StageInput): Step {
  switch (data.step) {
    case 'clear-manifold':
      return clearManifold(data, help, input);
    case 'prove-shut':
      return prove(data, help, input);
    case 'start-engine':
      return start(data, help, input);
    default:
      return suck(data, help, input);
  }
}

/** The manifold drawn down: then a valve that passes shows itself, and a pulse finds room. */
function clearManifold(data: ChargeData, help: EngineHelp, input: StageInput): Step {
  const { nowMs, permitted, plan, seen, estimates } = input;
  const count = counting(help.count, help.fanStopped, input, cutOffSuction(input, data.vehiclePa));
  const drew = help.drew || permitted.compressor.on;
  const next = withHelp(data, help, { count, drew });
  const low = drew && seen.manifoldPa !== undefined && seen.manifoldPa <= plan.hoses.drawnPa;
  if (low) return { data: at(next, 'prove-shut', nowMs), wanted: SAFE_COMMANDS };
  if (nowMs - data.stepSinceMs > plan.charge.engineProveMs)
    return end(next, input, 'stalled', { code: 'valves-not-proven' });
  const ready = drew || (input.compressorRested && estimates.scale.trust === 'trusted');
  return { data: next, wanted: ready ? (help.fanStopped ? DRAW_STILL : DRAW) : SAFE_COMMANDS };
}

/** Pressure in both hoses, none in the manifold between them, and it stays so: no valve passes anything. */
function prove(data: ChargeData, help: EngineHelp, input: StageInput): Step {
  const { nowMs, plan, seen, accounts, estimates } = input;
  const waitedMs = nowMs - data.stepSinceMs;
  const { highSidePa, lowSidePa, manifoldPa } = seen;
  const stands =
    manifoldPa !== undefined &&
    manifoldPa < plan.charge.engineProvenPa &&
    highSidePa !== undefined &&
    lowSidePa !== undefined &&
    Math.min(highSidePa, lowSidePa) > PROVING_PA;
  if (!stands) return end(data, input, 'stalled', { code: 'valves-not-proven' });
  if (waitedMs < plan.verify.proveMs || estimates.scale.trust !== 'trusted')
    return waitedMs < plan.verify.proveTimeoutMs
      ? { data, wanted: SAFE_COMMANDS }
      : end(data, input, 'stalled', { code: 'valves-not-proven' });
  const kept = keptAfter(help.count, shownKg(input), input);
  const keptMoreKg = kept.kg - (accounts.keptBeforeCharge ?? accounts.kept).kg;
  const targetKg = chargeTargetKg(input, false) + keptMoreKg;
  return {
    data: { ...at(data, 'start-engine', nowMs), targetKg, mostKg: given(data, input) },
    wanted: SAFE_COMMANDS,
    accounts: { ...accounts, kept, targetKg },
  };
}

function start(data: ChargeData, help: EngineHelp, input: StageInput): Step {
  const { nowMs } = input;
  const wanted = SAFE_COMMANDS;
  if (!confirms(input.answers, 'start-engine')) return { data, wanted, prompt: 'start-engine' };
  return { data: at(withHelp(data, help, { startedAtMs: nowMs }), 'engine-runs', nowMs), wanted };
}

function suck(data: ChargeData, help: EngineHelp, input: StageInput): Step {
  const { nowMs, plan, seen, estimates } = input;
  const { charge, verify } = plan;
  const { highSidePa, lowSidePa } = seen;
  const ranMs = nowMs - (help.startedAtMs ?? nowMs);
  const inVain: NoticeDraft = { code: 'engine-help-in-vain' };
  if (ranMs > charge.engineHelpMs || input.engine !== 'running') return end(data, input, 'stalled', inVain);
  if (highSidePa !== undefined && highSidePa > verify.highLimitPa)
    return end(data, input, 'stalled', { code: 'engine-help-cut-short' });
  const trusted = estimates.scale.trust === 'trusted';
  if (trusted && data.mostKg - given(data, input) > BACK_KG)
    return end(data, input, 'stalled', { code: 'pushed-into-tank' });
  const ready =
    trusted &&
    highSidePa !== undefined &&
    lowSidePa !== undefined &&
    highSidePa < charge.engineHighPa &&
    lowSidePa < barometerPa(seen) + charge.engineSuctionGaugePa;
  if (data.step === 'engine-runs') return parts(data, input, ready);
  if (data.step === 'engine-look') return look(data, help, input);
  return pulse(data, help, input, ready);
}

function parts(data: ChargeData, input: StageInput, ready: boolean): Step {
  const { nowMs, plan, seen, equipment } = input;
  const doubtPa = SURE * Math.hypot(equipment.pressure.highSideSdPa, equipment.pressure.lowSideSdPa);
  const apart = (seen.highSidePa ?? 0) - (seen.lowSidePa ?? 0) > plan.verify.apartPa + doubtPa;
  if (ready && apart) return { data: at(data, 'engine-look', nowMs), wanted: SAFE_COMMANDS };
  return nowMs - data.stepSinceMs < plan.charge.engineApartMs
    ? { data, wanted: SAFE_COMMANDS }
    : end(data, input, 'stalled', { code: 'engine-help-in-vain' });
}

/** Everything shut: what has arrived, what a pulse brings, and how many more it takes. */
function look(data: ChargeData, help: EngineHelp, input: StageInput): Step {
  const { nowMs, plan, estimates } = input;
  const waitedMs = nowMs - data.stepSinceMs;
  const stay = { data, wanted: SAFE_COMMANDS };
  if (estimates.scale.trust !== 'trusted')
    return { ...stay, data: { ...withHelp(data, help, { sumKg: 0, samples: 0 }), stepSinceMs: nowMs } };
  if (waitedMs < plan.charge.engineLookMs - CALM_MS) return stay;
  const sumKg = help.sumKg + given(data, input);
  const samples = help.samples + 1;
  if (waitedMs < plan.charge.engineLookMs) return { ...stay, data: withHelp(data, help, { sumKg, samples }) };
  const delivered = sumKg / samples;
  const learnt = help.fired > 0 ? Math.max((delivered - help.fromKg) / help.fired, 0) : undefined;
  const yieldKg = learnt === undefined ? help.yieldKg : help.yieldKg + LEARN * (learnt - help.yieldKg);
  const remainingKg = data.targetKg - delivered;
  if (remainingKg < Math.max(yieldKg / 2, plan.charge.toleranceKg / 2)) return end(data, input, 'charged');
  const times = Math.max(
    1,
    Math.min(Math.floor(remainingKg / Math.max(yieldKg, 5e-4)), help.fired === 0 ? 3 : 15),
  );
  const next = { yieldKg, fromKg: delivered, left: times, fired: 0, sumKg: 0, samples: 0 };
  return { data: at(withHelp(data, help, next), 'engine-pulse', nowMs), wanted: SAFE_COMMANDS };
}

/** The low side shut for a moment, a pulse in one scan alone, all shut for a moment, then the low side. */
function pulse(data: ChargeData, help: EngineHelp, input: StageInput, ready: boolean): Step {
  const { nowMs, plan } = input;
  if (data.step === 'engine-pulse') {
    if (help.left === 0) return { data: at(data, 'engine-look', nowMs), wanted: SAFE_COMMANDS };
    if (!ready || nowMs - data.stepSinceMs < SHUT_FOR_CERTAIN_MS) return { data, wanted: SAFE_COMMANDS };
    const fired = { left: help.left - 1, fired: help.fired + 1 };
    return { data: at(withHelp(data, help, fired), 'engine-draw', nowMs), wanted: PULSE };
  }
  const waitedMs = nowMs - data.stepSinceMs;
  if (waitedMs < SHUT_FOR_CERTAIN_MS) return { data, wanted: SAFE_COMMANDS };
  return waitedMs < SHUT_FOR_CERTAIN_MS + plan.charge.engineDrawMs
    ? { data, wanted: EMPTY }
    : { data: at(data, 'engine-pulse', nowMs), wanted: SAFE_COMMANDS };
}
