import { fluidData, prepare } from '../../app/run/prepare.ts';
import { toScenario } from '../../app/scenario/scenario.ts';
import type { Bench } from '../../sim/bench.ts';
import { rigContract } from './rig.ts';

const fluid = fluidData('R-134a');
const scenario = toScenario(
  { ticket: { refrigerant: 'R-134a', nominalChargeG: 600 }, vehicle: { chargeG: 500 } },
  'the contract',
);

rigContract<Bench>('the simulated bench', {
  create: () =>
    prepare(
      scenario,
      'the contract',
      () => fluid,
      () => 0,
    ).bench,
  nowMs: (bench) => bench.nowMs(),
  reach: (bench, timeMs) => bench.advanceTo(timeMs),
  seen: (bench) => JSON.stringify([bench.readings(), bench.truth()]),
  output: 'vacuumValve',
  besides: ['vacuumPump', 'highSideValve'],
});
