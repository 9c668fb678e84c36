import { AVRTimer, AVRUSART, CPU, timer2Config, usart0Config } from 'avr8js';
import { describe, expect, test } from 'vitest';
import { Chip, RESET_FLAGS } from '../../../hardware/emulator/chip.ts';
import { Core } from '../../../hardware/emulator/core.ts';
import { BROKEN_FRAME } from '../../../hardware/emulator/usart.ts';
import { Host } from '../host.ts';
import {
  chipWith,
  INC_R16,
  INC_R17,
  inPort,
  jmp,
  ldi,
  lds,
  NOTHING,
  out,
  programOf,
  put,
  RETI,
  SEI,
  SELF,
  SLEEP,
  sts,
} from './program.ts';

const MCUSR = 0x54;
const MCUSR_PORT = 0x34;
const WDTCSR = 0x60;
const DDRB_PORT = 0x04;
const PORTB_PORT = 0x05;
const SMCR = 0x53;
const UCSR0A = 0xc0;
const UCSR0B = 0xc1;
const UBRR0L = 0xc4;
const UDR0 = 0xc6;
const TCCR2A = 0xb0;
const TCCR2B = 0xb1;
const OCR2A = 0xb3;
const TIMSK2 = 0x70;
const TIMER2_VECTOR = 0x0e;
const RECEIVED_VECTOR = 0x24;
const EMPTY_VECTOR = 0x26;
const RXEN = 0x10;
const TXEN = 0x08;
const RXCIE = 0x80;
const UDRIE = 0x20;
const BYTE_CYCLES = 640;
const SLEEP_ENABLE = 1;
/** A place in SRAM. */
const NOTE = 0x200;

describe('a reset by the watchdog', () => {
  const DRIVEN = 0x02;
  // Notes why it started, drives a pin, lets the watchdog reset after 16 ms and hangs.
  const words = [
    inPort(17, MCUSR_PORT),
    sts(NOTE, 17),
    ldi(16, DRIVEN),
    out(PORTB_PORT, 16),
    out(DDRB_PORT, 16),
    put(WDTCSR, 0x18),
    put(WDTCSR, 0x08),
    SELF,
  ];

  test('it asks for a new chip, in which ports, timers and registers are as after any reset', () => {
    const pins: number[] = [];
    const outside = { ...NOTHING, driven: (port: string, bits: number) => port === 'B' && pins.push(bits) };
    const program = programOf(words);
    const chip = new Chip(program, outside as typeof NOTHING, RESET_FLAGS.power);
    chip.core.data[0x300] = 0x77;
    chip.core.runUntil(1_000_000);
    expect(chip.core.resetAsked).toBe(true);
    expect(chip.core.cycles / 16_000).toBeCloseTo(16, 1);
    expect(pins.at(-1)).toBe(DRIVEN);

    const next = new Chip(program, outside as typeof NOTHING, RESET_FLAGS.watchdog, chip);
    expect(pins.at(-1)).toBe(0);
    expect(next.core.data[0x25]).toBe(0);
    expect(next.core.data[0x300]).toBe(0x77);
    expect(next.core.cycles).toBe(chip.core.cycles);
    // The watchdog goes on at its shortest time even before the program has said a word.
    next.core.runUntil(next.core.cycles + 100);
    expect(next.core.data[NOTE]).toBe(RESET_FLAGS.watchdog);
    expect(next.core.data[WDTCSR]! & 0x08).toBe(0x08);
  });

  test('the trap: by itself avr8js only sends the program back to its start', () => {
    const cpu = new CPU(new Uint16Array(0x4000), 2048);
    cpu.data[0x25] = DRIVEN;
    cpu.pc = 100;
    cpu.reset();
    expect(cpu.pc).toBe(0);
    expect(cpu.data[0x25]).toBe(DRIVEN);
  });
});

test('power-on sets its flag: avr8js itself never does', () => {
  expect(chipWith([SELF]).core.data[MCUSR]).toBe(RESET_FLAGS.power);
  expect(new Core(new Uint16Array(0x4000), []).data[MCUSR]).toBe(0);
});

