// One line to an emulated machine: what a person does to the plant, and what goes wrong with it.
import { type Measured, OUTPUTS } from '../../controller/signals.ts';
import { type Quantity, typedQuantity } from '../../hardware/commissioning/quantities.ts';
import { FAULT_NAMES, FAULTS, type Fault, type FaultName } from '../../sim/faults.ts';
import type { HandAction } from '../../sim/spec.ts';
import { InputError } from './command.ts';
import { handLine } from './hand-lines.ts';
import { suggestion } from './nearest.ts';

export type EmulateLine =
  | { readonly kind: 'operate'; readonly action: HandAction }
  | { readonly kind: 'fault'; readonly fault: Fault; readonly on: boolean }
  /** A value on the wire of a sensor, or the wire given back; in SI, of a gauge sensor above the room. */
  | { readonly kind: 'set'; readonly sensor: SetSensor; readonly value: number | undefined }
  | { readonly kind: 'status' | 'help' | 'quit' };

export const EMULATE_LINES_HELP = `  connect, disconnect          put both hoses on the vehicle and open the couplers; take them off
  close couplers               close both couplers, or 'close high coupler' for that one
  engine on, engine off        the vehicle's engine, air conditioning at its coldest
  press stop, release stop     the emergency stop
  fault NAME [SIZE] [OUTPUT]   let something go wrong ('coldbench faults' lists what can)
  mend NAME [OUTPUT]           let it go right again
  set SENSOR VALUE             put a value on its wire, without noise: high, low, tank (gauge), manifold (absolute),
                               tank-temperature, air (temperature) or scale: 'set high 8 bar', 'set air 30 C'.
                               A load that is weighed as any other is 'fault scale-leaned-on 5'
  free SENSOR                  give the wire back to the simulated sensor
  status                       what the board drives, and what is where in the truth
  quit                         end
`;

const GAUGE: Quantity = { kind: 'pressure', min: -100_000, max: 5_000_000 };
const TEMPERATURE: Quantity = { kind: 'temperature', min: 233.15, max: 373.15 };

/** The wires that can be held. */
const SENSORS = {
  high: { sensor: 'highSidePressurePa', quantity: GAUGE, example: '8 bar' },
  low: { sensor: 'lowSidePressurePa', quantity: GAUGE, example: '2 bar' },
  tank: { sensor: 'tankPressurePa', quantity: GAUGE, example: '5 bar' },
  manifold: {
    sensor: 'manifoldPressurePa',
    quantity: { kind: 'pressure', min: 0, max: 200_000 },
    example: '100 Pa',
  },
  'tank-temperature': { sensor: 'tankTemperatureK', quantity: TEMPERATURE, example: '25 C' },
  air: { sensor: 'ambientTemperatureK', quantity: TEMPERATURE, example: '30 C' },
  scale: { sensor: 'scaleCounts', quantity: { kind: 'mass', min: -5, max: 60 }, example: '5 kg' },
} as const satisfies {
  readonly [name: string]: {
    readonly sensor: Measured;
    readonly quantity: Quantity;
    readonly example: string;
  };
};
export type SetSensor = keyof typeof SENSORS;
/** The reading of the rig contract that a wire becomes. */
export const measuredOf = (name: SetSensor): Measured => SENSORS[name].sensor;
const SENSOR_NAMES = Object.keys(SENSORS) as readonly SetSensor[];

function setLine(sets: boolean, [first, ...rest]: readonly string[]): EmulateLine {
  if (first === undefined)
    throw new InputError(
      `the sensor is missing; write for example '${sets ? `set high ${SENSORS.high.example}` : 'free high'}'`,
    );
  const sensor = SENSOR_NAMES.find((name) => name === first);
  if (sensor === undefined)
    throw new InputError(`there is no sensor '${first}' here; ${suggestion(first, SENSOR_NAMES)}`);
  if (!sets) return { kind: 'set', sensor, value: undefined };
  if (rest.length === 0)
    throw new InputError(
      `the value is missing; write for example 'set ${sensor} ${SENSORS[sensor].example}'`,
    );
  const typed = typedQuantity(rest.join(' '), SENSORS[sensor].quantity);
  if (!typed.ok) throw new InputError(typed.problem);
  return { kind: 'set', sensor, value: typed.value };
}

