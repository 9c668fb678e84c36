// Runs one scenario on the simulated bench, as `coldbench run --json` does, and hands back its document.
import { type RunDocument, runDocument } from '../../app/run/document.ts';
import type { Observer } from '../../app/run/loop.ts';
import { type FluidData, fluidData, prepare } from '../../app/run/prepare.ts';
import { runSession } from '../../app/run/session.ts';
import { toScenario } from '../../app/scenario/scenario.ts';
import type { Equipment } from '../../controller/equipment.ts';

const built = new Map<string, FluidData>();

/** Tables are the same for every job. */
export function rememberedFluid(refrigerant: string): FluidData {
  const fluid = built.get(refrigerant) ?? fluidData(refrigerant);
  built.set(refrigerant, fluid);
  return fluid;
}

/** `believing` changes what the controller is told of the machine, not what is true of it. */
export async function runScenario(
  file: unknown,
  observers: readonly Observer[] = [],
  believing: (equipment: Equipment) => Equipment = (equipment) => equipment,
): Promise<RunDocument> {
  const wallClockMs = () => performance.now();
  const session = prepare(toScenario(file, 'the scenario'), 'the scenario', rememberedFluid, wallClockMs);
  return runDocument(
    await runSession(
      { ...session, equipment: believing(session.equipment) },
      {
        observers: [...observers],
        pacing: { wallClockMs, breathe: async () => {} },
      },
    ),
  );
}
