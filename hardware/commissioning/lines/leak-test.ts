// (m) Leaks of the machine itself: evacuated, shut, and watched for ten minutes.
import { BEFORE_DRIVING, type Known, type Line } from '../line.ts';
import { done, held, reckoned, wish } from '../moves.ts';
import { type Figures, numberIn } from '../record.ts';
import { manifoldRead, pumpedDown, pumpTimeMs } from './vacuum.ts';

const PUMPED_MS = 300_000;
/** Until the pressure is the same everywhere. */
const EQUALISE_MS = 60_000;
const WATCHED_MS = 600_000;
/** The mean of each look lies in its middle; the looks take two and five seconds. */
const BETWEEN_LOOKS_S = (WATCHED_MS + 7_000) / 1000;
const OPEN_MS = pumpTimeMs(PUMPED_MS) + EQUALISE_MS + WATCHED_MS + 60_000;
const HOSES = [wish('highSideValve', OPEN_MS), wish('lowSideValve', OPEN_MS)];

function leak({ figures, of }: Known): Figures {
  const volumes = of('volumes');
  const volumeM3 =
    numberIn(volumes, 'manifoldVolumeM3') +
    numberIn(volumes, 'highVolumeM3') +
    numberIn(volumes, 'lowVolumeM3');
  const risePa = numberIn(figures, 'lastPa') - numberIn(figures, 'firstPa');
  return { risePa, leakPaM3PerS: (risePa * volumeM3) / BETWEEN_LOOKS_S };
}

const REMEDY =
  'look for the leak with nitrogen and soap solution at every joint, tighten or seal it, and repeat the line';

export const leakTest: Line = {
  id: 'leak-test',
  title: 'Leaks of the machine',
  why: 'A machine that leaks itself finds leaks in every vehicle, and lets air into every vacuum.',
  needs: [...BEFORE_DRIVING, 'click-test', 'second-point', 'volumes'],
  mayDrive: {
    vacuumPump: pumpTimeMs(PUMPED_MS),
    vacuumValve: pumpTimeMs(PUMPED_MS),
    highSideValve: OPEN_MS,
    lowSideValve: OPEN_MS,
  },
  validDays: 30,
  tolerances: [
    {
      figure: 'firstPa',
      max: 2_000,
      because:
        'a small dry volume comes to some ten pascals in five minutes; water or a gross leak keeps it higher',
      basis: 'estimate',
      remedy: 'look for a gross leak, a wet hose or spent pump oil, and repeat the line',
    },
    {
      figure: 'leakPaM3PerS',
      max: 3e-5,
      because: 'as much as 40 g of R-134a a year, which Directive 2006/40/EC allows a whole vehicle system',
      basis: 'source',
      remedy: REMEDY,
    },
  ],
  remedy: REMEDY,
  moves: (known) => [
    done('leak-test.shut', 'Take everything off both hoses, a reference vessel too, and close their ends.'),
    ...pumpedDown(PUMPED_MS, { also: HOSES, tell: 'Manifold and hoses are evacuated for five minutes.' }),
    held(
      EQUALISE_MS,
      HOSES,
      'The pump is shut off; a minute for the pressure to become the same everywhere.',
    ),
    manifoldRead(known, (firstPa) => ({ firstPa }), HOSES),
    held(WATCHED_MS, HOSES, 'Ten minutes of watching.'),
    manifoldRead(known, (lastPa) => ({ lastPa }), HOSES),
    reckoned(() => leak(known)),
  ],
};
