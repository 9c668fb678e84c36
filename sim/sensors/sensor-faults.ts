// What the faults that are on mean to the sensors, looked up again only when something was switched.
import type { ActiveFaults } from '../faults.ts';
import type { ScaleFault } from './scale.ts';

export class SensorFaults {
  readonly #faults: ActiveFaults;
  #changes = -1;
  readonly scale: ScaleFault = { stuck: false, spikesPerSample: 0 };
  scaleOpen = false;
  lowOpen = false;
  highShorted = false;
  highStuck = false;
  tankOpen = false;
  manifoldOpen = false;
  tankTemperatureOpen = false;
  swapped = false;
  fanStopped = false;
  emergencyStop = false;
  gasAlarm = false;
  #driftKgPerS: number | undefined;
  #driftedKg = 0;
  #loadKg = 0;

  constructor(faults: ActiveFaults) {
    this.#faults = faults;
  }

  /** Once a sample, one period after the last. */
  look(periodS: number): void {
    if (this.#faults.changes !== this.#changes) this.#lookUp();
    if (this.#driftKgPerS === undefined) return;
    this.#driftedKg += this.#driftKgPerS * periodS;
  }

  save(): number {
    return this.#driftedKg;
  }

  /** What the faults mean is looked up anew: they have been restored before. */
  restore(driftedKg: number): void {
    this.#changes = -1;
    this.#driftedKg = driftedKg;
  }

  #lookUp(): void {
    const faults = this.#faults;
    this.#changes = faults.changes;
    this.#loadKg = (faults.sizeOf('scale-leaned-on') ?? 0) + (faults.sizeOf('wrong-tank') ?? 0);
    const driftGPerMinute = faults.sizeOf('scale-drift');
    this.#driftKgPerS = driftGPerMinute === undefined ? undefined : driftGPerMinute / 60_000;
    if (driftGPerMinute === undefined) this.#driftedKg = 0;
    this.scaleOpen = faults.has('scale-open');
    this.highStuck = faults.has('high-sensor-stuck');
    this.tankOpen = faults.has('tank-sensor-open');
    this.manifoldOpen = faults.has('manifold-sensor-open');
    this.tankTemperatureOpen = faults.has('tank-temperature-open');
    this.emergencyStop = faults.has('emergency-stop');
    this.gasAlarm = faults.has('gas-alarm');
    this.scale.stuck = faults.has('scale-stuck');
    this.scale.spikesPerSample = faults.sizeOf('scale-spikes') ?? 0;
    this.lowOpen = faults.has('low-sensor-open');
    this.highShorted = faults.has('high-sensor-short');
    this.swapped = faults.has('sensors-swapped');
    this.fanStopped = faults.has('fan-stopped');
  }

  /** What the scale carries, or seems to, besides the tank that was entered. */
  get extraLoadKg(): number {
    return this.#loadKg + this.#driftedKg;
  }
}
