// (k) Dead time of the valves: from the command to the first rise of pressure, with the room behind and a vacuum before.
import {
  BEFORE_DRIVING,
  type Known,
  type Line,
  type Move,
  type MoveMemory,
  type Outcome,
  type Turn,
} from '../line.ts';
import { done, held, reckoned, until, wish } from '../moves.ts';
import { numbersIn } from '../record.ts';
import { meanOf, sdOf } from '../statistics.ts';
import { manifoldIn } from './vacuum.ts';

const OPENINGS = 24;
const PULSE_MS = 500;
const LONGEST_MS = 420_000;
const DEEP_PA = 3_000;
const DEEP_WITHIN_MS = 20_000;
const SHUT_MS = 700;
/** The manifold fills at some hundred thousand pascals a second: a rise of this is one or two milliseconds. */
const RISE_PA = 1_000;
const SEEN_WITHIN_MS = 1_500;

const PUMP = wish('vacuumPump', LONGEST_MS);
const EVACUATING = [PUMP, wish('vacuumValve', DEEP_WITHIN_MS + 5_000)];

/** Commands and telemetry both keep time; unequal pauses let every opening fall elsewhere between two lines. */
const pauseMs = (index: number): number => SHUT_MS + ((index * 7) % 10) * 50;

type Watched = MoveMemory['samples'];

/** The command, and the last reading before the rise, each with its time. */
function onset(known: Known, index: number): Move {
  const manifold = manifoldIn(known);
  return {
    asks: false,
    step: ({ sinceMs, samples }, { seen, nowMs }: Turn): Outcome => {
      const on = [PUMP, wish('highSideValve', PULSE_MS)];
      const reading = manifold(seen.readings);
      if (!reading.ok) return { kind: 'fail', why: `the manifold sensor has no reading (${reading.reason})` };
      const here = { atMs: reading.atMs, value: reading.value };
      const [command, before]: Watched = samples;
      if (command === undefined || before === undefined)
        return { kind: 'stay', on, samples: [{ atMs: nowMs, value: reading.value }, here] };
      if (reading.value < command.value + RISE_PA)
        return nowMs - sinceMs > SEEN_WITHIN_MS
          ? {
              kind: 'fail',
              why: 'the manifold did not fill: the high-side valve stays shut, or its hose is closed',
            }
          : { kind: 'stay', on, samples: [command, here] };
      const kept = (name: string, value: number) => [
        ...(index === 0 ? [] : numbersIn(known.figures, name).slice(0, index)),
        value,
      ];
      return {
        kind: 'next',
        on: [PUMP],
        figures: {
          onsetsMs: kept('onsetsMs', (before.atMs + reading.atMs) / 2 - command.atMs),
          bracketsMs: kept('bracketsMs', reading.atMs - before.atMs),
        },
      };
    },
  };
}

const opened = (known: Known, index: number): readonly Move[] => {
  const manifold = manifoldIn(known);
  return [
    until({
      met: ({ seen }) => {
        const reading = manifold(seen.readings);
        return reading.ok && reading.value < DEEP_PA;
      },
      withinMs: DEEP_WITHIN_MS,
      otherwise:
        'the pump does not evacuate the manifold: is a hose valve leaking, or the vacuum valve shut?',
      on: EVACUATING,
    }),
    held(pauseMs(index), [PUMP]),
    onset(known, index),
    held(PULSE_MS, [PUMP]),
  ];
};

/** At 250,000 baud a command of 60 characters is 2 ms on its way, and what the board sees, 170 characters, is stamped 7 ms late. */
const WAYS_MS = 9;
/** What port and converter may take more or less, evenly: an adapter gathers bytes, the converter goes round in 20 ms. */
const WAYS_SPREAD_MS = 20;
const EVENLY = 1 / Math.sqrt(12);

/**
 * Half of the time between two readings is what a single opening may be off, evenly: with openings that fall
 * everywhere in it, the mean is better by the root of their number; with openings that all fall alike it is not.
 */
function deadTime({ figures }: Known) {
  const onsets = numbersIn(figures, 'onsetsMs');
  const alone = meanOf(numbersIn(figures, 'bracketsMs')) * EVENLY;
  const scatter = sdOf(onsets);
  const spread = scatter > alone / 2;
  return {
    valveDeadTimeMs: meanOf(onsets) - WAYS_MS,
    deadTimeSdMs: Math.hypot(
      scatter / Math.sqrt(onsets.length),
      spread ? alone / Math.sqrt(onsets.length) : alone,
      WAYS_SPREAD_MS * EVENLY,
    ),
  };
}

export const deadTimeLine: Line = {
  id: 'dead-time',
  title: 'Dead time of the valves',
  why: 'A charge is cut off as much earlier as its valve is late; at 20 g/s a tenth of a second is two grams.',
  needs: [...BEFORE_DRIVING, 'click-test', 'second-point'],
  mayDrive: { vacuumPump: LONGEST_MS, vacuumValve: DEEP_WITHIN_MS + 5_000, highSideValve: PULSE_MS },
  validDays: 365,
  tolerances: [
    {
      figure: 'valveDeadTimeMs',
      min: 2,
      max: 250,
      because: 'direct-acting valves take 10 to 150 ms, a relay ten, the line a few',
      basis: 'estimate',
      remedy: 'check the voltage at the coil, or use a direct-acting valve, and repeat the line',
    },
    {
      figure: 'deadTimeSdMs',
      max: 20,
      because: 'it costs 0.4 g at 20 g/s',
      basis: 'estimate',
      remedy: 'repeat the line; if it stays, the valve sticks',
    },
  ],
  remedy: 'repeat the line',
  moves: (known) => [
    done(
      'dead-time.open',
      'Open the end of the high-side hose to the room, and close that of the low-side hose.',
    ),
    held(3_000, [PUMP], `The high-side valve opens ${OPENINGS} times into the evacuated manifold.`),
    ...Array.from({ length: OPENINGS }, (_, index) => opened(known, index)).flat(),
    reckoned(() => deadTime(known)),
  ],
};
