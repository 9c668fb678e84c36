// What data sheets, drawings and labels say of a machine, typed by its builder: every question with its bounds.
import { OUTPUTS, type Output } from '../../controller/signals.ts';
import type { Question } from './line.ts';
import type { Quantity } from './quantities.ts';
import type { Figures } from './record.ts';

/** Without these there is no machine. */
const ALWAYS_FITTED: readonly Output[] = [
  'highSideValve',
  'lowSideValve',
  'recoveryValve',
  'vacuumValve',
  'chargeValve',
  'compressor',
  'vacuumPump',
];
const MAY_BE_FITTED = OUTPUTS.filter((output) => !ALWAYS_FITTED.includes(output));
const OPTIONAL_SENSORS = ['vehicleVacuum', 'ventTemperature', 'barometer', 'gasAlarm'] as const;
type OptionalSensor = (typeof OPTIONAL_SENSORS)[number];
/** As the controller names them. */
const OILS = ['PAG', 'POE', 'PVE'] as const;

type Fact = {
  readonly key: string;
  readonly text: string;
  /** Left out: always asked. */
  readonly only?: (facts: Figures) => boolean;
} & (
  | { readonly kind: 'text' | 'refrigerant' | 'yes-no' }
  | { readonly kind: 'choice' | 'choices'; readonly choices: readonly string[] }
  | { readonly kind: 'number'; readonly quantity: Quantity }
);

const has = (facts: Figures, key: string, word: string): boolean => {
  const words = facts[key];
  return Array.isArray(words) && (words as readonly unknown[]).includes(word);
};
export const fittedSensor = (facts: Figures, sensor: OptionalSensor): boolean =>
  has(facts, 'optionalSensors', sensor);
const driven = (output: Output) => (facts: Figures) => has(facts, 'optionalOutputs', output);
const sensed = (sensor: OptionalSensor) => (facts: Figures) => fittedSensor(facts, sensor);

export const fittedOutputs = (facts: Figures): readonly Output[] =>
  OUTPUTS.filter((output) => ALWAYS_FITTED.includes(output) || has(facts, 'optionalOutputs', output));

const number = (
  key: string,
  text: string,
  kind: Quantity['kind'],
  min: number,
  max: number,
  only?: (facts: Figures) => boolean,
): Fact => ({
  key,
  text,
  kind: 'number',
  quantity: { kind, min, max },
  ...(only === undefined ? {} : { only }),
});

/** The two ends of a transmitter's span, 0.5 V and 4.5 V. */
const span = (
  sensor: string,
  named: string,
  from: readonly [number, number],
  to: readonly [number, number],
): Fact[] => [
  number(`${sensor}FromPa`, `${named}: pressure at 0.5 V (lower end of its span)`, 'pressure', ...from),
  number(`${sensor}ToPa`, `${named}: pressure at 4.5 V (upper end of its span)`, 'pressure', ...to),
];
const GAUGE_FROM = [-100_000, 100_000] as const;

export const FACTS: readonly Fact[] = [
  { key: 'name', kind: 'text', text: 'Name of this machine, for its records' },
  { key: 'refrigerant', kind: 'refrigerant', text: 'Refrigerant that its tank is for' },
  number('waterCapacityM3', 'Water capacity stamped on the tank', 'volume', 2e-3, 0.1),
  number('fillLimitKg', 'Highest net mass of refrigerant by the label of the tank', 'mass', 0.5, 80),
  number(
    'tankTemperatureLimitK',
    'Highest temperature that the tank may be brought to',
    'temperature',
    293.15,
    323.15,
  ),
  {
    key: 'optionalOutputs',
    kind: 'choices',
    choices: MAY_BE_FITTED,
    text: `Which of these are fitted, besides ${ALWAYS_FITTED.join(', ')}`,
  },
  { key: 'optionalSensors', kind: 'choices', choices: OPTIONAL_SENSORS, text: 'Which of these are fitted' },
  ...span('highSide', 'High-side transmitter, gauge', GAUGE_FROM, [1e6, 6e6]),
  ...span('lowSide', 'Low-side transmitter, gauge', GAUGE_FROM, [4e5, 4e6]),
  ...span('tank', 'Tank transmitter, gauge', GAUGE_FROM, [1e6, 6e6]),
  ...span('manifold', 'Manifold transmitter, absolute', [0, 20_000], [100_000, 400_000]),
  number('thermistorOhms', 'Thermistors: resistance at 25 °C', 'resistance', 1000, 100_000),
  number('thermistorBetaK', 'Thermistors: beta', 'kelvin', 2500, 5000),
  number('pullUpOhms', 'Pull-up resistor above each thermistor', 'resistance', 500, 100_000),
  number(
    'barometerFromPa',
    'Barometer: absolute pressure at 0.5 V',
    'barometer',
    0,
    90_000,
    sensed('barometer'),
  ),
  number(
    'barometerToPa',
    'Barometer: absolute pressure at 4.5 V',
    'barometer',
    105_000,
    400_000,
    sensed('barometer'),
  ),
  number(
    'vacuumVoltsAt1Pa',
    'Vehicle-end vacuum sensor: volts at 1 Pa',
    'volts',
    -5,
    5,
    sensed('vehicleVacuum'),
  ),
  number(
    'vacuumVoltsPerDecade',
    'Vehicle-end vacuum sensor: volts a decade',
    'volts',
    0.05,
    5,
    sensed('vehicleVacuum'),
  ),
  number(
    'vacuumFromPa',
    'Vehicle-end vacuum sensor: lowest pressure',
    'vacuum',
    0.01,
    100,
    sensed('vehicleVacuum'),
  ),
  number(
    'vacuumToPa',
    'Vehicle-end vacuum sensor: highest pressure',
    'vacuum',
    100,
    110_000,
    sensed('vehicleVacuum'),
  ),
  number(
    'vacuumRelativeSd',
    'Vehicle-end vacuum sensor: how far off, one standard deviation',
    'share',
    0.001,
    0.5,
    sensed('vehicleVacuum'),
  ),
  number(
    'scaleDriftKgPerK',
    "Load cell: temperature effect on zero, from the cell's data sheet (its share times its capacity)",
    'drift',
    1e-6,
    0.1,
  ),
  number('cutOutPa', 'High-pressure switch: cuts out at, absolute', 'pressure', 1e6, 4e6),
  number('compressorSweptM3PerS', 'Compressor: displacement', 'displacement', 1e-5, 5e-3),
  number(
    'condenserM3',
    'Condenser: room in its coil, up to the check valve before the tank, from its drawing or by filling it with water before it is built in',
    'volume',
    2e-5,
    5e-3,
  ),
  number(
    'separatorM3',
    'Oil separator and filter-drier: room between recovery valve and compressor, likewise',
    'volume',
    2e-5,
    1e-2,
  ),
  number('compressorMinimumOffMs', 'Compressor: shortest time between stop and start', 'time', 0, 900_000),
  number(
    'pumpOpenLimitPa',
    'Vacuum pump: highest absolute pressure that it may be opened to',
    'pressure',
    50_000,
    110_000,
  ),
  number('pumpUltimatePa', 'Vacuum pump: ultimate pressure', 'vacuum', 0.1, 100),
  {
    key: 'separatorFloat',
    kind: 'yes-no',
    text: 'Does a float shut the separator drain when the oil is gone',
  },
  { key: 'oilKind', kind: 'choice', choices: OILS, text: 'Oil in the bottle', only: driven('oilValve') },
  number(
    'oilFlowM3PerSPa',
    'Oil: flow through its valve and line into a vacuum, from a weighed dose',
    'bottleFlow',
    1e-13,
    1e-9,
    driven('oilValve'),
  ),
  number(
    'oilLineFilmM3',
    'Oil: what stays on the walls of its line, from a weighed dose',
    'smallVolume',
    0,
    20e-6,
    driven('oilValve'),
  ),
  number(
    'dyeFlowM3PerSPa',
    'Dye: flow through its valve and line into a vacuum, from a weighed dose',
    'bottleFlow',
    1e-13,
    1e-9,
    driven('dyeValve'),
  ),
  number(
    'dyeLineFilmM3',
    'Dye: what stays on the walls of its line, from a weighed dose',
    'smallVolume',
    0,
    20e-6,
    driven('dyeValve'),
  ),
  number('dyeBottleM3', 'Dye: what its bottle holds', 'smallVolume', 1e-6, 500e-6, driven('dyeValve')),
];

