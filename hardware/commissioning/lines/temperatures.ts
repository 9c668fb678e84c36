// (i) Temperatures against a reference thermometer.
import { fittedSensor } from '../facts.ts';
import type { Known, Line, Move, Tolerance } from '../line.ts';
import { asked, averaged, done, reckoned } from '../moves.ts';
import { type Figures, numberIn } from '../record.ts';
import { EVENLY } from './second-point.ts';

const PROBES = ['tank', 'ambient', 'vent'] as const;
type Probe = (typeof PROBES)[number];
const probesOf = ({ facts }: Pick<Known, 'facts'>): readonly Probe[] =>
  PROBES.filter((probe) => probe !== 'vent' || fittedSensor(facts, 'ventTemperature'));

const compared = (probe: Probe): readonly Move[] => [
  asked(
    {
      id: `temperatures.${probe}`,
      kind: 'number',
      quantity: { kind: 'temperature', min: 253.15, max: 333.15 },
      text: `Hold the reference thermometer against the ${probe} probe until it stands still, and type it`,
    },
    (value) => ({ [`${probe}ReferenceK`]: value }),
  ),
  averaged({
    of: (readings) => readings[`${probe}TemperatureK`],
    named: `the ${probe} thermometer`,
    forMs: 5_000,
    keep: (readK, noiseK) => ({ [`${probe}ReadK`]: readK, [`${probe}NoiseK`]: noiseK }),
  }),
];

function found(known: Known): Figures {
  const { figures } = known;
  const probes = probesOf(known);
  const noiseK = Math.max(...probes.map((probe) => numberIn(figures, `${probe}NoiseK`)));
  return {
    ...Object.fromEntries(
      probes.map((probe) => [
        `${probe}OffsetK`,
        numberIn(figures, `${probe}ReferenceK`) - numberIn(figures, `${probe}ReadK`),
      ]),
    ),
    temperatureSdK: Math.hypot(numberIn(figures, 'thermometerErrorK') * EVENLY, noiseK),
  };
}

const tolerance = (probe: Probe): Tolerance => ({
  figure: `${probe}OffsetK`,
  min: -3,
  max: 3,
  because: 'thermistors are within one kelvin, on a clamp within three',
  basis: 'common practice',
  remedy: `check how the ${probe} probe sits, and the figures of the thermistor, and repeat the line`,
  ...(probe === 'vent' ? { optional: true } : {}),
});

export const temperatures: Line = {
  id: 'temperatures',
  title: 'Thermometers',
  why: 'Whether a tank holds air is told from its pressure against its temperature: one kelvin is 18 kPa.',
  needs: ['facts'],
  mayDrive: {},
  validDays: 365,
  gives: (known) => ['temperatureSdK', ...probesOf(known).map((probe) => `${probe}OffsetK`)],
  tolerances: [
    ...PROBES.map(tolerance),
    {
      figure: 'temperatureSdK',
      max: 1,
      because:
        'one kelvin is 18 kPa of R-134a at 20 °C, and a tank with 100 kPa of air must be told from one without',
      basis: 'estimate',
      remedy: 'use a better reference thermometer, and repeat the line',
    },
  ],
  remedy: 'repeat the line',
  moves: (known) => [
    done(
      'temperatures.rested',
      'Tank and probes must have stood in this room for two hours, out of the sun and of any draught.',
    ),
    asked(
      {
        id: 'temperatures.error',
        kind: 'number',
        quantity: { kind: 'temperatureDifference', min: 0, max: 3 },
        text: 'How far may the reference thermometer be off, by its data sheet',
      },
      (value) => ({ thermometerErrorK: value }),
    ),
    ...probesOf(known).flatMap(compared),
    reckoned(() => found(known)),
  ],
};
