// Everything the controller remembers between scans: plain data that can be saved, restored and compared.

import type { ChartState } from './chart-state.ts';
import type { Equipment } from './equipment.ts';
import type { LossJudged } from './estimates/abnormal-loss.ts';
import type { HoldCause, HoldVerdict } from './estimates/hold-verdict.ts';
import type { Joined } from './estimates/joined.ts';
import type { Kept } from './estimates/kept.ts';
import type { HoseForce, Weighing } from './estimates/masses.ts';
import type { PerformanceVerdict } from './estimates/performance.ts';
import type { PressureWatch } from './estimates/pressure-watch.ts';
import type { Path, ScaleState } from './estimates/scale-state.ts';
import type { Seen } from './estimates/seen.ts';
import type { Trend } from './estimates/trend.ts';
import type { ZeroDrift } from './estimates/zero-drift.ts';
import type { Bands } from './interlocks/bands.ts';
import type { Fitting } from './interlocks/interlock.ts';
import type { Memory } from './interlocks/memory.ts';
import type { Refusal } from './interlocks/permit.ts';
import type { Remembered } from './interlocks/remembered.ts';
import type { LedgerEntry } from './ledger.ts';
import type { Notice } from './notice.ts';
import type { Identification, IdentificationOverridden, Prompt } from './operator.ts';
import type { Plan } from './plan.ts';
import type { Commands } from './signals.ts';
import type { StageData } from './stages/data.ts';
import type { Stage } from './stages.ts';
import type { ByHand, HandEntry } from './wishes.ts';

export type Estimates = {
  readonly scale: ScaleState;
  readonly drift: ZeroDrift;
  /** The cell of the scale above the room. */
  readonly cellWarmerK: number;
  readonly joined: Joined;
  /** Since when the rig has said nothing at all. */
  readonly silentSinceMs: number | undefined;
  readonly path: Path;
  readonly pathChangedAtMs: number;
  /** Since when the compressor runs. */
  readonly drawsSinceMs: number | undefined;
  /** Manifold absolute pressure with its rate; absent while the absolute sensor has no value. */
  readonly manifold: Trend | undefined;
  /** Both gauges, whatever is known of the vehicle's pressure, with its rate. */
  readonly circuit: Trend | undefined;
};

/** What one stage leaves for the others and for the record. */
export type Accounts = {
  /** The newest weighing: booked masses run from one to the next. */
  readonly weighed: Weighing | undefined;
  readonly hoseForce: HoseForce;
  readonly cycles: readonly Cycle[];
  readonly recoveryStartedAtMs: number | undefined;
  /** Where the recovered mass counts from. */
  readonly weighedFirst: Weighing | undefined;
  /** How far the tank stood above saturation before anything moved: offsets and old air. */
  readonly tankExcessFirstPa: number | undefined;
  readonly recoveredKg: number | undefined;
  /** k = 2. */
  readonly recoveredUncertaintyKg: number | undefined;
  /** Of the recovered mass: what hoses and machine held under pressure when it was booked last, by estimate. */
  readonly underPressureKg: number;
  /** The time between the weighings that the recovered mass comes from. */
  readonly recoveredOverMs: number;
  readonly chargedKg: number | undefined;
  /** Let off with the tank's air. */
  readonly purgedKg: number | undefined;
  readonly hoseRecoveredKg: number | undefined;
  /** The weighing before the charge: the net charge is the difference across charge and hose recovery. */
  readonly weighedBeforeCharge: Weighing | undefined;
  readonly netChargeKg: number | undefined;
  readonly uncertaintyKg: number | undefined;
  /** Refrigerant has gone where no weighing counts it: what vehicle or cylinder holds is not stated. */
  readonly lostTrack: boolean;
  readonly evacuation: { readonly lowestPa: number; readonly minutes: number } | undefined;
  readonly evacuations: number;
  readonly hold: HoldAccount | undefined;
  /** Slope of the first hold that looked like a leak, Pa/s: a later one must agree. */
  readonly suspected: number | undefined;
  /** What the tank has gained from a supply cylinder, by the scale. */
  readonly fill: FillAccount | undefined;
  readonly targetKg: number | undefined;
  /** A sample was taken of a vehicle in which no pressure was found: the hoses may never have been joined to it. */
  readonly emptyYetSampled: boolean;
  /** What the scale may have moved by of itself once the charge was over; absent where it stood still. */
  readonly scaleMovesKg: number | undefined;
  /** Liquid that the last draw left in the condenser, by estimate. */
  readonly kept: Kept;
  /** The same when the tank was weighed before the charge. */
  readonly keptBeforeCharge: Kept | undefined;
  readonly oil: OilAccount;
  readonly dye: BottleAccount;
  readonly leakCheck: LeakCheckAccount | undefined;
  /** What had come out of the vehicle before a leak check let refrigerant in, once that is being taken back. */
  readonly recoveryBefore: RecoveryAccount | undefined;
  readonly performance: PerformanceAccount | undefined;
  /** Since a repair was begun: the vehicle counts as opened from then on. */
  readonly repair: RepairAccount | undefined;
  /** Absent while nobody has identified anything, and in a service that draws nothing. */
  readonly identification: IdentificationAccount | undefined;
  /** The running engine has sucked the hoses dry. */
  readonly hosesCleared: boolean;
  /** The hoses were said to be safe to take off, and that has not been taken back. */
  readonly hosesSafe: boolean;
  /** The engine was to suck the hoses dry and will not: the test has shown that it does not pump, or must not. */
  readonly engineOfNoHelp: boolean;
  /** What the high-side transducer shows too much, learnt under vacuum against the absolute sensor. */
  readonly highSideZeroPa: number;
};

