// Whether the suction of a running compressor falls from one moment to the next by much less: as it does when the compressor's
// valves give way, for the vehicle gives up what it holds as before.

export type SuctionFall = {
  readonly atMs: number;
  /** One a second, the newest last. */
  readonly samplesPa: readonly number[];
  /** It slackened once in this run. */
  readonly slackened: boolean;
};

export const startFall = (nowMs: number): SuctionFall => ({ atMs: nowMs, samplesPa: [], slackened: false });

const SAMPLE_MS = 1_000;
/** A scan may be late; after a longer gap the watch begins anew. */
const LATE_MS = 500;
/** Two falls over two seconds each, with the second in between in which it happens. */
const SPAN_S = 2;
const SAMPLES = 2 * SPAN_S + 2;
/** A slower fall says nothing beside a sensor's noise and steps (estimate). */
const FALLS_PA = 200 * SPAN_S;
/** What empties falls by less and less, in these three seconds to half at least (320 sound jobs of the bench). */
const SLACK_SHARE = 0.45;

/** @param suctionPa by its own sensor. */
export function watchFall(
  before: SuctionFall,
  suctionPa: number | undefined,
  running: boolean,
  nowMs: number,
): SuctionFall {
  const sinceMs = nowMs - before.atMs;
  if (suctionPa === undefined || !running || sinceMs < SAMPLE_MS) return before;
  const late = sinceMs > SAMPLE_MS + LATE_MS;
  const samplesPa = late ? [suctionPa] : [...before.samplesPa.slice(1 - SAMPLES), suctionPa];
  return { atMs: nowMs, samplesPa, slackened: before.slackened || slackens(samplesPa) };
}

function slackens(samplesPa: readonly number[]): boolean {
  if (samplesPa.length < SAMPLES) return false;
  const fellPa = samplesPa[0]! - samplesPa[SPAN_S]!;
  const fallsPa = samplesPa[SPAN_S + 1]! - samplesPa.at(-1)!;
  return fellPa > FALLS_PA && fallsPa < SLACK_SHARE * fellPa;
}
