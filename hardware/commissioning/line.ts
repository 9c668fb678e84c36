// What a line of commissioning is: a list of moves, each a small pure step, with tolerance, validity and remedy beside it.
import type { Output, Readings } from '../../controller/signals.ts';
import type { BoardState, BoardTrip } from '../protocol.ts';
import type { Quantity } from './quantities.ts';
import type { Figures, LineId } from './record.ts';

/** What the board tells of itself. */
export type BoardSeen = {
  /** A board that answers stands at the other end. */
  readonly linked: boolean;
  readonly state: BoardState;
  readonly trip: BoardTrip;
  /** What its outputs really are. */
  readonly word: number;
  readonly obeyed: number;
  /** By the board's own clock. */
  readonly timeMs: number;
};

/** Readings by the data sheets alone: nothing that commissioning finds is in them. */
export type Seen = { readonly readings: Readings; readonly board: BoardSeen };

export type Question = {
  /** Names it to whoever answers without reading. */
  readonly id: string;
  readonly text: string;
} & (
  | { readonly kind: 'enter' | 'yes-no' | 'text' }
  | { readonly kind: 'number' | 'numbers'; readonly quantity: Quantity }
  | { readonly kind: 'choice' | 'choices'; readonly choices: readonly string[] }
);

/** An output that a move wants on, and what the chip shall count down. */
export type Wish = { readonly output: Output; readonly offAfterMs: number };

export type Sample = { readonly atMs: number; readonly value: number };

/** Of the move under way; plain data. */
export type MoveMemory = { readonly sinceMs: number; readonly samples: readonly Sample[] };

export type Turn = {
  readonly seen: Seen;
  readonly nowMs: number;
  readonly answer?: string | undefined;
};

export type Outcome =
  | {
      readonly kind: 'stay';
      readonly on?: readonly Wish[];
      readonly ask?: Question;
      readonly problem?: string;
      readonly samples?: readonly Sample[];
      /** The host says nothing at all. */
      readonly silent?: true;
    }
  | {
      readonly kind: 'next';
      readonly figures?: Figures;
      readonly tell?: string;
      readonly on?: readonly Wish[];
    }
  /** What was found is enough to be judged by: the moves that are left are not made. */
  | { readonly kind: 'end'; readonly figures: Figures }
  | { readonly kind: 'fail'; readonly why: string; readonly figures?: Figures };

export type Move = {
  /** Waits for an answer: nothing may be on, and `back` comes back to it. */
  readonly asks: boolean;
  /** Shown when it begins. */
  readonly tell?: string;
  /** From its beginning to its end, where that is known; a reading that does not rest takes longer. */
  readonly lastsMs?: number;
  /** Takes the board under control when it begins, trip or none. */
  readonly takesControl?: true;
  readonly step: (memory: MoveMemory, turn: Turn) => Outcome;
};

/** What a line may build its moves from: what it found itself so far, and what lines before it found. */
export type Known = {
  readonly figures: Figures;
  readonly facts: Figures;
  readonly of: (line: LineId) => Figures;
  /** The refrigerants that the program knows. */
  readonly refrigerants: readonly string[];
};

/** A figure must lie within these bounds. */
export type Tolerance = {
  readonly figure: string;
  readonly min?: number;
  readonly max?: number;
  readonly because: string;
  readonly basis: 'source' | 'common practice' | 'estimate';
  readonly remedy: string;
  /** Of an optional part: where it is not fitted the figure may be missing. */
  readonly optional?: true;
};

/** What must stand before a line may drive more than a single valve. */
export const BEFORE_DRIVING = ['facts', 'emergency-stop', 'link-loss', 'high-pressure'] as const;

export type Line = {
  readonly id: LineId;
  readonly title: string;
  readonly why: string;
  /** Lines that must stand before this one may be run. */
  readonly needs: readonly LineId[];
  /**
   * The outputs that it may have on, each with the longest time. What may be on for more than two seconds is
   * counted down on the chip all the same.
   */
  readonly mayDrive: { readonly [O in Output]?: number };
  /** Works on a machine that holds refrigerant; every other line that drives needs an empty one. */
  readonly withRefrigerant?: true;
  /** The rig may be driven without it. */
  readonly optional?: true;
  readonly validDays: number;
  readonly tolerances: readonly Tolerance[];
  /** Figures without a tolerance that others rest on. */
  readonly gives?: (known: Pick<Known, 'facts'>) => readonly string[];
  /** What to do about a failure that no tolerance names. */
  readonly remedy: string;
  readonly moves: (known: Known) => readonly Move[];
};