describe('the receiver', () => {
  const setUp = [put(UBRR0L, 3), put(UCSR0B, RXEN | TXEN)];

  test('writing UCSR0B keeps a byte that waits', () => {
    const chip = chipWith([...setUp, SELF]);
    chip.core.runUntil(100);
    chip.usart.receive(Uint16Array.of(0x41));
    chip.core.runUntil(100 + BYTE_CYCLES + 10);
    chip.core.writeData(UCSR0B, RXEN | TXEN | UDRIE);
    expect(chip.core.readData(UCSR0A) & 0x80).toBe(0x80);
    expect(chip.core.readData(UDR0)).toBe(0x41);
  });

  test('the trap: in avr8js the same write loses it', () => {
    const cpu = new CPU(new Uint16Array(0x4000), 2048);
    const usart = new AVRUSART(cpu, usart0Config, 16_000_000);
    cpu.writeData(UCSR0B, RXEN);
    usart.writeByte(0x41, true);
    cpu.writeData(UCSR0B, RXEN | UDRIE);
    expect(cpu.readData(UCSR0A) & 0x80).toBe(0);
  });

  test('bytes come at the rate of the line, two are kept, and what is lost is told with the next', () => {
    const chip = chipWith([...setUp, SELF]);
    chip.core.runUntil(100);
    chip.usart.receive(Uint16Array.of(1, 2, 3, 4, 5));
    chip.core.runUntil(100 + BYTE_CYCLES - 1);
    expect(chip.core.readData(UCSR0A) & 0x80).toBe(0);
    chip.core.runUntil(100 + 5 * BYTE_CYCLES + 10);
    const read = () => {
      const flags = chip.core.readData(UCSR0A) & 0x98;
      return [flags, chip.core.readData(UDR0)];
    };
    expect([read(), read(), read(), read()]).toEqual([
      [0x80, 1],
      [0x80, 2],
      [0x88, 5],
      [0x00, 0],
    ]);
  });

  test('a byte that is fetched in time is never lost: the twin of the overrun', () => {
    const chip = chipWith([...setUp, SELF]);
    chip.core.runUntil(100);
    chip.usart.receive(Uint16Array.of(1, 2, 3, 4, 5));
    for (const byte of [1, 2, 3, 4, 5]) {
      chip.core.runUntil(100 + byte * BYTE_CYCLES + 10);
      expect(chip.core.readData(UCSR0A) & 0x88).toBe(0x80);
      expect(chip.core.readData(UDR0)).toBe(byte);
    }
  });

  test('a missing stop bit is told with its byte only, and the firmware counts it', () => {
    const chip = chipWith([...setUp, SELF]);
    chip.core.runUntil(100);
    chip.usart.receive(Uint16Array.of(0x55 | BROKEN_FRAME, 0x56));
    chip.core.runUntil(100 + 2 * BYTE_CYCLES + 10);
    expect(chip.core.readData(UCSR0A) & 0x10).toBe(0x10);
    chip.core.readData(UDR0);
    expect(chip.core.readData(UCSR0A) & 0x10).toBe(0);

    const host = new Host();
    host.board.receiveBroken(0x41);
    host.send('\n');
    expect(host.ask().lost).toMatchObject({ framing: 1, overrun: 0, form: 1 });
  });
});

describe('the transmitter', () => {
  test('its interrupt is asked for as long as the buffer is empty, not once', () => {
    // The handler counts and writes nothing.
    const chip = chipWith([put(UCSR0B, TXEN | UDRIE), ldi(17, 0), SEI, SELF], {
      [EMPTY_VECTOR]: [INC_R17, RETI],
    });
    chip.core.runUntil(500);
    expect(chip.core.data[17]).toBeGreaterThan(10);
  });

  test('two bytes in a row go out without a gap, each at the end of its stop bit', () => {
    const sent: [number, number][] = [];
    const chip = chipWith(
      [put(UBRR0L, 3), put(UCSR0B, TXEN), put(UDR0, 0x41), put(UDR0, 0x42), SELF],
      {},
      {
        sent: (byte, cycles) => sent.push([byte, cycles]),
      },
    );
    chip.core.runUntil(3000);
    expect(sent.map(([byte]) => byte)).toEqual([0x41, 0x42]);
    expect(sent[1]![1] - sent[0]![1]).toBe(BYTE_CYCLES);
  });
});

