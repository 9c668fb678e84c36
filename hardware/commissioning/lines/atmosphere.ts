// (g) Atmosphere: everything open to the room, and every pressure sensor against a barometer that was read.
import { fittedSensor } from '../facts.ts';
import { BEFORE_DRIVING, type Known, type Line, type Move, type Tolerance } from '../line.ts';
import { asked, averaged, done, held, reckoned, wish } from '../moves.ts';
import { type Figures, numberIn } from '../record.ts';
import { PRESSURE_SENSORS, type PressureName } from '../sensors.ts';
import { read } from './vacuum.ts';

const VALVES_OPEN_MS = 10_000;
const LOOK_MS = 3_000;

/** Of span. */
const SHARE = 0.03;

export const spanPa = (facts: Figures, name: PressureName): number =>
  numberIn(facts, `${name}ToPa`) - numberIn(facts, `${name}FromPa`);

const looked = (name: PressureName): Move =>
  averaged({
    of: read(name),
    named: `the ${name} sensor`,
    forMs: LOOK_MS,
    keep: (readPa, noisePa) => ({ [`${name}ReadPa`]: readPa, [`${name}NoisePa`]: noisePa }),
  });

const LOOK_AT_BAROMETER: Move = averaged({
  of: ({ barometerPa }) => barometerPa,
  named: 'the barometer',
  forMs: LOOK_MS,
  keep: (barometerReadPa) => ({ barometerReadPa }),
});

/** What each is off, as a share of its span. */
function offsets({ figures, facts }: Known): Figures {
  const barometerPa = numberIn(figures, 'barometerPa');
  const shares = PRESSURE_SENSORS.map((name) => {
    const truePa = name === 'manifold' ? barometerPa : 0;
    return [`${name}OffShare`, (numberIn(figures, `${name}ReadPa`) - truePa) / spanPa(facts, name)];
  });
  const barometer = fittedSensor(facts, 'barometer')
    ? { barometerOffsetPa: barometerPa - numberIn(figures, 'barometerReadPa') }
    : {};
  return { ...Object.fromEntries(shares), ...barometer };
}

const tolerance = (name: PressureName): Tolerance => ({
  figure: `${name}OffShare`,
  min: -SHARE,
  max: SHARE,
  because:
    'three times the class of a sensor of one per cent: what is further off is broken, or has another span',
  basis: 'estimate',
  remedy: `check that the ${name} line was open to the room, and the span of its sensor; else change the sensor; then repeat the line`,
});

export const atmosphere: Line = {
  id: 'atmosphere',
  title: 'Pressure sensors against the room',
  why: 'The room is a reference that costs nothing; a sensor that does not show it shows nothing else rightly.',
  needs: [...BEFORE_DRIVING, 'click-test'],
  mayDrive: { highSideValve: 20_000, lowSideValve: 20_000 },
  validDays: 60,
  gives: ({ facts }) => [
    'barometerPa',
    ...PRESSURE_SENSORS.map((name) => `${name}ReadPa`),
    ...(fittedSensor(facts, 'barometer') ? ['barometerOffsetPa'] : []),
  ],
  tolerances: [
    ...PRESSURE_SENSORS.map(tolerance),
    {
      figure: 'barometerOffsetPa',
      min: -500,
      max: 500,
      because:
        'a barometer chip is within one hectopascal; more than five means another height or another unit',
      basis: 'estimate',
      remedy: 'read the station pressure, not the one reduced to sea level, and repeat the line',
      optional: true,
    },
  ],
  remedy: 'open hoses and tank to the room and repeat the line',
  moves: (known) => [
    asked(
      {
        id: 'atmosphere.barometer',
        kind: 'number',
        quantity: { kind: 'barometer', min: 60_000, max: 110_000 },
        text: 'Pressure of the air here, by a barometer in this room: the pressure of the station, not the one reduced to sea level',
      },
      (value) => ({ barometerPa: value }),
    ),
    done(
      'atmosphere.open',
      'Open the ends of both hoses to the room, and the tank by its hand valves and a loose fitting.',
    ),
    held(
      VALVES_OPEN_MS,
      [wish('highSideValve', 20_000), wish('lowSideValve', 20_000)],
      'Both hose valves open, so that the manifold takes the pressure of the room.',
    ),
    held(2_000),
    ...PRESSURE_SENSORS.map(looked),
    ...(fittedSensor(known.facts, 'barometer') ? [LOOK_AT_BAROMETER] : []),
    reckoned(() => offsets(known)),
  ],
};
