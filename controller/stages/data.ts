// What each stage remembers while it runs. Times are scan times in milliseconds.
import type { DrawCount } from '../estimates/condenser.ts';
import type { FallingHose, Weighing } from '../estimates/masses.ts';
import type { Look } from '../estimates/pressure-watch.ts';
import type { Trend } from '../estimates/trend.ts';
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

/** The manifold shut off from everything, to see whether the machine itself lets in. */
export type ApartLook = {
  readonly sinceMs: number;
  /** The pressure once the valves had shut; absent until then, and where the absolute sensor has no value. */
  readonly fromPa: number | undefined;
};

export type IdentifyData = Common & { readonly stage: 'identify'; readonly step: 'ask' };

export type FillData = Common & {
  readonly stage: 'fill';
  readonly step: 'weigh' | 'connect' | 'look' | 'weigh-connected' | 'draw' | 'rest' | 'weigh-after';
  readonly weighing: WeighingInProgress | undefined;
  readonly targetKg: number;
  readonly compressorSinceMs: number | undefined;
  readonly fanStopped: boolean;
  /** Length of the openings, the last one's beginning, and how many there were. */
  readonly openMs: number;
  readonly openedAtMs: number;
  readonly openings: number;
  readonly why: FillEnd | undefined;
};
/** Why no more is drawn from the cylinder. */
export type FillEnd = 'filled' | 'cylinder-empty' | 'air' | 'stalled' | 'held-back' | 'out-of-time';

export type PurgeAirData = Common & {
  readonly stage: 'purge-air';
  readonly step: 'look' | 'weigh' | 'ask' | 'burst' | 'rest' | 'weigh-after';
  readonly weighing: WeighingInProgress | undefined;
  /** Before the first opening. */
  readonly before: Weighing | undefined;
  readonly bursts: number;
};

export type SettleData = Common & {
  readonly stage: 'settle';
  readonly step:
    | 'weigh'
    | 'flush'
    | 'connect'
    | 'look'
    | 'join'
    | 'warm'
    | 'warm-stop'
    | 'apart'
    | 'weigh-connected';
  readonly weighing: WeighingInProgress | undefined;
  /** Before a vehicle is said to be under pressure: whether the machine itself lets in. */
  readonly apart: ApartLook | undefined;
  /** The engine has run, and stands again; that it stands was asked for by itself. */
  readonly warmed: boolean;
  readonly stopAsked: boolean;
  /** How far apart the sides were at the word that it stands. */
  readonly apartPa: number;
  /** Since when the running engine has parted the sides, and which notices of that have been given. */
  readonly partedSinceMs: number | undefined;
  readonly warmTold: readonly string[];
};

