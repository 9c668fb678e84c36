// What the simulated machines are really like: the tolerances a build is drawn from.
// Figures are the project's own specification of a good and a hobby build; each stands once, here.

export type Profile = {
  readonly name: ProfileName;
  readonly scale: {
    readonly noiseKg: number;
    readonly spanErrorSd: number;
    readonly zeroDriftKgPerKSd: number;
    /** Creep half an hour after a step, as a fraction of the step. */
    readonly creepFraction: number;
    readonly hoseForceKgPerPaSd: number;
    readonly bumpsPerHour: number;
    readonly spikesPerSample: number;
    /** Amplitude while compressor or pump run (estimates within 1 to 5 g). */
    readonly vibrationKg: number;
  };
  /** One standard deviation as a fraction of span, for the gauge transducers. */
  readonly gaugeSd: number;
  readonly gaugeConverterBits: number;
  readonly manifold: { readonly offsetSdPa: number; readonly resolutionPa: number };
  readonly vehicleVacuumRelativeSd?: number;
  readonly temperatureSdK: number;
  readonly valve: { readonly deadTimeMs: number; readonly deadTimeSdMs: number; readonly jitterMs: number };
  readonly hoseVolumeSd: number;
};

export const PROFILE_NAMES = ['good', 'hobby'] as const;
export type ProfileName = (typeof PROFILE_NAMES)[number];

const HOSE_FORCE_AT_PA = 600_000;

export const PROFILES: { readonly [N in ProfileName]: Profile } = {
  good: {
    name: 'good',
    scale: {
      noiseKg: 0.0004,
      spanErrorSd: 0.0003,
      zeroDriftKgPerKSd: 0.001,
      creepFraction: 0.0002 / 0.5,
      hoseForceKgPerPaSd: 0.01 / HOSE_FORCE_AT_PA,
      bumpsPerHour: 1,
      spikesPerSample: 1e-5,
      vibrationKg: 0.001,
    },
    gaugeSd: 0.0025,
    gaugeConverterBits: 16,
    manifold: { offsetSdPa: 100, resolutionPa: 3 },
    vehicleVacuumRelativeSd: 0.1,
    temperatureSdK: 0.3,
    valve: { deadTimeMs: 60, deadTimeSdMs: 15, jitterMs: 5 },
    hoseVolumeSd: 0.02,
  },
  hobby: {
    name: 'hobby',
    scale: {
      noiseKg: 0.001,
      spanErrorSd: 0.001,
      zeroDriftKgPerKSd: 0.003,
      creepFraction: 0.0006 / 0.5,
      hoseForceKgPerPaSd: 0.025 / HOSE_FORCE_AT_PA,
      bumpsPerHour: 6,
      spikesPerSample: 1e-4,
      vibrationKg: 0.003,
    },
    gaugeSd: 0.01,
    gaugeConverterBits: 10,
    manifold: { offsetSdPa: 400, resolutionPa: 25 },
    temperatureSdK: 1,
    valve: { deadTimeMs: 80, deadTimeSdMs: 25, jitterMs: 15 },
    hoseVolumeSd: 0.08,
  },
};

/** Spans of the gauge transducers, above ambient (gauge), and of the absolute manifold sensor. */
export const SPANS = {
  highSidePa: 3_000_000,
  lowSidePa: 1_000_000,
  tankPa: 2_000_000,
  manifoldPa: 160_000,
} as const;

/** The low side's transducer is a compound one: its span begins at full vacuum, gauge. */
export const LOW_SIDE_FROM_PA = -100_000;

/** The drawing's figures: what a build's truth scatters around and what the controller is told. */
export const NOMINAL = {
  /** 4.8 mm bore, 1.8 m: the usual 1/4 inch service hose. */
  hoseBoreM: 0.0048,
  hoseLengthM: 1.8,
  manifoldVolumeM3: 60e-6,
  /** A 10 cm³ reciprocating compressor at 1450 rpm (estimate). */
  compressorSweptM3PerS: 0.2417e-3,
  compressorCutOutPa: 2_500_000,
  compressorMinimumOffMs: 120_000,
  /** Six metres of tube of 5 mm bore, rounded up; the machine's own is in `sim/plant/machine.ts` (estimates). */
  condenserM3: 0.12e-3,
  separatorM3: 0.4e-3,
  /** A small two-stage rotary pump (estimate). */
  vacuumPumpM3PerS: 2.0e-3,
  vacuumPumpUltimatePa: 3,
  vacuumPumpOpenLimitPa: 110_000,
  scaleCountsPerKg: 100_000,
  scaleZeroCounts: 1_300_000,
} as const;
