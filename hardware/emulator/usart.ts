// The chip's UART with what avr8js leaves out: two bytes of receive buffer and what happens when they are full, broken
// frames, a transmit buffer, and interrupts that stay asked for as long as their cause stands (ATmega328P data sheet,
// "USART0"). The line's rate is the chip's own: a wrong rate is not emulated.
import type { Core, Interrupt } from './core.ts';

const UCSR0A = 0xc0;
const UCSR0B = 0xc1;
const UCSR0C = 0xc2;
const UBRR0L = 0xc4;
const UBRR0H = 0xc5;
const UDR0 = 0xc6;

const RECEIVED = 0x80;
const SENT = 0x40;
const EMPTY = 0x20;
const BROKEN = 0x10;
const OVERRUN = 0x08;
const DOUBLE_SPEED = 0x02;
const RECEIVER_ON = 0x10;
const TRANSMITTER_ON = 0x08;
const BUFFERED = 2;
const BITS_A_BYTE = 10;

/** Marks a byte on the line whose stop bit is missing. */
export const BROKEN_FRAME = 0x100;

const interruptOf = (address: number, mask: number): Interrupt => ({
  address,
  flagRegister: UCSR0A,
  flagMask: mask,
  enableRegister: UCSR0B,
  enableMask: mask,
  constant: mask !== SENT,
});

export class Usart {
  private readonly core: Core;
  private readonly sent: (byte: number) => void;
  private readonly received = interruptOf(0x24, RECEIVED);
  private readonly empty = interruptOf(0x26, EMPTY);
  private readonly transmitted = interruptOf(0x28, SENT);
  /** What the line has still to bring, in chunks; `lineAt` is the place in the first. */
  private line: Uint16Array[] = [];
  private lineAt = 0;
  /** Received bytes with the flags of each in the upper bits. */
  private readonly buffer: number[] = [];
  private waiting: number | undefined;
  private lost = false;
  private shifting: number | undefined;
  private next: number | undefined;

  constructor(core: Core, sent: (byte: number) => void) {
    this.core = core;
    this.sent = sent;
    const { data } = core;
    data[UCSR0A] = EMPTY;
    data[UCSR0C] = 0x06;
    core.readHooks[UCSR0A] = () => data[UCSR0A]! | this.headFlags();
    core.readHooks[UDR0] = () => this.take();
    core.writeHooks[UCSR0A] = (value) => {
      if (value & SENT) core.clearInterrupt(this.transmitted);
      data[UCSR0A] = (data[UCSR0A]! & ~DOUBLE_SPEED) | (value & DOUBLE_SPEED);
      return true;
    };
    core.writeHooks[UCSR0B] = (value) => {
      data[UCSR0B] = value;
      if (!(value & RECEIVER_ON)) this.flush();
      for (const each of [this.received, this.empty, this.transmitted])
        core.updateInterruptEnable(each, value);
      return true;
    };
    core.writeHooks[UDR0] = (value) => {
      this.put(value);
      return true;
    };
  }

  /** Bytes that the host sends, after those that are still on their way. */
  receive(bytes: Uint16Array): void {
    if (bytes.length === 0) return;
    this.line.push(bytes);
    if (this.line.length === 1) this.startBit();
  }

  /** What the line has not brought yet; a chip that was reset goes on with it. */
  takeLine(): Uint16Array[] {
    const [first, ...rest] = this.line;
    this.line = [];
    return first === undefined ? [] : [first.subarray(this.lineAt), ...rest];
  }

  private get cyclesPerByte(): number {
    const { data } = this.core;
    const rate = ((data[UBRR0H]! << 8) | data[UBRR0L]!) + 1;
    return rate * (data[UCSR0A]! & DOUBLE_SPEED ? 8 : 16) * BITS_A_BYTE;
  }

  private startBit(): void {
    // Two bytes in the buffer and one behind them: the start bit of a fourth pushes that one out.
    if (this.waiting !== undefined) {
      this.waiting = undefined;
      this.lost = true;
    }
    this.core.addClockEvent(this.byteCame, this.cyclesPerByte);
  }

  private readonly byteCame = (): void => {
    const [chunk] = this.line;
    if (chunk === undefined) return;
    const byte = chunk[this.lineAt++]!;
    if (this.lineAt === chunk.length) {
      this.line.shift();
      this.lineAt = 0;
    }
    if (this.core.data[UCSR0B]! & RECEIVER_ON) {
      const flagged = (byte & 0xff) | (byte & BROKEN_FRAME ? BROKEN << 8 : 0);
      if (this.buffer.length < BUFFERED) this.keep(flagged);
      else this.waiting = flagged;
    }
    if (this.line.length > 0) this.startBit();
  };

  private keep(flagged: number): void {
    this.buffer.push(flagged | (this.lost ? OVERRUN << 8 : 0));
    this.lost = false;
    this.core.setInterruptFlag(this.received);
  }

  private headFlags(): number {
    return (this.buffer[0] ?? 0) >> 8;
  }

  private take(): number {
    const byte = (this.buffer.shift() ?? 0) & 0xff;
    if (this.waiting !== undefined) {
      this.keep(this.waiting);
      this.waiting = undefined;
    }
    if (this.buffer.length === 0) this.core.clearInterrupt(this.received);
    return byte;
  }

  private flush(): void {
    this.buffer.length = 0;
    this.waiting = undefined;
    this.lost = false;
    this.core.clearInterrupt(this.received);
  }

  private put(byte: number): void {
    const { core } = this;
    // A byte written while the buffer is full is lost: the program has not asked.
    if (!(core.data[UCSR0B]! & TRANSMITTER_ON) || this.next !== undefined) return;
    if (this.shifting === undefined) {
      this.shift(byte);
    } else {
      this.next = byte;
      core.clearInterrupt(this.empty);
    }
  }

  private shift(byte: number): void {
    this.shifting = byte;
    this.core.addClockEvent(this.byteLeft, this.cyclesPerByte);
  }

  private readonly byteLeft = (): void => {
    const { core } = this;
    const byte = this.shifting!;
    this.shifting = undefined;
    if (this.next !== undefined) {
      this.shift(this.next);
      this.next = undefined;
      core.setInterruptFlag(this.empty);
    } else {
      core.setInterruptFlag(this.transmitted);
    }
    this.sent(byte);
  };
}
