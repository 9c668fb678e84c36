// The status register after an instruction (Atmel, AVR Instruction Set Manual, the boolean formulae of each).

/** Negative, zero and sign after a logical instruction, whose overflow is zero. */
export const LOGIC_FLAGS = Uint8Array.from(
  { length: 256 },
  (_, result) => (result === 0 ? 2 : 0) | (result & 0x80 ? 0x14 : 0),
);

/** Bits of the status register that an addition or subtraction leaves. */
export const KEPT_BY_ARITHMETIC = 0xc0;
/** Bits that a logical instruction leaves. */
export const KEPT_BY_LOGIC = 0xe1;

/** @param carries bit 7 is the carry, bit 3 the half carry. @param overflow bit 7. */
function arithmetic(result: number, carries: number, overflow: number): number {
  const negative = result >> 7;
  const over = (overflow >> 7) & 1;
  return (
    ((carries >> 7) & 1) |
    (result === 0 ? 2 : 0) |
    (negative << 2) |
    (over << 3) |
    ((negative ^ over) << 4) |
    ((carries & 8) << 2)
  );
}

export const addFlags = (d: number, r: number, result: number): number =>
  arithmetic(result, (d & r) | ((d | r) & ~result), (d ^ result) & (r ^ result));

export const subtractFlags = (d: number, r: number, result: number): number =>
  arithmetic(result, (~d & r) | ((~d | r) & result), (d ^ r) & (d ^ result));

/** Of a right shift that pushed `carry` out. */
export function shiftFlags(result: number, carry: number): number {
  const negative = result >> 7;
  return carry | (result === 0 ? 2 : 0) | (negative << 2) | ((negative ^ carry) << 3) | (carry << 4);
}

/** Of a 16-bit addition or subtraction of a constant. */
export function wordFlags(result: number, carry: number, overflow: number): number {
  const negative = (result >> 15) & 1;
  return carry | (result === 0 ? 2 : 0) | (negative << 2) | (overflow << 3) | ((negative ^ overflow) << 4);
}
