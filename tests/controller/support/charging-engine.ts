// A charge whose rest the engine sucks in, at one of its steps.
import { startCount } from '../../../controller/estimates/condenser.ts';
import { stepEngineHelp } from '../../../controller/stages/charge-engine.ts';
import type { ChargeData, EngineHelp } from '../../../controller/stages/data-charge.ts';
import { charging, type Given, scanOf } from './charging.ts';

export const ENGINE = { engine: 'can-run' } as const;
export const HELP: EngineHelp = {
  count: startCount(0),
  fanStopped: false,
  drew: false,
  startedAtMs: undefined,
  left: 0,
  fired: 0,
  yieldKg: 0.0015,
  fromKg: 0,
  sumKg: 0,
  samples: 0,
};

export type Scene = Given & { readonly data?: Partial<ChargeData>; readonly help?: Partial<EngineHelp> };

export function stepOf(step: ChargeData['step'], { data, help, ...given }: Scene = {}) {
  const engineHelp = { ...HELP, ...help };
  const charge = charging({ step, targetKg: 0.6, mostKg: 0.5, ...data, engineHelp });
  return stepEngineHelp(charge, engineHelp, scanOf({ ticket: ENGINE, gaveKg: 0.5, ...given }));
}
