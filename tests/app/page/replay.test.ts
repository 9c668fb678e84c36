// Looking back: only through the job that is shown, with its own notices.
import { expect, test } from 'vitest';
import type { Snapshot } from '../../../app/page/shown.ts';
import { keepLook, lookBackTo, replayNow } from '../../../app/page/web/replay.ts';

const look = (nowMs: number, phase: Snapshot['phase'], noticeCount: number): Snapshot =>
  ({
    chosen: 'ticket',
    nowMs,
    phase,
    noticeCount,
    progress: { stage: 'recover' },
    faults: [],
  }) as unknown as Snapshot;

test('the next job on the same rig begins anew, though its time goes on and it is called the same', () => {
  for (const [nowMs, phase, notices] of [
    [0, 'ready', 0],
    [10_000, 'job', 1],
    [20_000, 'ended', 3],
  ] as const)
    keepLook(look(nowMs, phase, notices));
  expect(replayNow().count).toBe(3);
  lookBackTo(0);
  keepLook(look(30_000, 'ready', 0));
  expect(replayNow()).toMatchObject({ count: 1, at: undefined });
  keepLook(look(40_000, 'job', 2));
  keepLook(look(50_000, 'job', 1));
  expect(replayNow().count).toBe(1);
});
