// What the faults that are on mean to the sensors, looked up again only when something was switched.
import type { ActiveFaults } from '../faults.ts';
import type { ScaleFault } from './scale.ts';

export class SensorFaults {
  readonly #faults: ActiveFaults;
  #changes = -1;
  /** What stands on the platform besides the tank that was entered, kg. */
  extraLoadKg = 0;
  readonly scale: ScaleFault = { stuck: false, spikesPerSample: 0 };
  lowOpen = false;
  highShorted = false;
  swapped = false;
  fanStopped = false;

  constructor(faults: ActiveFaults) {
    this.#faults = faults;
  }

  look(): void {
    const faults = this.#faults;
    if (faults.changes === this.#changes) return;
    this.#changes = faults.changes;
    this.extraLoadKg = (faults.sizeOf('scale-leaned-on') ?? 0) + (faults.sizeOf('wrong-tank') ?? 0);
    this.scale.stuck = faults.has('scale-stuck');
    this.scale.spikesPerSample = faults.sizeOf('scale-spikes') ?? 0;
    this.lowOpen = faults.has('low-sensor-open');
    this.highShorted = faults.has('high-sensor-short');
    this.swapped = faults.has('sensors-swapped');
    this.fanStopped = faults.has('fan-stopped');
  }
}
