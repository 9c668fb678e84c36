// (l) Volumes of hoses and manifold: air of the room expands from a hose into the evacuated manifold, without and with a
// vessel of known volume on its end. p·V before equals p·V after (Boyle), twice, for two unknowns.
import type { Output } from '../../../controller/signals.ts';
import { BEFORE_DRIVING, type Known, type Line, type Move } from '../line.ts';
import { asked, done, held, reckoned, wish } from '../moves.ts';
import { type Figures, numberIn, numbersIn } from '../record.ts';
import { meanOf, sdOf } from '../statistics.ts';
import { EVENLY } from './second-point.ts';
import { manifoldRead, pumpedDown, pumpTimeMs } from './vacuum.ts';

const PUMPED_MS = 20_000;
/** Air in tubes takes on their temperature within some seconds. */
const SETTLE_MS = 20_000;
const OPEN_MS = 60_000;
const EXPANSIONS = 3;
const HOSE_VALVES = [wish('highSideValve', OPEN_MS), wish('lowSideValve', OPEN_MS)];

const WITH = { high: 'highSideValve', low: 'lowSideValve', vessel: 'highSideValve' } as const;
type With = keyof typeof WITH;

const kept = (figures: Figures, name: string, index: number, value: number): readonly number[] => [
  ...(index === 0 ? [] : numbersIn(figures, name).slice(0, index)),
  value,
];

/** One after the other out of the same hose: what it was left with is where the next one begins. */
function expansions(of: With, known: Known): readonly Move[] {
  const { figures } = known;
  const valve: Output = WITH[of];
  return Array.from({ length: EXPANSIONS }, (_, index) => [
    ...pumpedDown(
      PUMPED_MS,
      index === 0 ? { tell: `Expansion out of the ${of === 'low' ? 'low' : 'high'}-side hose.` } : {},
    ),
    manifoldRead(known, (pa) => ({ [`${of}BeforePa`]: kept(figures, `${of}BeforePa`, index, pa) })),
    manifoldRead(
      known,
      (pa) => ({ [`${of}AfterPa`]: kept(figures, `${of}AfterPa`, index, pa) }),
      [wish(valve, OPEN_MS)],
      SETTLE_MS,
    ),
    held(1_000),
  ]).flat();
}

/** Volume behind the valve over that of the manifold, by each expansion. */
function ratios(figures: Figures, of: With): readonly number[] {
  const before = numbersIn(figures, `${of}BeforePa`);
  const after = numbersIn(figures, `${of}AfterPa`);
  return after.map((afterPa, i) => {
    const fromPa = i === 0 ? numberIn(figures, 'roomPa') : after[i - 1]!;
    return (afterPa - before[i]!) / (fromPa - afterPa);
  });
}

function volumes({ figures }: Known): Figures {
  const [high, low, vessel] = (['high', 'low', 'vessel'] as const).map((of) => ratios(figures, of));
  const apart = meanOf(vessel!) - meanOf(high!);
  const manifoldM3 = numberIn(figures, 'vesselM3') / apart;
  const manifoldShare = Math.hypot(
    numberIn(figures, 'vesselErrorShare') * EVENLY,
    Math.hypot(sdOf(vessel!), sdOf(high!)) / apart,
  );
  const hoseShares = [high!, low!].map((of) => Math.hypot(manifoldShare, sdOf(of) / meanOf(of)));
  return {
    manifoldVolumeM3: manifoldM3,
    highVolumeM3: manifoldM3 * meanOf(high!),
    lowVolumeM3: manifoldM3 * meanOf(low!),
    volumeRelativeSd: Math.max(manifoldShare, ...hoseShares),
  };
}

const REMEDY =
  'see that hose ends and vessel are tight and at room pressure when they are shut, that nothing is wet or warm, and repeat the line';
const volume = (figure: string) => ({
  figure,
  min: 3e-6,
  max: 500e-6,
  because: 'hoses of 4.8 to 9.5 mm bore hold 18 to 71 mL a metre',
  basis: 'estimate' as const,
  remedy: REMEDY,
});

const SHUT = done('volumes.shut', 'Close the ends of both hoses, at the pressure of the room.');

export const volumesLine: Line = {
  id: 'volumes',
  title: 'Volumes of hoses and manifold',
  why: 'A hose full of liquid holds 40 g or more that the scale has seen leave and the vehicle has not got.',
  needs: [...BEFORE_DRIVING, 'click-test', 'second-point'],
  mayDrive: {
    vacuumPump: pumpTimeMs(PUMPED_MS),
    vacuumValve: pumpTimeMs(PUMPED_MS),
    highSideValve: OPEN_MS,
    lowSideValve: OPEN_MS,
  },
  validDays: 365,
  tolerances: [
    volume('highVolumeM3'),
    volume('lowVolumeM3'),
    volume('manifoldVolumeM3'),
    {
      figure: 'volumeRelativeSd',
      max: 0.1,
      because: 'a tenth of a hose of liquid is 4 g, beside the 15 g within which a charge is to be',
      basis: 'estimate',
      remedy: REMEDY,
    },
  ],
  remedy: REMEDY,
  moves: (known) => [
    asked(
      {
        id: 'volumes.vessel',
        kind: 'number',
        quantity: { kind: 'smallVolume', min: 50e-6, max: 2e-3 },
        text: 'Volume of a dry reference vessel, from the mass of water that fills it to its valve (about ten hoses is best)',
      },
      (value) => ({ vesselM3: value }),
    ),
    asked(
      {
        id: 'volumes.vessel-error',
        kind: 'number',
        quantity: { kind: 'share', min: 0, max: 0.05 },
        text: 'How far may that volume be off',
      },
      (value) => ({ vesselErrorShare: value }),
    ),
    done('volumes.open', 'Open the ends of both hoses to the room.'),
    held(10_000, HOSE_VALVES),
    manifoldRead(known, (roomPa) => ({ roomPa })),
    SHUT,
    ...expansions('high', known),
    ...expansions('low', known),
    done(
      'volumes.vessel-on',
      'Open the end of the high-side hose to the room and put the open vessel on it, both at the pressure of the room, then shut them off from it.',
    ),
    ...expansions('vessel', known),
    reckoned(() => volumes(known)),
  ],
};
