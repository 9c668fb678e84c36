// Arithmetic, logic and moves between registers.
import { type Core, type Instruction, SREG } from '../core.ts';
import {
  addFlags,
  KEPT_BY_ARITHMETIC,
  KEPT_BY_LOGIC,
  LOGIC_FLAGS,
  shiftFlags,
  subtractFlags,
  wordFlags,
} from './flags.ts';

const KEPT_BY_SHIFT = 0xe0;

const done = (core: Core): void => {
  core.pc++;
  core.cycles++;
};

/** Destination and source of `0000 00rd dddd rrrr`, destination and constant of `0000 KKKK dddd KKKK`. */
const destination = (opcode: number): number => (opcode >> 4) & 31;
const source = (opcode: number): number => (opcode & 15) | ((opcode >> 5) & 16);
const upper = (opcode: number): number => 16 + ((opcode >> 4) & 15);
const constant = (opcode: number): number => (opcode & 15) | ((opcode >> 4) & 0xf0);

function added(core: Core, at: number, r: number, carry: number): void {
  const { data } = core;
  const d = data[at]!;
  const result = (d + r + carry) & 255;
  data[at] = result;
  data[SREG] = (data[SREG]! & KEPT_BY_ARITHMETIC) | addFlags(d, r, result);
  done(core);
}

function compared(core: Core, d: number, r: number): number {
  const { data } = core;
  const result = (d - r) & 255;
  data[SREG] = (data[SREG]! & KEPT_BY_ARITHMETIC) | subtractFlags(d, r, result);
  done(core);
  return result;
}

/** With carry: zero stays only if it was. */
function comparedOn(core: Core, d: number, r: number): number {
  const { data } = core;
  const before = data[SREG]!;
  const result = (d - r - (before & 1)) & 255;
  data[SREG] = (before & KEPT_BY_ARITHMETIC) | (subtractFlags(d, r, result) & (before | ~2));
  done(core);
  return result;
}

function logical(core: Core, at: number, result: number): void {
  const { data } = core;
  data[at] = result;
  data[SREG] = (data[SREG]! & KEPT_BY_LOGIC) | LOGIC_FLAGS[result]!;
  done(core);
}

function shifted(core: Core, at: number, result: number, carry: number): void {
  const { data } = core;
  data[at] = result;
  data[SREG] = (data[SREG]! & KEPT_BY_SHIFT) | shiftFlags(result, carry);
  done(core);
}

export const add: Instruction = (core, op) => added(core, destination(op), core.data[source(op)]!, 0);
export const adc: Instruction = (core, op) =>
  added(core, destination(op), core.data[source(op)]!, core.data[SREG]! & 1);

export const cp: Instruction = (core, op) => {
  compared(core, core.data[destination(op)]!, core.data[source(op)]!);
};
export const cpi: Instruction = (core, op) => {
  compared(core, core.data[upper(op)]!, constant(op));
};
export const cpc: Instruction = (core, op) => {
  comparedOn(core, core.data[destination(op)]!, core.data[source(op)]!);
};
export const sub: Instruction = (core, op) => {
  const at = destination(op);
  core.data[at] = compared(core, core.data[at]!, core.data[source(op)]!);
};
export const subi: Instruction = (core, op) => {
  const at = upper(op);
  core.data[at] = compared(core, core.data[at]!, constant(op));
};
export const sbc: Instruction = (core, op) => {
  const at = destination(op);
  core.data[at] = comparedOn(core, core.data[at]!, core.data[source(op)]!);
};
export const sbci: Instruction = (core, op) => {
  const at = upper(op);
  core.data[at] = comparedOn(core, core.data[at]!, constant(op));
};
export const neg: Instruction = (core, op) => {
  const at = destination(op);
  core.data[at] = compared(core, 0, core.data[at]!);
};

export const and: Instruction = (core, op) =>
  logical(core, destination(op), core.data[destination(op)]! & core.data[source(op)]!);
export const andi: Instruction = (core, op) => logical(core, upper(op), core.data[upper(op)]! & constant(op));
export const or: Instruction = (core, op) =>
  logical(core, destination(op), core.data[destination(op)]! | core.data[source(op)]!);
