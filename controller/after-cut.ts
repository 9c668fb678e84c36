// A job left off, by a power cut or stopped on its way: what its journal and one new weighing tell of the grams, how sure, and
// what must come next.
import { ROOM_K } from './constants.ts';
import { NOTHING_KEPT } from './estimates/kept.ts';
import { type Gain, gainOf, type Weighing } from './estimates/masses.ts';
import { liquidDensityKgPerM3 } from './estimates/saturation.ts';
import { openJob } from './scan.ts';
import { residueKg } from './stages/recovered.ts';
import type { ControllerState } from './state.ts';

/** What must be done before anything else, in the order of a job. */
export const NEXT_TEXTS = {
  'begin-anew': 'Nothing had been weighed and nothing moved: begin the job anew.',
  'fill-again': 'The cylinder was being emptied: go on until the tank has what was asked for.',
  'recover-again':
    'The vehicle still holds what has not come: recover to the end, counting from the first weighing. The condenser keeps a part of what has left the vehicle until then.',
  'evacuate-again':
    'The vehicle had been recovered. Nobody watched its vacuum meanwhile: evacuate and hold anew before anything is charged.',
  'draw-hoses-back':
    'Refrigerant lies in vehicle, hoses and manifold: draw the hoses back and weigh before more is charged, the hoses are taken off or the engine runs.',
  nothing: 'The net charge had been booked: it stands.',
} as const;
export type Next = keyof typeof NEXT_TEXTS;

export type AfterCut = {
  readonly next: Next;
  /** Of the tank by the scale, since its first weighing or since the one before the charge; absent when none can be compared. */
  readonly tankGainKg?: number;
  /** Of that gain; k = 2. */
  readonly uncertaintyKg?: number;
  /** Once a charge has begun. Hoses, manifold and condenser hold the rest of what has left the tank. */
  readonly vehicle?: { readonly leastKg: number; readonly mostKg: number };
  /** The engine ran when the power failed: only a person can say that it stands. */
  readonly engineMayRun: boolean;
};

/** A machine without a job that has forgotten neither a trip, nor an engine, nor what was let off with the tank's air. */
export function reopened(
  { plan, equipment, accounts, memory }: ControllerState,
  nowMs: number,
): ControllerState {
  const idle = openJob({ ...plan, stages: [] }, equipment, nowMs);
  const { trip, engineWatch, purgedMs } = memory;
  return {
    ...idle,
    accounts: { ...idle.accounts, hoseForce: accounts.hoseForce },
    memory: { ...idle.memory, trip, engineWatch, purgedMs },
  };
}

/** Liquid in hoses and coil is no more than so much colder than the room (estimate). */
const COLDER_K = 20;

function nextOf({ plan, accounts, visits }: ControllerState): Next {
  if (accounts.netChargeKg !== undefined) return 'nothing';
  if (accounts.weighedBeforeCharge !== undefined) return 'draw-hoses-back';
  if (accounts.weighedFirst === undefined) return 'begin-anew';
  if (plan.service === 'fill-tank') return 'fill-again';
  const last = visits.findLast(
    ({ stage }) => stage === 'recover' || stage === 'leak-check' || stage === 'evacuate',
  );
  if (last?.stage === 'evacuate') return 'evacuate-again';
  return plan.stages.includes('recover') ? 'recover-again' : 'begin-anew';
}

/** The liquid that hoses and manifold have room for, and the condenser where the compressor has run since. */
function roomKg({ plan, equipment, memory }: ControllerState, before: Weighing, now: Weighing): number {
  const { highVolumeM3, lowVolumeM3, manifoldVolumeM3 } = equipment.hoses;
  const stoodSinceMs = memory.compressorOffSinceMs ?? Number.POSITIVE_INFINITY;
  const coilM3 = stoodSinceMs > before.atMs ? equipment.compressor.condenserM3 : 0;
  const coldK = (now.ambientK ?? before.ambientK ?? ROOM_K) - COLDER_K;
  return (highVolumeM3 + lowVolumeM3 + manifoldVolumeM3 + coilM3) * liquidDensityKgPerM3(plan.curve, coldK);
}

