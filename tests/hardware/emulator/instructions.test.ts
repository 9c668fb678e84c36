import { avrInstruction } from 'avr8js';
import { describe, expect, test } from 'vitest';
import { Core } from '../../../hardware/emulator/core.ts';
import { known } from '../../../hardware/emulator/decode.ts';
import { Random } from '../../../sim/random.ts';

/** Carry of the lower half: avr8js takes it from bit 0 instead of bit 3, and no compiler asks for it. */
const HALF_CARRY = 0x20;
const SREG = 95;
const STACK_LOW = 93;
const AT = 100;

const SEI = 0x9478;
const RETI = 0x9518;
const SLEEP = 0x9588;
const isCbi = (opcode: number): boolean => (opcode & 0xff00) === 0x9800;

/** A processor in a state that is the same for the same seed, about to run one instruction. */
function prepared(opcode: number, seed: number): Core {
  const random = new Random(seed, 'state');
  const program = new Uint16Array(0x4000);
  program[AT] = opcode;
  program[AT + 1] = 0x0100 + Math.floor(random.uniform() * 0x700);
  const core = new Core(program, []);
  for (let at = 0; at < core.data.length; at++) core.data[at] = Math.floor(random.uniform() * 256);
  // Pointers and stack within SRAM, away from its ends.
  for (const at of [26, 28, 30]) {
    core.data[at + 1] = 1 + Math.floor(random.uniform() * 7);
  }
  core.data[STACK_LOW + 1] = 4;
  core.pc = AT;
  core.cycles = 1000;
  return core;
}

const stateOf = (core: Core) => ({
  pc: core.pc,
  cycles: core.cycles,
  data: core.data.map((byte, at) => (at === SREG ? byte & ~HALF_CARRY : byte)),
});

describe('decoded instructions', () => {
  test('one opcode in 64, from three random states, does what avr8js does by its own reading of it', () => {
    let compared = 0;
    for (let opcode = 0; opcode < 0x10000; opcode++) {
      const instruction = known(opcode);
      // One in 64, spread over all: registers and constants repeat themselves.
      if (instruction === undefined || Math.imul(opcode, 0x9e3779b1) >>> 26 > 0) continue;
      if (opcode === SEI || opcode === RETI || opcode === SLEEP) continue;
      for (let seed = 0; seed < 3; seed++) {
        const mine = prepared(opcode, seed);
        const theirs = prepared(opcode, seed);
        instruction(mine, opcode);
        avrInstruction(theirs);
        if (isCbi(opcode)) theirs.cycles++;
        const [got, want] = [stateOf(mine), stateOf(theirs)];
        if (got.pc !== want.pc || got.cycles !== want.cycles || !Buffer.from(got.data).equals(want.data))
          expect.fail(
            `opcode ${opcode.toString(16)}: ${got.pc} ${got.cycles}, not ${want.pc} ${want.cycles}`,
          );
        compared++;
      }
    }
    expect(compared).toBeGreaterThan(2000);
  });
});
