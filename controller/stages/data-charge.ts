// What the charge remembers, and each of the ways in which it is helped along.
import type { DrawCount } from '../estimates/condenser.ts';
import type { FallingHose, Weighing } from '../estimates/masses.ts';
import type { CommonData, WeighingInProgress } from './data-common.ts';

/** The end of a charge whose hoses no engine sucks dry: they are drawn back, and a little of the vehicle's vapour with them. */
export type DrawBackStep =
  | 'draw-manifold'
  | 'draw-hose'
  | 'pump-out'
  | 'stand-apart'
  | 'prove-dry'
  | 'weigh-drawn';

export type DrawBack = {
  readonly count: DrawCount;
  readonly startedAtMs: number | undefined;
  readonly fanStopped: boolean;
  /** To be taken through the high-side valve, and what had been drawn before it first opened. */
  readonly takeKg: number;
  readonly fromKg: number;
  readonly openedAtMs: number | undefined;
  readonly openedForMs: number;
  /** Manifold when it was last left to itself, and how often it was. */
  readonly provenFromPa: number | undefined;
  readonly proofs: number;
  /** How often a shortage was made good, and an excess drawn since, by what a weighing in between has shown. */
  readonly refills: number;
  readonly draws: number;
  /**
   * What the hoses were reckoned to hold when the draw began; absent where an engine has moved what the charge had left in
   * them. And what was too much in the vehicle after the first go.
   */
  readonly heldKg: number | undefined;
  readonly firstExcessKg: number | undefined;
  /** When the draw began, the scale left it open whether the charge valve was shut. */
  readonly seatDoubted: boolean;
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

/** What the hose stands below the tank by, smoothed: now, at the least and most, and at the most since the flow has surely ended. */
export type FlowGap = {
  readonly pa: number;
  readonly leastPa: number;
  readonly mostPa: number;
  readonly stalledPa: number | undefined;
};

export type ChargeData = CommonData & {
  readonly stage: 'charge';
  /** The whole charge, or a part of it for a leak check to search with. */
  readonly part: 'whole' | 'partial';
  readonly step:
    | 'weigh'
    | AssistStep
    | EngineStep
    | 'look'
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
  /** Tank less high side within this opening; absent while one of them has no value. */
  readonly gap: FlowGap | undefined;
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
  /** Readings since the valve shut, for the force of the hoses. */
  readonly falling: FallingHose;
  /** What both sides showed a while ago; absent before the charge valve was shut for the first time. */
  readonly stood: { readonly atMs: number; readonly highPa: number; readonly lowPa: number } | undefined;
  /** Paused once on the way to learn it. */
  readonly paused: boolean;
  readonly result: 'charged' | 'stalled' | 'no-response' | 'valve-open' | 'scale-lost' | undefined;
};
