// What the controller is told about the simulated machine: the drawing's figures and the profile's tolerances.

import { ROOM_K } from '../../controller/constants.ts';
import type { Equipment } from '../../controller/equipment.ts';
import { tankLiquidKg } from '../../controller/estimates/tank-liquid.ts';
import type { SaturationCurve } from '../../controller/saturation.ts';
import { OUTPUTS } from '../../controller/signals.ts';
import { NOMINAL_HOSE_VOLUME_M3 } from '../../sim/build.ts';
import { ZERO_CELSIUS_K } from '../../sim/celsius.ts';
import { STANDARD_ATMOSPHERE_PA } from '../../sim/fluids/air.ts';
import { NOMINAL, PROFILES, type Profile, SPANS } from '../../sim/profiles.ts';
import type { TankSpec } from '../../sim/spec.ts';
import { liquidDensityKgPerM3 } from './curve.ts';
import type { EquipmentChoice } from './scenario.ts';

const TANK_TEMPERATURE_LIMIT_K = ZERO_CELSIUS_K + 45;

/** 110 mPa·s through 1.8 m of 4.8 mm bore (Hagen–Poiseuille) and what clings to it (estimate of 1 to 3 mL). */
const OIL_FLOW_M3_PER_S_PA = 6.6e-6 / 1e5;
const OIL_LINE_FILM_M3 = 2e-6;
/** Dye for a few vehicles (estimate). */
const DYE_BOTTLE_M3 = 50e-6;

const FILLING_TEMPERATURE_K = ZERO_CELSIUS_K + 25;
const WARM_TEMPERATURE_K = ZERO_CELSIUS_K + 50;
const OLDER_CONVENTION_KG_PER_M3 = 800;

/**
 * Highest net mass of a tank: the lowest of three rules.
 * - AHRI Guideline K: 80 % of the volume as liquid at 25 °C (77 °F). It is not written for flammable refrigerants.
 * - 49 CFR 173.304b(b)(2): at most 95 % of the volume as liquid at 50 °C.
 * - The older and lower convention, 0.8 kg per litre of water capacity, which decides for today's refrigerants.
 * Local rules come first; they were not checked.
 */
export const fillLimitKg = (waterCapacityM3: number, curve: SaturationCurve): number =>
  Math.min(...fillLimits(waterCapacityM3, curve).map(({ kg }) => kg));

/** What each of the rules allows. */
export const fillLimits = (waterCapacityM3: number, curve: SaturationCurve) => [
  {
    rule: '80 % of the volume as liquid at 25 °C',
    kg: waterCapacityM3 * (0.8 * liquidDensityKgPerM3(curve, FILLING_TEMPERATURE_K)),
  },
  {
    rule: '95 % of the volume as liquid at 50 °C',
    kg: waterCapacityM3 * (0.95 * liquidDensityKgPerM3(curve, WARM_TEMPERATURE_K)),
  },
  { rule: '0.8 kg per litre of water capacity', kg: waterCapacityM3 * OLDER_CONVENTION_KG_PER_M3 },
];

/** Common practice leaves 1 to 1.5 kg in the tank, vapour included. */
const KEPT_NET_KG = 1;
/** Twice what covers a dip tube of the usual tanks: their floor is not level, and their tare not true (estimate). */
const LEAST_RESERVE_KG = 0.4;

/** Liquid that must stay in the tank: what the usual kilogram leaves of it in a room, and never too little. */
export const reserveKg = (waterCapacityM3: number, curve: SaturationCurve): number =>
  Math.max(LEAST_RESERVE_KG, tankLiquidKg(KEPT_NET_KG, { waterCapacityM3 }, ROOM_K, curve));

function hosesOf(choice: EquipmentChoice, profile: Profile): Equipment['hoses'] {
  return {
    highVolumeM3: choice.highHoseVolumeM3 ?? NOMINAL_HOSE_VOLUME_M3,
    lowVolumeM3: choice.lowHoseVolumeM3 ?? NOMINAL_HOSE_VOLUME_M3,
    manifoldVolumeM3: choice.manifoldVolumeM3 ?? NOMINAL.manifoldVolumeM3,
    volumeRelativeSd: profile.hoseVolumeSd,
  };
}

