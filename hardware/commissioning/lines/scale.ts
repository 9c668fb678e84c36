// (j) Scale: reference masses up and down again, creep, the empty tank and the force of the hoses.
import type { Known, Line, Move, Tolerance } from '../line.ts';
import { asked, averaged, done, type Heeded, held } from '../moves.ts';
import { shown } from '../quantities.ts';
import { numberIn, numbersIn } from '../record.ts';
import { scaleFound, withCreep, withHoses } from './scale-figures.ts';

const LOOK_MS = 5_000;
const SETTLE_MS = 4_000;
const LONG_LOOK_MS = 10_000;
/** Load cells are specified by what they creep in half an hour. */
const CREEP_MS = 1_800_000;
const REPEATS = 3;
/** Samples of a load at rest lie within so many standard deviations of the empty platform's; a knock does not. */
const AT_REST_SD = 8;

/** Up and down again, and the empty platform between. */
function loadOrder(massesKg: readonly number[]): readonly number[] {
  const down = massesKg.slice(0, -1).reverse();
  return Array.from({ length: REPEATS }, () => [0, ...massesKg, ...down])
    .flat()
    .concat(0);
}

const at = (values: readonly number[], index: number, value: number): readonly number[] => [
  ...values.slice(0, index),
  value,
];

type Weighed = { readonly forMs: number; readonly settleMs?: number; readonly tell?: string };

const weighed = (
  { figures }: Known,
  { forMs, settleMs = SETTLE_MS, tell }: Weighed,
  keep: (counts: number, noiseCounts: number) => ReturnType<Parameters<typeof averaged>[0]['keep']>,
): Move =>
  averaged({
    of: ({ scaleCounts }) => scaleCounts,
    named: 'the scale',
    settleMs,
    forMs,
    within:
      'noiseCounts' in figures
        ? AT_REST_SD * Math.max(1, numberIn(figures, 'noiseCounts'))
        : Number.POSITIVE_INFINITY,
    ...(tell === undefined ? {} : { tell }),
    keep,
  });

function heededMasses(values: readonly number[]): Heeded {
  const sorted = [...values].sort((a, b) => a - b);
  if (sorted.length < 3) return { problem: 'at least three loads are needed, with commas between' };
  if (sorted.some((mass, i) => mass <= (sorted[i - 1] ?? 0)))
    return { problem: 'the loads must differ from one another' };
  return { massesKg: sorted };
}

const ASKED: readonly Move[] = [
  asked(
    {
      id: 'scale.masses',
      kind: 'numbers',
      quantity: { kind: 'mass', min: 0.1, max: 100 },
      text: 'Which loads can you make of reference masses: three or more, the heaviest about as heavy as the full tank, with commas between',
    },
    (values) => heededMasses(values as readonly number[]),
  ),
  asked(
    {
      id: 'scale.mass-error',
      kind: 'number',
      quantity: { kind: 'share', min: 0, max: 0.005 },
      text: 'How far may the reference masses be off, by their class',
    },
    (value) => ({ massErrorShare: value }),
  ),
  done('scale.empty', 'Take the tank off. Leave the platform empty, and touch neither machine nor bench.'),
];

function loaded(known: Known, index: number, massKg: number): readonly Move[] {
  const { figures } = known;
  return [
    done(
      `scale.load.${index}`,
      massKg === 0
        ? 'Take everything off the platform.'
        : `Put ${shown('mass', massKg)} on the middle of the platform.`,
    ),
    weighed(known, { forMs: LOOK_MS }, (counts) => ({
      counts: at(index === 0 ? [] : numbersIn(figures, 'counts'), index, counts),
    })),
  ];
}

const creep = (known: Known, heaviestKg: number): readonly Move[] => [
  done(
    'scale.creep',
    `Put ${shown('mass', heaviestKg)} on the platform again, and leave it for half an hour.`,
  ),
  weighed(known, { forMs: LONG_LOOK_MS, settleMs: 3_000 }, (creepFirstCounts) => ({ creepFirstCounts })),
  held(CREEP_MS, [], 'The load stands for half an hour.'),
  weighed(known, { forMs: LONG_LOOK_MS, settleMs: 0 }, (creepLastCounts) => ({
    creepLastCounts,
    ...withCreep(known.figures, creepLastCounts),
  })),
];

