// Every word of a program decoded once, so that running it needs no search. About twice as fast as deciding by each
// opcode's bits; what is missing here falls back to avr8js' own decoder.
import { avrInstruction } from 'avr8js';
import type { Instruction } from './core.ts';
import * as arithmetic from './instructions/arithmetic.ts';
import * as flow from './instructions/flow.ts';
import * as memory from './instructions/memory.ts';

/** Bits that tell an instruction, and their values (Atmel, AVR Instruction Set Manual). More special ones go first. */
const PATTERNS: readonly (readonly [mask: number, value: number, instruction: Instruction])[] = [
  [0xffff, 0x0000, flow.nop],
  [0xffff, 0x9478, flow.sei],
  [0xffff, 0x9508, flow.ret],
  [0xffff, 0x9518, flow.reti],
  [0xffff, 0x9588, flow.sleep],
  [0xffff, 0x95a8, flow.wdr],
  [0xff8f, 0x9408, arithmetic.bset],
  [0xff8f, 0x9488, arithmetic.bclr],
  [0xff00, 0x0100, arithmetic.movw],
  [0xff00, 0x9600, arithmetic.adiw],
  [0xff00, 0x9700, arithmetic.sbiw],
  [0xff00, 0x9800, memory.cbi],
  [0xff00, 0x9900, flow.sbic],
  [0xff00, 0x9a00, memory.sbi],
  [0xff00, 0x9b00, flow.sbis],
  [0xfe0f, 0x9000, memory.lds],
  [0xfe0f, 0x9001, memory.ldZUp],
  [0xfe0f, 0x9002, memory.ldZDown],
  [0xfe0f, 0x9004, memory.lpm],
  [0xfe0f, 0x9005, memory.lpmUp],
  [0xfe0f, 0x9009, memory.ldYUp],
  [0xfe0f, 0x900a, memory.ldYDown],
  [0xfe0f, 0x900c, memory.ldX],
  [0xfe0f, 0x900d, memory.ldXUp],
  [0xfe0f, 0x900e, memory.ldXDown],
  [0xfe0f, 0x900f, memory.pop],
  [0xfe0f, 0x9200, memory.sts],
  [0xfe0f, 0x9201, memory.stZUp],
  [0xfe0f, 0x9202, memory.stZDown],
  [0xfe0f, 0x9209, memory.stYUp],
  [0xfe0f, 0x920a, memory.stYDown],
  [0xfe0f, 0x920c, memory.stX],
  [0xfe0f, 0x920d, memory.stXUp],
  [0xfe0f, 0x920e, memory.stXDown],
  [0xfe0f, 0x920f, memory.push],
  [0xfe0f, 0x9400, arithmetic.com],
  [0xfe0f, 0x9401, arithmetic.neg],
  [0xfe0f, 0x9402, arithmetic.swap],
  [0xfe0f, 0x9403, arithmetic.inc],
  [0xfe0f, 0x9405, arithmetic.asr],
  [0xfe0f, 0x9406, arithmetic.lsr],
  [0xfe0f, 0x9407, arithmetic.ror],
  [0xfe0f, 0x940a, arithmetic.dec],
  // The upper bits of a long address are zero in a program of 32 kB.
  [0xffff, 0x940c, flow.jmp],
  [0xffff, 0x940e, flow.call],
  [0xfe08, 0xf800, arithmetic.bld],
  [0xfe08, 0xfa00, arithmetic.bst],
  [0xfe08, 0xfc00, flow.sbrc],
  [0xfe08, 0xfe00, flow.sbrs],
  [0xfc00, 0x0400, arithmetic.cpc],
  [0xfc00, 0x0800, arithmetic.sbc],
  [0xfc00, 0x0c00, arithmetic.add],
  [0xfc00, 0x1000, flow.cpse],
  [0xfc00, 0x1400, arithmetic.cp],
  [0xfc00, 0x1800, arithmetic.sub],
  [0xfc00, 0x1c00, arithmetic.adc],
  [0xfc00, 0x2000, arithmetic.and],
  [0xfc00, 0x2400, arithmetic.eor],
  [0xfc00, 0x2800, arithmetic.or],
  [0xfc00, 0x2c00, arithmetic.mov],
  [0xfc00, 0xf000, flow.brbs],
  [0xfc00, 0xf400, flow.brbc],
  [0xf000, 0x3000, arithmetic.cpi],
  [0xf000, 0x4000, arithmetic.sbci],
  [0xf000, 0x5000, arithmetic.subi],
  [0xf000, 0x6000, arithmetic.ori],
  [0xf000, 0x7000, arithmetic.andi],
  [0xf000, 0xc000, flow.rjmp],
  [0xf000, 0xd000, flow.rcall],
  [0xf000, 0xe000, arithmetic.ldi],
  [0xf800, 0xb000, memory.inPort],
  [0xf800, 0xb800, memory.outPort],
  [0xd208, 0x8000, memory.lddZ],
  [0xd208, 0x8008, memory.lddY],
  [0xd208, 0x8200, memory.stdZ],
  [0xd208, 0x8208, memory.stdY],
];

/** @returns undefined where only avr8js' own decoder knows the instruction. */
export const known = (opcode: number): Instruction | undefined =>
  PATTERNS.find(([mask, value]) => (opcode & mask) === value)?.[2];

const ERASED = 0xffff;

/** An instruction for each word of a program. */
export function decoded(program: Uint16Array): readonly Instruction[] {
  const erased = known(ERASED)!;
  return Array.from(program, (opcode) =>
    opcode === ERASED ? erased : (known(opcode) ?? (avrInstruction as Instruction)),
  );
}
