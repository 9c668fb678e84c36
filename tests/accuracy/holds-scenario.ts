// Draws a vehicle that is about to be evacuated: recovered, or open to the air, wet or leaking, from one seed.

import { drawsOf } from '../../app/bench/draw.ts';
import type { FluidData } from '../../app/run/prepare.ts';
import { ZERO_CELSIUS_K } from '../../sim/celsius.ts';
import { barometerPa } from '../../sim/fluids/air.ts';
import { Solubility } from '../../sim/fluids/oil.ts';
import { newSaturationState } from '../../sim/fluids/property-state.ts';
import { OIL_DENSITY_KG_PER_M3 } from '../../sim/network/oil.ts';
import type { ProfileName } from '../../sim/profiles.ts';
import { Random } from '../../sim/random.ts';

/** How the vehicle comes to its evacuation. */
export const ORIGINS = ['recovered', 'opened', 'whole'] as const;
export type Origin = (typeof ORIGINS)[number];

/** `hard`: what a hold is tried with; `jobs`: more like what comes to a workshop (estimate). */
export type Population = 'hard' | 'jobs';

/** What the jobs are spread over. Ranges and shares are this project's own. */
export const DRAWN = {
  volumeL: [1.5, 4],
  oilG: [60, 200],
  ambientC: [-5, 40],
  altitudeM: [0, 2500],
  relativeHumidity: [0.2, 0.9],
  /** Share of the jobs: recovered elsewhere and never open, open until now, or recovered by this machine first. */
  origins: { recovered: 0.45, opened: 0.4, whole: 0.15 },
  /** Refrigerant over the oil of a vehicle that was recovered. */
  recoveredPa: [30_000, 95_000],
  /** Free water by origin, and leaks. */
  populations: {
    hard: { wet: { recovered: 0.06, opened: 0.35, whole: 0.06 }, leaking: 0.4 },
    jobs: { wet: { recovered: 0.01, opened: 0.1, whole: 0.01 }, leaking: 0.02 },
  },
  waterG: [0.1, 10],
  leakKgPerYear: [0.5, 5000],
  chargeG: [350, 700],
} as const;

/** Refrigerant of a vehicle whose oil has come to rest under vapour of this pressure, kg. */
function restedKg(data: FluidData, kind: 'PAG' | 'POE', at: Rested): number {
  const { tables } = data;
  const saturation = newSaturationState();
  tables.saturation(at.temperatureK, saturation);
  const activity = Math.min(0.9, at.pressurePa / saturation.pressurePa);
  const content = new Solubility(kind, tables.fluid).content(
    activity,
    at.temperatureK,
    saturation.liquidDensityKgPerM3,
  );
  const gasM3 = at.volumeM3 - at.oilKg / OIL_DENSITY_KG_PER_M3;
  const vapourKg =
    (activity * saturation.pressurePa * gasM3) / (tables.fluid.gasConstantJPerKgK * at.temperatureK);
  return vapourKg + content * at.oilKg;
}

type Rested = {
  readonly pressurePa: number;
  readonly temperatureK: number;
  readonly volumeM3: number;
  readonly oilKg: number;
};

/** The scenario as a file would have it; the same seed gives the same job to every profile. */
export function holdsScenario(
  profile: ProfileName,
  seed: number,
  population: Population,
  fluids: (refrigerant: string) => FluidData,
) {
  const shares = DRAWN.populations[population];
  const random = new Random(seed, 'accuracy of holds');
  const { within, logWithin, oneOf } = drawsOf(random);
  const chance = random.uniform();
  const { origins } = DRAWN;
  const origin: Origin =
    chance < origins.recovered
      ? 'recovered'
      : chance < origins.recovered + origins.opened
        ? 'opened'
        : 'whole';
  const refrigerant = oneOf(['R-134a', 'R-1234yf']);
  const expansionDevice = oneOf(['orifice-tube', 'expansion-valve']);
  const kind = oneOf<'PAG' | 'POE'>(['PAG', 'POE']);
  const volumeL = within(DRAWN.volumeL);
  const oilG = within(DRAWN.oilG);
  const ambientC = within(DRAWN.ambientC);
  const wet = random.uniform() < shares.wet[origin];
  const waterG = logWithin(DRAWN.waterG);
  const leaking = random.uniform() < shares.leaking;
  const leakKgPerYear = logWithin(DRAWN.leakKgPerYear);
  const fullG = within(DRAWN.chargeG) * Math.min(1, volumeL / 2.5);
  const roomPa = barometerPa(within(DRAWN.altitudeM));
  const overOilPa = Math.min(within(DRAWN.recoveredPa), 0.9 * roomPa);
  const temperatureK = ambientC + ZERO_CELSIUS_K;
  const rested = { pressurePa: overOilPa, temperatureK, volumeM3: volumeL * 1e-3, oilKg: oilG * 1e-3 };
  const chargeG = {
    opened: 0,
    whole: fullG,
    recovered: 1000 * restedKg(fluids(refrigerant), kind, rested),
  }[origin];
  return {
    origin,
    file: {
      name: `holds ${profile} ${seed}`,
      seed,
      weather: {
        ambientC,
        barometerPa: roomPa,
        relativeHumidity: within(DRAWN.relativeHumidity),
      },
      ticket: {
        service: origin === 'whole' ? 'whole' : 'evacuate-and-charge',
        refrigerant,
        nominalChargeG: 500,
        opened: origin === 'opened',
        oil: { kind },
      },
      vehicle: {
        chargeG,
        volumeL,
        expansionDevice,
        oilG,
        waterG: wet ? waterG : 0,
        leakGPerYear: leaking ? 1000 * leakKgPerYear : 0,
        ...(origin === 'opened' ? {} : { airG: 0 }),
      },
      tank: { contentKg: 8 },
      equipment: { profile },
    },
  };
}
