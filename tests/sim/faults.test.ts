// Every fault of the table, on the bench: on, it changes what it should; off again, it changes it no longer.
import { describe, expect, test } from 'vitest';
import { fluidData, prepare } from '../../app/run/prepare.ts';
import { toScenario } from '../../app/scenario/scenario.ts';
import {
  type Commands,
  ON,
  type Output,
  type Reading,
  type Readings,
  SAFE_COMMANDS,
} from '../../controller/signals.ts';
import type { Bench } from '../../sim/bench.ts';
import { FAULT_NAMES, type Fault, type FaultName } from '../../sim/faults.ts';
import type { Truth } from '../../sim/spec.ts';

const fluid = fluidData('R-134a');
const SCENARIO = toScenario(
  {
    ticket: { refrigerant: 'R-134a', nominalChargeG: 600 },
    vehicle: { chargeG: 500 },
    build: { scaleBumpsPerHour: 0, scaleSpikesPerSample: 0, vacuumPumpUltimatePa: 3 },
  },
  'the test',
);
const freshBench = (): Bench =>
  prepare(
    SCENARIO,
    'the test',
    () => fluid,
    () => 0,
  ).bench;

const commands = (outputs: readonly Output[]): Commands => ({
  ...SAFE_COMMANDS,
  ...Object.fromEntries(outputs.map((output) => [output, ON])),
});

/** What a fault works on: the readings at one time, and how the truth changes in a second before it. */
type Seen = {
  readonly readings: Readings;
  readonly nowMs: number;
  readonly perS: (place: keyof Truth) => number;
};

type Case = {
  readonly fault?: Omit<Fault, 'fault'>;
  /** Outputs that are on before, while and after the fault. */
  readonly on?: readonly Output[];
  readonly connected?: false;
  /** The vehicle's engine runs, hoses on, machine valves shut. */
  readonly engine?: true;
  /** Vehicle and hoses are emptied first. */
  readonly evacuated?: true;
  /** What the fault changes. */
  readonly effect: (seen: Seen) => number;
  /** By at least this much. */
  readonly by: number;
  /** How long the outputs have been on before. */
  readonly warmUpS?: number;
  readonly onForS?: number;
  readonly offForS?: number;
};

const CHARGE: readonly Output[] = ['highSideValve', 'chargeValve'];
const RECOVER: readonly Output[] = ['highSideValve', 'lowSideValve', 'recoveryValve', 'compressor'];
const PUMP: readonly Output[] = ['vacuumPump', 'vacuumValve'];
const EVACUATE: readonly Output[] = [...PUMP, 'highSideValve', 'lowSideValve'];

const NONE = -1;
const value = (reading: Reading): number => (reading.ok ? reading.value : NONE);
const missing =
  (sensor: keyof Readings) =>
  ({ readings }: Seen): number =>
    readings[sensor].ok ? 0 : 1;
const tripped =
  (sensor: keyof Readings) =>
  ({ readings }: Seen): number => {
    const reading = readings[sensor];
    return reading.ok && reading.value === true ? 1 : 0;
  };
const reads =
  (sensor: Exclude<keyof Readings, 'emergencyStop' | 'highPressureSwitch' | 'fanFlow' | 'gasAlarm'>) =>
  ({ readings }: Seen): number =>
    value(readings[sensor]);
const tankRate = ({ perS }: Seen): number => perS('tankRefrigerantKg');
const age = ({ readings, nowMs }: Seen): number =>
  readings.scaleCounts.ok ? nowMs - readings.scaleCounts.atMs : 0;
const sidesDiffer = ({ readings }: Seen): number =>
  value(readings.highSidePressurePa) - value(readings.lowSidePressurePa);

/** Hose force, creep and noise of the scale stay below this many counts. */
const SCALE_COUNTS = 800;

