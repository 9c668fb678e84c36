// Draws one machine from the tolerances of its profile: the same seed gives the same machine.
import type { Profile } from './profiles.ts';
import { NOMINAL, SPANS } from './profiles.ts';
import { Random } from './random.ts';
import type { Build } from './spec.ts';

/** A clip-on barometer chip, one standard deviation (estimate). */
const BAROMETER_SD_PA = 50;

/**
 * A spring shuts a direct-acting valve against 3 to 6 bar from behind (estimate): the mean, and a standard deviation of
 * which a build has at most two.
 */
const REVERSE_LIFT_PA = 450_000;
const REVERSE_LIFT_SD_PA = 75_000;

/** Volume of a service hose from its bore and length. */
export const NOMINAL_HOSE_VOLUME_M3 = (Math.PI / 4) * NOMINAL.hoseBoreM ** 2 * NOMINAL.hoseLengthM;

/** Overrides replace what was drawn, field by field. */
export function drawBuild(profile: Profile, seed: number, overrides: Partial<Build> = {}): Build {
  const random = new Random(seed, 'build');
  const { scale, valve, manifold } = profile;
  const off = (sd: number): number => sd * random.normal();
  const drawn: Build = {
    hoseBoreM: NOMINAL.hoseBoreM,
    hoseLengthM: NOMINAL.hoseLengthM,
    highHoseVolumeM3: NOMINAL_HOSE_VOLUME_M3 * (1 + off(profile.hoseVolumeSd)),
    lowHoseVolumeM3: NOMINAL_HOSE_VOLUME_M3 * (1 + off(profile.hoseVolumeSd)),
    manifoldVolumeM3: NOMINAL.manifoldVolumeM3 * (1 + off(profile.hoseVolumeSd)),
    valveDeadTimeMs: Math.max(10, valve.deadTimeMs + off(valve.deadTimeSdMs)),
    valveJitterMs: valve.jitterMs,
    scaleSpanError: off(scale.spanErrorSd),
    scaleNoiseKg: scale.noiseKg,
    scaleDriftKgPerK: off(scale.zeroDriftKgPerKSd),
    scaleCreepFraction: scale.creepFraction,
    scaleHoseForceKgPerPa: off(scale.hoseForceKgPerPaSd),
    scaleBumpsPerHour: scale.bumpsPerHour,
    scaleSpikesPerSample: scale.spikesPerSample,
    scaleVibrationKg: scale.vibrationKg,
    highSideOffsetPa: off(profile.gaugeSd * SPANS.highSidePa),
    lowSideOffsetPa: off(profile.gaugeSd * SPANS.lowSidePa),
    tankOffsetPa: off(profile.gaugeSd * SPANS.tankPa),
    manifoldOffsetPa: off(manifold.offsetSdPa),
    manifoldResolutionPa: manifold.resolutionPa,
    vehicleVacuumFitted: profile.vehicleVacuumRelativeSd !== undefined,
    vehicleVacuumGain: 1 + off(profile.vehicleVacuumRelativeSd ?? 0),
    tankTemperatureOffsetK: off(profile.temperatureSdK),
    ambientTemperatureOffsetK: off(profile.temperatureSdK),
    barometerFitted: true,
    barometerOffsetPa: off(BAROMETER_SD_PA),
    ventThermometerFitted: false,
    ventTemperatureOffsetK: off(profile.temperatureSdK),
    gaugeConverterBits: profile.gaugeConverterBits,
    compressorSweptM3PerS: NOMINAL.compressorSweptM3PerS,
    vacuumPumpM3PerS: NOMINAL.vacuumPumpM3PerS,
    vacuumPumpUltimatePa: NOMINAL.vacuumPumpUltimatePa,
    vacuumPumpBallast: false,
    valveSeatLeak: 0,
    valveReverseLiftPa: REVERSE_LIFT_PA + Math.max(-2, Math.min(2, random.normal())) * REVERSE_LIFT_SD_PA,
  };
  return { ...drawn, ...overrides };
}
