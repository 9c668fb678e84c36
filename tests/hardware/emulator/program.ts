// Small programs in machine words, and a chip with nothing around it, for tests of single traits of the emulator.
import { Chip, RESET_FLAGS } from '../../../hardware/emulator/chip.ts';
import { decoded } from '../../../hardware/emulator/decode.ts';
import type { Surroundings } from '../../../hardware/emulator/surroundings.ts';

const FLASH_WORDS = 0x4000;

/** `LDI r16..r31, constant`. */
export const ldi = (register: number, value: number): number =>
  0xe000 | ((value & 0xf0) << 4) | ((register - 16) << 4) | (value & 15);
export const sts = (address: number, register: number): number[] => [0x9200 | (register << 4), address];
export const lds = (register: number, address: number): number[] => [0x9000 | (register << 4), address];
export const out = (port: number, register: number): number =>
  0xb800 | (register << 4) | ((port & 0x30) << 5) | (port & 15);
export const inPort = (register: number, port: number): number =>
  0xb000 | (register << 4) | ((port & 0x30) << 5) | (port & 15);
export const jmp = (word: number): number[] => [0x940c, word];
export const INC_R16 = 0x9503;
export const INC_R17 = 0x9513;
export const SEI = 0x9478;
export const RETI = 0x9518;
export const SLEEP = 0x9588;
export const SELF = 0xcfff;
/** Sets a register in data space to a constant by way of r16. */
export const put = (address: number, value: number): number[] => [ldi(16, value), ...sts(address, 16)];

export const NOTHING: Surroundings = {
  eeprom: new Uint8Array(1024).fill(0xff),
  levels: () => 0xff,
  driven: () => undefined,
  swapByte: () => 0xff,
  volts: () => 0,
  sent: () => undefined,
};

/** Where programs begin, behind the interrupt vectors. */
const START = 0x40;

/** @param vectors what stands at the vector of an interrupt, by its word. */
export function programOf(words: readonly (number | number[])[], vectors: Record<number, number[]> = {}) {
  const flash = new Uint16Array(FLASH_WORDS);
  flash.set(jmp(START), 0);
  for (const [word, code] of Object.entries(vectors)) flash.set(code, Number(word));
  flash.set(words.flat(), START);
  return { words: flash, instructions: decoded(flash) };
}

/** A chip that has just got power. */
export const chipWith = (
  words: readonly (number | number[])[],
  vectors: Record<number, number[]> = {},
  outside: Partial<Surroundings> = {},
): Chip => new Chip(programOf(words, vectors), { ...NOTHING, ...outside }, RESET_FLAGS.power);
