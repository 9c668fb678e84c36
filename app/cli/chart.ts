// `coldbench chart`: the pressure-temperature chart of a refrigerant.
import { ZERO_CELSIUS_K } from '../../sim/celsius.ts';
import { STANDARD_ATMOSPHERE_PA } from '../../sim/fluids/air.ts';
import type { Fluid } from '../../sim/fluids/fluid.ts';
import { SaturationLine } from '../../sim/fluids/saturation.ts';
import { toFahrenheit, toInchesOfMercury, toPsi } from '../units.ts';
import { splitArguments } from './arguments.ts';
import { type CliCommand, InputError, type Terminal } from './command.ts';
import { EXIT } from './exit.ts';
import { refrigerantNamed } from './properties.ts';

const MOST_ROWS = 2000;
/** Beyond these a barometer figure is a slip of unit: about 5000 m up, and above any weather. */
const LOWEST_BAROMETER_PA = 50_000;
const HIGHEST_BAROMETER_PA = 110_000;

const HELP = `Usage: coldbench chart REFRIGERANT [--units us|si|both] [--from C] [--to C] [--step C] [--barometer-pa P]

Prints saturation pressure over temperature: what a closed vessel with liquid and no air shows.

  --units us|si|both   °F with psig, and inHg of vacuum below zero; °C with bar gauge and kPa absolute; or both
                       (default both)
  --from C, --to C     first and last temperature, °C whatever the units (default -40 and 90)
  --step C             distance of the rows, °C (default 5)
  --barometer-pa P     what gauge pressures count from, Pa (default 101325, sea level)

Exit status: 0 completed, 2 bad input.
`;

const OPTIONS = {
  units: { type: 'string' },
  from: { type: 'string' },
  to: { type: 'string' },
  step: { type: 'string' },
  'barometer-pa': { type: 'string' },
} as const;

const COLUMNS = ['us', 'si', 'both'] as const;
type Columns = (typeof COLUMNS)[number];

type ChartRequest = {
  readonly fluid: Fluid;
  readonly columns: Columns;
  readonly temperaturesC: readonly number[];
  /** Decimals that show every row's temperature. */
  readonly decimals: number;
  readonly barometerPa: number;
};

/** Joins `--from -40` to `--from=-40`: a negative number is no option. */
function joinNegativeNumbers(args: readonly string[]): string[] {
  const joined: string[] = [];
  for (const arg of args) {
    const last = joined.at(-1);
    if (/^-[\d.]/.test(arg) && last !== undefined && /^--[a-z-]+$/.test(last))
      joined[joined.length - 1] = `${last}=${arg}`;
    else joined.push(arg);
  }
  return joined;
}

function numberFrom(values: ReadonlyMap<string, string>, name: string, otherwise: number): number {
  const text = values.get(name);
  if (text === undefined) return otherwise;
  const value = Number(text);
  if (text.trim() === '' || !Number.isFinite(value))
    throw new InputError(`--${name} must be a number, not '${text}'`);
  return value;
}

function columnsFrom(text = 'both'): Columns {
  const columns = COLUMNS.find((name) => name === text);
  if (columns === undefined) throw new InputError(`--units must be ${COLUMNS.join(', ')}, not '${text}'`);
  return columns;
}

const decimalsOf = (value: number): number => (String(value).split('.')[1] ?? '').length;

