// Draws a job for the grams: vehicle, weather, tank, hoses and habits from one seed, as a scenario file would have them.

import { drawsOf } from '../../app/bench/draw.ts';
import { HOSE_BORE_M, POPULATION, volumeL } from '../../app/bench/population.ts';
import { barometerPa } from '../../sim/fluids/air.ts';
import type { ProfileName } from '../../sim/profiles.ts';
import { PROFILES } from '../../sim/profiles.ts';
import { Random } from '../../sim/random.ts';

/** The scenario as a file would have it; the same seed gives the same job to every profile. */
export function gramsScenario(profile: ProfileName, seed: number) {
  const random = new Random(seed, 'accuracy of grams');
  const { within, oneOf } = drawsOf(random);
  const refrigerant = oneOf(['R-134a', 'R-1234yf']);
  const expansionDevice = oneOf(['orifice-tube', 'expansion-valve']);
  const nominalChargeG = Math.round(within(POPULATION.nominalChargeG) / 5) * 5;
  const chargeG = (nominalChargeG * within(POPULATION.chargePercent)) / 100;
  const ambientC = within(POPULATION.ambientC);
  const oilKind = oneOf(['PAG', 'POE']);
  const bore = (Math.PI / 4) * HOSE_BORE_M ** 2;
  const hose = { lengthM: within(POPULATION.hoseLengthM), errorSd: PROFILES[profile].hoseVolumeSd };
  const told = { hoseM3: bore * hose.lengthM, manifoldM3: within(POPULATION.manifoldMl) * 1e-6 };
  const asBuilt = (toldM3: number): number => toldM3 * (1 + hose.errorSd * random.normal());
  return {
    name: `grams ${profile} ${seed}`,
    seed,
    weather: {
      ambientC,
      barometerPa: barometerPa(within(POPULATION.altitudeM)),
      relativeHumidity: within(POPULATION.relativeHumidity),
    },
    ticket: {
      service: 'whole',
      refrigerant,
      nominalChargeG,
      opened: random.uniform() < POPULATION.openedShare,
      engine: random.uniform() < POPULATION.engineShare ? 'can-run' : 'cannot-run',
      oil: { kind: oilKind },
    },
    vehicle: {
      chargeG,
      volumeL: volumeL(nominalChargeG, random.uniform()),
      temperatureC: ambientC + POPULATION.vehicleSdK * random.normal(),
      expansionDevice,
      oilG: within(POPULATION.oilG),
    },
    tank: {
      contentKg: within(POPULATION.tankContentKg),
      temperatureC: ambientC + POPULATION.tankSdK * random.normal(),
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
    operator: { delayS: within(POPULATION.delayS) },
  };
}
