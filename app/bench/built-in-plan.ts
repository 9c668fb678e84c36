// What a campaign runs without a plan of its own: the vehicles of the accuracy lab's grams, drawn key by key.
import { barometerPa } from '../../sim/fluids/air.ts';
import { PROFILES } from '../../sim/profiles.ts';
import { type CampaignPlan, toPlan } from './plan.ts';
import { HOSE_BORE_M, POPULATION, VOLUME } from './population.ts';

const BORE_M2 = (Math.PI / 4) * HOSE_BORE_M ** 2;
/** Cubic metres of a hose to its millilitres, and its length from them. */
const M3_PER_ML = 1e-6;
const ML_PER_M = BORE_M2 / M3_PER_ML;

const rounded = (value: number): number => Number(value.toPrecision(6));
const thousandths = ([low, high]: readonly [number, number], factor: number) =>
  [rounded(low * factor), rounded(high * factor)] as const;

const yes = (share: number) => ({ choice: [true, false], weights: [share, rounded(1 - share)] });

/** A volume as it was built against what the controller is told of it. */
const asBuilt = (told: string) => ({
  normal: [M3_PER_ML, rounded(M3_PER_ML * PROFILES.good.hoseVolumeSd)],
  times: told,
});

/** Plain JSON, as `--print-plan` shows it. */
export const BUILT_IN_FILE = {
  name: 'cars and vans on the good machine',
  jobs: 100,
  base: { ticket: { service: 'whole' }, equipment: { profile: 'good' } },
  draws: {
    'weather.ambientC': { uniform: POPULATION.ambientC },
    'weather.barometerPa': {
      uniform: [rounded(barometerPa(POPULATION.altitudeM[1])), rounded(barometerPa(POPULATION.altitudeM[0]))],
    },
    'weather.relativeHumidity': { uniform: POPULATION.relativeHumidity },
    'ticket.refrigerant': { choice: ['R-134a', 'R-1234yf'] },
    'ticket.nominalChargeG': { uniform: POPULATION.nominalChargeG, step: 5 },
    'ticket.opened': yes(POPULATION.openedShare),
    'ticket.engine': {
      choice: ['can-run', 'cannot-run'],
      weights: [POPULATION.engineShare, rounded(1 - POPULATION.engineShare)],
    },
    'ticket.oil.kind': { choice: ['PAG', 'POE'] },
    'vehicle.chargeG': {
      uniform: thousandths(POPULATION.chargePercent, 1 / 100),
      times: 'ticket.nominalChargeG',
    },
    'vehicle.volumeL': {
      uniform: thousandths([VOLUME.leastLPerKg, VOLUME.leastLPerKg + VOLUME.spreadLPerKg], 1 / 1000),
      times: 'ticket.nominalChargeG',
      plus: VOLUME.baseL,
    },
    'vehicle.temperatureC': { normal: [0, POPULATION.vehicleSdK], plus: 'weather.ambientC' },
    'vehicle.expansionDevice': { choice: ['orifice-tube', 'expansion-valve'] },
    'vehicle.oilG': { uniform: POPULATION.oilG },
    'tank.contentKg': { uniform: POPULATION.tankContentKg },
    'tank.temperatureC': { normal: [0, POPULATION.tankSdK], plus: 'weather.ambientC' },
    'equipment.highHoseVolumeMl': { uniform: thousandths(POPULATION.hoseLengthM, ML_PER_M) },
    'equipment.lowHoseVolumeMl': { fixed: 1, times: 'equipment.highHoseVolumeMl' },
    'equipment.manifoldVolumeMl': { uniform: POPULATION.manifoldMl },
    'build.hoseLengthM': { fixed: rounded(1 / ML_PER_M), times: 'equipment.highHoseVolumeMl' },
    'build.highHoseVolumeM3': asBuilt('equipment.highHoseVolumeMl'),
    'build.lowHoseVolumeM3': asBuilt('equipment.lowHoseVolumeMl'),
    'build.manifoldVolumeM3': asBuilt('equipment.manifoldVolumeMl'),
    'operator.delayS': { uniform: POPULATION.delayS },
  },
} as const;

export const builtInPlan = (): { plan: CampaignPlan; jobs: number | undefined } =>
  toPlan(BUILT_IN_FILE, 'the built-in plan');