/** @throws InputError */
function readArguments(args: readonly string[]): ChartRequest {
  const { values, positionals } = splitArguments(joinNegativeNumbers(args), OPTIONS, 1);
  const fluid = refrigerantNamed(positionals[0]);
  const columns = columnsFrom(values.get('units'));
  const from = numberFrom(values, 'from', -40);
  const to = numberFrom(values, 'to', 90);
  const step = numberFrom(values, 'step', 5);
  const barometerPa = numberFrom(values, 'barometer-pa', STANDARD_ATMOSPHERE_PA);
  const lowest = Math.ceil(fluid.minimumTemperatureK - ZERO_CELSIUS_K);
  const highest = Math.floor(fluid.criticalTemperatureK - ZERO_CELSIUS_K);
  if (from < lowest || to > highest)
    throw new InputError(
      `${fluid.name} has no saturation outside ${lowest} to ${highest} °C; keep --from and --to within`,
    );
  if (from > to) throw new InputError(`--from ${from} is above --to ${to}; swap them`);
  if (step <= 0) throw new InputError(`--step must be above 0, not ${step}`);
  if ((to - from) / step > MOST_ROWS)
    throw new InputError(`that would be more than ${MOST_ROWS} rows; give a larger --step`);
  if (barometerPa < LOWEST_BAROMETER_PA || barometerPa > HIGHEST_BAROMETER_PA)
    throw new InputError(
      `--barometer-pa must be ${LOWEST_BAROMETER_PA} to ${HIGHEST_BAROMETER_PA} (pascals, absolute), not ${barometerPa}`,
    );
  // The small addend keeps a last row that rounding put a hair beyond the end.
  const count = Math.floor((to - from) / step + 1e-9) + 1;
  const temperaturesC = Array.from({ length: count }, (_, index) => from + index * step);
  return {
    fluid,
    columns,
    temperaturesC,
    decimals: Math.min(3, Math.max(decimalsOf(from), decimalsOf(step))),
    barometerPa,
  };
}

const TEMPERATURE_WIDTH = 9;
const PRESSURE_WIDTH = 14;

/** Gauge pressure as US gauges show it: psi above the barometer, inches of mercury of vacuum below. */
function usGauge(pressurePa: number, barometerPa: number): string {
  const gaugePa = pressurePa - barometerPa;
  return gaugePa < 0 ? `${toInchesOfMercury(-gaugePa).toFixed(1)} inHg` : `${toPsi(gaugePa).toFixed(1)} psig`;
}

function cells(request: ChartRequest, temperatureC: number, pressurePa: number): string[] {
  const { columns, decimals, barometerPa } = request;
  const celsius = temperatureC.toFixed(decimals).padStart(TEMPERATURE_WIDTH);
  const fahrenheit = toFahrenheit(temperatureC + ZERO_CELSIUS_K)
    .toFixed(1)
    .padStart(TEMPERATURE_WIDTH);
  const bar = ((pressurePa - barometerPa) / 1e5).toFixed(3).padStart(PRESSURE_WIDTH);
  const kilopascal = (pressurePa / 1000).toFixed(1).padStart(PRESSURE_WIDTH);
  const us = usGauge(pressurePa, barometerPa).padStart(PRESSURE_WIDTH);
  if (columns === 'us') return [fahrenheit, us];
  if (columns === 'si') return [celsius, bar, kilopascal];
  return [celsius, fahrenheit, bar, kilopascal, us];
}

function heading(columns: Columns): string {
  const celsius = '°C'.padStart(TEMPERATURE_WIDTH);
  const fahrenheit = '°F'.padStart(TEMPERATURE_WIDTH);
  const si = 'bar gauge'.padStart(PRESSURE_WIDTH) + 'kPa absolute'.padStart(PRESSURE_WIDTH);
  const us = 'gauge'.padStart(PRESSURE_WIDTH);
  if (columns === 'us') return fahrenheit + us;
  if (columns === 'si') return celsius + si;
  return celsius + fahrenheit + si + us;
}

function* chartLines(request: ChartRequest): Generator<string> {
  const { fluid, columns, temperaturesC, barometerPa } = request;
  const where = barometerPa === STANDARD_ATMOSPHERE_PA ? ' (sea level)' : '';
  yield `${fluid.name} pressure-temperature chart`;
  yield `Gauge pressures count from ${(barometerPa / 1000).toFixed(3)} kPa absolute${where}.`;
  if (columns !== 'si') yield 'psig is above that; inHg is inches of mercury of vacuum below it.';
  yield `Equation of state: ${fluid.source}.`;
  yield '';
  yield heading(columns);
  const line = new SaturationLine(fluid);
  for (const temperatureC of temperaturesC) {
    yield cells(request, temperatureC, line.at(temperatureC + ZERO_CELSIUS_K).pressurePa).join('');
  }
}

export const chart: CliCommand = {
  name: 'chart',
  summary: 'pressure-temperature chart of a refrigerant',
  help: HELP,
  async run(args: readonly string[], terminal: Terminal): Promise<number> {
    for (const line of chartLines(readArguments(args))) terminal.out(`${line}\n`);
    return EXIT.completed;
  },
};
