// The calendar of the records. A computer whose clock was set back writes times that run backwards: order is by number, not by time.
import { isEmpty, type Store, textIn } from './store.ts';

/** Milliseconds since 1970. */
export type Calendar = () => number;

export const isoOf = (ms: number): string => new Date(ms).toISOString();

const NEWEST = `SELECT max(at) AS at FROM (
  SELECT max(opened_at) AS at FROM jobs UNION ALL SELECT max(at) FROM ledger UNION ALL SELECT max(at) FROM upkeep)`;

/** The newest time that the records know of; none in an empty file. */
function newestMs(store: Store): number | undefined {
  const row = store.one(NEWEST);
  return isEmpty(row, 'at') ? undefined : Date.parse(textIn(row, 'at'));
}

/** A minute apart is how computers differ that are set by hand (estimate). */
const BEHIND_MS = 60_000;

/** What to say when the clock stands before what has been recorded already. */
export function clockSetBack(store: Store, nowMs: number): string | undefined {
  const newest = newestMs(store);
  if (newest === undefined || nowMs >= newest - BEHIND_MS) return undefined;
  return (
    `The clock of this computer says ${isoOf(nowMs)}, but the records go up to ${isoOf(newest)}: set the clock. ` +
    'Nothing is lost, and entries keep their order by number; what falls due is counted from the later time.'
  );
}

/** Nothing becomes less due because a clock was set back. */
export const latestMs = (store: Store, nowMs: number): number => Math.max(nowMs, newestMs(store) ?? nowMs);
