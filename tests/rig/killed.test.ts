import { describe, expect, test } from 'vitest';
import { recordsFolder } from '../app/records/jobs.ts';
import { type Kill, killedJob, NOMINAL_G } from '../app/records/kill-proof/killed.ts';

/** Late in its recovery, and once more soon after it went on; where it stands a few milliseconds later, the machine decides. */
const KILL: Kill = {
  seed: 3,
  engine: 'can-run',
  moments: [
    { lines: 200, plusMs: 5 },
    { lines: 5, plusMs: 5 },
  ],
  choice: 'go-on',
};

describe('a process that is killed', () => {
  test('twice leaves whole records behind, and the job goes on', async () => {
    const row = await killedJob(KILL, recordsFolder());
    expect({ damage: row.damage, breaks: row.breaks, lostOrDoubled: row.lostOrDoubled }).toEqual({
      damage: [],
      breaks: [],
      lostOrDoubled: 0,
    });
    if (row.chose !== 'go-on') return;
    expect(row.outcome).toBe('completed');
    expect(row.vehicleG).toBeLessThan(NOMINAL_G + 15);
    expect(Math.abs(row.netErrorG!)).toBeLessThan(5);
    expect(Math.abs(row.tankErrorG!)).toBeLessThan(5);
  });
});
