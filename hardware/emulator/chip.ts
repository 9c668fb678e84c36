// The emulated ATmega328P: processor, peripherals and its kinds of reset.
import {
  AVRADC,
  AVRClock,
  AVREEPROM,
  AVRSPI,
  AVRWatchdog,
  adcConfig,
  spiConfig,
  watchdogConfig,
} from 'avr8js';
import { Core, INTERRUPTS_ON, type Instruction, SRAM_FROM, SREG } from './core.ts';
import { connectPorts } from './ports.ts';
import type { Surroundings } from './surroundings.ts';
import { connectTimer, TCCR2B } from './timer.ts';
import { Usart } from './usart.ts';

export const CLOCK_HZ = 16_000_000;
const SUPPLY_VOLTS = 5;
const ADC_STEPS = 1024;

const { MCUSR, WDTCSR } = watchdogConfig;
/** Bits of MCUSR (data sheet, "MCU Status Register"). */
export const RESET_FLAGS = { power: 1, pin: 2, brownOut: 4, watchdog: 8 } as const;
const CHANGE = 0x10;
const RESETS = 0x08;

const SPI_PHASE = 0x04;

/** A program and its decoded instructions. */
export type Program = { readonly words: Uint16Array; readonly instructions: readonly Instruction[] };

/** One life of the chip, from a reset to the next. */
export class Chip {
  readonly core: Core;
  readonly usart: Usart;

  /**
   * @param flags what MCUSR tells of the reset: avr8js itself never sets the power-on flag.
   * @param before the chip as it was reset: only SRAM and clock outlast that.
   */
  constructor(program: Program, outside: Surroundings, flags: number, before?: Chip) {
    const core = new Core(program.words, program.instructions);
    this.core = core;
    if (before === undefined) {
      // What SRAM holds after power-on is anybody's guess: nothing may depend on it.
      core.data.fill(0xa5, SRAM_FROM);
    } else {
      core.cycles = before.core.cycles;
      core.data.set(before.core.data.subarray(SRAM_FROM), SRAM_FROM);
    }
    connectPorts(core, outside);
    connectTimer(core);
    connectAdc(core, outside);
    connectSpi(core, outside);
    connectEeprom(core, outside.eeprom);
    this.usart = new Usart(core, (byte) => outside.sent(byte, core.cycles));
    for (const bytes of before?.usart.takeLine() ?? []) this.usart.receive(bytes);
    new AVRWatchdog(core, watchdogConfig, new AVRClock(core, CLOCK_HZ));
    core.data[MCUSR] = flags;
    if (flags & RESET_FLAGS.watchdog) keepWatchdogOn(core);
  }

  /** Leads the program, in its main loop, into a loop that does nothing. */
  hang(interrupts: 'go on' | 'off'): void {
    const { core } = this;
    while (!(core.data[SREG]! & INTERRUPTS_ON)) core.runUntil(core.cycles + 1);
    core.asleep = false;
    core.pc = core.progMem.length - 1;
    if (interrupts === 'off') core.data[SREG]! &= ~INTERRUPTS_ON;
  }

  /** Takes the timer its clock and leaves the rest running. */
  stopTimer(): void {
    this.core.writeData(TCCR2B, 0);
  }
}

/** Instruction that jumps to itself; the last word of the flash holds it for `hang`. */
export const SELF_LOOP = 0xcfff;

// A reset by the watchdog leaves it running at its shortest time, 16 ms.
function keepWatchdogOn(core: Core): void {
  core.writeData(WDTCSR, CHANGE | RESETS);
  core.writeData(WDTCSR, RESETS);
}

function connectAdc(core: Core, outside: Surroundings): void {
  const adc = new AVRADC(core, adcConfig);
  let result = 0;
  const done = (): void => adc.completeADCRead(result);
  adc.onADCRead = (input) => {
    const volts = 'channel' in input ? outside.volts(input.channel) : 0;
    result = Math.min(Math.max(Math.floor((volts / SUPPLY_VOLTS) * ADC_STEPS), 0), ADC_STEPS - 1);
    core.addClockEvent(done, adc.sampleCycles);
  };
}

function connectSpi(core: Core, outside: Surroundings): void {
  const spi = new AVRSPI(core, spiConfig, CLOCK_HZ);
  let back = 0;
  const done = (): void => spi.completeTransfer(back);
  spi.onByte = (byte) => {
    back = outside.swapByte(byte, core.data[spiConfig.SPCR]! & SPI_PHASE ? 1 : 0, core.cycles);
    core.addClockEvent(done, spi.transferCycles);
  };
}

function connectEeprom(core: Core, cells: Uint8Array): void {
  new AVREEPROM(core, {
    readMemory: (address) => cells[address % cells.length]!,
    writeMemory: (address, value) => {
      cells[address % cells.length]! &= value;
    },
    eraseMemory: (address) => {
      cells[address % cells.length] = 0xff;
    },
  });
}
