// A vehicle alone with its engine: no machine, so that what is seen is the vehicle's doing.
import { findFluid } from '../../../sim/fluids/fluid.ts';
import { newSaturationState } from '../../../sim/fluids/property-state.ts';
import { FluidTables } from '../../../sim/fluids/tables.ts';
import { Equilibrium } from '../../../sim/network/equilibrium.ts';
import { Network } from '../../../sim/network/network.ts';
import { STEP_RULE } from '../../../sim/network/step-rule.ts';
import { type Condition, Engine } from '../../../sim/plant/engine.ts';
import { makeVehicle, type Vehicle } from '../../../sim/plant/vehicle.ts';
import type { VehicleSpec } from '../../../sim/spec.ts';

const CELSIUS = 273.15;
const STEP_S = 0.1;
const cache = new Map<string, FluidTables>();

function tablesOf(refrigerant: string): FluidTables {
  const known = cache.get(refrigerant) ?? new FluidTables(findFluid(refrigerant)!);
  cache.set(refrigerant, known);
  return known;
}

export function saturationPa(celsius: number, refrigerant: string): number {
  const saturation = newSaturationState();
  tablesOf(refrigerant).saturation(celsius + CELSIUS, saturation);
  return saturation.pressurePa;
}

/** By bisection. */
export function saturationC(pressurePa: number, refrigerant: string): number {
  let [low, high] = [-60, 90];
  for (let i = 0; i < 40; i++) {
    const middle = (low + high) / 2;
    if (saturationPa(middle, refrigerant) < pressurePa) low = middle;
    else high = middle;
  }
  return low;
}

export type Choices = {
  readonly device?: VehicleSpec['expansionDevice'];
  readonly refrigerant?: string;
  readonly ambientC?: number;
  readonly relativeHumidity?: number;
  /** Of the right charge. */
  readonly chargeShare?: number;
  readonly airKg?: number;
  readonly oilKg?: number;
  readonly condition?: Partial<Condition>;
};

/** Right charges of R-134a: 0.6 kg in 2.5 L with an accumulator, 0.55 kg in 2.2 L with a receiver. */
const RIGHT = {
  'orifice-tube': { chargeKg: 0.6, volumeM3: 2.5e-3 },
  'expansion-valve': { chargeKg: 0.55, volumeM3: 2.2e-3 },
} as const;

/** Nameplates ask for 5 to 10 % less R-1234yf, whose liquid is a tenth lighter (common practice). */
const LIGHTER = { 'R-134a': 1, 'R-1234yf': 0.93 } as Readonly<Record<string, number>>;

export const SYSTEMS = [
  { device: 'orifice-tube', refrigerant: 'R-134a' },
  { device: 'orifice-tube', refrigerant: 'R-1234yf' },
  { device: 'expansion-valve', refrigerant: 'R-134a' },
  { device: 'expansion-valve', refrigerant: 'R-1234yf' },
] as const;

export class VehicleRig {
  readonly vehicle: Vehicle;
  readonly network: Network;
  readonly engine: Engine;

  constructor(choices: Choices = {}) {
    const { device = 'orifice-tube', refrigerant = 'R-134a', ambientC = 25 } = choices;
    const ambientK = ambientC + CELSIUS;
    const spec: VehicleSpec = {
      refrigerant,
      chargeKg: RIGHT[device].chargeKg * LIGHTER[refrigerant]! * (choices.chargeShare ?? 1),
      volumeM3: RIGHT[device].volumeM3,
      temperatureK: ambientK,
      expansionDevice: device,
      airKg: choices.airKg ?? 0,
      leakKgPerYear: 0,
      holeDiameterM: 0,
      ports: 2,
      oil: { kind: 'PAG', kg: choices.oilKg ?? 0.12, humidity: 0.1 },
      waterKg: 0,
      accumulatorHeatCapacityJPerK: 500,
      accumulatorUaWPerK: 1,
    };
    const weather = {
      ambientK,
      barometerPa: 101_325,
      relativeHumidity: choices.relativeHumidity ?? 0.4,
    };
    const equilibrium = new Equilibrium(tablesOf(refrigerant));
    this.vehicle = makeVehicle(spec, equilibrium, ambientK);
    this.network = new Network(
      equilibrium,
      this.vehicle.nodes,
      this.vehicle.edges,
      STEP_RULE,
      this.vehicle.holds,
    );
    this.engine = new Engine(this.vehicle, spec, weather, equilibrium);
    Object.assign(this.engine.condition, choices.condition);
  }

  /** Lets time pass; `look` is called once a second. */
  pass(seconds: number, look?: (atS: number) => void): this {
    for (let i = 1; i <= Math.round(seconds / STEP_S); i++) {
      this.network.advance(STEP_S);
      if (this.engine.advance(STEP_S)) this.network.rewire();
      if (i % 10 === 0) look?.(i * STEP_S);
    }
    return this;
  }

  /** Starts the engine and lets it run. */
  run(seconds: number, look?: (atS: number) => void): this {
    this.engine.start();
    return this.pass(seconds, look);
  }

  get highPa(): number {
    return this.vehicle.high.pressurePa;
  }

  get lowPa(): number {
    return this.vehicle.low.pressurePa;
  }

  get ventC(): number {
    return this.engine.cabin.ventAirK - CELSIUS;
  }

  get refrigerantKg(): number {
    return this.vehicle.nodes.reduce((sum, node) => sum + node.refrigerantKg + node.dissolvedKg, 0);
  }
}
