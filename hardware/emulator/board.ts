// The emulated board: the real compiled firmware on an emulated chip, with everything that is soldered to it. It has no
// clock of its own: whoever holds it says how far time goes, and the same calls always have the same outcome.
import { Bridge } from './bridge.ts';
import { Chip, CLOCK_HZ, type Program, RESET_FLAGS, SELF_LOOP } from './chip.ts';
import { Converter } from './converter.ts';
import { decoded } from './decode.ts';
import { readHex } from './intel-hex.ts';
import { Registers } from './registers.ts';
import type { Port, Surroundings } from './surroundings.ts';
import { BROKEN_FRAME } from './usart.ts';

const CYCLES_A_MS = CLOCK_HZ / 1000;
const CYCLES_A_US = CLOCK_HZ / 1_000_000;
const EEPROM_BYTES = 1024;

// Pins, as hardware/firmware/pins.h has them.
const CONVERTER_SELECT = 0x01;
const OUTPUTS_DISABLE = 0x02;
const REGISTER_LATCH = 0x04;
const SPI_IN = 0x10;
const FAN_STOP = 0x20;
const BRIDGE_DATA = 0x04;
const BRIDGE_CLOCK = 0x08;
const SWITCH_PINS = { emergencyStop: 0x10, highPressureSwitch: 0x20, gasAlarm: 0x40, fanFlow: 0x80 } as const;

const REGISTER_OUTPUTS = 0x0fff;
const FAN_STOP_BIT = 0x1000;

/** Whether the contact of each switch is closed: nothing pressed, pressure in order, no alarm, air moves. */
export type Contacts = { readonly [K in keyof typeof SWITCH_PINS]: boolean };

export type BoardInputs = {
  /** Volts at PC0 to PC4: high side, low side, tank, tank thermistor, ambient thermistor. */
  readonly analogVolts: readonly number[];
  /** Volts at the four inputs of the 16-bit converter; undefined where there is none. */
  readonly converterVolts: readonly number[] | undefined;
  /** Signed counts of the load cell's bridge; undefined where there is none. */
  readonly bridgeCounts: number | undefined;
  readonly closed: Contacts;
};

/** Everything at rest: transducers at 1 V, thermistors at 25 °C, contacts closed. */
const AT_REST: BoardInputs = {
  analogVolts: [1, 1, 1, 2.5, 2.5],
  converterVolts: [2.5, 2.5, 2.5, 2.5],
  bridgeCounts: 0,
  closed: { emergencyStop: true, highPressureSwitch: true, gasAlarm: true, fanFlow: true },
};

export type BoardOptions = {
  /** The firmware, as an Intel HEX file. */
  readonly hex: string;
  /** Cells of the EEPROM, which the board goes on using; erased ones if there are none. */
  readonly eeprom?: Uint8Array;
  /** Conversions a second of the bridge's converter. */
  readonly bridgeRateHz?: 10 | 80;
  /** Changes the program before it runs: for tests that need a board with a fault. */
  readonly patch?: (words: Uint16Array) => void;
};

export class EmulatedBoard {
  private readonly program: Program;
  private readonly registers = new Registers();
  private readonly converter = new Converter();
  private readonly bridge: Bridge;
  private readonly surroundings: Surroundings;
  private inputs = AT_REST;
  private switchLevels = 0;
  private chip: Chip | undefined;
  private cycles = 0;
  private enabled = false;
  private fanStopped = false;
  private word = 0;
  private readonly sendListeners: ((byte: number, timeUs: number) => void)[] = [];
  private readonly outputListeners: ((word: number, timeUs: number) => void)[] = [];
  /** Resets by the watchdog so far. */
  watchdogResets = 0;

  constructor(options: BoardOptions) {
    const words = readHex(options.hex);
    options.patch?.(words);
    words[words.length - 1] = SELF_LOOP;
    this.program = { words, instructions: decoded(words) };
    this.bridge = new Bridge(options.bridgeRateHz ?? 80);
    this.surroundings = {
      eeprom: options.eeprom ?? new Uint8Array(EEPROM_BYTES).fill(0xff),
      levels: (port, cycles) => this.levels(port, cycles),
      driven: (port, pins, levels, cycles) => this.driven(port, pins, levels, cycles),
      swapByte: (byte, phase, cycles) => this.swapByte(byte, phase, cycles),
      volts: (channel) => this.inputs.analogVolts[channel] ?? 0,
      sent: (byte, cycles) => {
        for (const listener of this.sendListeners) listener(byte, cycles / CYCLES_A_US);
      },
    };
    this.setInputs({});
  }

  /** Virtual time since the board was made, whether it had power or not. */
  get timeMs(): number {
    return this.cycles / CYCLES_A_MS;
  }

  powerOn(): void {
    this.registers.powerOn();
    this.converter.powerOn();
    this.bridge.powerOn(this.cycles);
    this.start(RESET_FLAGS.power);
    this.chip!.core.cycles = this.cycles;
  }