const OF_THE_SENSES = /(From|To)Pa$|^thermistor|^pullUp|^optional/;

/** Whether what was measured by one set of facts says nothing by another. */
export const sensesOtherwise = (one: Figures, other: Figures): boolean =>
  FACTS.some(({ key }) => OF_THE_SENSES.test(key) && JSON.stringify(one[key]) !== JSON.stringify(other[key]));

/** Those that this machine must have answered, by what was answered so far. */
export const factsAsked = (facts: Figures): readonly Fact[] =>
  FACTS.filter(({ only }) => only === undefined || only(facts));

export function questionOf(fact: Fact, refrigerants: readonly string[]): Question {
  const named = { id: fact.key, text: fact.text };
  switch (fact.kind) {
    case 'refrigerant':
      return { ...named, kind: 'choice', choices: refrigerants };
    case 'number':
      return { ...named, kind: fact.kind, quantity: fact.quantity };
    case 'choice':
    case 'choices':
      return { ...named, kind: fact.kind, choices: fact.choices };
    default:
      return { ...named, kind: fact.kind };
  }
}

/** What is wrong with a fact as it stands in a file, or undefined. */
function problemWith(fact: Fact, value: Figures[string] | undefined): string | undefined {
  if (value === undefined) return `${fact.key} is missing`;
  switch (fact.kind) {
    case 'number': {
      const { min, max } = fact.quantity;
      return typeof value === 'number' && value >= min && value <= max
        ? undefined
        : `${fact.key} must be a number from ${min} to ${max}`;
    }
    case 'yes-no':
      return typeof value === 'boolean' ? undefined : `${fact.key} must be true or false`;
    case 'choices':
      return Array.isArray(value) &&
        (value as readonly unknown[]).every((word) => fact.choices.includes(String(word)))
        ? undefined
        : `${fact.key} must be a list out of ${fact.choices.join(', ')}`;
    case 'choice':
      return fact.choices.includes(String(value))
        ? undefined
        : `${fact.key} must be one of ${fact.choices.join(', ')}`;
    default:
      return typeof value === 'string' && value !== '' ? undefined : `${fact.key} must be text`;
  }
}

/** The first thing wrong with the facts of a file, or undefined. */
export function factsProblem(facts: Figures): string | undefined {
  for (const fact of factsAsked(facts)) {
    const problem = problemWith(fact, facts[fact.key]);
    if (problem !== undefined) return problem;
  }
  return spansProblem(facts);
}

/** A span that ends before it begins, or a tank sensor that is no use there. */
export function spansProblem(facts: Figures): string | undefined {
  const wrong = ['highSide', 'lowSide', 'tank', 'manifold', 'barometer'].find((sensor) => {
    const from = facts[`${sensor}FromPa`];
    const to = facts[`${sensor}ToPa`];
    return typeof from === 'number' && typeof to === 'number' && to <= from;
  });
  return wrong === undefined ? undefined : `${wrong}ToPa must lie above ${wrong}FromPa`;
}
