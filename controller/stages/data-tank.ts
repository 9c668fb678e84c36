// What the stages remember that look after refrigerant and tank before a vehicle is joined.
import type { Weighing } from '../estimates/masses.ts';
import type { CommonData, WeighingInProgress } from './data-common.ts';

export type IdentifyData = CommonData & { readonly stage: 'identify'; readonly step: 'ask' };

export type FillData = CommonData & {
  readonly stage: 'fill';
  readonly step:
    | 'weigh'
    | 'connect'
    | 'look'
    | 'weigh-connected'
    | 'draw'
    | 'steady'
    | 'pause'
    | 'rest'
    | 'weigh-after';
  readonly weighing: WeighingInProgress | undefined;
  readonly targetKg: number;
  readonly compressorSinceMs: number | undefined;
  readonly fanStopped: boolean;
  /** Length of the openings, the last one's beginning, and how many there were. */
  readonly openMs: number;
  readonly openedAtMs: number;
  readonly openings: number;
  /** What the tank had gained by then. */
  readonly openedKg: number;
  /** Since when it draws without having looked at the scale at rest. */
  readonly drawnSinceMs: number;
  readonly why: FillEnd | undefined;
};

/** Why no more is drawn from the cylinder. */
export type FillEnd =
  | 'filled'
  | 'cylinder-empty'
  | 'air'
  | 'stalled'
  | 'valve-open'
  | 'held-back'
  | 'scale-drifts'
  | 'out-of-time';

export type PurgeAirData = CommonData & {
  readonly stage: 'purge-air';
  readonly step: 'look' | 'weigh' | 'ask' | 'burst' | 'rest' | 'weigh-after';
  readonly weighing: WeighingInProgress | undefined;
  /** Before the first opening. */
  readonly before: Weighing | undefined;
  readonly bursts: number;
};
