// The rig contract: what a rig reports (readings) and what it is told (commands).
// Everything is SI and absolute pressure; a value that cannot be trusted is a reason, never a number.

/** Why a sensor has no value. */
export type NoReading =
  | 'not-fitted'
  | 'not-read-yet'
  | 'stale'
  | 'open-circuit'
  | 'short-circuit'
  | 'out-of-range';

/** One sensor's value with the time it was taken, or the reason for having none. */
export type Reading<T = number> =
  | { readonly ok: true; readonly value: T; readonly atMs: number }
  | { readonly ok: false; readonly reason: NoReading };

/** Sensors that measure a quantity. The scale reports raw counts: its calibration belongs to the equipment. */
export const MEASURED = [
  'highSidePressurePa',
  'lowSidePressurePa',
  'tankPressurePa',
  'manifoldPressurePa',
  'vehicleVacuumPa',
  'barometerPa',
  'tankTemperatureK',
  'ambientTemperatureK',
  'ventTemperatureK',
  'scaleCounts',
] as const;
export type Measured = (typeof MEASURED)[number];

/** Switch inputs. `fanFlow` true means that air is moving; the others are true when they have tripped. */
export const SWITCHES = ['emergencyStop', 'highPressureSwitch', 'fanFlow', 'gasAlarm'] as const;
export type Switch = (typeof SWITCHES)[number];

export type Readings = { readonly [S in Measured]: Reading } & { readonly [S in Switch]: Reading<boolean> };

/** Valves are normally closed: off is shut. */
export const VALVES = [
  'highSideValve',
  'lowSideValve',
  'recoveryValve',
  'vacuumValve',
  'chargeValve',
  'oilValve',
  'dyeValve',
  'separatorDrainValve',
  'airPurgeValve',
] as const;

/** Drives. `fanStop` energises the relay that stops the fan, so that the fan fails on. */
const DRIVES = ['compressor', 'vacuumPump', 'tankHeater', 'fanStop'] as const;

export const OUTPUTS = [...VALVES, ...DRIVES] as const;
export type Output = (typeof OUTPUTS)[number];

/**
 * The wanted state of one output. `offAfterMs` starts a countdown in the rig at the first command that carries it:
 * later commands may shorten it and never extend it, and once it has run out the output stays off until it has been
 * commanded off.
 */
export type Command = { readonly on: boolean; readonly offAfterMs?: number | undefined };
export type Commands = { readonly [O in Output]: Command };

export const OFF: Command = { on: false, offAfterMs: undefined };
export const ON: Command = { on: true, offAfterMs: undefined };

/** Every word of commands is made here, so that all have one shape: whoever reads them is compiled once. */
export const commandsOf = (commandOf: (output: Output) => Command): Commands =>
  Object.freeze(Object.fromEntries(OUTPUTS.map((output) => [output, commandOf(output)]))) as Commands;

/** The safe state: every valve shut and every drive off; the fan runs because nothing stops it. */
export const SAFE_COMMANDS: Commands = commandsOf(() => OFF);

/** What a rig can do beyond the contract. Code asks for a capability, never for an identity. */
export type Capabilities = {
  /** The rig can tell what really happened (a simulator). */
  readonly truth: boolean;
  /** The rig's time is moved by whoever holds it, not by a clock. */
  readonly timeControl: boolean;
  /** The rig needs a commissioning record before it may be driven. */
  readonly needsCommissioning: boolean;
};

/** Whatever is on the other end: simulated, recorded, emulated or serial. */
export interface Rig {
  readonly capabilities: Capabilities;
  /** The newest value of every sensor, each with the time it was taken. */
  readings(): Readings;
  /** Gives the rig the state it shall hold from now on. */
  apply(commands: Commands): void;
}

/** A rig with `timeControl`: nothing happens until it is told how far to go. */
export interface TimeControlledRig extends Rig {
  nowMs(): number;
  advanceTo(timeMs: number): void;
}
