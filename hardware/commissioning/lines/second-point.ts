// (h) Second point: the pump's deep vacuum for the absolute sensor, nitrogen against a reference gauge for the others.

import { chipStepPa } from '../../sensors.ts';
import { BEFORE_DRIVING, type Known, type Line, type Move, type Tolerance } from '../line.ts';
import { asked, averaged, done, reckoned } from '../moves.ts';
import { type Figures, numberIn } from '../record.ts';
import { dataSheetSensors, type PressureName } from '../sensors.ts';
import { spanPa } from './atmosphere.ts';
import { pumpedDown, pumpTimeMs, read } from './vacuum.ts';

/** A warm pump on a small dry volume is at its ultimate pressure by then. */
const PUMPED_MS = 300_000;
const LOOK_MS = 10_000;
const LONGEST_MS = pumpTimeMs(PUMPED_MS);
const GAUGES = ['highSide', 'lowSide', 'tank'] as const satisfies readonly PressureName[];
/** A limit of error that nobody knows more of counts as an even distribution (JCGM 100:2008, 4.3.7). */
export const EVENLY = 1 / Math.sqrt(3);

const WHERE: { readonly [N in (typeof GAUGES)[number]]: string } = {
  highSide: 'the high-side hose',
  lowSide: 'the low-side hose',
  tank: 'the tank, its valves to the machine shut by hand',
};
const LOW_SHARE = 0.2;
const HIGH_SHARE = 0.95;

function gaugePoint(name: (typeof GAUGES)[number], { facts }: Known): readonly Move[] {
  const toPa = numberIn(facts, `${name}ToPa`);
  return [
    asked(
      {
        id: `second-point.${name}`,
        kind: 'number',
        quantity: { kind: 'pressure', min: LOW_SHARE * toPa, max: HIGH_SHARE * toPa },
        text: `Put dry nitrogen from its regulator on ${WHERE[name]}, to a third of the sensor's span or more, and never above what the weakest part stands. Type what the reference gauge shows (gauge pressure)`,
      },
      (value) => ({ [`${name}ReferencePa`]: value }),
    ),
    averaged({
      of: read(name),
      named: `the ${name} sensor`,
      settleMs: 1_000,
      forMs: 3_000,
      keep: (readPa, noisePa) => ({ [`${name}ReadPa`]: readPa, [`${name}NoisePa`]: noisePa }),
    }),
  ];
}

/** One step of a converter, evenly. */
const STEP_EVENLY = 1 / Math.sqrt(12);

/**
 * The slope through both points, zero being what the line before found last; and how far a reading may still be off:
 * each point by noise and step, the second by its reference too, carried on to the middle of the span, where it is used.
 */
function gaugeFound(name: (typeof GAUGES)[number], { figures, facts, of }: Known): Figures {
  const zeroPa = numberIn(of('atmosphere'), `${name}ReadPa`);
  const referencePa = numberIn(figures, `${name}ReferencePa`);
  const gain = referencePa / (numberIn(figures, `${name}ReadPa`) - zeroPa);
  const stepPa = chipStepPa(dataSheetSensors(facts)[name]) * STEP_EVENLY;
  const zeroSdPa = Math.hypot(numberIn(of('atmosphere'), `${name}NoisePa`), stepPa);
  const referenceSdPa = Math.hypot(
    numberIn(figures, 'gaugeErrorPa') * EVENLY,
    numberIn(figures, `${name}NoisePa`),
    stepPa,
  );
  const usedPa = Math.max(referencePa, numberIn(facts, `${name}ToPa`) / 2);
  const sdPa = Math.hypot(zeroSdPa, referenceSdPa * (usedPa / referencePa));
  return {
    [`${name}Gain`]: gain,
    [`${name}SdPa`]: sdPa,
    [`${name}SdShare`]: sdPa / spanPa(facts, name),
  };
}

function manifoldFound({ figures, facts, of }: Known): Figures {
  const ultimatePa = numberIn(facts, 'pumpUltimatePa');
  const roomPa = numberIn(of('atmosphere'), 'barometerPa');
  const deepPa = numberIn(figures, 'manifoldReadPa');
  const gain = (roomPa - ultimatePa) / (numberIn(of('atmosphere'), 'manifoldReadPa') - deepPa);
  const noisePa = numberIn(figures, 'manifoldNoisePa');
  return {
    manifoldGain: gain,
    manifoldOffsetPa: ultimatePa - deepPa * gain,
    manifoldSdPa: Math.hypot(ultimatePa, noisePa),
  };
}

const gainTolerance = (name: PressureName): Tolerance => ({
  figure: `${name}Gain`,
  min: 0.97,
  max: 1.03,
  because: 'a sensor of one per cent against a gauge of one per cent; more means another span than was typed',
  basis: 'estimate',
  remedy: `look at the span of the ${name} sensor and at the reference gauge, and repeat the lines facts, atmosphere and second-point`,
});

export const secondPoint: Line = {
  id: 'second-point',
  title: 'Pressure sensors at a second point',
  why: 'A sensor that is right at the pressure of the room may still be wrong at every other: a second point finds its gain.',
  needs: [...BEFORE_DRIVING, 'click-test', 'atmosphere'],
  mayDrive: { vacuumPump: LONGEST_MS, vacuumValve: LONGEST_MS },
  validDays: 365,
  gives: () => [
    'manifoldOffsetPa',
    'manifoldNoisePa',
    ...[...GAUGES, 'manifold'].flatMap((name) => [`${name}Gain`, `${name}SdPa`]),
  ],
  tolerances: [
    gainTolerance('manifold'),
    ...GAUGES.map(gainTolerance),
    {
      figure: 'manifoldSdPa',
      max: 60,
      because: 'vacuum verdicts go by this sensor, and the hold is judged at some hundred pascals',
      basis: 'estimate',
      remedy:
        'change the oil of the pump, look for a leak of the manifold or for a noisy wire, and repeat the line',
    },
    ...GAUGES.map(
      (name): Tolerance => ({
        figure: `${name}SdShare`,
        max: 0.015,
        because: 'the reference must not be worse than the sensor',
        basis: 'common practice',
        remedy: 'use a better reference gauge, and repeat the line',
      }),
    ),
  ],
  remedy: 'repeat the line',
  moves: (known) => [
    done('second-point.shut', 'Close the ends of both hoses and the valves of the tank.'),
    ...pumpedDown(PUMPED_MS, {
      tell: 'The pump evacuates the manifold alone, for five minutes.',
      look: (on) =>
        averaged({
          of: read('manifold'),
          named: 'the manifold sensor',
          forMs: LOOK_MS,
          on,
          keep: (readPa, noisePa) => ({ manifoldReadPa: readPa, manifoldNoisePa: noisePa }),
        }),
    }),
    asked(
      {
        id: 'second-point.gauge-error',
        kind: 'number',
        quantity: { kind: 'pressure', min: 0, max: 50_000 },
        text: 'How far may the reference gauge be off, by its class (1 % of 10 bar are 0.1 bar)',
      },
      (value) => ({ gaugeErrorPa: value }),
    ),
    ...GAUGES.flatMap((name) => gaugePoint(name, known)),
    done('second-point.released', 'Let the nitrogen off slowly, and open hoses and tank to the room.'),
    reckoned(() => Object.assign(manifoldFound(known), ...GAUGES.map((name) => gaugeFound(name, known)))),
  ],
};
