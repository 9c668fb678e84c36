// What the truth says of a run, for the teacher, and for the class once it is revealed.
import type { ControllerState } from '../../../controller/state.ts';
import type { LiveBench } from '../../../sim/bench.ts';
import type { Truth } from '../../../sim/spec.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import type { Score, VehicleView } from '../shown-class.ts';

/** Nothing where there is no vehicle. */
export function vehicleOf(bench: LiveBench, vehicle: Scenario['vehicle']): VehicleView | undefined {
  if (vehicle === undefined) return undefined;
  const { vehicleLiquidKg: liquidKg, vehicleDissolvedKg } = bench.within();
  const { vehicleRefrigerantKg } = bench.truth();
  const vapourKg = Math.max(vehicleRefrigerantKg - vehicleDissolvedKg - liquidKg, 0);
  return { liquidKg, vapourKg, volumeM3: vehicle.volumeM3 };
}

type Run = {
  readonly truth: Truth;
  readonly state: ControllerState;
  /** A job was begun. */
  readonly begun: boolean;
  /** The least that was in the vehicle so far. */
  readonly leastKg: number;
  readonly lastedMs: number;
};

export function scoreOf({ truth, state, begun, leastKg, lastedMs }: Run): Score {
  const { accounts, notices, handJournal, plan } = state;
  const charged =
    accounts.netChargeKg !== undefined ||
    accounts.chargedKg !== undefined ||
    handJournal.some(({ output, result }) => output === 'chargeValve' && result === 'permitted');
  const by = begun ? 'controller' : handJournal.length > 0 ? 'hand' : undefined;
  return {
    ...(by === undefined ? {} : { by }),
    ...(charged ? { chargeErrorKg: truth.vehicleRefrigerantKg - plan.ticket.nominalChargeKg } : {}),
    ...(Number.isFinite(leastKg) ? { residualKg: leastKg } : {}),
    trips: notices.filter(({ code }) => code === 'tripped').length,
    refusedWishes: handJournal.filter(({ result }) => result === 'refused').length,
    lostKg: truth.leakedKg + truth.spilledKg + truth.ventedKg + truth.purgedKg + truth.pumpExhaustKg,
    lastedMs,
  };
}
