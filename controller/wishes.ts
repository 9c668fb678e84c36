// What is remembered of work by hand: the wishes that stand, what has fallen, and the journal.
import type { Reason } from './interlocks/reason.ts';
import type { OperatorEvent } from './operator.ts';
import type { Command, Commands, Output } from './signals.ts';

export type Wished = Extract<OperatorEvent, { type: 'wished' }>;

export type Wish = {
  readonly output: Output;
  readonly command: Command;
  readonly untilMs: number;
  /** The operator gave the time: its end surprises nobody. */
  readonly timed: boolean;
};

/** An output that an interlock took away; it stays off until it is wished again. */
export type Fallen = { readonly output: Output; readonly reason: Reason; readonly atMs: number };

export type ByHand = {
  readonly sinceMs: number;
  /** At most one of each output. */
  readonly wishes: readonly Wish[];
  /** Made of the wishes; the same object until they change. */
  readonly wanted: Commands;
  /** The first reason of each output that has fallen. */
  readonly fallen: readonly Fallen[];
  /** To be obeyed in the next scan: an output must be off for one before a rig starts it anew. */
  readonly next: readonly Wished[];
};

/** What was done by hand and what came of it. `fell`: an interlock took it away; `expired`: its time was up. */
export type HandEntry = {
  readonly atMs: number;
  readonly deed: 'begun' | 'on' | 'off' | 'all-off' | 'ended';
  readonly result: 'done' | 'permitted' | 'refused' | 'fell' | 'expired';
  readonly output?: Output;
  /** As it was asked for. */
  readonly offAfterMs?: number;
  readonly reason?: Reason;
};