  powerOff(): void {
    this.chip = undefined;
    this.enabled = false;
    this.fanStopped = false;
    this.drive(this.cycles);
  }

  /** The reset pin, as a host pulls it by opening the port of many boards; or the brown-out detector. */
  reset(cause: 'pin' | 'brownOut'): void {
    if (this.chip !== undefined) this.start(RESET_FLAGS[cause], this.chip);
  }

  /** Lets time go on until `timeMs`. */
  advanceTo(timeMs: number): void {
    const until = Math.round(timeMs * CYCLES_A_MS);
    while (this.chip !== undefined && this.chip.core.cycles < until) {
      this.chip.core.runUntil(until);
      if (!this.chip.core.resetAsked) continue;
      this.watchdogResets++;
      this.start(RESET_FLAGS.watchdog, this.chip);
    }
    this.cycles = Math.max(this.cycles, until);
  }

  /** Bytes from the host, sent from now on at the line's rate. Lost if the board has no power. */
  receive(bytes: Uint8Array): void {
    this.chip?.usart.receive(Uint16Array.from(bytes));
  }

  /** A byte whose stop bit is missing. */
  receiveBroken(byte: number): void {
    this.chip?.usart.receive(Uint16Array.of(byte | BROKEN_FRAME));
  }

  /** Every byte that the board sends, at the end of its stop bit. */
  onSend(listener: (byte: number, timeUs: number) => void): void {
    this.sendListeners.push(listener);
  }

  /** Every change of what is driven at the coils. */
  onOutputs(listener: (word: number, timeUs: number) => void): void {
    this.outputListeners.push(listener);
  }

  /** What is really driven at the coils, in the protocol's order. */
  outputs(): number {
    return this.word;
  }

  /** Changes some of what the board senses, from now on. */
  setInputs(inputs: Partial<BoardInputs>): void {
    this.inputs = { ...this.inputs, ...inputs };
    this.converter.volts = this.inputs.converterVolts;
    this.bridge.counts = this.inputs.bridgeCounts;
    // An open contact leaves its pin to the pull-up.
    this.switchLevels = 0;
    for (const [name, mask] of Object.entries(SWITCH_PINS))
      if (!this.inputs.closed[name as keyof Contacts]) this.switchLevels |= mask;
  }

  /** Breaks the line that comes back from the registers, or mends it. */
  setChainFault(stuckAt: 0 | 1 | undefined): void {
    this.registers.stuckAt = stuckAt;
  }

  /** Makes the program hang: its main loop, its timer interrupt, or both. */
  hang(what: 'main loop' | 'timer' | 'everything'): void {
    if (what === 'timer') this.chip?.stopTimer();
    else this.chip?.hang(what === 'main loop' ? 'go on' : 'off');
  }

  /** How often the bridge's converter switched itself off because its clock stayed high. */
  get bridgeSwitchedOff(): number {
    return this.bridge.switchedOff;
  }

  private start(flags: number, before?: Chip): void {
    this.chip = new Chip(this.program, this.surroundings, flags, before);
  }

  private levels(port: Port, cycles: number): number {
    if (port === 'D') return this.switchLevels | (this.bridge.level(cycles) ? BRIDGE_DATA : 0);
    if (port === 'C') return 0;
    // The buffer of the chain lets go of MISO while the converter is selected.
    const back = this.converter.selected ? this.converter.level(cycles) : this.registers.end;
    return OUTPUTS_DISABLE | CONVERTER_SELECT | (back ? SPI_IN : 0);
  }

  private driven(port: Port, pins: number, levels: number, cycles: number): void {
    if (port === 'D') this.bridge.setClock(levels & BRIDGE_CLOCK ? 1 : 0, cycles);
    if (port === 'C') this.fanStopped = (levels & FAN_STOP) !== 0;
    if (port === 'B') {
      // Where the chip drives nothing, pull-ups hold both of these high.
      this.converter.select((pins & ~levels & CONVERTER_SELECT) !== 0);
      this.enabled = (pins & ~levels & OUTPUTS_DISABLE) !== 0;
      this.registers.latch(levels & REGISTER_LATCH ? 1 : 0);
    }
    this.drive(cycles);
  }

  private drive(cycles: number): void {
    const word =
      (this.enabled ? this.registers.outputs & REGISTER_OUTPUTS : 0) | (this.fanStopped ? FAN_STOP_BIT : 0);
    if (word === this.word) return;
    this.word = word;
    for (const listener of this.outputListeners) listener(word, cycles / CYCLES_A_US);
  }

  private swapByte(byte: number, phase: 0 | 1, cycles: number): number {
    // Clock and data reach both: what the converter is told runs through the registers too, but is never latched.
    const fromChain = this.registers.swap(byte);
    return this.converter.selected ? this.converter.swap(byte, phase, cycles) : fromChain;
  }
}

export const createBoard = (options: BoardOptions): EmulatedBoard => new EmulatedBoard(options);
