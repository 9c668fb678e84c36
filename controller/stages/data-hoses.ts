// What the stages remember that empty the hoses at the end.
import type { DrawCount } from '../estimates/condenser.ts';
import type { CommonData, WeighingInProgress } from './data-common.ts';

/** What the raw scale showed without the force of the hoses, and their pressure then. */
export type JoinedLook = { readonly kg: number; readonly hosePa: number; readonly atMs: number };

export type ClearHosesData = CommonData & {
  readonly stage: 'clear-hoses';
  readonly step: 'close' | 'look' | 'join' | 'poured' | 'watch' | 'tell';
  readonly asks: number;
  readonly joins: number;
  /** High and low hose when the coupler was said to be closed. */
  readonly startHighPa: number;
  readonly startLowPa: number;
  /** The last looks at the raw scale while the hoses are joined, oldest first. */
  readonly looks: readonly JoinedLook[];
  /** High hose when it was cut off from the low side. */
  readonly watchFromPa: number;
};

export type RecoverHosesData = CommonData & {
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
  /** What the scale showed when the draw was begun; absent where it was not to be trusted. */
  readonly startKg: number | undefined;
  readonly compressorSinceMs: number | undefined;
  readonly lowSinceMs: number | undefined;
  readonly restFromPa: number | undefined;
  /** Pressure of the hoses when they were last joined to the absolute sensor. */
  readonly restToPa: number | undefined;
};
