// What a simulated bench is made of: vehicle, tank, weather and build, in SI units.
import type { OilKind } from './fluids/oil.ts';

export type WeatherSpec = {
  readonly ambientK: number;
  readonly barometerPa: number;
  /** 0 to 1. */
  readonly relativeHumidity: number;
};

/** A repair: the vehicle is opened to the weather and closed again. */
export type RepairSpec = {
  /** Of the line that is taken off. */
  readonly openDiameterM: number;
  /** Leak and hole are gone afterwards. */
  readonly stopsLeak: boolean;
};

export type VehicleSpec = {
  readonly refrigerant: string;
  readonly chargeKg: number;
  /** Internal volume of the whole system. */
  readonly volumeM3: number;
  /** Temperature of everything in the vehicle at the start. */
  readonly temperatureK: number;
  readonly expansionDevice: 'orifice-tube' | 'expansion-valve';
  readonly airKg: number;
  /** At 20 °C with liquid in it, against one atmosphere. */
  readonly leakKgPerYear: number;
  /** A hole to the air on the high side, 0 for none. */
  readonly holeDiameterM: number;
  readonly ports: 1 | 2;
  /** What is done to it when it is mended; left out: it can not be opened. */
  readonly repair?: RepairSpec;
  /** Lubricant in the system, without the refrigerant dissolved in it. */
  readonly oil: {
    readonly kind: OilKind;
    readonly kg: number;
    /** Relative humidity, 0 to 1, that it is in equilibrium with. */
    readonly humidity: number;
  };
  /** Free water in the evaporator at the start, as liquid or ice. */
  readonly waterKg: number;
  /** Metal in thermal contact with the liquid pool in the accumulator or receiver. */
  readonly accumulatorHeatCapacityJPerK: number;
  /** From that pool to the air around it. */
  readonly accumulatorUaWPerK: number;
};

export type TankSpec = {
  readonly refrigerant: string;
  readonly contentKg: number;
  readonly waterCapacityM3: number;
  readonly temperatureK: number;
  readonly airKg: number;
  /** Since its vapour was last stirred; long ago unless given. */
  readonly restedS?: number;
};

/** A supply cylinder, valve down: liquid stands over its outlet. */
export type CylinderSpec = {
  readonly refrigerant: string;
  readonly contentKg: number;
  readonly waterCapacityM3: number;
  readonly temperatureK: number;
  readonly airKg: number;
};

/** The truth about one machine. Fields ending in `Offset`, `Error` or `PerK` are this build's own, drawn once by the seed. */
export type Build = {
  readonly highHoseVolumeM3: number;
  readonly lowHoseVolumeM3: number;
  readonly manifoldVolumeM3: number;
  readonly hoseBoreM: number;
  readonly hoseLengthM: number;
  readonly valveDeadTimeMs: number;
  readonly valveJitterMs: number;
  /** Share of its area that the seat of every shut valve leaves open. */
  readonly valveSeatLeak: number;
  /** Pressure behind a shut valve, above that before it, which lifts its plunger. */
  readonly valveReverseLiftPa: number;
  readonly scaleSpanError: number;
  readonly scaleNoiseKg: number;
  readonly scaleDriftKgPerK: number;
  readonly scaleCreepFraction: number;
  readonly scaleHoseForceKgPerPa: number;
  readonly scaleBumpsPerHour: number;
  readonly scaleSpikesPerSample: number;
  /** Amplitude of what the running compressor or pump adds to the samples. */
  readonly scaleVibrationKg: number;
  readonly highSideOffsetPa: number;
  readonly lowSideOffsetPa: number;
  readonly tankOffsetPa: number;
  readonly manifoldOffsetPa: number;
  readonly manifoldResolutionPa: number;
  readonly vehicleVacuumFitted: boolean;
  readonly vehicleVacuumGain: number;
  readonly tankTemperatureOffsetK: number;
  readonly ambientTemperatureOffsetK: number;
  readonly barometerFitted: boolean;
  readonly barometerOffsetPa: number;
  readonly ventThermometerFitted: boolean;
  readonly ventTemperatureOffsetK: number;
  readonly gaugeConverterBits: number;
  readonly compressorSweptM3PerS: number;
  readonly vacuumPumpM3PerS: number;
  /** Of the warm pump with clean oil. */
  readonly vacuumPumpUltimatePa: number;
  /** Its gas ballast stands open. */
  readonly vacuumPumpBallast: boolean;
};

type SharedSpec = {
  readonly seed: number;
  readonly weather: WeatherSpec;
  readonly tank: TankSpec;
  readonly build: Build;
  /** What the machine's owner typed, for the rig to reckon with where no barometer is fitted. */
  readonly typedBarometerPa?: number;
};

export type BenchSpec = SharedSpec & { readonly vehicle: VehicleSpec };
/** A supply cylinder in the vehicle's place. */
export type FillSpec = SharedSpec & { readonly cylinder: CylinderSpec };
export type AnySpec = BenchSpec | FillSpec;

/**
 * What a person does to the plant by hand. `start-engine` is the engine idling fast with the air conditioning at its
 * coldest, blower high, doors open.
 */
export type HandAction =
  | 'connect-hoses'
  | 'close-couplers'
  | 'close-high-coupler'
  | 'disconnect-hoses'
  | 'start-engine'
  | 'stop-engine';

/** Where every gram is. The places sum to `initialKg` but for `massDriftKg`. */
export type Truth = {
  readonly initialKg: number;
  /** Includes what the vehicle's oil holds. */
  readonly vehicleRefrigerantKg: number;
  /** Of a supply cylinder in the vehicle's place. */
  readonly cylinderRefrigerantKg: number;
  readonly hoseRefrigerantKg: number;
  /** Includes what the oil in separator and catch bottle holds. */
  readonly machineRefrigerantKg: number;
  readonly tankRefrigerantKg: number;
  readonly pumpExhaustKg: number;
  readonly leakedKg: number;
  readonly purgedKg: number;
  /** Lost through a fault or a disconnection. */
  readonly spilledKg: number;
  /** Released through a path the machine opened, other than the pump's exhaust and the purge valve. */
  readonly ventedKg: number;
  readonly tankAirKg: number;
  /** Vapour, film, ice, and what oil and desiccant hold. */
  readonly vehicleWaterKg: number;
  /** Dye counts as oil: it is oil for the most part, and takes up refrigerant and leaves with it as oil does. */
  readonly vehicleOilKg: number;
  /** What of that was drawn in as dye since the start; what has left again with the oil is not taken off. */
  readonly vehicleDyeKg: number;
  readonly massDriftKg: number;
};

/** A closer look at the truth's places; apart from them, so that the places can be summed. */
export type TruthWithin = {
  /** Of the vehicle's refrigerant: in its oil, as liquid, and all in accumulator or receiver. The rest is vapour. */
  readonly vehicleDissolvedKg: number;
  readonly vehicleLiquidKg: number;
  readonly vesselRefrigerantKg: number;
  /** Of what was spilled: still in the air of the machine's cabinet. */
  readonly cabinetGasKg: number;
  /** Liquid that has come in through the compressor's suction, a hazard. */
  readonly swallowedLiquidKg: number;
};
