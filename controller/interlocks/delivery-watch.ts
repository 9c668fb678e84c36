// Whether what the compressor draws arrives in the tank: no sensor stands in the discharge, but its displacement is known.
import { type CountInput, countDraw, type DrawCount, startCount } from '../estimates/condenser.ts';
import { liquidDensityKgPerM3, saturationK } from '../estimates/saturation.ts';

export type DeliveryWatch = {
  /** Of the run under way; absent while the compressor stands. */
  readonly count: DrawCount | undefined;
  /** What the scale showed when the run began, and what it showed last. */
  readonly startKg: number | undefined;
  readonly lastKg: number | undefined;
  /** What did not arrive of the runs before. */
  readonly leftKg: number;
  /** Drawn and not arrived so far: in the coil, if it may keep anything. */
  readonly keptKg: number;
  /** From where displacement and scale are compared; absent while the coil may keep what comes. */
  readonly from: Mark | undefined;
  readonly blocked: boolean;
};

type Mark = {
  readonly atMs: number;
  readonly drawnKg: number;
  readonly tankKg: number;
  /** The tank seemed to lose up to here, which a hand on its scale explains once. */
  readonly lost?: boolean;
};

/** What a run is counted by, but for what is counted here. */
export type DeliveryInput = Omit<CountInput, 'nowMs' | 'shownKg' | 'coilKg'> & {
  /** What the scale shows; absent while it is not trusted. */
  readonly tankKg: number | undefined;
};

export const openDeliveryWatch = (): DeliveryWatch => ({
  count: undefined,
  startKg: undefined,
  lastKg: undefined,
  leftKg: 0,
  keptKg: 0,
  from: undefined,
  blocked: false,
});

/** So much must have been drawn and so long must it have taken before anything is said (estimates). */
const LEAST_KG = 0.01;
const LEAST_MS = 5_000;
/** Gauges, displacement and what the coil takes up for a while: less than this share is nothing (estimate). */
const ARRIVES_SHARE = 0.15;
/** So much the scale may wander down meanwhile (estimate). */
const LOST_SHARE = 0.5;
/** A coil that keeps so much of its room is full of liquid, and gives way no more (estimate). */
const FULL_SHARE = 0.9;

/** A tank warmer than the room lets the coil fill almost whole before it passes anything on (estimate). */
const WARMER_K = 4;

const fillsAnyway = ({ curve, tankPa }: DeliveryInput, ambientK: number): boolean =>
  tankPa === undefined || saturationK(curve, tankPa) > ambientK + WARMER_K;

export function watchDelivery(watch: DeliveryWatch, input: DeliveryInput, nowMs: number): DeliveryWatch {
  const { running, tankKg, curve, ambientK } = input;
  if (!running) return watch.count === undefined ? watch : { ...openDeliveryWatch(), leftKg: watch.keptKg };
  // A scale that is not trusted for a moment shows what it showed before.
  const lastKg = tankKg ?? watch.lastKg;
  const startKg = watch.startKg ?? lastKg;
  const shownKg = (lastKg ?? 0) - (startKg ?? 0);
  const before = watch.count ?? startCount(nowMs);
  const count = countDraw(before, { ...input, nowMs, shownKg, coilKg: 0 });
  const next = { ...watch, startKg, lastKg, count };
  if (tankKg === undefined || ambientK === undefined) return { ...next, from: undefined };
  const mark: Mark = { atMs: nowMs, drawnKg: count.totalKg, tankKg };
  // A coil that may be colder than the tank keeps what comes, and nothing need arrive until it is full.
  if (!(count.pushedEmpty && count.drawnKg === 0)) {
    const leftKg = count.pushedEmpty ? 0 : watch.leftKg;
    const arrivedKg = shownKg - count.shownKg;
    const keptKg = leftKg + count.drawnKg - arrivedKg;
    const fullKg = FULL_SHARE * input.condenserM3 * liquidDensityKgPerM3(curve, ambientK);
    // A worn compressor draws less than its displacement: what was half missing is no liquid in the coil.
    const nothing = arrivedKg < ARRIVES_SHARE * count.drawnKg;
    const full = nothing && keptKg > fullKg && !fillsAnyway(input, ambientK);
    return { ...next, from: undefined, keptKg: nothing ? keptKg : 0, blocked: watch.blocked || full };
  }
  const from = watch.from ?? mark;
  const drawnKg = mark.drawnKg - from.drawnKg;
  if (drawnKg < LEAST_KG || nowMs - from.atMs < LEAST_MS) return { ...next, from, keptKg: 0 };
  const arrivedKg = mark.tankKg - from.tankKg;
  // A tank that loses while it is drawn into has a scale that was moved: once that tells nothing of what arrives.
  const lost = arrivedKg <= -LOST_SHARE * drawnKg;
  const blocked = arrivedKg < ARRIVES_SHARE * drawnKg && !(lost && from.lost !== true);
  return { ...next, from: { ...mark, lost }, keptKg: 0, blocked: watch.blocked || blocked };
}