export type RecoverData = Common & {
  readonly stage: 'recover';
  readonly step: 'draw' | 'weigh';
  readonly compressorSinceMs: number | undefined;
  readonly lowSinceMs: number | undefined;
  readonly dryLowSinceMs: number | undefined;
  readonly stagnantSinceMs: number | undefined;
  readonly fanStopped: boolean;
  readonly count: DrawCount;
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

export type DrainOilData = Common & {
  readonly stage: 'drain-oil';
  readonly step: 'look' | 'pulse' | 'ease' | 'drain' | 'weigh' | 'return' | 'weigh-return';
  /** Pulses of the charge valve that raised the separator, the length of the last one, and what a millisecond brings. */
  readonly pulses: number;
  readonly pulseMs: number;
  readonly paPerMs: number;
  /** The command of the step has been given. */
  readonly fired: boolean;
  /** The separator's pressure before the last pulse of either valve. */
  readonly fromPa: number | undefined;
  /** The pressure a moment ago: has it come to rest? */
  readonly markPa: number | undefined;
  readonly markAtMs: number;
  /** For the mean before and after an opening of the drain. */
  readonly sumPa: number;
  readonly samples: number;
  /** How often the drain has been opened. */
  readonly openings: number;
  readonly why: 'drained' | 'dry' | 'not-empty' | 'no-pressure' | undefined;
  /** Tank mass that raised the separator. */
  readonly givenKg: number;
  readonly fanStopped: boolean;
  readonly weighing: WeighingInProgress | undefined;
};

export type RepairData = Common & {
  readonly stage: 'repair';
  readonly step: 'look' | 'wait' | 'check' | 'weigh';
  /** What each gauge shows too much, learnt while the vehicle was joined to the absolute sensor. */
  readonly highZeroPa: number | undefined;
  readonly lowZeroPa: number | undefined;
  /** A side stands above the atmosphere. */
  readonly back: boolean;
  /** What follows the weighing. */
  readonly follows: 'evacuate' | 'recover';
  readonly weighing: WeighingInProgress | undefined;
};

export type EvacuateData = Common & {
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
  /** Before that is told: whether the machine itself lets in. */
  readonly apart: ApartLook | undefined;
};

export type HoldData = Common & {
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

export type AddOilData = Common & {
  readonly stage: 'add-oil';
  readonly step: 'read' | 'open' | 'dose' | 'run-in';
  /** The bottle has been filled since it ran dry. */
  readonly filled: boolean;
  /** What this visit has added. */
  readonly givenM3: number;
  readonly flowM3PerS: number;
  readonly doseMs: number;
  readonly fromPa: number;
};

/** The end of a charge whose hoses no engine sucks dry: they are drawn back, and a little of the vehicle's vapour with them. */
export type DrawBackStep = 'draw-manifold' | 'draw-hose' | 'pump-out' | 'prove-dry' | 'weigh-drawn';
export type DrawBack = {
  readonly count: DrawCount;
  readonly startedAtMs: number | undefined;
  readonly fanStopped: boolean;
  /** To be taken through the high-side valve, and what had been drawn before it first opened. */
  readonly takeKg: number;
  readonly fromKg: number;
  readonly openedAtMs: number | undefined;
  /** Manifold when it was last left to itself, and how often it was. */
  readonly provenFromPa: number | undefined;
  readonly proofs: number;
  /** How often a shortage was made good, and an excess drawn since, by what a weighing in between has shown. */
  readonly refills: number;
  readonly draws: number;
};

/** Waiting with every valve shut for the tank to stand above the vehicle again. */
export type AssistStep = 'cushion' | 'weigh-still' | 'heat' | 'weigh-again';
/** The running engine sucks the rest in, pulse by pulse. */
export type EngineStep =
  | 'clear-manifold'
  | 'prove-shut'
  | 'start-engine'
  | 'engine-runs'
  | 'engine-look'
  | 'engine-pulse'
  | 'engine-draw';
export type EngineHelp = {
  /** Of the run that cleared the manifold, and that it has begun. */
  readonly count: DrawCount;
  readonly fanStopped: boolean;
  readonly drew: boolean;
  readonly startedAtMs: number | undefined;
  /** Pulses to be given before the next look, and given since the last. */
  readonly left: number;
  readonly fired: number;
  readonly yieldKg: number;
  /** Delivered at the last look; sum and number of readings of this one. */
  readonly fromKg: number;
  readonly sumKg: number;
  readonly samples: number;
};

export type ChargeAssist = {
  /** How often the charge had to wait, this time included, and how long it has waited before this time. */
  readonly rounds: number;
  readonly spentMs: number;
  readonly sinceMs: number;
  /** What had been delivered when the wait began. */
  readonly fromKg: number;
  /** The tank as the wait began. Nothing moves, so whatever the scale shows more at its end is no refrigerant. */
  readonly still: Weighing | undefined;
  readonly helped: boolean;
  /** The heater is on; else the vehicle cools. */
  readonly heats: boolean;
  /** Tank less high side when both were one: what their sensors differ by. */
  readonly evenPa: number;
  /** Tank, and its lead over the vehicle, at the last look at what the wait brings. */
  readonly markPa: number | undefined;
  readonly markGapPa: number | undefined;
  readonly markAtMs: number;
};

export type ChargeData = Common & {
  readonly stage: 'charge';
  /** The whole charge, or a part of it for a leak check to search with. */
  readonly part: 'whole' | 'partial';
  readonly step:
    | 'weigh'
    | AssistStep
    | EngineStep
    | 'full'
    | 'settle'
    | 'pulse'
    | 'blow-down'
    | 'weigh-after'
    | DrawBackStep;
  readonly weighing: WeighingInProgress | undefined;
  readonly reference: Weighing | undefined;
  readonly targetKg: number;
  readonly peakFlowKgPerS: number;
  /** Since when less flows than liquid would bring. */
  readonly slowSinceMs: number | undefined;
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
  /** Readings since the valve shut, for the force of the hoses. */
  /** Decided once, before anything is given: no engine will suck the hoses dry. */
  readonly drawsBack: boolean;
  readonly drawBack: DrawBack | undefined;
  /** What the tank must have given when a shortage is made good, before the hoses are drawn back again. */
  readonly topUpKg: number | undefined;
  /** The most that has been delivered so far: less shows that it runs back. */
  readonly mostKg: number;
  /** Low side before anything was given. */
  readonly lowFromPa: number | undefined;
  readonly assist: ChargeAssist | undefined;
  readonly engineHelp: EngineHelp | undefined;
  /** Delivered when the pulses were last looked at. */
  readonly pulsedKg: number;
  readonly falling: FallingHose;
  /** Paused once on the way to learn it. */
  readonly paused: boolean;
  readonly result: 'charged' | 'stalled' | 'no-response' | 'scale-lost' | undefined;
};

export type LeakCheckData = Common & {
  readonly stage: 'leak-check';
  readonly step: 'admit' | 'settle' | 'search' | 'weigh';
  /** The partial charge under way, or as it ended; none for a vehicle that is searched as it stands. */
  readonly admission: ChargeData | undefined;
  /** The lowest of the vehicle's gauges; absent while one of them has no value. */
  readonly vehicle: Trend | undefined;
  /** When the question was asked, and now. */
  readonly from: Look | undefined;
  readonly to: Look | undefined;
  /** When the vehicle's pressure was last known. */
  readonly seenAtMs: number;
  /** What the search has come to, while the tank is weighed before what was let in goes back. */
  readonly ending: 'search-found' | 'search-clear' | undefined;
  readonly weighing: WeighingInProgress | undefined;
};

export type VerifyData = Common & {
  readonly stage: 'verify';
  readonly step: 'prove' | 'start' | 'run';
  /** Since when valves, scale and sides have been as they must be before an engine starts. */
  readonly provenSinceMs: number | undefined;
  readonly highPa: readonly number[];
  readonly lowPa: readonly number[];
  readonly sampledAtMs: number;
};

export type ClearHosesData = Common & {
  readonly stage: 'clear-hoses';
  readonly step: 'close' | 'look' | 'join' | 'watch' | 'tell';
  readonly asks: number;
  readonly joins: number;
  /** High and low hose when the coupler was said to be closed. */
  readonly startHighPa: number;
  readonly startLowPa: number;
  /** High hose when it was cut off from the low side. */
  readonly watchFromPa: number;
};

export type RecoverHosesData = Common & {
  readonly stage: 'recover-hoses';
  readonly step:
    | 'close'
    | 'stop-engine'
    | 'standstill'
    | 'look'
    | 'draw'
    | 'apart'
    | 'rest'
    | 'weigh'
    | 'read-oil'
    | 'hand-over';
  readonly weighing: WeighingInProgress | undefined;
  /** How far apart the sides were when the engine was said to stand still, and that it was doubted. */
  readonly apartPa: number;
  readonly stopDoubted: boolean;
  readonly draws: number;
  readonly fanStopped: boolean;
  readonly count: DrawCount;
  readonly startPa: number | undefined;
  readonly compressorSinceMs: number | undefined;
  readonly lowSinceMs: number | undefined;
  readonly restFromPa: number | undefined;
  /** Pressure of the hoses when they were last joined to the absolute sensor. */
  readonly restToPa: number | undefined;
};

export type StageData =
  | IdentifyData
  | FillData
  | PurgeAirData
  | SettleData
  | RecoverData
  | RestData
  | DrainOilData
  | RepairData
  | EvacuateData
  | HoldData
  | AddOilData
  | LeakCheckData
  | ChargeData
  | VerifyData
  | ClearHosesData
  | RecoverHosesData;

export type DataOf<S extends Stage> = Extract<StageData, { readonly stage: S }>;
