import { describe, expect, test } from 'vitest';
import { FaultSchedule } from '../../app/run/faults.ts';
import type { PlannedFault } from '../../app/scenario/faults.ts';
import type { Visit } from '../../controller/state.ts';

const SCAN_MS = 100;

/** Runs a schedule over scans and answers every switch as 'time name on'. */
function played(
  faults: readonly PlannedFault[],
  visitsAt: (nowMs: number) => readonly Visit[],
  untilMs: number,
): string[] {
  const seen: string[] = [];
  let nowMs = 0;
  const schedule = new FaultSchedule(faults, ({ fault, size }, on) =>
    seen.push(`${nowMs} ${fault}${size === undefined ? '' : ` ${size}`} ${on ? 'on' : 'off'}`),
  );
  for (; nowMs <= untilMs; nowMs += SCAN_MS) schedule.look(nowMs, visitsAt(nowMs));
  return seen;
}

const NO_VISITS: readonly Visit[] = [];
const nowhere = () => NO_VISITS;
const stuck = { fault: 'scale-stuck' } as const;
const leaned = (size: number) => ({ fault: 'scale-leaned-on', size }) as const;

describe('the fault schedule', () => {
  test('without a time a fault is on from the start and for good', () => {
    expect(played([{ fault: stuck, from: { afterMs: 0 } }], nowhere, 5000)).toEqual(['0 scale-stuck on']);
  });

  test('a time between two scans is met by the scan after it', () => {
    expect(played([{ fault: stuck, from: { afterMs: 1250 }, forMs: 500 }], nowhere, 5000)).toEqual([
      '1300 scale-stuck on',
      '1800 scale-stuck off',
    ]);
  });

  test('a stage counts from its first entry, however often it comes again', () => {
    const first: readonly Visit[] = [{ stage: 'recover', startedAtMs: 1000 }];
    const again: readonly Visit[] = [...first, { stage: 'recover', startedAtMs: 3000 }];
    const visitsAt = (nowMs: number) => (nowMs < 1000 ? NO_VISITS : nowMs < 3000 ? first : again);
    const planned: PlannedFault = { fault: stuck, from: { stage: 'recover', afterMs: 700 }, forMs: 200 };
    expect(played([planned], visitsAt, 6000)).toEqual(['1700 scale-stuck on', '1900 scale-stuck off']);
  });

  test('a stage that is never entered never switches anything', () => {
    expect(played([{ fault: stuck, from: { stage: 'charge', afterMs: 0 } }], nowhere, 5000)).toEqual([]);
  });

  test('where two spans of one fault overlap, the end of one leaves the other on', () => {
    const one: PlannedFault = { fault: leaned(1), from: { afterMs: 0 }, forMs: 2000 };
    const other: PlannedFault = { fault: leaned(2), from: { afterMs: 1000 }, forMs: 2000 };
    expect(played([one, other], nowhere, 5000)).toEqual([
      '0 scale-leaned-on 1 on',
      '1000 scale-leaned-on 2 on',
      '2000 scale-leaned-on 2 on',
      '3000 scale-leaned-on 2 off',
    ]);
  });

  test('what was switched when is kept, and what never came has no times', () => {
    const schedule = new FaultSchedule(
      [
        { fault: stuck, from: { afterMs: 0 }, forMs: 1000 },
        { fault: leaned(1), from: { afterMs: 500 } },
        { fault: { fault: 'fan-stopped' }, from: { stage: 'charge', afterMs: 0 } },
      ],
      () => {},
    );
    for (let nowMs = 0; nowMs <= 2000; nowMs += SCAN_MS) schedule.look(nowMs, NO_VISITS);
    expect(schedule.histories.map(({ onAtMs, offAtMs }) => [onAtMs, offAtMs])).toEqual([
      [0, 1000],
      [500, undefined],
      [undefined, undefined],
    ]);
  });
});
