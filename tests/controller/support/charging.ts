// One scan of a charge without a job around it: what its functions are given, and the weighing it counts from.
import type { Weighing } from '../../../controller/estimates/masses.ts';
import { type LossWatch, NOT_WEIGHED } from '../../../controller/interlocks/loss-watch.ts';
import { enterCharge, stepCharge } from '../../../controller/stages/charge.ts';
import type { ChargeData } from '../../../controller/stages/data-charge.ts';
import type { StageInput } from '../../../controller/stages/stage.ts';
import { EQUIPMENT } from './machine.ts';
import { type Given as Shown, shown } from './stage-input.ts';
import { countsOf, TANK_KG, weighingOf } from './weighings.ts';

export const weighing = (over: Partial<Weighing> = {}): Weighing => weighingOf(TANK_KG, over);

export const charging = (over: Partial<ChargeData> = {}): ChargeData => ({
  ...enterCharge(0),
  reference: weighing(),
  targetKg: 0.6,
  ...over,
});

/** What has left the tank since it was weighed, by a scale that is trusted. */
export type Given = Shown & { readonly gaveKg?: number };

/** A calm machine with a trusted scale, and whatever a test says otherwise. */
export function scanOf({ gaveKg = 0, ...given }: Given = {}): StageInput {
  const { equipment = EQUIPMENT, ticket, scale } = given;
  const massKg = TANK_KG - gaveKg;
  return shown({
    nowMs: 0,
    ...given,
    ticket: { service: 'evacuate-and-charge', ...ticket },
    scale: { massKg, counts: countsOf(massKg, equipment), ...scale },
  });
}

/** A weighing whose last reading comes in this scan, at half a minute. */
const ending = (counts = 2_100_000) => ({
  sinceMs: 0,
  quietSinceMs: 0,
  samples: 9,
  sum: 9 * counts,
  hosePaSum: 0,
  lastAtMs: 29_900,
});
export const weighed = (data: Partial<ChargeData>, given: Given = {}) =>
  stepCharge(
    charging({ weighing: ending(2_100_000 - (given.gaveKg ?? 0) * 100_000), ...data }),
    scanOf({ nowMs: 30_000, ...given }),
  );

/** A scale watched with everything shut: it falls so fast, evenly, with the noise of the test machine. */
export const restFalling = (kgPerS: number): LossWatch => ({
  ...NOT_WEIGHED,
  sinceMs: 0,
  noiseKg: 0.0004,
  blocks: [0, 1, 2, 3].map((block) => ({ kg: TANK_KG - 12.5 * block * kgPerS, hoseSdKg: 0 })),
});
