// Draws a vehicle that is about to be recovered, full, warmed by its engine or as cold as the room, from one seed.

import { drawsOf } from '../../app/bench/draw.ts';
import { volumeL } from '../../app/bench/population.ts';
import { barometerPa } from '../../sim/fluids/air.ts';
import type { OilKind } from '../../sim/fluids/oil.ts';
import type { ProfileName } from '../../sim/profiles.ts';
import { Random } from '../../sim/random.ts';

/** `warmed`: by its engine within the job, fifteen minutes at most, as SAE J2788 allows; `cold`: never started. */
export const STARTS = ['warmed', 'cold'] as const;
export type Start = (typeof STARTS)[number];

/** What the vehicles are spread over. Ranges are this project's own, but for the room of the warmed ones: SAE J2788. */
export const DRAWN = {
  nominalChargeG: [400, 1100],
  oilG: [60, 180],
  ambientC: { warmed: [21, 24], cold: [5, 24] },
  /** Tank against the room, one standard deviation. */
  tankSdK: 1,
  tankContentKg: [4, 12],
  altitudeM: [0, 1000],
  accumulatorHeatCapacityJPerK: [300, 700],
  accumulatorUaWPerK: [0.8, 1.5],
  delayS: [5, 60],
} as const;

/** The scenario as a file would have it; the same seed gives the same vehicle to every profile, warmed or cold. */
export function recoveryScenario(profile: ProfileName, start: Start, seed: number) {
  const random = new Random(seed, 'accuracy of recovery');
  const { within, oneOf } = drawsOf(random);
  const refrigerant = oneOf(['R-134a', 'R-1234yf']);
  const expansionDevice = oneOf<'orifice-tube' | 'expansion-valve'>(['orifice-tube', 'expansion-valve']);
  const kind = oneOf<OilKind>(['PAG', 'POE']);
  const nominalChargeG = Math.round(within(DRAWN.nominalChargeG) / 5) * 5;
  const room = random.uniform();
  const [coldestC, warmestC] = DRAWN.ambientC[start];
  const ambientC = coldestC + (warmestC - coldestC) * room;
  return {
    name: `recovery ${profile} ${start} ${seed}`,
    seed,
    weather: { ambientC, barometerPa: barometerPa(within(DRAWN.altitudeM)) },
    ticket: {
      service: 'recover',
      refrigerant,
      nominalChargeG,
      engine: 'can-run',
      warmUp: start === 'warmed',
      oil: { kind },
    },
    vehicle: {
      chargeG: nominalChargeG,
      volumeL: volumeL(nominalChargeG, random.uniform()),
      expansionDevice,
      oilG: within(DRAWN.oilG),
      accumulatorHeatCapacityJPerK: within(DRAWN.accumulatorHeatCapacityJPerK),
      accumulatorUaWPerK: within(DRAWN.accumulatorUaWPerK),
    },
    tank: {
      contentKg: within(DRAWN.tankContentKg),
      temperatureC: ambientC + DRAWN.tankSdK * random.normal(),
    },
    equipment: { profile },
    operator: { delayS: within(DRAWN.delayS) },
  };
}

export type RecoveryFile = ReturnType<typeof recoveryScenario>;