export const ori: Instruction = (core, op) => logical(core, upper(op), core.data[upper(op)]! | constant(op));
export const eor: Instruction = (core, op) =>
  logical(core, destination(op), core.data[destination(op)]! ^ core.data[source(op)]!);

export const com: Instruction = (core, op) => {
  logical(core, destination(op), 255 - core.data[destination(op)]!);
  core.data[SREG]! |= 1;
};

export const inc: Instruction = (core, op) => {
  const result = (core.data[destination(op)]! + 1) & 255;
  logical(core, destination(op), result);
  if (result === 0x80) core.data[SREG]! ^= 0x18;
};
export const dec: Instruction = (core, op) => {
  const result = (core.data[destination(op)]! - 1) & 255;
  logical(core, destination(op), result);
  if (result === 0x7f) core.data[SREG]! ^= 0x18;
};

export const lsr: Instruction = (core, op) => {
  const value = core.data[destination(op)]!;
  shifted(core, destination(op), value >> 1, value & 1);
};
export const asr: Instruction = (core, op) => {
  const value = core.data[destination(op)]!;
  shifted(core, destination(op), (value >> 1) | (value & 0x80), value & 1);
};
export const ror: Instruction = (core, op) => {
  const value = core.data[destination(op)]!;
  shifted(core, destination(op), (value >> 1) | ((core.data[SREG]! & 1) << 7), value & 1);
};

export const swap: Instruction = (core, op) => {
  const value = core.data[destination(op)]!;
  core.data[destination(op)] = ((value & 15) << 4) | (value >> 4);
  done(core);
};

/** Register pair of ADIW and SBIW, and their constant of six bits. */
const pair = (opcode: number): number => 24 + ((opcode >> 3) & 6);
const sixBits = (opcode: number): number => (opcode & 15) | ((opcode >> 2) & 0x30);

function wordSet(core: Core, at: number, result: number, flags: number): void {
  const { data } = core;
  data[at] = result & 255;
  data[at + 1] = result >> 8;
  data[SREG] = (data[SREG]! & 0xe0) | flags;
  core.pc++;
  core.cycles += 2;
}

export const adiw: Instruction = (core, op) => {
  const at = pair(op);
  const value = core.data[at]! | (core.data[at + 1]! << 8);
  const result = (value + sixBits(op)) & 0xffff;
  wordSet(core, at, result, wordFlags(result, ((~result & value) >> 15) & 1, ((~value & result) >> 15) & 1));
};
export const sbiw: Instruction = (core, op) => {
  const at = pair(op);
  const value = core.data[at]! | (core.data[at + 1]! << 8);
  const result = (value - sixBits(op)) & 0xffff;
  wordSet(core, at, result, wordFlags(result, ((result & ~value) >> 15) & 1, ((value & ~result) >> 15) & 1));
};

export const mov: Instruction = (core, op) => {
  core.data[destination(op)] = core.data[source(op)]!;
  done(core);
};
export const movw: Instruction = (core, op) => {
  const { data } = core;
  const to = (op >> 3) & 30;
  const from = (op & 15) << 1;
  data[to] = data[from]!;
  data[to + 1] = data[from + 1]!;
  done(core);
};
export const ldi: Instruction = (core, op) => {
  core.data[upper(op)] = constant(op);
  done(core);
};

export const bset: Instruction = (core, op) => {
  core.data[SREG]! |= 1 << ((op >> 4) & 7);
  done(core);
};
export const bclr: Instruction = (core, op) => {
  core.data[SREG]! &= ~(1 << ((op >> 4) & 7));
  done(core);
};
export const bst: Instruction = (core, op) => {
  const bit = (core.data[destination(op)]! >> (op & 7)) & 1;
  core.data[SREG] = (core.data[SREG]! & 0xbf) | (bit << 6);
  done(core);
};
export const bld: Instruction = (core, op) => {
  const { data } = core;
  const bit = op & 7;
  const at = destination(op);
  data[at] = (data[at]! & ~(1 << bit)) | (((data[SREG]! >> 6) & 1) << bit);
  done(core);
};