function sensorsOf(profile: Profile): Pick<Equipment, 'scale' | 'pressure' | 'temperatureSdK'> {
  const { scale, gaugeSd, manifold, vehicleVacuumRelativeSd } = profile;
  return {
    scale: {
      countsPerKg: NOMINAL.scaleCountsPerKg,
      zeroCounts: NOMINAL.scaleZeroCounts,
      noiseKg: scale.noiseKg,
      spanErrorSd: scale.spanErrorSd,
      zeroDriftKgPerKSd: scale.zeroDriftKgPerKSd,
      creepSd: scale.creepFraction,
      hoseForceKgPerPaSd: scale.hoseForceKgPerPaSd,
    },
    pressure: {
      highSideSdPa: gaugeSd * SPANS.highSidePa,
      lowSideSdPa: gaugeSd * SPANS.lowSidePa,
      tankSdPa: gaugeSd * SPANS.tankPa,
      tankSpanPa: SPANS.tankPa + STANDARD_ATMOSPHERE_PA,
      manifoldSdPa: manifold.offsetSdPa,
      manifoldResolutionPa: manifold.resolutionPa,
      manifoldSpanPa: SPANS.manifoldPa,
      ...(vehicleVacuumRelativeSd === undefined ? {} : { vehicleVacuumRelativeSd }),
    },
    temperatureSdK: profile.temperatureSdK,
  };
}

/** A refrigerant that nobody knows: no more than 60 % of what water would weigh (SAE J1989 for transfer into cylinders, in 40 CFR 82 subpart B appendix A). */
const UNKNOWN_KG_PER_M3 = 600;

function tankLimitKg(choice: EquipmentChoice, waterCapacityM3: number, curve: SaturationCurve): number {
  const limitKg = choice.fillLimitKg ?? fillLimitKg(waterCapacityM3, curve);
  return choice.contaminated === true ? Math.min(limitKg, UNKNOWN_KG_PER_M3 * waterCapacityM3) : limitKg;
}

/** The equipment of a profile with the tank on its scale, overridden where the scenario says so. */
export function equipmentFor(choice: EquipmentChoice, tank: TankSpec, curve: SaturationCurve): Equipment {
  const profile = PROFILES[choice.profile];
  const lineFilmM3 = choice.oilLineFilmM3 ?? OIL_LINE_FILM_M3;
  return {
    name: profile.name,
    fitted: choice.fitted ?? OUTPUTS,
    tank: {
      refrigerant: tank.refrigerant,
      waterCapacityM3: tank.waterCapacityM3,
      ...(choice.contaminated === true ? { contaminated: true } : {}),
      fillLimitKg: tankLimitKg(choice, tank.waterCapacityM3, curve),
      reserveKg: choice.reserveKg ?? reserveKg(tank.waterCapacityM3, curve),
      ...(choice.tankLastKg === undefined ? {} : { lastNetKg: choice.tankLastKg }),
      temperatureLimitK: choice.tankTemperatureLimitK ?? TANK_TEMPERATURE_LIMIT_K,
    },
    ...sensorsOf(profile),
    hoses: hosesOf(choice, profile),
    valveDeadTimeMs: choice.valveDeadTimeMs ?? profile.valve.deadTimeMs,
    compressor: {
      cutOutPa: NOMINAL.compressorCutOutPa,
      minimumOffMs: NOMINAL.compressorMinimumOffMs,
      sweptM3PerS: NOMINAL.compressorSweptM3PerS,
      condenserM3: NOMINAL.condenserM3,
    },
    separatorM3: NOMINAL.separatorM3,
    vacuumPump: { openLimitPa: NOMINAL.vacuumPumpOpenLimitPa, ultimatePa: NOMINAL.vacuumPumpUltimatePa },
    separatorFloat: choice.separatorFloat ?? true,
    ...(choice.tankRestedMs === undefined ? {} : { tankRestedMs: choice.tankRestedMs }),
    ...(choice.uncleaned === true ? { uncleaned: true } : {}),
    oil: {
      kind: choice.oilKind ?? 'PAG',
      flowM3PerSPa: choice.oilFlowM3PerSPa ?? OIL_FLOW_M3_PER_S_PA,
      lineFilmM3,
    },
    dye: {
      bottleM3: choice.dyeBottleM3 ?? DYE_BOTTLE_M3,
      flowM3PerSPa: choice.dyeFlowM3PerSPa ?? OIL_FLOW_M3_PER_S_PA,
      lineFilmM3,
    },
    ...(choice.barometerPa === undefined ? {} : { barometerPa: choice.barometerPa }),
  };
}
