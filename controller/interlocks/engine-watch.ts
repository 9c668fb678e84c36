// Whether the engine runs: by the operator's word, or because the sides part while every machine valve is shut.
import type { Seen } from '../estimates/seen.ts';
import type { OperatorEvent } from '../operator.ts';

export type EngineSeen = 'off' | 'running' | 'suspected';

export type EngineWatch = {
  readonly engine: EngineSeen;
  /** Lowest high side and highest low side of late; absent while a machine valve joins them or a side is unread. */
  readonly calmHighPa: number | undefined;
  readonly calmLowPa: number | undefined;
  readonly calmAtMs: number;
};

/** A compressor that starts does both within half a minute; heat raises both sides, a coupler raises one (estimates). */
const RISE_PA = 150_000;
const FALL_PA = 40_000;
/** Older levels are forgotten with this time constant: slow heating is no engine. */
const FORGET_MS = 60_000;
/** Sides this close together again show that nothing pumps (estimate). */
const TOGETHER_PA = 60_000;

export const openEngineWatch = (nowMs: number): EngineWatch => ({
  engine: 'off',
  calmHighPa: undefined,
  calmLowPa: undefined,
  calmAtMs: nowMs,
});

/** Answers that say, each in as many words, that the engine stands still. */
const STOPPED = ['stop-engine', 'close-couplers-then-stop', 'warm-vehicle'] as const;

const says = (events: readonly OperatorEvent[], prompt: 'start-engine' | (typeof STOPPED)[number]): boolean =>
  events.some((event) => event?.type === 'confirmed' && event.prompt === prompt);

/** The operator's word first: a start is believed whenever it comes, a stop only when no start came with it. */
export function watchEngine(
  watch: EngineWatch,
  seen: Seen,
  joined: boolean,
  events: readonly OperatorEvent[],
  nowMs: number,
): EngineWatch {
  if (says(events, 'start-engine')) return mayRun(nowMs);
  if (STOPPED.some((prompt) => says(events, prompt))) return openEngineWatch(nowMs);
  if (watch.engine === 'running') return watch;
  const { highSidePa, lowSidePa } = seen;
  if (highSidePa === undefined || lowSidePa === undefined || joined)
    return { ...openEngineWatch(nowMs), engine: watch.engine };
  return compare(watch, highSidePa, lowSidePa, nowMs);
}

/** Asked to start it and to answer when it stands again: until then it may run, whatever becomes of the question. */
export const mayRun = (nowMs: number): EngineWatch => ({ ...openEngineWatch(nowMs), engine: 'running' });

function compare(watch: EngineWatch, highPa: number, lowPa: number, nowMs: number): EngineWatch {
  const fade = Math.min(Math.max(nowMs - watch.calmAtMs, 0) / FORGET_MS, 1);
  const highFromPa = watch.calmHighPa ?? highPa;
  const lowFromPa = watch.calmLowPa ?? lowPa;
  const calmHighPa = Math.min(highPa, highFromPa + fade * (highPa - highFromPa));
  const calmLowPa = Math.max(lowPa, lowFromPa + fade * (lowPa - lowFromPa));
  const parts = highPa - calmHighPa > RISE_PA && calmLowPa - lowPa > FALL_PA;
  const together = Math.abs(highPa - lowPa) < TOGETHER_PA;
  const engine = parts ? 'suspected' : together ? 'off' : watch.engine;
  return { engine, calmHighPa, calmLowPa, calmAtMs: nowMs };
}
