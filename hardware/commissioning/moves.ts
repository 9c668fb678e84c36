// The moves that lines are made of: ask, wait, hold, average, reckon.
import type { Output, Reading, Readings } from '../../controller/signals.ts';
import { type Understood, understood } from './answers.ts';
import type { Move, Outcome, Question, Sample, Turn, Wish } from './line.ts';
import type { Figures } from './record.ts';
import { meanOf, sdOf } from './statistics.ts';

/** A line judges what was typed: figures, or why it fails, or what to type instead. */
export type Heeded = Figures | { readonly problem: string } | { readonly failed: string };

const isProblem = (heeded: Heeded): heeded is { problem: string } => 'problem' in heeded;
const isFailed = (heeded: Heeded): heeded is { failed: string } => 'failed' in heeded;

/** Asks until something is typed that is understood and heeded. */
export function asked(question: Question, heed: (value: Understood) => Heeded = () => ({})): Move {
  return {
    asks: true,
    step: (_, { answer }) => {
      if (answer === undefined) return { kind: 'stay', ask: question };
      const typed = understood(question, answer);
      if (!typed.ok) return { kind: 'stay', ask: question, problem: typed.problem };
      const heeded = heed(typed.value);
      if (isProblem(heeded)) return { kind: 'stay', ask: question, problem: heeded.problem };
      if (isFailed(heeded)) return { kind: 'fail', why: heeded.failed };
      return { kind: 'next', figures: heeded };
    },
  };
}

/** Asks to do something; Enter when it is done. */
export const done = (id: string, text: string): Move => asked({ id, kind: 'enter', text });

/** The operator looks or listens; 'no' fails the line. */
export const confirmed = (id: string, text: string, ifNo: string): Move =>
  asked({ id, kind: 'yes-no', text }, (yes) => (yes === true ? {} : { failed: ifNo }));

export const wish = (output: Output, offAfterMs: number): Wish => ({ output, offAfterMs });

/** Outputs on for so long, or nothing but time. */
export const held = (forMs: number, on: readonly Wish[] = [], tell?: string): Move => ({
  asks: false,
  ...(tell === undefined ? {} : { tell }),
  lastsMs: forMs,
  step: ({ sinceMs }, { nowMs }) => (nowMs - sinceMs >= forMs ? { kind: 'next', on } : { kind: 'stay', on }),
});

export type Until = {
  readonly met: (turn: Turn) => boolean;
  readonly withinMs: number;
  readonly otherwise: string;
  readonly on?: readonly Wish[] | ((turn: Turn) => readonly Wish[]);
  readonly tell?: string;
  readonly figures?: (turn: Turn) => Figures;
};

/** Waits for something, with outputs on or off. */
export function until({ met, withinMs, otherwise, on = [], tell, figures }: Until): Move {
  return {
    asks: false,
    ...(tell === undefined ? {} : { tell }),
    step: ({ sinceMs }, turn) => {
      const wishes = typeof on === 'function' ? on(turn) : on;
      if (met(turn)) return { kind: 'next', on: wishes, figures: figures?.(turn) ?? {} };
      if (turn.nowMs - sinceMs > withinMs) return { kind: 'fail', why: otherwise };
      return { kind: 'stay', on: wishes };
    },
  };
}

export type Averaged = {
  readonly of: (readings: Readings) => Reading;
  readonly named: string;
  readonly forMs: number;
  /** Passed over first. */
  readonly settleMs?: number;
  /** The samples must lie within this of one another, nine of ten of them; else it goes on looking for such a time. */
  readonly within?: number;
  readonly giveUpMs?: number;
  readonly on?: readonly Wish[];
  readonly tell?: string;
  readonly keep: (mean: number, sd: number) => Figures;
};

const NO_READING_MS = 2_000;

/** One in twenty at either end is left out: spurious samples. */
function middleOf(samples: readonly Sample[]): readonly number[] {
  const sorted = samples.map(({ value }) => value).sort((a, b) => a - b);
  const cut = Math.floor(sorted.length / 20);
  return sorted.slice(cut, sorted.length - cut);
}

const spreadOf = (middle: readonly number[]): number => middle.at(-1)! - middle[0]!;

/** Nine tenths of a normal distribution lie within 3.29 standard deviations. */
const NINE_TENTHS_SD = 3.29;
const ENOUGH = 20;
const scatterOf = (middle: readonly number[]): number =>
  middle.length < ENOUGH ? sdOf(middle) : spreadOf(middle) / NINE_TENTHS_SD;

/** The mean of a reading over some time in which it stands still. */
export function averaged({
  of,
  named,
  forMs,
  settleMs = 0,
  within = Number.POSITIVE_INFINITY,
  giveUpMs = 60_000,
  on = [],
  tell,
  keep,
}: Averaged): Move {
  return {
    asks: false,
    ...(tell === undefined ? {} : { tell }),
    lastsMs: settleMs + forMs,
    step: ({ sinceMs, samples: before }, { seen, nowMs }): Outcome => {
      const fromMs = sinceMs + settleMs;
      const reading = of(seen.readings);
      const fresh = reading.ok && reading.atMs > Math.max(fromMs, before.at(-1)?.atMs ?? fromMs);
      const samples = fresh
        ? [
            ...before.filter(({ atMs }) => atMs > reading.atMs - forMs),
            { atMs: reading.atMs, value: reading.value },
          ]
        : before;
      const heardMs = samples.at(-1)?.atMs ?? fromMs;
      if (nowMs - heardMs > NO_READING_MS) {
        const reason = reading.ok ? 'it stands still in time' : reading.reason;
        return { kind: 'fail', why: `${named} has no reading (${reason})` };
      }
      if (nowMs - fromMs < forMs || samples.length < 2) return { kind: 'stay', on, samples };
      const middle = middleOf(samples);
      if (spreadOf(middle) <= within)
        return { kind: 'next', on, figures: keep(meanOf(middle), scatterOf(middle)) };
      if (nowMs - fromMs > giveUpMs) return { kind: 'fail', why: `${named} does not come to rest` };
      return { kind: 'stay', on, samples };
    },
  };
}

/** Figures from figures, or why there can be none. */
export const reckoned = (reckon: () => Figures | { readonly failed: string }): Move => ({
  asks: false,
  lastsMs: 0,
  step: () => {
    const figures = reckon();
    return isFailed(figures) ? { kind: 'fail', why: figures.failed } : { kind: 'next', figures };
  },
});