const CASES: { readonly [F in FaultName]: Case } = {
  'scale-leaned-on': { effect: reads('scaleCounts'), by: SCALE_COUNTS },
  'scale-stuck': { on: CHARGE, evacuated: true, effect: reads('scaleCounts'), by: SCALE_COUNTS },
  'scale-spikes': { fault: { size: 1 }, effect: reads('scaleCounts'), by: SCALE_COUNTS },
  'scale-drift': { fault: { size: 100 }, effect: reads('scaleCounts'), by: SCALE_COUNTS },
  'scale-open': { effect: missing('scaleCounts'), by: 1 },
  'low-sensor-open': { effect: missing('lowSidePressurePa'), by: 1 },
  'high-sensor-short': { effect: missing('highSidePressurePa'), by: 1 },
  'high-sensor-stuck': {
    on: EVACUATE,
    connected: false,
    warmUpS: 0,
    effect: reads('highSidePressurePa'),
    by: 20_000,
  },
  'tank-sensor-open': { effect: missing('tankPressurePa'), by: 1 },
  'manifold-sensor-open': { effect: missing('manifoldPressurePa'), by: 1, connected: false },
  'tank-temperature-open': { effect: missing('tankTemperatureK'), by: 1 },
  'sensors-swapped': {
    on: [...PUMP, 'highSideValve'],
    connected: false,
    effect: reads('highSidePressurePa'),
    by: 20_000,
  },
  'tank-valve-shut': { on: CHARGE, evacuated: true, effect: tankRate, by: 1e-3 },
  'coupler-shut': {
    on: CHARGE,
    evacuated: true,
    effect: ({ perS }) => perS('vehicleRefrigerantKg'),
    by: 1e-3,
  },
  'hose-off': { on: ['lowSideValve', 'chargeValve'], effect: ({ perS }) => perS('spilledKg'), by: 1e-3 },
  'high-hose-off': { on: CHARGE, effect: ({ perS }) => perS('spilledKg'), by: 1e-3 },
  'drain-float-stuck': {
    on: ['separatorDrainValve', 'highSideValve', 'recoveryValve'],
    effect: ({ perS }) => perS('ventedKg'),
    by: 1e-5,
  },
  'cabinet-leaks': { effect: ({ perS }) => perS('spilledKg'), by: 5e-4 },
  'filter-blocked': { on: RECOVER, effect: tankRate, by: 1e-4 },
  'charge-valve-leaks': {
    fault: { size: 50 },
    on: ['highSideValve'],
    evacuated: true,
    effect: tankRate,
    by: 1e-3,
  },
  'vacuum-valve-stuck-open': {
    on: ['vacuumPump', 'highSideValve'],
    effect: ({ perS }) => perS('pumpExhaustKg'),
    by: 1e-3,
  },
  'relay-welded': {
    fault: { output: 'chargeValve' },
    on: ['highSideValve'],
    evacuated: true,
    effect: tankRate,
    by: 1e-3,
  },
  'output-dead': {
    fault: { output: 'chargeValve' },
    on: CHARGE,
    evacuated: true,
    effect: tankRate,
    by: 1e-3,
  },
  'fan-stopped': { effect: tripped('fanFlow'), by: 1 },
  'wrong-tank': { effect: reads('scaleCounts'), by: 500 },
  'oil-bottle-empty': {
    on: [...PUMP, 'oilValve'],
    connected: false,
    effect: reads('manifoldPressurePa'),
    by: 200,
  },
  'dye-bottle-empty': {
    on: [...PUMP, 'dyeValve'],
    connected: false,
    effect: reads('manifoldPressurePa'),
    by: 200,
  },
  'engine-started-early': { effect: sidesDiffer, by: 100_000, onForS: 30, offForS: 600 },
  'prompts-not-obeyed': { connected: false, effect: reads('highSidePressurePa'), by: 100_000 },
  'emergency-stop': { effect: tripped('emergencyStop'), by: 1 },
  'gas-alarm': { effect: tripped('gasAlarm'), by: 1 },
  'pressure-switch-open': { effect: tripped('highPressureSwitch'), by: 1 },
  'vehicle-compressor-weak': {
    engine: true,
    warmUpS: 240,
    effect: reads('lowSidePressurePa'),
    by: 30_000,
    onForS: 240,
    offForS: 600,
  },
  'vehicle-condenser-blocked': {
    engine: true,
    warmUpS: 240,
    effect: reads('highSidePressurePa'),
    by: 100_000,
    onForS: 240,
    offForS: 600,
  },
  'vehicle-expansion-clogged': {
    engine: true,
    warmUpS: 240,
    effect: reads('lowSidePressurePa'),
    by: 30_000,
    onForS: 240,
    offForS: 600,
  },
  'compressor-weak': {
    fault: { size: 0.3 },
    on: RECOVER,
    effect: tankRate,
    by: 1e-4,
    // What it did not draw must be drawn first, and the vehicle must not be empty yet: then every rate is chance.
    offForS: 180,
  },
  'pump-oil-dirty': { on: PUMP, connected: false, warmUpS: 0, effect: reads('manifoldPressurePa'), by: 100 },
  'power-lost': { effect: age, by: 5_000 },
  'link-lost': { effect: age, by: 5_000 },
};

const WARM_UP_S = 5;

/** A bench with a hand on its commands. */
class Rig {
  readonly bench = freshBench();

  hold(outputs: readonly Output[], durationS: number): void {
    this.bench.apply(commands(outputs));
    this.bench.advanceTo(this.bench.nowMs() + durationS * 1000);
  }

  /** Holds for a time and looks at its last second. */
  seen(outputs: readonly Output[], durationS: number): Seen {
    this.hold(outputs, durationS - 1);
    const before = this.bench.truth();
    this.hold(outputs, 1);
    const after = this.bench.truth();
    const perS = (place: keyof Truth) => after[place] - before[place];
    return { readings: this.bench.readings(), nowMs: this.bench.nowMs(), perS };
  }
}

function prepared({ connected, engine, evacuated, on = [], warmUpS = WARM_UP_S }: Case): Rig {
  const rig = new Rig();
  if (connected !== false) rig.bench.operate('connect-hoses');
  if (evacuated) rig.hold(EVACUATE, 240);
  if (engine) rig.bench.operate('start-engine');
  rig.hold([], 1);
  rig.hold(on, warmUpS);
  return rig;
}

describe.each([...FAULT_NAMES])('%s', (name) => {
  test('changes what it should while it is on, and no longer afterwards', () => {
    const one = CASES[name];
    const { on = [], effect, by, onForS = 10, offForS = 20 } = one;
    const fault: Fault = { fault: name, ...one.fault };
    const [ill, well] = [prepared(one), prepared(one)];
    ill.bench.switchFault(fault, true);
    const prompted = (rig: Rig) => {
      if (name === 'prompts-not-obeyed') rig.bench.operate('connect-hoses');
    };
    for (const rig of [ill, well]) prompted(rig);
    expect(Math.abs(effect(ill.seen(on, onForS)) - effect(well.seen(on, onForS)))).toBeGreaterThanOrEqual(by);
    ill.bench.switchFault(fault, false);
    for (const rig of [ill, well]) prompted(rig);
    expect(Math.abs(effect(ill.seen(on, offForS)) - effect(well.seen(on, offForS)))).toBeLessThan(by / 2);
    for (const { bench } of [ill, well]) {
      const { massDriftKg, ventedKg } = bench.truth();
      expect(Math.abs(massDriftKg)).toBeLessThan(1e-6);
      // Of all that can go wrong only one thing opens a way that the machine itself has opened.
      if (name !== 'drain-float-stuck') expect(ventedKg).toBeLessThan(1e-9);
    }
  });
});
