// The rig in the loop: the simulated bench has the sensors, a real board has the outputs, and what it drives moves the plant.
import type { Commands, Readings } from '../../controller/signals.ts';
import type { BoardRig, Undriven } from '../../hardware/rig.ts';
import type { LiveBench } from '../../sim/bench.ts';
import type { Fault } from '../../sim/faults.ts';
import type { HandAction, Truth, TruthWithin } from '../../sim/spec.ts';
import { commandsOfWord } from './words.ts';

/**
 * Moved in real time by whoever holds it. Emergency stop and high-pressure switch count wherever they are pressed: at
 * the board or in the simulation.
 */
export class BenchWithBoard implements LiveBench {
  readonly #bench: LiveBench;
  readonly #rig: BoardRig;

  constructor(bench: LiveBench, rig: BoardRig) {
    this.#bench = bench;
    this.#rig = rig;
  }

  get capabilities() {
    return this.#bench.capabilities;
  }

  get undriven(): Undriven | undefined {
    return this.#rig.undriven;
  }

  takeControl(): void {
    this.#rig.takeControl();
  }

  nowMs(): number {
    return this.#bench.nowMs();
  }

  readings(): Readings {
    const pretended = this.#bench.readings();
    const { emergencyStop, highPressureSwitch } = this.#rig.readings();
    const either = (real: Readings['emergencyStop'], own: Readings['emergencyStop']) =>
      real.ok && own.ok ? { ...own, value: real.value || own.value } : own;
    return {
      ...pretended,
      emergencyStop: either(emergencyStop, pretended.emergencyStop),
      highPressureSwitch: either(highPressureSwitch, pretended.highPressureSwitch),
    };
  }

  apply(commands: Commands): void {
    this.#rig.apply(commands);
  }

  /** The plant follows what the board said last of its outputs, or nothing while it says nothing. */
  advanceTo(timeMs: number): void {
    this.#rig.tick();
    const { seen, state } = this.#rig.connection.link;
    this.#bench.apply(commandsOfWord(state === 'ready' ? (seen?.word ?? 0) : 0));
    this.#bench.advanceTo(timeMs);
  }

  operate(action: HandAction): void {
    this.#bench.operate(action);
  }

  openVehicle(open: boolean): void {
    this.#bench.openVehicle(open);
  }

  switchFault(fault: Fault, on: boolean): void {
    this.#bench.switchFault(fault, on);
  }

  catchBottleM3(): number {
    return this.#bench.catchBottleM3();
  }

  truth(): Truth {
    return this.#bench.truth();
  }

  within(): TruthWithin {
    return this.#bench.within();
  }
}
