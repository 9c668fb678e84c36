// Fluid properties: flash through the tables against the exact equation, and what building the tables costs.
import { Bench } from 'tinybench';
import { equilibriumAt, exactFlash } from '../../sim/fluids/flash.ts';
import { type Fluid, findFluid } from '../../sim/fluids/fluid.ts';
import { newPropertyState } from '../../sim/fluids/property-state.ts';
import { SaturationLine } from '../../sim/fluids/saturation.ts';
import { FluidTables } from '../../sim/fluids/tables.ts';
import { randomStates, type State } from '../sim/fluids/states.ts';
import { freshProcess } from './fresh.ts';
import { fullJob } from './job.ts';
import { median, type Row, repeated, type Topic } from './row.ts';

/** What a service meets: vacuum to liquid, −50 to 95 °C; a quarter on either side of each border of the dome. */
const SERVICE = { temperatureK: [223.15, 368.15], densityKgPerM3: [0.01, 1300] } as const;
const SAMPLE = 4096;
/** The exact flash is slow: fewer of the same states. */
const EXACT_SAMPLE = 64;
const FRESH_RUNS = 5;
const OPTIONS = { time: 600, warmupTime: 300, iterations: 8, warmupIterations: 4, throws: true } as const;

/** Median time of each task in milliseconds. */
async function timed<N extends string>(
  tasks: Readonly<Record<N, () => void>>,
): Promise<Readonly<Record<N, number>>> {
  const bench = new Bench(OPTIONS);
  const names = Object.keys(tasks) as N[];
  for (const name of names) bench.add(name, tasks[name]);
  const done = await bench.run();
  const times = done.map(({ name, result }) => {
    if (!('latency' in result)) throw new Error(`${name} was not measured`);
    return [name, result.latency.p50] as const;
  });
  return Object.fromEntries(times) as Record<N, number>;
}

async function flashes(fluid: Fluid, tables: FluidTables): Promise<readonly Row[]> {
  const line = new SaturationLine(fluid);
  const states = [...randomStates(fluid, line, SERVICE, SAMPLE, 21)];
  const few = states.filter((_, i) => i % (SAMPLE / EXACT_SAMPLE) === 0);
  const out = newPropertyState();
  const found = await timed({
    tables: () => {
      for (const { densityKgPerM3, internalEnergyJPerKg } of states)
        tables.flash(densityKgPerM3, internalEnergyJPerKg, out);
    },
    exact: () => {
      for (const { densityKgPerM3, internalEnergyJPerKg } of few)
        exactFlash(fluid, line, densityKgPerM3, internalEnergyJPerKg);
    },
    evaluation: () => {
      for (const { densityKgPerM3, temperatureK } of few)
        equilibriumAt(fluid, line, densityKgPerM3, temperatureK);
    },
  });
  const perSecond = (SAMPLE / found.tables) * 1000;
  const exactPerSecond = (EXACT_SAMPLE / found.exact) * 1000;
  const evaluationsPerSecond = (EXACT_SAMPLE / found.evaluation) * 1000;
  const worst = worstErrors(tables, states);
  return [
    {
      what: `(ρ, u) flash through tables, ${SAMPLE} states`,
      value: perSecond / 1e6,
      unit: 'million/s',
      limit: { atLeast: 5 },
    },
    { what: '  worst error of pressure in gas and dome', value: worst.pressure, unit: 'relative' },
    { what: '  worst error of pressure in liquid', value: worst.liquidPa, unit: 'Pa' },
    { what: '  worst error of temperature', value: worst.temperatureK * 1000, unit: 'mK' },
    { what: 'exact flash (the oracle of the tests)', value: exactPerSecond / 1e6, unit: 'million/s' },
    { what: '  tables against it', value: perSecond / exactPerSecond, unit: '×' },
    { what: 'one exact evaluation, T known', value: evaluationsPerSecond / 1e6, unit: 'million/s' },
    { what: '  tables against it', value: perSecond / evaluationsPerSecond, unit: '×' },
  ];
}

function worstErrors(tables: FluidTables, states: readonly State[]) {
  const out = newPropertyState();
  const worst = { pressure: 0, liquidPa: 0, temperatureK: 0 };
  for (const { densityKgPerM3, internalEnergyJPerKg, temperatureK, pressurePa, region } of states) {
    const offK = Math.abs(tables.flash(densityKgPerM3, internalEnergyJPerKg, out) - temperatureK);
    const offPa = Math.abs(out.pressurePa - pressurePa);
    worst.temperatureK = Math.max(worst.temperatureK, offK);
    if (region === 'liquid') worst.liquidPa = Math.max(worst.liquidPa, offPa);
    else worst.pressure = Math.max(worst.pressure, offPa / pressurePa);
  }
  return worst;
}

async function building(fluid: Fluid): Promise<readonly Row[]> {
  const cold = await repeated(FRESH_RUNS, () => freshProcess(0, 'plain'));
  const { warm } = await timed({ warm: () => new FluidTables(fluid) });
  return [
    {
      what: 'tables and saturation curve, fresh process',
      value: median(cold.map(({ tablesMs }) => tablesMs)),
      unit: 'ms',
      limit: { atMost: 100 },
    },
    { what: 'tables, warm', value: warm, unit: 'ms' },
  ];
}

export const fluids: Topic = {
  name: 'fluids',
  title: 'Fluid properties',
  measure: async () => {
    const fluid = findFluid(fullJob().tank.refrigerant)!;
    const built = await building(fluid);
    return [...(await flashes(fluid, new FluidTables(fluid))), ...built];
  },
};