/** As weighed after the cut; nobody watched the platform meanwhile, which is as good as one more bump. */
const asAfter = ({ estimates: { scale } }: ControllerState, weighed: Weighing): Weighing => ({
  ...weighed,
  offsetKg: scale.offsetKg,
  bumps: scale.bumps + 1,
  undecidedVarianceKg2: scale.undecidedVarianceKg2,
});

/** No path to the tank has been open since. */
const isUntouched = ({ memory }: ControllerState, before: Weighing): boolean =>
  memory.tankStirredAtMs <= before.atMs && memory.purgedMs === 0 && !memory.purging;

/** A job that ended with a path to the tank opened since its last weighing: what has moved is booked nowhere. */
export function isLeftOpen(state: ControllerState): boolean {
  const { accounts, chart } = state;
  const last = accounts.weighed ?? accounts.weighedFirst;
  return chart.value === 'stopped' && last !== undefined && !isUntouched(state, last);
}

/** What a check valve may have let through (estimate). */
const UNTOUCHED_KG = 0.001;

/** A scale that shows more than so many standard deviations is believed against the valves (estimate). */
const BELIEVED_SD = 3;

/** Of the tank since an earlier weighing. With every path shut nothing has moved, unless the scale shows more than its doubt. */
function gainAfterCut(journal: ControllerState, before: Weighing, after: Weighing): Gain {
  const gain = gainOf(before, after, journal.equipment, journal.accounts.hoseForce);
  const isNothing = isUntouched(journal, before) && Math.abs(gain.massKg) <= BELIEVED_SD * gain.sdKg;
  return isNothing ? { massKg: 0, sdKg: UNTOUCHED_KG / 2 } : gain;
}

/** Of the tank since the last weighing that was booked; absent where none was, or none has come about since. */
export function gainSinceBooked(journal: ControllerState, weighed: Weighing | undefined): Gain | undefined {
  const before = journal.accounts.weighed ?? journal.accounts.weighedFirst;
  if (before === undefined || weighed === undefined) return undefined;
  return gainAfterCut(journal, before, asAfter(journal, weighed));
}

/**
 * @param journal what the controller knew in its last scan before the cut.
 * @param weighed the tank, every valve shut, after power has come back; absent when the scale does not come to rest.
 */
export function standAfterCut(journal: ControllerState, weighed: Weighing | undefined): AfterCut {
  const { accounts, memory } = journal;
  const known = { next: nextOf(journal), engineMayRun: memory.engineWatch.engine !== 'off' };
  const before = accounts.weighedBeforeCharge ?? accounts.weighedFirst;
  if (before === undefined) return known;
  if (weighed === undefined)
    return isUntouched(journal, before) ? { ...known, tankGainKg: 0, uncertaintyKg: UNTOUCHED_KG } : known;
  const after = asAfter(journal, weighed);
  const gain = gainAfterCut(journal, before, after);
  const told = { ...known, tankGainKg: gain.massKg, uncertaintyKg: 2 * gain.sdKg };
  if (accounts.weighedBeforeCharge === undefined) return told;
  const kept = accounts.keptBeforeCharge ?? NOTHING_KEPT;
  const mostKg = 2 * Math.hypot(gain.sdKg, kept.sdKg) + kept.kg + residueKg(accounts) - gain.massKg;
  // What went past every weighing has left the tank, and the vehicle may have none of it.
  const leastKg = accounts.lostTrack ? 0 : -gain.massKg - 2 * gain.sdKg - roomKg(journal, before, after);
  return { ...told, vehicle: { leastKg: Math.max(leastKg, 0), mostKg: Math.max(mostKg, 0) } };
}
