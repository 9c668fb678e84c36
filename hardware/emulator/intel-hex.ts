// Reads a program from the Intel HEX file that the firmware is flashed from.

const FLASH_BYTES = 32_768;
const ERASED = 0xff;
const DATA = 0;
const END = 1;

/**
 * The flash of the chip, in words, as programming this file leaves it.
 * @throws Error naming the line that is no record, has a wrong sum, or lies outside the flash.
 */
export function readHex(text: string): Uint16Array {
  const flash = new Uint8Array(FLASH_BYTES).fill(ERASED);
  let ended = false;
  for (const [at, line] of text.trimEnd().split(/\r?\n/).entries()) {
    const refuse = (why: string): never => {
      throw new Error(`line ${at + 1} of the program: ${why}`);
    };
    if (ended) refuse('something follows the end record');
    if (!/^:(?:[0-9A-Fa-f]{2}){5,}$/.test(line)) refuse('not an Intel HEX record');
    const bytes = Uint8Array.from(line.slice(1).match(/../g)!, (digits) => Number.parseInt(digits, 16));
    if (bytes[0] !== bytes.length - 5) refuse('its length is wrong');
    if (bytes.reduce((sum, byte) => sum + byte, 0) % 256 !== 0) refuse('its sum is wrong');
    const address = (bytes[1]! << 8) | bytes[2]!;
    if (bytes[3] === END) ended = true;
    else if (bytes[3] !== DATA)
      refuse(`a record of kind ${bytes[3]} does not belong into a program of 32 kB`);
    else if (address + bytes[0]! > FLASH_BYTES) refuse('it lies outside the flash');
    else flash.set(bytes.subarray(4, -1), address);
  }
  if (!ended) throw new Error('the program has no end record');
  return new Uint16Array(flash.buffer);
}