const tank = (known: Known): readonly Move[] => [
  done(
    'scale.tank',
    'Put the empty tank on, with its hoses and wires as they will stay. It must be open to the room.',
  ),
  weighed(known, { forMs: LONG_LOOK_MS }, (zeroCounts) => ({ zeroCounts })),
  asked(
    {
      id: 'scale.hose-pressure',
      kind: 'number',
      quantity: { kind: 'pressure', min: 200_000, max: 1_500_000 },
      text: 'Put nitrogen at about 5 bar on both hoses, their ends shut and the tank shut off. Type what the reference gauge shows (gauge pressure)',
    },
    (value) => ({ hosePressurePa: value }),
  ),
  weighed(known, { forMs: LONG_LOOK_MS }, (pressedCounts) => ({
    pressedCounts,
    ...withHoses(known.figures, pressedCounts),
  })),
  done('scale.released', 'Let the nitrogen off slowly.'),
];

const REMEDY =
  'level the platform, see that nothing touches it and that the cell is neither overloaded nor loose, and repeat the line';

const TOLERANCES: readonly Tolerance[] = [
  {
    figure: 'countsPerKg',
    min: 2_000,
    because: 'half a gram a count; a negative figure is a bridge with two wires exchanged',
    basis: 'estimate',
    remedy: 'exchange the two signal wires of the bridge, or give it its gain, and repeat the line',
  },
  {
    figure: 'repeatabilityKg',
    max: 0.003,
    because: 'what 40 CFR 82 subpart B, appendix C (SAE J2788) allows the reference scale of a laboratory',
    basis: 'source',
    remedy: REMEDY,
  },
  {
    figure: 'linearityKg',
    max: 0.005,
    because: 'a third of the 15 g within which a charge is to be (the same appendix)',
    basis: 'estimate',
    remedy: REMEDY,
  },
  {
    figure: 'noiseKg',
    max: 0.003,
    because: 'a cut-off at 15 g/s is off by 1.7 g with it',
    basis: 'estimate',
    remedy: 'shield the cable of the cell and keep it away from relays, and repeat the line',
  },
  {
    figure: 'spanErrorSd',
    max: 0.002,
    because: 'a gram in a charge of half a kilogram',
    basis: 'estimate',
    remedy: 'use better reference masses, and repeat the line',
  },
  {
    figure: 'creepSd',
    max: 0.004,
    because: 'two grams after a step of half a kilogram',
    basis: 'estimate',
    remedy: 'use a load cell of a better class or of less capacity, and repeat the line',
  },
  {
    figure: 'hoseForceKgPerPaSd',
    max: 0.06 / 600_000,
    because: 'hoses in good loops couple 10 to 30 g at 6 bar; twice that can still be reckoned with',
    basis: 'estimate',
    remedy: 'lay the hoses to the tank in free loops, clamped beside the platform, and repeat the line',
  },
];

export const scale: Line = {
  id: 'scale',
  title: 'Scale',
  why: 'Every gram of every record comes from here, and so does the fill limit of the tank.',
  needs: ['facts'],
  mayDrive: {},
  validDays: 60,
  gives: () => ['zeroCounts'],
  tolerances: TOLERANCES,
  remedy: REMEDY,
  moves: (known) => {
    if (!('massesKg' in known.figures)) return ASKED;
    const masses = numbersIn(known.figures, 'massesKg');
    const order = loadOrder(masses);
    const empty = weighed(known, { forMs: LONG_LOOK_MS }, (_, noiseCounts) => ({ noiseCounts }));
    return [
      ...ASKED,
      empty,
      ...order.flatMap((massKg, index) => loaded(known, index, massKg)),
      scaleFound(known, order, TOLERANCES),
      ...creep(known, masses.at(-1)!),
      ...tank(known),
    ];
  },
};
