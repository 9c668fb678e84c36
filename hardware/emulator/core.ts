// The processor of the emulated chip: avr8js' own, with the mends that it needs to sleep and to be reset.
import { CPU } from 'avr8js';

const SRAM_BYTES = 2048;
/** Data addresses below are registers, above is SRAM. */
export const SRAM_FROM = 0x100;
export const SREG = 95;
export const INTERRUPTS_ON = 0x80;

/** Instruction that has been decoded; it moves the program counter and counts its clocks. */
export type Instruction = (core: Core, opcode: number) => void;

/** Where an interrupt leads and the register bits that ask for it and allow it. */
export type Interrupt = Parameters<CPU['setInterruptFlag']>[0];

/** What of avr8js' queue of clock events has to be seen from outside; it is private there. */
type Schedule = { readonly nextClockEvent: { readonly cycles: number } | null };

export class Core extends CPU {
  /** Whether the program sleeps: avr8js takes SLEEP for an instruction that does nothing. */
  asleep = false;
  /**
   * Whether the watchdog has asked for a reset. avr8js would set the program counter to zero and leave every register,
   * port and timer as it was; here the chip is built anew by whoever runs it.
   */
  resetAsked = false;
  readonly instructions: readonly Instruction[];
  /** Instructions may follow each other without a look at anything else until this clock. */
  private lookAt = 0;
  private readonly built: boolean;

  constructor(program: Uint16Array, instructions: readonly Instruction[]) {
    super(program, SRAM_BYTES);
    this.instructions = instructions;
    this.built = true;
  }

  override reset(): void {
    // The constructor of the parent calls this before any field is set.
    if (this.built) this.resetAsked = true;
    else super.reset();
  }

  /** Runs until a clock or until a reset is asked for. */
  runUntil(until: number): void {
    const { instructions, progMem } = this;
    const schedule = this as unknown as Schedule;
    while (this.cycles < until && !this.resetAsked) {
      const next = schedule.nextClockEvent;
      if (this.asleep) {
        this.leap(until, next);
      } else {
        this.lookAt = this.nextInterrupt >= 0 ? 0 : next === null ? until : Math.min(until, next.cycles);
        do {
          const { pc } = this;
          instructions[pc]!(this, progMem[pc]!);
        } while (this.cycles < this.lookAt);
      }
      const event = schedule.nextClockEvent;
      if (this.nextInterrupt >= 0 || (event !== null && event.cycles <= this.cycles)) this.tick();
    }
  }

  override queueInterrupt(interrupt: Interrupt): void {
    this.lookAt = 0;
    super.queueInterrupt(interrupt);
  }

  override addClockEvent(callback: () => void, cycles: number): () => void {
    this.lookAt = 0;
    return super.addClockEvent(callback, cycles);
  }

  /** Until an interrupt comes. */
  sleep(): void {
    this.lookAt = 0;
    this.asleep = true;
  }

  /** Nothing happens before the next event: an interrupt that may come would have woken the chip already. */
  private leap(until: number, event: Schedule['nextClockEvent']): void {
    const next = event === null ? until : Math.min(until, event.cycles);
    if (next > this.cycles) this.cycles = next;
  }

  /** The event that is due, if any, then the interrupt that is asked for, if any may come. */
  override tick(): void {
    const { data } = this;
    const mayInterrupt = data[SREG]! & INTERRUPTS_ON;
    super.tick();
    if (!mayInterrupt || data[SREG]! & INTERRUPTS_ON) return;
    this.asleep = false;
    // The data sheet's four clocks; avr8js counts two.
    this.cycles += 2;
  }
}
