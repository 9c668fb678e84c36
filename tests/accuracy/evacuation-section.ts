// The comparison of evacuations as a section of the page of results.
import type { ProfileName } from '../../sim/profiles.ts';
import { type EvacuationSummary, SAME_WATER_G } from './evacuation-summary.ts';
import { DRAWN } from './holds-scenario.ts';
import { table, whole } from './table.ts';

const mg = (grams: number, digits: number): string => (1000 * grams).toFixed(digits);

export function evacuationSection(summary: EvacuationSummary, names: readonly ProfileName[]): string {
  const { profiles, fromSeed, jobs, command } = summary;
  const hobbyMostG = profiles.hobby.all.waterMostG;
  const { wet, leaking } = DRAWN.populations.jobs;
  const rows = names.flatMap((name) =>
    Object.entries(profiles[name]).map(([kind, { jobs, longer, wetter, asGood, ...of }]) => [
      `${name}: ${kind}`,
      String(jobs),
      String(longer),
      String(wetter),
      `${((100 * asGood) / jobs).toFixed(1)} %`,
      of.minutesP50.toFixed(1),
      of.minutesP95.toFixed(1),
      mg(of.waterP50G, 1),
      mg(of.waterMostG, 1),
    ]),
  );
  const head = [
    'vehicles',
    'jobs',
    'longer',
    'wetter',
    'neither',
    'min, p50',
    'min, p95',
    'mg of water, p50',
    'mg of water, most',
  ];
  return `## Evacuation against fixed times

\`${command}\`: every job twice on the same seed, ${fromSeed} to ${fromSeed + jobs - 1}: as the controller does it, up to its decision
whether to charge, all evacuations counted; and pumped once for what is common practice, 20 min for a system that was
never open and 45 min for one that was. Vehicles as for the holds, but with free water in ${whole(wet.opened)} of the opened and ${whole(wet.recovered)}
of the others, and a leak in ${whole(leaking)}. Wanted: neither longer nor wetter in 95 % of all.

${table(head, rows)}

Minutes and water are differences: below zero the controller was sooner, or left less in gas, oil and desiccant. Water
within ${1000 * SAME_WATER_G} mg counts as equal.

- Longer are those that a hold sends back: free water that is still there after the fixed time, whose vacuum the fixed
  time leaves unexplained; leaks, which are called only when a second hold agrees; and deep oil in a hot room. Such a
  vehicle is dry and sound, but was full until this machine recovered it, and from so much oil refrigerant comes so
  fast that it takes three holds until the rise is put down to that.
- Wetter the hobby machine may leave a system that was never open and has free water in it, here by up to ${mg(hobbyMostG, 0)} mg: it
  stops pumping after 15 min, because its one vacuum sensor, which may be off by a kilopascal, does not show that the
  pressure stands where water boils.
- Sooner are systems that were never open and have come to a plateau, and opened ones whose vacuum shows that the next
  quarter of an hour would carry away no more than a few milligrams. Only a sensor at the vehicle that reads down to
  some tens of pascals can show that.
`;
}
