// Runs one scenario on the simulated bench, as `coldbench run --json` does, and hands back its document.

import { clockMs, fluidOnce, PACING } from '../../app/bench/whole-jobs.ts';
import { runDocument } from '../../app/run/document.ts';
import type { RunDocument } from '../../app/run/document-type.ts';
import type { Observer } from '../../app/run/loop.ts';
import { prepare } from '../../app/run/prepare.ts';
import { runSession } from '../../app/run/session.ts';
import { toScenario } from '../../app/scenario/scenario.ts';
import type { Equipment } from '../../controller/equipment.ts';

/** No notice may lack a figure. `believing` changes what the controller is told of the machine, not what is true of it. */
export async function runScenario(
  file: unknown,
  observers: readonly Observer[] = [],
  believing: (equipment: Equipment) => Equipment = (equipment) => equipment,
): Promise<RunDocument> {
  const session = prepare(toScenario(file, 'the scenario'), 'the scenario', fluidOnce, clockMs);
  const document = runDocument(
    await runSession(
      { ...session, equipment: believing(session.equipment) },
      { observers: [...observers], pacing: PACING },
    ),
  );
  for (const { code, text, remedy } of document.notices)
    if (/\{\w+\}/.test(text + remedy))
      throw new Error(`${code} is told without its figures: ${text} ${remedy}`);
  return document;
}
