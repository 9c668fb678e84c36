// A bench worked by hand: commands held for a time, with a look at it every so often.
import { type Commands, ON, type Output, type Readings, SAFE_COMMANDS } from '../../controller/signals.ts';
import { type Bench, createBench } from '../../sim/bench.ts';
import { drawBuild } from '../../sim/build.ts';
import { findFluid } from '../../sim/fluids/fluid.ts';
import { FluidTables } from '../../sim/fluids/tables.ts';
import { PROFILES } from '../../sim/profiles.ts';
import type { BenchSpec, Build, Truth, VehicleSpec } from '../../sim/spec.ts';

const CELSIUS = 273.15;
const cache = new Map<string, FluidTables>();

export function tablesOf(refrigerant: string): FluidTables {
  const known = cache.get(refrigerant) ?? new FluidTables(findFluid(refrigerant)!);
  cache.set(refrigerant, known);
  return known;
}

export type SpecChoices = {
  readonly refrigerant?: string;
  readonly ambientC?: number;
  readonly barometerPa?: number;
  readonly relativeHumidity?: number;
  readonly tankC?: number;
  readonly vehicleC?: number;
  readonly vehicle?: Partial<VehicleSpec>;
  readonly build?: Partial<Build>;
  readonly seed?: number;
};

/** An invented mid-size vehicle with an accumulator, beside a half-full tank. */
export function specOf(choices: SpecChoices = {}): BenchSpec {
  const { refrigerant = 'R-134a', ambientC = 20, tankC = ambientC, vehicleC = ambientC, seed = 1 } = choices;
  return {
    seed,
    weather: {
      ambientK: ambientC + CELSIUS,
      barometerPa: choices.barometerPa ?? 101_325,
      relativeHumidity: choices.relativeHumidity ?? 0.5,
    },
    vehicle: {
      refrigerant,
      chargeKg: 0.6,
      volumeM3: 2.5e-3,
      temperatureK: vehicleC + CELSIUS,
      expansionDevice: 'orifice-tube',
      airKg: 0,
      leakKgPerYear: 0,
      holeDiameterM: 0,
      ports: 2,
      oil: { kind: 'PAG', kg: 0, humidity: 0 },
      waterKg: 0,
      accumulatorHeatCapacityJPerK: 500,
      accumulatorUaWPerK: 1,
      ...choices.vehicle,
    },
    tank: { refrigerant, contentKg: 8, waterCapacityM3: 21.6e-3, temperatureK: tankC + CELSIUS, airKg: 0 },
    build: drawBuild(PROFILES.good, seed, choices.build ?? {}),
  };
}

export type Look = { readonly atS: number; readonly readings: Readings; readonly truth: Truth };

export class Hand {
  readonly bench: Bench;
  readonly looks: Look[] = [];

  constructor(spec: BenchSpec) {
    this.bench = createBench(spec, tablesOf(spec.vehicle.refrigerant));
  }

  connect(): this {
    this.bench.operate('connect-hoses');
    return this;
  }

  /** Holds outputs on for a time and notes what is seen each `everyS`. */
  hold(outputs: readonly Output[], seconds: number, everyS = 1): readonly Look[] {
    const commands: Commands = {
      ...SAFE_COMMANDS,
      ...Object.fromEntries(outputs.map((output) => [output, ON])),
    };
    const first = this.looks.length;
    const endMs = this.bench.nowMs() + seconds * 1000;
    let nextMs = this.bench.nowMs() + everyS * 1000;
    while (this.bench.nowMs() < endMs) {
      this.bench.apply(commands);
      this.bench.advanceTo(Math.min(endMs, this.bench.nowMs() + 100));
      if (this.bench.nowMs() < nextMs) continue;
      nextMs += everyS * 1000;
      this.looks.push({
        atS: this.bench.nowMs() / 1000,
        readings: this.bench.readings(),
        truth: this.bench.truth(),
      });
    }
    return this.looks.slice(first);
  }
}

export const BOTH_SIDES: readonly Output[] = ['highSideValve', 'lowSideValve'];
export const RECOVER: readonly Output[] = [...BOTH_SIDES, 'recoveryValve', 'compressor'];
export const EVACUATE: readonly Output[] = [...BOTH_SIDES, 'vacuumPump', 'vacuumValve'];

/** A reading that must be there. */
export function readPa(
  readings: Readings,
  sensor: 'highSidePressurePa' | 'lowSidePressurePa' | 'manifoldPressurePa' | 'tankPressurePa',
): number {
  const reading = readings[sensor];
  if (!reading.ok) throw new Error(`${sensor} has no value: ${reading.reason}`);
  return reading.value;
}
