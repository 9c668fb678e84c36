// One thread of a large set: every seed is drawn and lived through on its own.
import fc from 'fast-check';
import type { Found } from '../../app/bench/harm.ts';
import type { ProfileName } from '../../sim/profiles.ts';
import type { Order } from '../accuracy/workers.ts';
import { type Disturbance, disturbances } from './disturbance.ts';
import { strikingOf, unexcused } from './exceptions.ts';
import { live } from './live.ts';

export type Row = {
  readonly seed: number;
  readonly simulatedS: number;
  readonly found: readonly Found[];
  /** Names of the exceptions that apply. */
  readonly excepted: readonly string[];
  /** What none of them covers, with all that was drawn. */
  readonly harm?: { readonly found: readonly Found[]; readonly drawn: Disturbance };
};

export default ({ about, seed }: Order<{ profile: ProfileName }>): Row => {
  const drawn = fc.sample(disturbances(about.profile), { seed, numRuns: 1 })[0]!;
  const { found, simulatedS } = live(drawn);
  const beyond = unexcused(found, drawn);
  return {
    seed,
    simulatedS,
    found,
    excepted: strikingOf(drawn).map(({ name }) => name),
    ...(beyond.length === 0 ? {} : { harm: { found: beyond, drawn } }),
  };
};