const OVER_THE_LINE =
  "outputs are driven over the line, by whoever holds its other end; 'help' shows what can be done here";
const VERBS = [
  'connect',
  'disconnect',
  'close',
  'engine',
  'press',
  'release',
  'fault',
  'mend',
  'set',
  'free',
  'status',
  'help',
  'quit',
];
/** What drives outputs in work by hand: here somebody else does. */
const DRIVING = ['open', 'start', 'on', 'shut', 'stop', 'off', 'why', 'wait', 'reset', 'begin'];

function faultNamed(text: string): FaultName {
  const name = FAULT_NAMES.find((known) => known === text);
  if (name === undefined)
    throw new InputError(`there is no fault '${text}'; ${suggestion(text, FAULT_NAMES)}`);
  return name;
}

function faultLine(on: boolean, words: readonly string[]): EmulateLine {
  const [first, ...rest] = words;
  if (first === undefined)
    throw new InputError("the fault is missing; write for example 'fault coupler-shut'");
  const fault = faultNamed(first);
  const output = OUTPUTS.find((known) => rest.includes(known));
  const others = rest.filter((word) => word !== output);
  const size = others.length === 0 ? undefined : Number(others[0]);
  if (others.length > 1 || (size !== undefined && !Number.isFinite(size)))
    throw new InputError(
      `'${rest.join(' ')}' is neither a size nor an output; leave it out, or write 0.5 or chargeValve`,
    );
  const { size: kind } = FAULTS[fault];
  if (size !== undefined && (kind === undefined || size < kind.min || size > kind.max))
    throw new InputError(
      kind === undefined
        ? `${fault} has no size; leave it out`
        : `${fault} goes from ${kind.min} to ${kind.max} (${kind.unit})`,
    );
  if (fault === 'relay-welded' && output === undefined)
    throw new InputError("name the output whose relay it is, for example 'fault relay-welded chargeValve'");
  return {
    kind: 'fault',
    on,
    fault: { fault, ...(size === undefined ? {} : { size }), ...(output === undefined ? {} : { output }) },
  };
}

/**
 * Nothing for an empty line or a remark.
 * @throws InputError with the remedy; nothing has happened then.
 */
export function emulateLine(text: string): EmulateLine | undefined {
  const words = text
    .replace(/#.*$/, '')
    .split(/\s+/)
    .filter((word) => word !== '');
  const [verb, ...rest] = words;
  if (verb === undefined) return undefined;
  if (verb === 'press' || verb === 'release') {
    if (rest.join(' ') !== 'stop') throw new InputError(`write '${verb} stop': the emergency stop is meant`);
    return { kind: 'fault', on: verb === 'press', fault: { fault: 'emergency-stop' } };
  }
  if (verb === 'close' && rest.length === 0)
    throw new InputError("write 'close couplers' or 'close high coupler'");
  if (verb === 'fault' || verb === 'mend') return faultLine(verb === 'fault', rest);
  if (verb === 'set' || verb === 'free') return setLine(verb === 'set', rest);
  if (DRIVING.includes(verb)) throw new InputError(OVER_THE_LINE);
  if (!VERBS.includes(verb)) throw new InputError(`there is no '${verb}' here; ${suggestion(verb, VERBS)}`);
  const line = handLine(text);
  switch (line?.kind) {
    case 'operate':
      return { kind: 'operate', action: line.action };
    case 'status':
    case 'help':
    case 'quit':
      return { kind: line.kind };
    default:
      throw new InputError(OVER_THE_LINE);
  }
}
