// What can go wrong with a machine, a vehicle or an operator, switched on and off by name while the bench runs.
import type { Output } from '../controller/signals.ts';

/** How strong a fault is, when that can be chosen. */
type Size = { readonly unit: string; readonly default: number; readonly min: number; readonly max: number };

type FaultKind = {
  /** What is wrong, in one sentence, for whoever picks it from the list. */
  readonly meaning: string;
  readonly size?: Size;
  /** Which output it strikes must be said. */
  readonly output?: true;
};

const kinds = {
  'scale-leaned-on': {
    meaning: 'Someone leans on the machine: the scale carries more than the tank.',
    size: { unit: 'kg', default: 3, min: -50, max: 50 },
  },
  'scale-stuck': { meaning: 'The scale repeats its last sample for ever.' },
  'scale-spikes': {
    meaning: 'Spurious scale samples, as from an unfiltered converter.',
    size: { unit: 'spikes per sample', default: 0.02, min: 0, max: 1 },
  },
  'scale-drift': {
    meaning: 'The zero of the scale runs away for as long as this lasts.',
    size: { unit: 'g per minute', default: 2, min: -100, max: 100 },
  },
  'scale-open': { meaning: 'The cable of the scale is broken: its converter sits at the rail.' },
  'low-sensor-open': { meaning: 'The wire of the low-side pressure sensor is broken.' },
  'high-sensor-short': { meaning: 'The high-side pressure sensor is short-circuited.' },
  'high-sensor-stuck': {
    meaning: 'The port of the high-side pressure sensor is blocked: it keeps showing what it showed last.',
  },
  'tank-sensor-open': { meaning: 'The wire of the tank pressure sensor is broken.' },
  'manifold-sensor-open': { meaning: 'The wire of the absolute pressure sensor on the manifold is broken.' },
  'tank-temperature-open': { meaning: 'The wire of the temperature sensor on the tank is broken.' },
  'sensors-swapped': { meaning: 'The plugs of the high-side and low-side pressure sensors are exchanged.' },
  'tank-valve-shut': { meaning: 'The valves on the tank are shut by hand, liquid and vapour.' },
  'coupler-shut': { meaning: 'The high-side coupler sits on its port but has not been opened.' },
  'hose-off': { meaning: 'The low-side hose has come off the vehicle and lies open to the air.' },
  'high-hose-off': { meaning: 'The high-side hose has come off the vehicle and lies open to the air.' },
  'cabinet-leaks': {
    meaning: 'A joint at the tank lets vapour into the cabinet of the machine.',
    size: { unit: 'g/s from a tank at 20 °C', default: 1, min: 0, max: 50 },
  },
  'filter-blocked': {
    meaning: 'The filter-drier in the delivery line of the recovery compressor is blocked.',
    size: { unit: 'share of its passage that is left', default: 0.001, min: 0, max: 1 },
  },
  'charge-valve-leaks': {
    meaning: 'Dirt on the seat of the charge valve: liquid passes while it is shut.',
    size: { unit: 'g/s at 5 bar difference', default: 0.05, min: 0, max: 50 },
  },
  'vacuum-valve-stuck-open': { meaning: 'The valve ahead of the vacuum pump does not shut.' },
  'relay-welded': {
    meaning: 'The relay of an output is welded: it stays on whatever is commanded.',
    output: true,
  },
  'output-dead': {
    meaning:
      'The coil or motor of an output has no supply: a valve stays shut, a drive stands still, whatever is commanded.',
    output: true,
  },
  'fan-stopped': { meaning: 'The fan does not turn.' },
  'wrong-tank': {
    meaning: 'Another tank stands on the scale: its empty mass differs from the one that was entered.',
    size: { unit: 'kg', default: 0.8, min: -20, max: 20 },
  },
  'drain-float-stuck': {
    meaning: 'The float in the oil separator sticks: once the oil is drained, gas follows it into the open.',
  },
  'oil-bottle-empty': { meaning: 'The bottle of new oil is empty: its valve draws air.' },
  'dye-bottle-empty': { meaning: 'The bottle of dye is empty: its valve draws air.' },
  'engine-started-early': {
    meaning: 'The engine and its air conditioning run although nobody was asked to start them.',
  },
  'prompts-not-obeyed': {
    meaning: 'The operator confirms every prompt without doing what it asks.',
  },
  'emergency-stop': {
    meaning: 'The emergency stop is pressed: it cuts the supply of every output but the fan.',
  },
  'gas-alarm': { meaning: 'The contact of the gas alarm is closed: gas around the machine.' },
  'pressure-switch-open': {
    meaning:
      'The wire of the high-pressure switch is broken: the compressor is cut as if the switch had acted.',
  },
  'vehicle-compressor-weak': {
    meaning: "The vehicle's own compressor is worn.",
    size: { unit: 'share of its stroke that is left', default: 0.3, min: 0, max: 1 },
  },
  'vehicle-condenser-blocked': {
    meaning: "Leaves and dirt before the vehicle's condenser: less air passes.",
    size: { unit: 'share of the air that is left', default: 0.3, min: 0, max: 1 },
  },
  'vehicle-expansion-clogged': {
    meaning: "The vehicle's orifice tube or expansion valve is clogged.",
    size: { unit: 'share of its area that is left', default: 0.15, min: 0, max: 1 },
  },
  'compressor-weak': {
    meaning: 'The recovery compressor has worn valves.',
    size: { unit: 'share of its swept volume that is left', default: 0.5, min: 0, max: 1 },
  },
  'pump-oil-dirty': {
    meaning: 'Water and refrigerant in the oil of the vacuum pump.',
    size: { unit: 'Pa of ultimate pressure', default: 500, min: 1, max: 20_000 },
  },
  'power-lost': { meaning: 'The mains fail: every output drops, the controller dies.' },
  'link-lost': {
    meaning: 'The line between controller and rig is cut: no reading arrives, no command passes.',
  },
} as const satisfies { readonly [name: string]: FaultKind };

export type FaultName = keyof typeof kinds;
export const FAULT_NAMES = Object.keys(kinds) as readonly FaultName[];
export const FAULTS: { readonly [F in FaultName]: FaultKind } = kinds;

export type Fault = {
  readonly fault: FaultName;
  /** Left out: the default of its kind. */
  readonly size?: number;
  readonly output?: Output;
};

/** The faults that are on now. Plant and sensors look here; nobody tells the controller. */
export class ActiveFaults {
  readonly #on = new Map<string, Fault>();
  /** Rises with every change, so that whoever looks can tell cheaply that nothing happened. */
  changes = 0;

  switch(fault: Fault, on: boolean): void {
    const key = keyOf(fault.fault, fault.output);
    if (on) this.#on.set(key, fault);
    else this.#on.delete(key);
    this.changes++;
  }

  has(fault: FaultName, output?: Output): boolean {
    return this.#on.has(keyOf(fault, output));
  }

  /** The size of a fault that is on, or undefined when it is off. */
  sizeOf(fault: FaultName): number | undefined {
    const active = this.#on.get(fault);
    return active === undefined ? undefined : (active.size ?? FAULTS[fault].size?.default);
  }

  save() {
    return { on: [...this.#on.values()], changes: this.changes };
  }

  restore({ on, changes }: ReturnType<ActiveFaults['save']>): void {
    this.#on.clear();
    for (const fault of on) this.#on.set(keyOf(fault.fault, fault.output), fault);
    this.changes = changes;
  }
}

const keyOf = (fault: FaultName, output: Output | undefined): string =>
  output === undefined ? fault : `${fault} ${output}`;
