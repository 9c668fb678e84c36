// Sensors before a plant that only stands still: every node as the test sets it, every drive as the test says.
import type { Output, Reading, Readings } from '../../../controller/signals.ts';
import { drawBuild } from '../../../sim/build.ts';
import { ActiveFaults } from '../../../sim/faults.ts';
import { findFluid } from '../../../sim/fluids/fluid.ts';
import { makeNode, type Node } from '../../../sim/network/node.ts';
import { PROFILES } from '../../../sim/profiles.ts';
import { Instruments, SAMPLE_MS, type SensedPlant } from '../../../sim/sensors/instruments.ts';
import type { Build, WeatherSpec } from '../../../sim/spec.ts';
import { specOf } from '../hand.ts';

export const ATMOSPHERE_PA = 101_325;
export const ROOM_K = 293.15;

/** A build that reads the truth, but for the noise of its transducers. */
export const PERFECT: Partial<Build> = {
  scaleSpanError: 0,
  scaleNoiseKg: 0,
  scaleDriftKgPerK: 0,
  scaleCreepFraction: 0,
  scaleHoseForceKgPerPa: 0,
  scaleBumpsPerHour: 0,
  scaleSpikesPerSample: 0,
  scaleVibrationKg: 0,
  highSideOffsetPa: 0,
  lowSideOffsetPa: 0,
  tankOffsetPa: 0,
  manifoldOffsetPa: 0,
  vehicleVacuumGain: 1,
  tankTemperatureOffsetK: 0,
  ambientTemperatureOffsetK: 0,
  barometerOffsetPa: 0,
};

function nodeAt(name: string, pressurePa: number): Node {
  const node = makeNode({ name, volumeM3: 1e-3 }, ROOM_K);
  return Object.assign(node, {
    refrigerantKg: 0,
    airKg: 0,
    waterKg: 0,
    oilKg: 0,
    dissolvedKg: 0,
    filmKg: 0,
    sorbedWaterKg: 0,
    gasRefrigerant: 0,
    gasAir: 1,
    gasWater: 0,
    pressurePa,
  });
}

export class StillPlant implements SensedPlant {
  readonly machine = {
    highHose: nodeAt('high-side hose', ATMOSPHERE_PA),
    lowHose: nodeAt('low-side hose', ATMOSPHERE_PA),
    manifold: nodeAt('manifold', ATMOSPHERE_PA),
    tank: nodeAt('tank', 571_710),
  };
  readonly cabin = { ventAirK: ROOM_K };
  readonly services = { enclosure: { concentration: 0 } };
  highPressureSwitch = false;
  readonly on = new Set<Output>();

  constructor() {
    this.machine.tank.refrigerantKg = 8;
  }

  isOn(output: Output): boolean {
    return this.on.has(output);
  }

  /** One pressure everywhere but in the tank. */
  fillHoses(pressurePa: number): void {
    const { highHose, lowHose, manifold } = this.machine;
    for (const node of [highHose, lowHose, manifold]) node.pressurePa = pressurePa;
  }
}

export type KitChoices = {
  readonly build?: Partial<Build>;
  readonly weather?: Partial<WeatherSpec>;
  readonly typedBarometerPa?: number;
  readonly seed?: number;
  readonly refrigerant?: string;
};

/** Instruments with their plant and faults, and a clock that ticks once a sample. */
export class Kit {
  readonly plant = new StillPlant();
  readonly faults = new ActiveFaults();
  readonly #instruments: Instruments;
  #nowMs = 0;

  constructor(choices: KitChoices = {}, prepare: (plant: StillPlant) => void = () => {}) {
    const { seed = 1, typedBarometerPa } = choices;
    prepare(this.plant);
    const spec = specOf({ seed });
    this.#instruments = new Instruments(
      {
        ...spec,
        weather: { ...spec.weather, ...choices.weather },
        build: drawBuild(PROFILES.good, seed, { ...PERFECT, ...choices.build }),
        ...(typedBarometerPa === undefined ? {} : { typedBarometerPa }),
      },
      findFluid(choices.refrigerant ?? 'R-134a')!,
      this.plant,
      this.faults,
    );
  }

  sample(): Readings {
    const readings = this.#instruments.sample(this.#nowMs);
    this.#nowMs += SAMPLE_MS;
    return readings;
  }

  /** The last of as many samples as fit into a time. */
  after(seconds: number): Readings {
    const count = Math.max(1, Math.round((seconds * 1000) / SAMPLE_MS));
    for (let i = 1; i < count; i++) this.sample();
    return this.sample();
  }
}

/** A reading that must be there. */
export function known<T>(reading: Reading<T>): T {
  if (!reading.ok) throw new Error(`no value: ${reading.reason}`);
  return reading.value;
}

export const mean = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length;

export const rms = (values: readonly number[]): number => {
  const middle = mean(values);
  return Math.sqrt(mean(values.map((value) => (value - middle) ** 2)));
};