describe('sleep', () => {
  const timer = [put(OCR2A, 249), put(TCCR2A, 2), put(TIMSK2, 2), put(TCCR2B, 4)];

  test('the chip leaps to the next event: a second of sleep takes few instructions', () => {
    const chip = chipWith([...timer, put(SMCR, SLEEP_ENABLE), SEI, SLEEP, jmp(0x50)], {
      [TIMER2_VECTOR]: [INC_R17, RETI],
    });
    let run = 0;
    const counted = new Proxy(chip.core.instructions as object, {
      get: (all, key) => {
        run++;
        return Reflect.get(all, key) as unknown;
      },
    });
    Object.assign(chip.core, { instructions: counted });
    chip.core.data[17] = 0;
    chip.core.runUntil(16_000_000);
    // A thousand ticks, whose count wraps at 256.
    expect(chip.core.data[17]).toBe(1000 % 256);
    expect(run).toBeLessThan(10_000);
  });

  test('what follows SEI runs before any interrupt, so that no wake-up is lost', () => {
    // The interrupt is already asked for when it is let in: sleep comes first, and is left at once.
    const chip = chipWith(
      [put(UCSR0B, TXEN | UDRIE), put(SMCR, SLEEP_ENABLE), ldi(17, 0), SEI, SLEEP, ldi(18, 1), SELF],
      {
        [EMPTY_VECTOR]: [sts(UCSR0B, 19), INC_R17, RETI].flat(),
      },
    );
    chip.core.data[18] = chip.core.data[19] = 0;
    chip.core.runUntil(200);
    expect([chip.core.data[17], chip.core.data[18]]).toEqual([1, 1]);
  });

  test('with interrupts off nothing but a reset wakes it', () => {
    const chip = chipWith([...timer, put(SMCR, SLEEP_ENABLE), SLEEP, ldi(18, 1), SELF]);
    chip.core.data[18] = 0;
    chip.core.runUntil(200_000);
    expect([chip.core.data[18], chip.core.cycles]).toEqual([0, 200_000]);
  });
});

describe('the timer', () => {
  const CLOCKS = 16_000 * 50;

  /** Clocks at which the match flag comes, and how many events that took. */
  function matches(connect: (cpu: CPU) => void, run: (cpu: CPU) => void) {
    const cpu = new Core(new Uint16Array(0x4000), []);
    let events = 0;
    const add = cpu.addClockEvent.bind(cpu);
    cpu.addClockEvent = (callback, cycles) => {
      events++;
      return add(callback, cycles);
    };
    connect(cpu);
    const at: number[] = [];
    cpu.writeData(OCR2A, 249);
    cpu.writeData(TCCR2A, 2);
    cpu.writeData(TCCR2B, 4);
    run(cpu);
    while (cpu.cycles < CLOCKS) {
      cpu.cycles++;
      cpu.tick();
      if (cpu.data[0x37]! & 2) {
        at.push(cpu.cycles);
        cpu.writeData(0x37, 2);
      }
    }
    return { at, events };
  }

  test('only the next match is an event, and it comes when that of avr8js comes, 250 events later', async () => {
    const { connectTimer } = await import('../../../hardware/emulator/timer.ts');
    const mine = matches(
      (cpu) => connectTimer(cpu as Core),
      () => undefined,
    );
    const stock = matches(
      (cpu) => new AVRTimer(cpu, timer2Config),
      (cpu) => cpu.tick(),
    );
    expect(mine.at).toHaveLength(50);
    expect(mine.at.map((clock) => clock - mine.at[0]!)).toEqual(
      stock.at.map((clock) => clock - stock.at[0]!),
    );
    expect(mine.events).toBeLessThan(60);
    expect(stock.events).toBeGreaterThan(12_000);
  });

  test('a mode that is not emulated is an error, not a wrong answer', () => {
    const chip = chipWith([put(TCCR2A, 3), put(TCCR2B, 4), SELF]);
    expect(() => chip.core.runUntil(1000)).toThrow('timer 2 is emulated only counting to OCR2A');
  });
});

test('an interrupt takes the four clocks of the data sheet', () => {
  const chip = chipWith([put(UCSR0B, TXEN | UDRIE), SEI, 0, 0, SELF], {
    [EMPTY_VECTOR]: [INC_R16, SELF],
  });
  const clockOf = (word: number): number => {
    while (chip.core.pc !== word) chip.core.runUntil(chip.core.cycles + 1);
    return chip.core.cycles;
  };
  const before = clockOf(0x43);
  // SEI and what follows it, one clock each, and four for the interrupt.
  expect(clockOf(EMPTY_VECTOR) - before).toBe(6);
});

test('an unread byte of the line outlasts a reset on its way, not in the buffer', () => {
  const program = programOf([put(UBRR0L, 3), put(UCSR0B, RXEN | RXCIE), lds(17, UDR0), SELF], {
    [RECEIVED_VECTOR]: [RETI],
  });
  const chip = new Chip(program, NOTHING, RESET_FLAGS.power);
  chip.core.runUntil(100);
  chip.usart.receive(Uint16Array.of(1, 2));
  chip.core.runUntil(100 + BYTE_CYCLES + 10);
  const next = new Chip(program, NOTHING, RESET_FLAGS.pin, chip);
  expect(next.core.readData(UCSR0A) & 0x80).toBe(0);
  next.core.runUntil(next.core.cycles + 2 * BYTE_CYCLES);
  expect(next.core.readData(UDR0)).toBe(2);
});
