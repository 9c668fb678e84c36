// Jumps, calls, branches, skips, and the instructions that govern the chip itself.
import { type Core, INTERRUPTS_ON, type Instruction, SREG } from '../core.ts';
import { popReturn, portBit, pushReturn } from './memory.ts';

const SMCR = 0x53;
const SLEEP_ENABLE = 1;

const twoWords = (opcode: number): boolean => (opcode & 0xfc0f) === 0x9000 || (opcode & 0xfe0c) === 0x940c;

const relative = (opcode: number): number => (opcode & 0x7ff) - (opcode & 0x800 ? 0x800 : 0);
const register = (opcode: number): number => (opcode >> 4) & 31;

function skip(core: Core, condition: boolean): void {
  const words = condition ? (twoWords(core.progMem[core.pc + 1]!) ? 3 : 2) : 1;
  core.pc += words;
  core.cycles += words;
}

function branch(core: Core, opcode: number, taken: boolean): void {
  if (taken) {
    core.pc += ((opcode >> 3) & 63) - (opcode & 0x200 ? 64 : 0);
    core.cycles++;
  }
  core.pc++;
  core.cycles++;
}

export const brbs: Instruction = (core, op) => branch(core, op, (core.data[SREG]! & (1 << (op & 7))) !== 0);
export const brbc: Instruction = (core, op) => branch(core, op, (core.data[SREG]! & (1 << (op & 7))) === 0);

export const cpse: Instruction = (core, op) =>
  skip(core, core.data[register(op)]! === core.data[(op & 15) | ((op >> 5) & 16)]!);
export const sbrc: Instruction = (core, op) => skip(core, (core.data[register(op)]! & (1 << (op & 7))) === 0);
export const sbrs: Instruction = (core, op) => skip(core, (core.data[register(op)]! & (1 << (op & 7))) !== 0);
export const sbic: Instruction = (core, op) => skip(core, portBit(core, op) === 0);
export const sbis: Instruction = (core, op) => skip(core, portBit(core, op) === 1);

export const rjmp: Instruction = (core, op) => {
  core.pc += 1 + relative(op);
  core.cycles += 2;
};
export const jmp: Instruction = (core) => {
  core.pc = core.progMem[core.pc + 1]!;
  core.cycles += 3;
};
export const rcall: Instruction = (core, op) => {
  pushReturn(core, core.pc + 1);
  core.pc += 1 + relative(op);
  core.cycles += 3;
};
export const call: Instruction = (core) => {
  pushReturn(core, core.pc + 2);
  core.pc = core.progMem[core.pc + 1]!;
  core.cycles += 4;
};
export const ret: Instruction = (core) => {
  core.pc = popReturn(core);
  core.cycles += 4;
};

/**
 * What follows the instruction that lets interrupts in runs before any of them (ATmega328P data sheet, "Reset and
 * Interrupt Handling"): SEI and SLEEP in a row would else lose a byte that came in between.
 */
function oneMore(core: Core): void {
  core.instructions[core.pc]!(core, core.progMem[core.pc]!);
}
export const sei: Instruction = (core) => {
  core.data[SREG]! |= INTERRUPTS_ON;
  core.pc++;
  core.cycles++;
  oneMore(core);
};
export const reti: Instruction = (core) => {
  core.pc = popReturn(core);
  core.cycles += 4;
  core.data[SREG]! |= INTERRUPTS_ON;
  oneMore(core);
};

export const nop: Instruction = (core) => {
  core.pc++;
  core.cycles++;
};
export const sleep: Instruction = (core) => {
  if (core.data[SMCR]! & SLEEP_ENABLE) core.sleep();
  core.pc++;
  core.cycles++;
};
export const wdr: Instruction = (core) => {
  core.onWatchdogReset();
  core.pc++;
  core.cycles++;
};
