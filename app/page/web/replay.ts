// What was shown, kept to be looked at again: a look every few seconds of the machine's time, thinned out as it grows long.
import type { Notice } from '../../../controller/notice.ts';
import type { Snapshot, TrendRow } from '../shown.ts';

const EVERY_MS = 4_000;
const MOST = 400;

type Kept = { looks: readonly Snapshot[]; everyMs: number; at: number | undefined };
const kept: Kept = { looks: [], everyMs: EVERY_MS, at: undefined };

/** Two looks between which nothing has happened but time. */
const isLike = (one: Snapshot, other: Snapshot): boolean =>
  one.phase === other.phase &&
  one.progress.stage === other.progress.stage &&
  one.prompt?.askedAtMs === other.prompt?.askedAtMs &&
  one.noticeCount === other.noticeCount &&
  one.faults.length === other.faults.length;

/** Of another job: within one, time and notices only grow, and what has ended does not become ready again. */
const isAnother = (look: Snapshot, last: Snapshot): boolean =>
  look.chosen !== last.chosen ||
  look.nowMs < last.nowMs ||
  look.noticeCount < last.noticeCount ||
  (look.phase === 'ready' && last.phase === 'ended');

/** Every look that comes in; another job begins anew. */
export function keepLook(look: Snapshot): void {
  const last = kept.looks.at(-1);
  const anew = last === undefined || isAnother(look, last);
  if (anew) {
    kept.looks = [look];
    kept.everyMs = EVERY_MS;
    kept.at = undefined;
    return;
  }
  if (look.nowMs === last.nowMs) return;
  if (look.nowMs - last.nowMs < kept.everyMs && isLike(look, last)) return;
  kept.looks = [...kept.looks, look];
  if (kept.looks.length <= MOST) return;
  // While somebody looks back, nothing is taken away from under them.
  if (kept.at !== undefined) kept.looks = kept.looks.slice(0, MOST);
  else {
    kept.looks = kept.looks.filter((_, index) => index % 2 === 0);
    kept.everyMs *= 2;
  }
}

export type Replay = { readonly at: number | undefined; readonly count: number; readonly nowMs: number };

export const replayNow = (): Replay => ({
  at: kept.at,
  count: kept.looks.length,
  nowMs: kept.looks[kept.at ?? kept.looks.length - 1]?.nowMs ?? 0,
});

/** To one of the kept looks, or back to what is. */
export function lookBackTo(at: number | undefined): void {
  kept.at = at === undefined ? undefined : Math.min(Math.max(at, 0), kept.looks.length - 1);
}

type Showing = {
  snapshot: Snapshot | undefined;
  hasControl: boolean;
  rows: TrendRow[];
  notices: Notice[];
};

/** What a view shows: what is, or what was. Nothing can be done in the past. */
export function shownOf<K extends Showing>(known: K): K {
  const { at } = kept;
  const snapshot = at === undefined ? undefined : kept.looks[at];
  if (snapshot === undefined) return known;
  return {
    ...known,
    snapshot,
    hasControl: false,
    rows: known.rows.filter(([atMs]) => (atMs ?? 0) <= snapshot.nowMs),
    notices: known.notices.slice(0, snapshot.noticeCount),
  };
}
