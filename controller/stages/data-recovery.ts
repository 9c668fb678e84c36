// What the stages of the recovery remember: from the first look at the vehicle to its repair.
import type { DrawCount } from '../estimates/condenser.ts';
import type { Seen } from '../estimates/seen.ts';
import type { SuctionFall } from '../estimates/suction-fall.ts';
import type { ApartLook, CommonData, WeighingInProgress } from './data-common.ts';

export type SettleData = CommonData & {
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
    | 'pulse'
    | 'weigh-connected';
  readonly weighing: WeighingInProgress | undefined;
  /** Before a vehicle is said to be under pressure: whether the machine itself lets in. */
  readonly apart: ApartLook | undefined;
  /** The high-side valve opened alone for a moment: which side answers. */
  readonly pulseTest: PulseTest | undefined;
  /** The engine has run, and stands again; that it stands was asked for by itself. */
  readonly warmed: boolean;
  readonly stopAsked: boolean;
  /** How far apart the sides were at the word that it stands. */
  readonly apartPa: number;
  /** Since when the running engine has parted the sides, and which notices of that have been given. */
  readonly partedSinceMs: number | undefined;
  readonly warmTold: readonly string[];
};

/** Both sides when the valve opened, and the lowest that each has come to since. */
export type PulseTest = {
  readonly highFromPa: number;
  readonly lowFromPa: number;
  readonly highLowestPa: number;
  readonly lowLowestPa: number;
};

export type RecoverData = CommonData & {
  readonly stage: 'recover';
  readonly step: 'draw' | 'weigh';
  /** Since when the vehicle stands open to the compressor that is about to start. */
  readonly openSinceMs: number | undefined;
  readonly compressorSinceMs: number | undefined;
  readonly lowSinceMs: number | undefined;
  readonly dryLowSinceMs: number | undefined;
  readonly stagnantSinceMs: number | undefined;
  /** The first run goes on where a rest was due: liquid is trapped, and much of it. That has been told. */
  readonly unrested: boolean;
  readonly fanStopped: boolean;
  readonly fall: SuctionFall;
  readonly count: DrawCount;
  readonly why: RunEnd | undefined;
  readonly weighing: WeighingInProgress | undefined;
};

/** Why a recovery run ended. */
export type RunEnd = 'drawn-down' | 'trickle' | 'stagnant' | 'run-time' | 'held-back';

export type RestData = CommonData & {
  readonly stage: 'rest';
  readonly step: 'open' | 'weigh';
  /** Pressure once hoses and vehicle are one, and every few seconds since. */
  readonly samplesPa: readonly number[];
  readonly sampledAtMs: number;
  readonly verdict: RestVerdict | undefined;
  readonly weighing: WeighingInProgress | undefined;
};

export type RestVerdict = 'rose' | 'rose-slightly' | 'stayed-low';

/** The closed manifold and the hoses behind its valves. */
export type Around = Pick<Seen, 'manifoldPa' | 'highSidePa' | 'lowSidePa'>;
/** Pulses that came up in a hose almost as they did in the manifold. */
export type PassedOn = { readonly highSide: number; readonly lowSide: number };

export type DrainOilData = CommonData & {
  readonly stage: 'drain-oil';
  readonly step: 'look' | 'pulse' | 'ease' | 'drain' | 'weigh' | 'return' | 'weigh-return';
  /** Pulses of the charge valve that raised the separator, the length of the last one, and what a millisecond brings. */
  readonly pulses: number;
  readonly pulseMs: number;
  readonly paPerMs: number;
  /** What the last pulse made of the closed manifold, and how many showed the recovery valve shut, or open, behind it. */
  readonly closedPa: number | undefined;
  readonly seenShut: number;
  readonly seenOpen: number;
  /** What was seen when it was given, and which hoses have followed such pulses. */
  readonly pulsedFrom: Around | undefined;
  readonly passed: PassedOn;
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
  readonly why: 'drained' | 'dry' | 'not-empty' | 'no-pressure' | 'passed-on' | undefined;
  /** Tank mass that raised the separator. */
  readonly givenKg: number;
  readonly fanStopped: boolean;
  readonly weighing: WeighingInProgress | undefined;
};

export type RepairData = CommonData & {
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
