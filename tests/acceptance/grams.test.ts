// The first of the seeded jobs for the grams, held to what the project promises of 99 in 100: none of these is the hundredth.
import { describe, expect, test } from 'vitest';
import type { ProfileName } from '../../sim/profiles.ts';
import { gramsJob } from '../accuracy/grams-job.ts';

/** Both refrigerants are among them, with an engine that may run and without. */
const SEEDS = [1, 2, 3, 4, 5, 6];
/**
 * g. Promised at the 99th percentile are 8 and 20 for the charge, 10 for what the good machine recovers. For the hobby
 * machine's recovery nothing is promised: 25 is where the 99th percentile of its thousand jobs lies, docs/accuracy.md.
 */
const BOUNDS: { readonly [N in ProfileName]: { readonly charge: number; readonly recovered: number } } = {
  good: { charge: 8, recovered: 10 },
  hobby: { charge: 20, recovered: 25 },
};

describe.each(['good', 'hobby'] as const)('Seeded jobs on a %s machine', (profile) => {
  test('end with the nominal charge in the vehicle, and with figures that say how sure they are', async () => {
    let outside = 0;
    for (const seed of SEEDS) {
      const row = await gramsJob(profile, seed);
      expect(row.outcome, `seed ${seed}`).toBe('completed');
      expect(Math.abs(row.chargeError!), `charge of seed ${seed}`).toBeLessThan(BOUNDS[profile].charge);
      expect(Math.abs(row.recoveredError!), `recovery of seed ${seed}`).toBeLessThan(
        BOUNDS[profile].recovered,
      );
      for (const figure of ['netError', 'netUncertainty', 'recoveredUncertainty'] as const)
        expect(row[figure], `${figure} of seed ${seed}`).toBeDefined();
      if (Math.abs(row.netError!) > row.netUncertainty!) outside++;
      if (Math.abs(row.recoveredError!) > row.recoveredUncertainty!) outside++;
    }
    // k = 2 leaves one in twenty outside.
    expect(outside).toBeLessThanOrEqual(2);
  });
});

// Without an engine the hoses are drawn back, and what the vehicle then has is corrected. These missed by 12, 6, 5, 23 and
// 19 g when that was done once, by displacement or in pulses alone.
describe('A charge whose hoses are drawn back', () => {
  test.each([
    ['short by what its manifold keeps, is filled once more', 478],
    ['over by more than one draw takes, is drawn again', 802],
    ['short by little, is filled once more', 510],
    ['of which liquid stays in a cold separator, waits for it to boil off', 555],
    ['because the engine that was to clear them must stop, is corrected', 512],
  ])('%s', async (_, seed) => {
    const row = await gramsJob('good', seed);
    expect(row.chargeResult).toBe('charged');
    expect(Math.abs(row.chargeError!)).toBeLessThan(6);
    expect(row.notices).not.toContain('net-charge-off');
  });
  test('on scales that the hoses press, pauses early enough to learn their force', async () => {
    const row = await gramsJob('good', 274);
    expect(Math.abs(row.chargeError!)).toBeLessThan(5);
    expect(Math.abs(row.netError!)).toBeLessThanOrEqual(row.netUncertainty!);
  });
});
