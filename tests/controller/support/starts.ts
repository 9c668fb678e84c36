// Controllers saved in the middle of every stage and step, with the machine at work, and by hand.
import type { OperatorEvent } from '../../../controller/operator.ts';
import { planByHand } from '../../../controller/plan.ts';
import { type ControllerState, openJob, scan } from '../../../controller/scan.ts';
import { OUTPUTS, type Output } from '../../../controller/signals.ts';
import { newPlant, run } from './bench.ts';
import { OIL_EQUIPMENT, planFor, R134A, TICKET } from './machine.ts';
import { readingsAt } from './readings.ts';

export const wish = (output: Output, on: boolean): OperatorEvent => ({ type: 'wished', output, on });

export const STARTS: readonly ControllerState[] = (() => {
  const saved = new Map<string, ControllerState>();
  run(openJob(planFor({ engine: 'can-run' }, OIL_EQUIPMENT), OIL_EQUIPMENT, 0), {
    plant: newPlant({ separatorOilM3: 5e-6 }),
    watch: ({ state, commands }) => {
      const busy = OUTPUTS.filter((output) => commands[output].on).join();
      const key = `${state.stage?.stage} ${state.stage?.step} ${busy}`;
      if (!saved.has(key)) saved.set(key, state);
      return undefined;
    },
  });
  const idle = openJob(planByHand(TICKET, R134A), OIL_EQUIPMENT, 0);
  const wishes = (['vacuumPump', 'highSideValve'] as const).map((output) => wish(output, true));
  const byHand = scan(idle, readingsAt(100), 100, [{ type: 'by-hand-begun' }, ...wishes]).state;
  return [...saved.values(), idle, byHand];
})();
