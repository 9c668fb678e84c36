// The force of the hoses on the platform, learnt on the way: with the tank cut off, the hose blows down into the vehicle.
import { hoseForceOver, NO_READINGS, surerForce, withReading } from '../estimates/masses.ts';
import { hoseGaugePa } from '../estimates/pressures.ts';
import { netMassKg } from '../estimates/scale.ts';
import type { Accounts } from '../state.ts';
import type { ChargeData } from './data-charge.ts';
import type { StageInput } from './stage.ts';

/**
 * A pause on the way, where the force is worth more than this (estimates): hoses and manifold have filled, and the vehicle
 * is still low, so that the hose falls far.
 */
const PAUSE_SHARE = 0.4;
const PAUSE_KG = 0.08;
const FORCE_DOUBT_KG = 0.002;
/** The valve has surely shut and the thump is over. */
const SHUT_FOR_CERTAIN_MS = 800;

/** Mass at which the charge pauses to learn the force, where that is not known well enough to hit the target with. */
export function pauseAtKg(data: ChargeData, { accounts, seen }: StageInput): number {
  const doubtKg = accounts.hoseForce.sdKgPerPa * Math.max(hoseGaugePa(seen), 0);
  return !data.paused && doubtKg > FORCE_DOUBT_KG
    ? Math.min(PAUSE_SHARE * data.targetKg, PAUSE_KG)
    : data.targetKg;
}

/** Takes in what the scale shows while the valve is shut. */
export function watchFall(data: ChargeData, { equipment, estimates, seen, nowMs }: StageInput): ChargeData {
  const { scale } = estimates;
  if (nowMs - data.stepSinceMs < SHUT_FOR_CERTAIN_MS) return { ...data, falling: NO_READINGS };
  const readKg = netMassKg(scale.counts, equipment) - scale.offsetKg;
  return { ...data, falling: withReading(data.falling, hoseGaugePa(seen), readKg) };
}

/** What is known of the force once the hose has blown down. */
export const withForce = (data: ChargeData, { accounts, equipment }: StageInput): Accounts => ({
  ...accounts,
  hoseForce: surerForce(accounts.hoseForce, hoseForceOver(data.falling, equipment)),
});
