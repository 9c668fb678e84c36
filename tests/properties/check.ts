// The property itself, for the tests of both profiles: whatever goes wrong, nothing is found that no exception covers.
import fc from 'fast-check';
import type { ProfileName } from '../../sim/profiles.ts';
import { disturbances } from './disturbance.ts';
import { unexcused } from './exceptions.ts';
import { live } from './live.ts';

const SEED = 20_261_126;

export function expectNoHarm(profile: ProfileName, numRuns: number): void {
  fc.assert(
    fc.property(disturbances(profile), (drawn) => {
      const found = unexcused(live(drawn).found, drawn);
      if (found.length > 0) throw new Error(JSON.stringify(found));
    }),
    { seed: SEED, numRuns },
  );
}
