// A scenario with everything a run of it needs: fluid data, equipment, and a bench of its own.
import type { Equipment } from '../../controller/equipment.ts';
import type { SaturationCurve } from '../../controller/saturation.ts';
import { type Bench, createBench, type LiveBench } from '../../sim/bench.ts';
import { drawBuild } from '../../sim/build.ts';
import { findFluid } from '../../sim/fluids/fluid.ts';
import { FluidTables } from '../../sim/fluids/tables.ts';
import { PROFILES } from '../../sim/profiles.ts';
import type { AnySpec } from '../../sim/spec.ts';
import { equipmentFor } from '../scenario/equipment.ts';
import { checkRoom } from '../scenario/room.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { saturationCurve } from './saturation.ts';

/** What is built once for a refrigerant and shared by every run with it. */
export type FluidData = { readonly tables: FluidTables; readonly curve: SaturationCurve };

/** @throws Error for a name that is not in the list of fluids; scenarios have been checked against that list. */
export function fluidData(refrigerant: string): FluidData {
  const fluid = findFluid(refrigerant);
  if (fluid === undefined) throw new Error(`no fluid data for ${refrigerant}`);
  const tables = new FluidTables(fluid);
  return { tables, curve: saturationCurve(fluid, tables) };
}

/** A scenario with everything it needs, checked and ready. */
export type Session = {
  readonly scenario: Scenario;
  readonly equipment: Equipment;
  /** The machine as it was drawn, and the barometer that was typed into it. */
  readonly machine: Pick<AnySpec, 'build' | 'typedBarometerPa'>;
  readonly bench: Bench;
  /** The curve of the ticket's refrigerant, for the plan. */
  readonly curve: SaturationCurve;
  /** Of what the tank holds. */
  readonly tankCurve: SaturationCurve;
  readonly tablesMs: number;
};

/** A session as a job needs it, whatever stands between controller and bench. */
export type JobSession = Omit<Session, 'bench'> & { readonly bench: LiveBench };

/**
 * @param fluids builds or remembers the data of a refrigerant.
 * @throws InputError when what the scenario puts into vehicle or tank does not fit there.
 */
export function prepare(
  scenario: Scenario,
  source: string,
  fluids: (refrigerant: string) => FluidData,
  wallClockMs: () => number,
): Session {
  const startedMs = wallClockMs();
  const plant = fluids(scenario.tank.refrigerant);
  const asked =
    scenario.ticket.refrigerant === scenario.tank.refrigerant ? plant : fluids(scenario.ticket.refrigerant);
  const tablesMs = wallClockMs() - startedMs;
  checkRoom(scenario, plant.curve, source);
  const { seed, weather, vehicle, cylinder, tank } = scenario;
  const build = drawBuild(PROFILES[scenario.equipment.profile], seed, scenario.build);
  const equipment = equipmentFor(scenario.equipment, tank, plant.curve);
  const { barometerPa } = equipment;
  const machine = { build, ...(barometerPa === undefined ? {} : { typedBarometerPa: barometerPa }) };
  return {
    scenario,
    equipment,
    machine,
    bench: createBench(
      {
        seed,
        weather,
        tank,
        ...machine,
        ...(cylinder === undefined ? { vehicle: vehicle! } : { cylinder }),
      },
      plant.tables,
    ),
    curve: asked.curve,
    tankCurve: plant.curve,
    tablesMs,
  };
}
