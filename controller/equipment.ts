// What the controller believes about this machine: what is fitted, measured and limited.
import type { Output } from './signals.ts';
import type { OilKind } from './ticket.ts';

/** How the liquid of a bottle comes through valve and line into a vacuum, measured on this machine. */
export type Dosing = {
  /** Flow per pascal between bottle and manifold. */
  readonly flowM3PerSPa: number;
  /** What stays on the walls of line and manifold, unless something has wetted them before. */
  readonly lineFilmM3: number;
};

/** Fields ending in Sd are one standard deviation: how far this machine may be from what it reads. */
export type Equipment = {
  /** The profile's or the commissioning record's name, for the job record. */
  readonly name: string;
  /** Outputs that exist on this machine; the others may never be energised. */
  readonly fitted: readonly Output[];
  readonly tank: {
    readonly refrigerant: string;
    /** A cylinder labelled for contaminated refrigerant stands in the tank's place: nobody knows what is in it. */
    readonly contaminated?: boolean;
    readonly waterCapacityM3: number;
    /** Highest net mass, whatever the temperature. */
    readonly fillLimitKg: number;
    /** Liquid that must stay in the tank, so that its dip tube stays covered. */
    readonly reserveKg: number;
    /** Net mass with which the last job left it, by its record; absent when nobody knows. */
    readonly lastNetKg?: number;
    /** Highest temperature the tank may be brought to. */
    readonly temperatureLimitK: number;
  };
  readonly scale: {
    readonly countsPerKg: number;
    /** Counts with the empty tank on the platform: net mass = (counts − zero) / countsPerKg. */
    readonly zeroCounts: number;
    readonly noiseKg: number;
    readonly spanErrorSd: number;
    readonly zeroDriftKgPerKSd: number;
    readonly creepSd: number;
    /** Force of the pressurised hoses on the platform, per pascal of hose pressure above ambient. */
    readonly hoseForceKgPerPaSd: number;
  };
  readonly pressure: {
    readonly highSideSdPa: number;
    readonly lowSideSdPa: number;
    readonly tankSdPa: number;
    /** Highest absolute pressure the tank sensor can read. */
    readonly tankSpanPa: number;
    readonly manifoldSdPa: number;
    readonly manifoldResolutionPa: number;
    /** Highest pressure the manifold sensor can read. */
    readonly manifoldSpanPa: number;
    /** Relative, one standard deviation; absent when no vehicle-end vacuum sensor is fitted. */
    readonly vehicleVacuumRelativeSd?: number;
  };
  readonly temperatureSdK: number;
  readonly hoses: {
    readonly highVolumeM3: number;
    readonly lowVolumeM3: number;
    readonly manifoldVolumeM3: number;
    readonly volumeRelativeSd: number;
  };
  readonly valveDeadTimeMs: number;
  readonly compressor: {
    /** Pressure in the discharge at which the hard-wired switch cuts out. */
    readonly cutOutPa: number;
    readonly minimumOffMs: number;
    /** Displacement, from its data sheet. */
    readonly sweptM3PerS: number;
    /** Room in the coil between it and the check valve before the tank, from its drawing or filled with water. */
    readonly condenserM3: number;
  };
  readonly vacuumPump: {
    /** Highest pressure the pump may be opened to. */
    readonly openLimitPa: number;
    readonly ultimatePa: number;
  };
  /** Contaminated refrigerant has gone through this machine and it has not been cleaned since, as typed by the operator. */
  readonly uncleaned?: boolean;
  /** Since anything last flowed into or out of the tank or heated it, as typed by the operator; absent when nobody knows. */
  readonly tankRestedMs?: number;
  /** Room in separator and filter-drier, between recovery valve and compressor. */
  readonly separatorM3: number;
  /** A float in the separator shuts the drain when the oil is gone. */
  readonly separatorFloat: boolean;
  /** Absent when it cannot add oil; the kind is that of the oil in the bottle. */
  readonly oil?: Dosing & { readonly kind: OilKind };
  /** Absent when it cannot add dye; what its bottle holds, as typed by the operator. */
  readonly dye?: Dosing & { readonly bottleM3: number };
  /** Typed barometer, used when no barometer reading is there. */
  readonly barometerPa?: number;
};
