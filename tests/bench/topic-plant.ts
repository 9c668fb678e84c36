// The simulation without the controller: the commands of a whole job, recorded once, played to the bench and to the bare plant.

import { clockMs, fluidOnce } from '../../app/bench/whole-jobs.ts';
import type { Commands } from '../../controller/signals.ts';
import { createBench } from '../../sim/bench.ts';
import { drawBuild } from '../../sim/build.ts';
import type { FluidTables } from '../../sim/fluids/tables.ts';
import { Plant } from '../../sim/plant/plant.ts';
import { PROFILES } from '../../sim/profiles.ts';
import type { BenchSpec, HandAction } from '../../sim/spec.ts';
import { fullJob, recordScript, type Script } from './job.ts';
import { median, type Row, repeated, type Topic } from './row.ts';

const WARM_UP_RUNS = 3;
const RUNS = 9;
const SCAN_MS = 100;

type Driven = {
  advanceTo(timeMs: number): void;
  operate(action: HandAction): void;
  drive(commands: Commands): void;
};

function play(driven: Driven, { commands, hands }: Script): number {
  const startedMs = clockMs();
  for (let scan = 0; scan < commands.length; scan++) {
    driven.advanceTo(scan * SCAN_MS);
    const action = hands.get(scan);
    if (action !== undefined) driven.operate(action);
    driven.drive(commands[scan]!);
  }
  return clockMs() - startedMs;
}

function benchOf(spec: BenchSpec, tables: FluidTables): Driven {
  const bench = createBench(spec, tables);
  return {
    advanceTo: (timeMs) => bench.advanceTo(timeMs),
    operate: (action) => bench.operate(action),
    drive: (commands) => bench.apply(commands),
  };
}

function plantOf(spec: BenchSpec, tables: FluidTables): Driven {
  const plant = new Plant(spec, tables);
  return {
    advanceTo: (timeMs) => plant.advanceTo(timeMs),
    operate: (action) => plant.operate(action),
    drive: (commands) => plant.command(commands),
  };
}

async function measure(): Promise<readonly Row[]> {
  const script = await recordScript();
  const { seed, weather, vehicle, tank, equipment, build } = fullJob();
  const spec = {
    seed,
    weather,
    vehicle: vehicle!,
    tank,
    build: drawBuild(PROFILES[equipment.profile], seed, build),
  };
  const { tables } = fluidOnce(tank.refrigerant);
  const both = async () => ({
    benchMs: play(benchOf(spec, tables), script),
    plantMs: play(plantOf(spec, tables), script),
  });
  await repeated(WARM_UP_RUNS, both);
  const runs = await repeated(RUNS, both);
  const simulatedMs = script.commands.length * SCAN_MS;
  const plantMs = median(runs.map((run) => run.plantMs));
  const sensorsMs = median(runs.map((run) => run.benchMs - run.plantMs));
  return [
    { what: 'plant alone, warm', value: plantMs / 1000, unit: 's', timesRealTime: simulatedMs / plantMs },
    { what: 'sensors, by difference, warm', value: sensorsMs / 1000, unit: 's' },
    { what: 'plant, per scan', value: (1000 * plantMs) / script.commands.length, unit: 'µs' },
    { what: 'sensors, per sample', value: (1000 * sensorsMs) / script.commands.length, unit: 'µs' },
  ];
}

export const plant: Topic = { name: 'plant', title: 'Simulation without the controller', measure };
