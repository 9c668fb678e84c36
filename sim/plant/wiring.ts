// Which paths are open: set from what valves and drives really do, from the operator's hands and from the faults.
import type { Output } from '../../controller/signals.ts';
import type { ActiveFaults } from '../faults.ts';
import { type Machine, type Paths, setFan } from './machine.ts';

/** What decides about openings. */
export type WiringState = {
  readonly isOn: (output: Output) => boolean;
  readonly couplersOpen: boolean;
  readonly oneSided: boolean;
  /** The hard-wired pressure switch has cut the compressor. */
  readonly compressorCut: boolean;
  readonly faults: ActiveFaults;
};

export function wire(paths: Paths, machine: Machine, state: WiringState): void {
  const on = (output: Output): number => (state.isOn(output) ? 1 : 0);
  const coupled = state.couplersOpen ? 1 : 0;
  const pumpOpen = on('vacuumValve');
  paths.highCoupler.opening = coupled;
  paths.lowCoupler.opening = state.oneSided ? 0 : coupled;
  paths.highSideValve.opening = on('highSideValve');
  paths.lowSideValve.opening = on('lowSideValve');
  paths.recoveryValve.opening = on('recoveryValve');
  paths.chargeValve.opening = on('chargeValve');
  paths.vacuumPump.opening = pumpOpen * on('vacuumPump');
  paths.restingPump.opening = pumpOpen * (1 - on('vacuumPump'));
  paths.compressor.opening = state.compressorCut ? 0 : on('compressor');
  setFan(machine, on('fanStop') === 0);
}