/** Uncertainties with k = 2. */
export type FillAccount = {
  readonly kg: number;
  readonly uncertaintyKg: number;
  /** Where the cylinder's content before was given. */
  readonly leftInCylinderKg?: number;
  readonly leftUncertaintyKg?: number;
};

export type IdentificationAccount =
  | ({ readonly verdict: 'accepted' | 'contaminated' } & Identification)
  | ({ readonly verdict: 'overridden' } & Pick<IdentificationOverridden, 'why' | 'reason'>);

/** What has come out of one bottle. */
export type BottleAccount = {
  readonly injectedM3?: number;
  /** Of the injected volume; k = 2. */
  readonly injectedUncertaintyM3?: number;
  /** How often the bottle ran dry. */
  readonly emptied: number;
};

export type OilAccount = BottleAccount & {
  /** When the drain of the separator last shut; absent while nothing was drained. */
  readonly drainedAtMs?: number;
  /** As read off the catch bottle. */
  readonly drainedM3?: number;
};

export type PerformanceAccount = {
  readonly verdict: PerformanceVerdict;
  readonly highPa: number;
  readonly lowPa: number;
  readonly ventK?: number;
  readonly ambientK: number;
};

export type RepairAccount = {
  readonly why: 'asked' | 'abnormal-loss' | 'came-empty';
  /** What the vehicle had lost when it came, where it was recovered. */
  readonly loss?: LossJudged;
  /** When the word that it is mended was found to agree with the pressures. */
  readonly confirmedAtMs?: number;
};

export type LeakCheckAccount = {
  /** By the detector; absent when no search came to an end. */
  readonly found?: boolean;
  /** What left the tank for it; absent where the vehicle was searched as it stood. */
  readonly admittedKg?: number;
  readonly watch?: PressureWatch;
};

export type RecoveryAccount = Pick<
  Accounts,
  'cycles' | 'recoveredKg' | 'recoveredUncertaintyKg' | 'recoveredOverMs'
>;

/** `unrested`: its draw went on where a rest was due, and told that liquid is trapped. */
export type Cycle = {
  readonly recoveredKg: number;
  readonly restRisePa?: number;
  readonly unrested?: true;
};

export type HoldAccount = {
  readonly verdict: HoldVerdict;
  /** What gives off the gas, where it is outgassing. */
  readonly cause?: HoldCause;
  readonly slopePaPerS: number;
  readonly plateauPa: number;
  readonly detectionLimitKgPerYear: number;
};

/** One stage carried out, from entry to exit. */
export type Visit = {
  readonly stage: Stage;
  readonly startedAtMs: number;
  readonly endedAtMs?: number;
  readonly result?: string;
};

export type ControllerState = {
  readonly plan: Plan;
  readonly equipment: Equipment;
  readonly fitting: Fitting;
  readonly chart: ChartState;
  readonly stage: StageData | undefined;
  /** Since when the job has been paused or tripped. */
  readonly haltedAtMs: number | undefined;
  readonly prompt: Prompt | undefined;
  readonly seen: Seen | undefined;
  readonly estimates: Estimates;
  readonly accounts: Accounts;
  readonly memory: Memory;
  readonly judged: Judged | undefined;
  /** Since when an interlock has held back something the sequence wants, and whether that was told. */
  readonly held: { readonly sinceMs: number; readonly told: boolean } | undefined;
  /** Present while the operator works the machine by hand. */
  readonly byHand: ByHand | undefined;
  readonly handJournal: readonly HandEntry[];
  readonly visits: readonly Visit[];
  readonly notices: readonly Notice[];
  readonly ledger: readonly LedgerEntry[];
};

/** The last judgement of the interlocks, reused while nothing that they read has changed. */
export type Judged = {
  readonly wanted: Commands;
  readonly bands: Bands;
  readonly remembered: Remembered;
  readonly permitted: Commands;
  readonly refusals: readonly Refusal[];
};
