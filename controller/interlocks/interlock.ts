// The shape of one interlock row, and of what it answers: what it reads is all it can see.
import { OUTPUTS, type Output } from '../signals.ts';
import type { BandName, Bands } from './bands.ts';
import type { MemoryName, Remembered } from './remembered.ts';

/** A countdown no longer than this lets no more out of the tank than a closed manifold has room for (estimate). */
export const BRIEF_MS = 100;

/** Of a command word a row may ask for each output whether it is on, and whether the charge valve is only for `BRIEF_MS`. */
export type Asked = Output | 'chargePulse';
export type Word = { readonly [A in Asked]: boolean };

/** What a row answers: outputs that may not be on, and the reason when the machine must trip. */
export type Verdict = { readonly forbids: readonly Output[]; readonly trip?: string };

export const NOTHING: Verdict = { forbids: [] };
export const forbid = (...outputs: readonly Output[]): Verdict => ({ forbids: outputs });
export const trip = (reason: string): Verdict => ({ forbids: OUTPUTS, trip: reason });

/** Which outputs this machine has. */
export type Fitting = { readonly [O in Output]: 'fitted' | 'not-fitted' };

export type View<O extends Asked, B extends BandName, M extends MemoryName, F extends Output> = {
  readonly on: Pick<Word, O>;
  readonly bands: Pick<Bands, B>;
  readonly memory: Pick<Remembered, M>;
  readonly fitting: Pick<Fitting, F>;
};

export type Row<O extends Asked, B extends BandName, M extends MemoryName, F extends Output> = {
  readonly id: string;
  readonly hazard: string;
  /** What the operator can do so that the row permits again. */
  readonly remedy: string;
  /** What it may take away; everything, if it may trip. */
  readonly acts: readonly Output[];
  readonly reads: {
    readonly outputs: readonly O[];
    readonly bands: readonly B[];
    readonly memory: readonly M[];
    readonly fitting: readonly F[];
  };
  judge(view: View<O, B, M, F>): Verdict;
};

export type Interlock = Row<Asked, BandName, MemoryName, Output>;

/** Holds the compiler to the declaration: `judge` sees nothing that `reads` does not name. */
export function interlock<
  O extends Asked = never,
  B extends BandName = never,
  M extends MemoryName = never,
  F extends Output = never,
>(row: {
  readonly id: string;
  readonly hazard: string;
  readonly remedy: string;
  readonly acts: readonly Output[];
  readonly outputs?: readonly O[];
  readonly bands?: readonly B[];
  readonly memory?: readonly M[];
  readonly fitting?: readonly F[];
  judge(view: View<O, B, M, F>): Verdict;
}): Interlock {
  const { id, hazard, remedy, acts, outputs = [], bands = [], memory = [], fitting = [] } = row;
  const reads = { outputs, bands, memory, fitting };
  return { id, hazard, remedy, acts, reads, judge: (view) => row.judge(view) };
}
