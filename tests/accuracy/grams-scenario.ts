// Draws a job for the grams: vehicle, weather, tank, hoses and habits from one seed, as a scenario file would have them.
import { barometerPa } from '../../sim/fluids/air.ts';
import type { ProfileName } from '../../sim/profiles.ts';
import { PROFILES } from '../../sim/profiles.ts';
import { Random } from '../../sim/random.ts';
import { drawsOf } from './draw.ts';

/** What the drawn jobs are spread over. Ranges are this project's own: cars and vans in workshops that are not heated or cooled. */
export const DRAWN = {
  nominalChargeG: [350, 1100],
  /** Of the nominal charge. */
  chargePercent: [0, 110],
  oilG: [60, 180],
  ambientC: [5, 40],
  /** Vehicle and tank against the room, one standard deviation. */
  vehicleSdK: 2,
  tankSdK: 2,
  tankContentKg: [4, 14],
  altitudeM: [0, 2000],
  relativeHumidity: [0.2, 0.9],
  hoseLengthM: [1.2, 3],
  manifoldMl: [40, 80],
  delayS: [5, 60],
  openedShare: 0.3,
  engineShare: 0.5,
} as const;

const HOSE_BORE_M = 0.0048;

/** A volume that fits the charge: larger systems have more of both (estimate; 600 g in 2.4 to 2.8 L). */
export const volumeL = (nominalG: number, spread: number): number =>
  0.8 + (nominalG / 1000) * (2.6 + 0.8 * spread);

/** The scenario as a file would have it; the same seed gives the same job to every profile. */
export function gramsScenario(profile: ProfileName, seed: number) {
  const random = new Random(seed, 'accuracy of grams');
  const { within, oneOf } = drawsOf(random);
  const refrigerant = oneOf(['R-134a', 'R-1234yf']);
  const expansionDevice = oneOf(['orifice-tube', 'expansion-valve']);
  const nominalChargeG = Math.round(within(DRAWN.nominalChargeG) / 5) * 5;
  const chargeG = (nominalChargeG * within(DRAWN.chargePercent)) / 100;
  const ambientC = within(DRAWN.ambientC);
  const oilKind = oneOf(['PAG', 'POE']);
  const bore = (Math.PI / 4) * HOSE_BORE_M ** 2;
  const hose = { lengthM: within(DRAWN.hoseLengthM), errorSd: PROFILES[profile].hoseVolumeSd };
  const told = { hoseM3: bore * hose.lengthM, manifoldM3: within(DRAWN.manifoldMl) * 1e-6 };
  const asBuilt = (toldM3: number): number => toldM3 * (1 + hose.errorSd * random.normal());
  return {
    name: `grams ${profile} ${seed}`,
    seed,
    weather: {
      ambientC,
      barometerPa: barometerPa(within(DRAWN.altitudeM)),
      relativeHumidity: within(DRAWN.relativeHumidity),
    },
    ticket: {
      service: 'whole',
      refrigerant,
      nominalChargeG,
      opened: random.uniform() < DRAWN.openedShare,
      engine: random.uniform() < DRAWN.engineShare ? 'can-run' : 'cannot-run',
      oil: { kind: oilKind },
    },
    vehicle: {
      chargeG,
      volumeL: volumeL(nominalChargeG, random.uniform()),
      temperatureC: ambientC + DRAWN.vehicleSdK * random.normal(),
      expansionDevice,
      oilG: within(DRAWN.oilG),
    },
    tank: {
      contentKg: within(DRAWN.tankContentKg),
      temperatureC: ambientC + DRAWN.tankSdK * random.normal(),
    },
    equipment: {
      profile,
      highHoseVolumeMl: told.hoseM3 * 1e6,
      lowHoseVolumeMl: told.hoseM3 * 1e6,
      manifoldVolumeMl: told.manifoldM3 * 1e6,
    },
    build: {
      hoseLengthM: hose.lengthM,
      highHoseVolumeM3: asBuilt(told.hoseM3),
      lowHoseVolumeM3: asBuilt(told.hoseM3),
      manifoldVolumeM3: asBuilt(told.manifoldM3),
    },
    operator: { delayS: within(DRAWN.delayS) },
  };
}
