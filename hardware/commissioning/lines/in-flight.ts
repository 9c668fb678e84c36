// (n) What still passes a charge valve when it is told to shut: weighed pulses of rising length, with refrigerant.
import type { Known, Line, Move } from '../line.ts';
import { averaged, done, held, reckoned, wish } from '../moves.ts';
import { type Figures, LINE_IDS, numberIn, numbersIn } from '../record.ts';
import { lineThrough } from '../statistics.ts';
import { pumpedDown, pumpTimeMs } from './vacuum.ts';

/** Not in rising order, so that a flow that falls with time does not look like one that falls with length. */
const PULSES_MS = [400, 1_000, 200, 700, 1_400, 300] as const;
const PUMPED_MS = 180_000;
const SETTLE_MS = 4_000;
const LOOK_MS = 8_000;
const OPEN_MS = 600_000;
const HIGH = wish('highSideValve', OPEN_MS);

/** Mass on the scale, of which only differences count. */
const weighed = (known: Known, index: number): Move => {
  const perKg = numberIn(known.of('scale'), 'countsPerKg');
  return averaged({
    of: ({ scaleCounts }) => scaleCounts,
    named: 'the scale',
    settleMs: SETTLE_MS,
    forMs: LOOK_MS,
    within: 10 * numberIn(known.of('scale'), 'noiseKg') * perKg,
    on: [HIGH],
    keep: (counts) => ({
      weighingsKg: [
        ...(index === 0 ? [] : numbersIn(known.figures, 'weighingsKg').slice(0, index)),
        counts / perKg,
      ],
    }),
  });
};

/** The high-side valve stays open: no liquid is shut in. */
const pulsed = (pulseMs: number, tell?: string): readonly Move[] => [
  held(pulseMs + 200, [wish('chargeValve', pulseMs), HIGH], tell),
];

function inFlight({ figures }: Known): Figures {
  const weighings = numbersIn(figures, 'weighingsKg');
  const passed = PULSES_MS.map((_, i) => weighings[i]! - weighings[i + 1]!);
  const line = lineThrough(
    PULSES_MS.map((ms) => ms / 1000),
    passed,
  );
  return {
    pulsesMs: PULSES_MS,
    passedKg: passed,
    flowKgPerS: line.slope,
    inFlightKg: line.intercept,
    inFlightSdKg: line.interceptSd,
  };
}

const REMEDY =
  'see that the receiving cylinder is evacuated and large, that nothing touches the scale, and repeat the line';

export const inFlightLine: Line = {
  id: 'in-flight',
  title: 'What passes the charge valve too much',
  why: 'A valve that shuts later than it opens passes more than its pulse; knowing it makes the last grams right.',
  needs: LINE_IDS.filter((id) => id !== 'in-flight'),
  mayDrive: {
    vacuumPump: pumpTimeMs(PUMPED_MS),
    vacuumValve: pumpTimeMs(PUMPED_MS),
    highSideValve: OPEN_MS,
    chargeValve: 1_400,
  },
  withRefrigerant: true,
  optional: true,
  validDays: 365,
  // The doubt first: a push on the scale spoils all three, and only its remedy says so.
  tolerances: [
    {
      figure: 'inFlightSdKg',
      max: 0.002,
      because: 'what cannot be told from nothing is of no use',
      basis: 'estimate',
      remedy: REMEDY,
    },
    {
      figure: 'flowKgPerS',
      min: 0.002,
      max: 0.1,
      because: 'a charge valve of Kv 0.1 passes about 25 g/s',
      basis: 'estimate',
      remedy:
        'see that the liquid valve of the tank is open and the tank not nearly empty, and repeat the line',
    },
    {
      figure: 'inFlightKg',
      min: -0.01,
      max: 0.01,
      because: 'more than a third of a second of flow is no delay of a valve',
      basis: 'estimate',
      remedy: REMEDY,
    },
  ],
  remedy: REMEDY,
  moves: (known) => [
    done(
      'in-flight.ready',
      'The tank holds refrigerant, its valves are open. An empty recovery cylinder of 10 L or more is on the high-side hose, its valve open; the low-side hose is closed. Air the room; no flame, no spark.',
    ),
    ...pumpedDown(PUMPED_MS, { also: [HIGH], tell: 'Hose and cylinder are evacuated for three minutes.' }),
    weighed(known, 0),
    ...PULSES_MS.flatMap((pulseMs, index) => [
      ...pulsed(pulseMs, index === 0 ? 'Pulses of liquid, each weighed.' : undefined),
      weighed(known, index + 1),
    ]),
    done(
      'in-flight.shut',
      'Shut the valve of the receiving cylinder. What is in it can be recovered as from a vehicle.',
    ),
    reckoned(() => inFlight(known)),
  ],
};
