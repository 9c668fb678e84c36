// What the stages at vacuum remember: pumping, watching whether it holds, and the oil and dye it draws in.
import type { Liquid } from '../ticket.ts';
import type { ApartLook, CommonData } from './data-common.ts';

export type EvacuateData = CommonData & {
  readonly stage: 'evacuate';
  readonly step: 'join' | 'pump' | 'apart';
  readonly pumpingSinceMs: number | undefined;
  /** Time at vacuum gathered before a pause. */
  readonly pumpedMs: number;
  readonly lowestPa: number | undefined;
  readonly plateauFromPa: number | undefined;
  readonly plateauSinceMs: number;
  readonly plateau: boolean;
  /** Looks one after the other at which the pressure hardly fell; and that boiling water was told. */
  readonly flatLooks: number;
  readonly boilingTold: boolean;
  /** Whether the machine itself lets in, while that is being looked at. */
  readonly apart: ApartLook | undefined;
  /** It was: early on, and before boiling water is told. */
  readonly early: boolean;
  readonly boilingLooked: boolean;
  /** Of the manifold while it was pumped without a break. */
  readonly lowestManifoldPa: number | undefined;
  /** To where the pressure has come back from a vacuum. */
  readonly cameBackPa: number | undefined;
};

export type HoldData = CommonData & {
  readonly stage: 'hold';
  readonly step: 'isolate' | 'equalise' | 'watch' | 'apart';
  /** Samples of the thermal sensor; none where it is not fitted or has left its range. */
  readonly thermalPa: readonly number[] | undefined;
  readonly manifoldPa: readonly number[];
  /** Readings that will make the next sample. */
  readonly sums: {
    readonly thermalPa: number;
    readonly thermalReadings: number;
    readonly manifoldPa: number;
    readonly manifoldReadings: number;
    readonly scans: number;
  };
  readonly sampledAtMs: number;
  readonly lastSeenMs: number;
  /** The first look was inconclusive. */
  readonly extended: boolean;
  /** Once in a hold, before a vehicle is accused: whether the machine itself lets in. */
  readonly apart: ApartLook | undefined;
};

export type AddOilData = CommonData & {
  readonly stage: 'add-oil';
  readonly step: 'read' | 'open' | 'dose' | 'run-in';
  /** What it draws in now, or has looked for last. */
  readonly liquid: Liquid;
  /** Its bottle has been filled since it ran dry. */
  readonly filled: boolean;
  /** What this visit has added of it. */
  readonly givenM3: number;
  readonly flowM3PerS: number;
  readonly doseMs: number;
  readonly fromPa: number;
};
