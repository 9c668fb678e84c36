// Overrides of the simulator's truth in a scenario file. Keys, units and meaning are those of the simulator's Build.
import * as z from 'zod';
import type { Build } from '../../sim/spec.ts';
import { type Quantity, quantity, shown } from './quantity.ts';

const VOLUME: Quantity = { unit: 'm³', min: 1e-6, max: 1e-3 };
const OFFSET_PA: Quantity = { unit: 'Pa', min: -200_000, max: 200_000 };
const OFFSET_K: Quantity = { unit: 'K', min: -10, max: 10 };

const BUILD_QUANTITIES = {
  highHoseVolumeM3: VOLUME,
  lowHoseVolumeM3: VOLUME,
  manifoldVolumeM3: VOLUME,
  hoseBoreM: { unit: 'm', min: 0.001, max: 0.02 },
  hoseLengthM: { unit: 'm', min: 0.2, max: 10 },
  valveDeadTimeMs: { unit: 'ms', min: 0, max: 1000 },
  valveJitterMs: { unit: 'ms', min: 0, max: 100 },
  valveSeatLeak: { unit: '(a fraction)', min: 0, max: 0.01 },
  valveReverseLiftPa: { unit: 'Pa', min: 50_000, max: 5_000_000 },
  scaleSpanError: { unit: '(a fraction)', min: -0.1, max: 0.1 },
  scaleNoiseKg: { unit: 'kg', min: 0, max: 0.1 },
  scaleDriftKgPerK: { unit: 'kg/K', min: -0.1, max: 0.1 },
  scaleCreepFraction: { unit: '(a fraction)', min: -0.05, max: 0.05 },
  scaleHoseForceKgPerPa: { unit: 'kg/Pa', min: -1e-6, max: 1e-6 },
  scaleBumpsPerHour: { unit: 'per hour', min: 0, max: 3600 },
  scaleSpikesPerSample: { unit: 'per sample', min: 0, max: 0.1 },
  scaleVibrationKg: { unit: 'kg', min: 0, max: 0.1 },
  highSideOffsetPa: OFFSET_PA,
  lowSideOffsetPa: OFFSET_PA,
  tankOffsetPa: OFFSET_PA,
  manifoldOffsetPa: { unit: 'Pa', min: -5000, max: 5000 },
  manifoldResolutionPa: { unit: 'Pa', min: 0.1, max: 1000 },
  vehicleVacuumGain: { unit: '(a factor)', min: 0.1, max: 10 },
  tankTemperatureOffsetK: OFFSET_K,
  ambientTemperatureOffsetK: OFFSET_K,
  ventTemperatureOffsetK: OFFSET_K,
  barometerOffsetPa: { unit: 'Pa', min: -5000, max: 5000 },
  gaugeConverterBits: { unit: 'bits', min: 6, max: 32, whole: true },
  compressorSweptM3PerS: { unit: 'm³/s', min: 1e-5, max: 1e-2 },
  vacuumPumpM3PerS: { unit: 'm³/s', min: 1e-5, max: 0.1 },
  vacuumPumpUltimatePa: { unit: 'Pa', min: 0.01, max: 10_000 },
} as const satisfies { readonly [K in keyof Build as Build[K] extends number ? K : never]: Quantity };

type BuildNumber = keyof typeof BUILD_QUANTITIES;

const numbers = Object.fromEntries(
  Object.entries(BUILD_QUANTITIES).map(([key, bounds]) => [key, quantity(bounds).optional()]),
) as { [K in BuildNumber]: z.ZodOptional<z.ZodNumber> };

const fitted = z.boolean({ error: ({ input }) => `must be true or false, not ${shown(input)}` }).optional();

export const buildSchema = z.strictObject({
  ...numbers,
  vehicleVacuumFitted: fitted,
  vacuumPumpBallast: fitted,
  barometerFitted: fitted,
  ventThermometerFitted: fitted,
});
