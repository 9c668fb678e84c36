// Which paths are open: set from what valves and drives really do, from the operator's hands and from the faults.
import type { Output } from '../../controller/signals.ts';
import type { ActiveFaults } from '../faults.ts';
import type { Edge } from '../network/edge.ts';
import type { Paths } from './paths.ts';

/** Whether drain and bottle lines carry gas instead of oil. */
export type GasIn = { readonly drain: boolean; readonly oil: boolean; readonly dye: boolean };

/** What decides about openings. */
export type WiringState = {
  readonly isOn: (output: Output) => boolean;
  readonly highCouplerOpen: boolean;
  readonly lowCouplerOpen: boolean;
  readonly compressorTurns: boolean;
  /** Share of the area of a shut valve that its seat leaves open. */
  readonly seatLeak: number;
  readonly gas: GasIn;
  readonly faults: ActiveFaults;
};

/**
 * A charge valve fully open passes this much liquid from a tank at 20 °C into five bar less: what flashes in the seat
 * limits it (IEC 60534-2-1). A dirty seat is a share of that.
 */
const CHARGE_VALVE_G_PER_S = 25;

/** What the joint at the tank passes when it is quite open. */
const CABINET_LEAK_G_PER_S = 50;

export function wire(paths: Paths, state: WiringState): void {
  const { faults, seatLeak } = state;
  const on = (output: Output): number => (state.isOn(output) ? 1 : 0);
  const valve = (path: Edge, lift: Edge, open: number, leak = seatLeak): void => {
    path.opening = Math.max(open, leak);
    lift.opening = 1 - open;
  };
  const lowOff = faults.has('hose-off');
  const highOff = faults.has('high-hose-off');
  paths.highCoupler.opening = state.highCouplerOpen && !highOff && !faults.has('coupler-shut') ? 1 : 0;
  paths.lowCoupler.opening = state.lowCouplerOpen && !lowOff ? 1 : 0;
  paths.openHighHose.opening = highOff ? 1 : 0;
  paths.openLowHose.opening = lowOff ? 1 : 0;
  valve(paths.highSideValve, paths.highSideLift, on('highSideValve'));
  valve(paths.lowSideValve, paths.lowSideLift, on('lowSideValve'));
  valve(paths.recoveryValve, paths.recoveryLift, on('recoveryValve'));
  const dirt = (faults.sizeOf('charge-valve-leaks') ?? 0) / CHARGE_VALVE_G_PER_S;
  valve(paths.chargeValve, paths.chargeLift, on('chargeValve'), Math.max(seatLeak, Math.min(1, dirt)));
  if (faults.has('tank-valve-shut')) {
    paths.chargeValve.opening = 0;
    paths.chargeLift.opening = 0;
  }
  paths.delivery.opening = faults.has('tank-valve-shut') ? 0 : (faults.sizeOf('filter-blocked') ?? 1);
  const pumpOpen = faults.has('vacuum-valve-stuck-open') ? 1 : Math.max(on('vacuumValve'), seatLeak);
  paths.vacuumPump.opening = pumpOpen * on('vacuumPump');
  paths.restingPump.opening = pumpOpen * (1 - on('vacuumPump'));
  paths.compressor.opening = state.compressorTurns ? (faults.sizeOf('compressor-weak') ?? 1) : 0;
  paths.separatorDrain.opening = state.gas.drain ? on('separatorDrainValve') : 0;
  paths.cabinetLeak.opening = (faults.sizeOf('cabinet-leaks') ?? 0) / CABINET_LEAK_G_PER_S;
  paths.oilBottle.opening = state.gas.oil ? on('oilValve') : 0;
  paths.dyeBottle.opening = state.gas.dye ? on('dyeValve') : 0;
}
