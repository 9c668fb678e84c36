// Loads, stores, ports, program memory and the stack.
import type { Core, Instruction } from '../core.ts';

const X = 26;
const Y = 28;
const Z = 30;
const STACK = 93;

const register = (opcode: number): number => (opcode >> 4) & 31;
const pointed = (core: Core, pointer: number): number => core.data[pointer]! | (core.data[pointer + 1]! << 8);
const displacement = (opcode: number): number =>
  (opcode & 7) | ((opcode >> 7) & 0x18) | ((opcode >> 8) & 0x20);

function point(core: Core, pointer: number, address: number): void {
  core.data[pointer] = address & 255;
  core.data[pointer + 1] = (address >> 8) & 255;
}

function loaded(core: Core, opcode: number, address: number): void {
  // The second clock runs before the value is there: a timer read by it counts one more.
  core.cycles += 2;
  core.pc++;
  core.data[register(opcode)] = core.readData(address);
}

function stored(core: Core, opcode: number, address: number): void {
  core.writeData(address, core.data[register(opcode)]!);
  core.cycles += 2;
  core.pc++;
}

type Access = (core: Core, opcode: number, address: number) => void;

const displaced =
  (pointer: number, access: Access): Instruction =>
  (core, op) =>
    access(core, op, pointed(core, pointer) + displacement(op));
const plain =
  (pointer: number, access: Access): Instruction =>
  (core, op) =>
    access(core, op, pointed(core, pointer));
const thenUp =
  (pointer: number, access: Access): Instruction =>
  (core, op) => {
    const address = pointed(core, pointer);
    access(core, op, address);
    point(core, pointer, address + 1);
  };
const firstDown =
  (pointer: number, access: Access): Instruction =>
  (core, op) => {
    const address = (pointed(core, pointer) - 1) & 0xffff;
    point(core, pointer, address);
    access(core, op, address);
  };

export const lddY = displaced(Y, loaded);
export const lddZ = displaced(Z, loaded);
export const stdY = displaced(Y, stored);
export const stdZ = displaced(Z, stored);
export const ldX = plain(X, loaded);
export const stX = plain(X, stored);
export const ldXUp = thenUp(X, loaded);
export const ldYUp = thenUp(Y, loaded);
export const ldZUp = thenUp(Z, loaded);
export const stXUp = thenUp(X, stored);
export const stYUp = thenUp(Y, stored);
export const stZUp = thenUp(Z, stored);
export const ldXDown = firstDown(X, loaded);
export const ldYDown = firstDown(Y, loaded);
export const ldZDown = firstDown(Z, loaded);
export const stXDown = firstDown(X, stored);
export const stYDown = firstDown(Y, stored);
export const stZDown = firstDown(Z, stored);

export const lds: Instruction = (core, op) => {
  const address = core.progMem[core.pc + 1]!;
  core.pc++;
  loaded(core, op, address);
};
export const sts: Instruction = (core, op) => {
  const address = core.progMem[core.pc + 1]!;
  core.pc++;
  stored(core, op, address);
};

export const lpm: Instruction = (core, op) => {
  core.data[register(op)] = core.progBytes[pointed(core, Z)]!;
  core.pc++;
  core.cycles += 3;
};
export const lpmUp: Instruction = (core, op) => {
  const address = pointed(core, Z);
  core.data[register(op)] = core.progBytes[address]!;
  point(core, Z, address + 1);
  core.pc++;
  core.cycles += 3;
};

const port = (opcode: number): number => 32 + ((opcode & 15) | ((opcode >> 5) & 0x30));
const bitPort = (opcode: number): number => 32 + ((opcode >> 3) & 31);

export const inPort: Instruction = (core, op) => {
  core.data[register(op)] = core.readData(port(op));
  core.pc++;
  core.cycles++;
};
export const outPort: Instruction = (core, op) => {
  core.writeData(port(op), core.data[register(op)]!);
  core.pc++;
  core.cycles++;
};
export const sbi: Instruction = (core, op) => {
  const mask = 1 << (op & 7);
  core.writeData(bitPort(op), core.readData(bitPort(op)) | mask, mask);
  core.pc++;
  core.cycles += 2;
};
/** Two clocks, as the data sheet has it; avr8js counts one. */
export const cbi: Instruction = (core, op) => {
  const mask = 1 << (op & 7);
  core.writeData(bitPort(op), core.readData(bitPort(op)) & ~mask, mask);
  core.pc++;
  core.cycles += 2;
};
export const portBit = (core: Core, opcode: number): number =>
  (core.readData(bitPort(opcode)) >> (opcode & 7)) & 1;

export const push: Instruction = (core, op) => {
  const stack = pointed(core, STACK);
  core.data[stack] = core.data[register(op)]!;
  point(core, STACK, stack - 1);
  core.pc++;
  core.cycles += 2;
};
export const pop: Instruction = (core, op) => {
  const stack = pointed(core, STACK) + 1;
  core.data[register(op)] = core.data[stack]!;
  point(core, STACK, stack);
  core.pc++;
  core.cycles += 2;
};

export function pushReturn(core: Core, address: number): void {
  const stack = pointed(core, STACK);
  core.data[stack] = address & 255;
  core.data[stack - 1] = address >> 8;
  point(core, STACK, stack - 2);
}
export function popReturn(core: Core): number {
  const stack = pointed(core, STACK);
  point(core, STACK, stack + 2);
  return (core.data[stack + 1]! << 8) | core.data[stack + 2]!;
}
