// A few of the seeded jobs of the laboratory for the grams, held to bounds that every one of them must keep.
import { describe, expect, test } from 'vitest';
import type { ProfileName } from '../../sim/profiles.ts';
import { gramsJob } from '../accuracy/grams-job.ts';

/** Six jobs each, both refrigerants, with an engine and without. */
const SEEDS = [1, 2, 3, 5, 6, 8];
/** g; of the whole spread the project promises 8 and 20 at the 99th percentile, 10 for the recovered mass. */
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
      if (Math.abs(row.netError!) > row.netUncertainty!) outside++;
      if (Math.abs(row.recoveredError!) > row.recoveredUncertainty!) outside++;
    }
    // k = 2 leaves one in twenty outside.
    expect(outside).toBeLessThanOrEqual(2);
  });
});
