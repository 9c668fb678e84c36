// What each stage remembers while it runs. Times are scan times in milliseconds.
import type { Weighing } from '../estimates/masses.ts';
import type { Stage } from '../stages.ts';

/** Gathers the mean of quiet counts. */
export type WeighingInProgress = {
  readonly sinceMs: number;
  readonly quietSinceMs: number;
  readonly samples: number;
  readonly sum: number;
  readonly lastAtMs: number;
};

type Common = {
  /** Moved on by the length of a pause, so that a pause costs no time. */
  readonly sinceMs: number;
  readonly stepSinceMs: number;
};

export type IdentifyData = Common & { readonly stage: 'identify'; readonly step: 'ask' };

export type SettleData = Common & {
  readonly stage: 'settle';
  readonly step: 'weigh' | 'connect' | 'look' | 'join' | 'weigh-connected';
  readonly weighing: WeighingInProgress | undefined;
};

export type RecoverData = Common & {
  readonly stage: 'recover';
  readonly step: 'draw' | 'weigh';
  readonly compressorSinceMs: number | undefined;
  readonly lowSinceMs: number | undefined;
  readonly dryLowSinceMs: number | undefined;
  readonly stagnantSinceMs: number | undefined;
  readonly fanStopped: boolean;
  readonly why: RunEnd | undefined;
  readonly weighing: WeighingInProgress | undefined;
};
/** Why a recovery run ended. */
export type RunEnd = 'drawn-down' | 'trickle' | 'stagnant' | 'run-time' | 'held-back';

export type RestData = Common & {
  readonly stage: 'rest';
  readonly step: 'open' | 'weigh';
  /** Pressure once hoses and vehicle are one, and every few seconds since. */
  readonly samplesPa: readonly number[];
  readonly sampledAtMs: number;
  readonly verdict: RestVerdict | undefined;
  readonly weighing: WeighingInProgress | undefined;
};
export type RestVerdict = 'rose' | 'rose-slightly' | 'stayed-low';

export type EvacuateData = Common & {
  readonly stage: 'evacuate';
  readonly step: 'join' | 'pump';
  readonly pumpingSinceMs: number | undefined;
  /** Time at vacuum gathered before a pause. */
  readonly pumpedMs: number;
  readonly lowestPa: number | undefined;
  readonly plateauFromPa: number | undefined;
  readonly plateauSinceMs: number;
  readonly plateau: boolean;
};

export type HoldData = Common & {
  readonly stage: 'hold';
  readonly step: 'isolate' | 'equalise' | 'watch';
  readonly sensor: 'vehicleVacuumPa' | 'manifoldPa';
  readonly samplesPa: readonly number[];
  readonly sampledAtMs: number;
  readonly lastSeenMs: number;
  /** The first look was inconclusive. */
  readonly extended: boolean;
};

export type ChargeData = Common & {
  readonly stage: 'charge';
  readonly step: 'weigh' | 'full' | 'settle' | 'pulse' | 'blow-down' | 'weigh-after';
  readonly weighing: WeighingInProgress | undefined;
  readonly reference: Weighing | undefined;
  readonly targetKg: number;
  readonly peakFlowKgPerS: number;
  readonly stallSinceMs: number | undefined;
  readonly stalledMs: number;
  readonly told: readonly string[];
  /** When the rig shuts the valve by a countdown under way: from then on it stays shut until told off. */
  readonly shutDueMs: number | undefined;
  /** Delivered when the valve was last told to shut. */
  readonly deliveredAtShutKg: number;
  /** Length of the pulse whose yield is not learnt yet; zero when there is none. */
  readonly pulseMs: number;
  readonly kgPerMs: number;
  readonly pulses: number;
  /** Sum and number of delivered readings while settled. */
  readonly settledKg: number;
  readonly settledSamples: number;
  /** What the vehicle's pressure was when the hose had blown down before the first pulse. */
  readonly vehiclePa: number | undefined;
  readonly result: 'charged' | 'stalled' | 'no-response' | 'scale-lost' | undefined;
};

export type RecoverHosesData = Common & {
  readonly stage: 'recover-hoses';
  readonly step: 'close' | 'look' | 'draw' | 'rest' | 'weigh' | 'disconnect';
  readonly weighing: WeighingInProgress | undefined;
  readonly draws: number;
  readonly fanStopped: boolean;
  readonly startPa: number | undefined;
  readonly compressorSinceMs: number | undefined;
  readonly lowSinceMs: number | undefined;
  readonly restFromPa: number | undefined;
  /** Pressure of the hoses when they were last joined to the absolute sensor. */
  readonly restToPa: number | undefined;
};

export type StageData =
  | IdentifyData
  | SettleData
  | RecoverData
  | RestData
  | EvacuateData
  | HoldData
  | ChargeData
  | RecoverHosesData;

export type DataOf<S extends Stage> = Extract<StageData, { readonly stage: S }>;
