// What the benchmarks were when they were last kept, and how far today's are from it. Another machine is not another program:
// figures of time are compared in units of a yardstick, arithmetic of ours that nothing in this project changes.
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { median, type Row } from './row.ts';

const FILE = fileURLToPath(new URL('./baseline.json', import.meta.url));

export type KeptTopic = {
  readonly machine: string;
  readonly yardstickMs: number;
  readonly rows: readonly { readonly what: string; readonly value: number; readonly unit: string }[];
};
export type Baseline = { readonly [topic: string]: KeptTopic };

const ROUNDS = 5;
const STEPS = 4_000_000;

function round(): number {
  const startedMs = performance.now();
  let bits = 0x9e3779b9;
  let sum = 0;
  for (let step = 0; step < STEPS; step++) {
    bits ^= bits << 13;
    bits ^= bits >>> 17;
    bits ^= bits << 5;
    sum += Math.sqrt(bits >>> 0) / (1 + step);
  }
  // Used, so that it is not left out.
  if (!(sum > 0)) throw new Error('the yardstick is broken');
  return performance.now() - startedMs;
}

/** How long this machine takes for a fixed piece of arithmetic, just now. */
export const yardstickMs = (): number => median(Array.from({ length: ROUNDS }, round));

const PER_TIME = new Set(['million/s']);
const TIMES = new Set(['ms', 's', 'µs', 'min']);
const MORE_IS_BETTER = new Set(['million/s', '×']);

const moreIsBetter = ({ unit, limit }: Row): boolean =>
  limit === undefined ? MORE_IS_BETTER.has(unit) : 'atLeast' in limit;

/** How many times the kept figure was better, in units of the yardstick: above 1 is worse. Absent where it was not kept. */
export function timesWorse(
  row: Row,
  kept: KeptTopic | undefined,
  nowYardstickMs: number,
): number | undefined {
  const before = kept?.rows.find(({ what, unit }) => what === row.what && unit === row.unit);
  if (kept === undefined || before === undefined || before.value === 0 || row.value === 0) return undefined;
  const machine = nowYardstickMs / kept.yardstickMs;
  const ratio = row.value / before.value;
  const asThere = TIMES.has(row.unit) ? ratio / machine : PER_TIME.has(row.unit) ? ratio * machine : ratio;
  return moreIsBetter(row) ? 1 / asThere : asThere;
}

/** Noise of a shared machine stays below (estimate, from runs one after the other). */
export const WORSE = 1.25;

export function readBaseline(): Baseline {
  return existsSync(FILE) ? (JSON.parse(readFileSync(FILE, 'utf8')) as Baseline) : {};
}

/** Takes the place of what was kept of these topics, and of no other. */
export function keepBaseline(measured: Baseline): void {
  writeFileSync(FILE, `${JSON.stringify({ ...readBaseline(), ...measured }, undefined, 1)}\n`);
}

export const keptOf = (machine: string, yardstick: number, rows: readonly Row[]): KeptTopic => ({
  machine,
  yardstickMs: Number(yardstick.toPrecision(4)),
  rows: rows.map(({ what, value, unit }) => ({ what, value: Number(value.toPrecision(4)), unit })),
});
