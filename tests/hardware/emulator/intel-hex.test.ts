import { describe, expect, test } from 'vitest';
import { readHex } from '../../../hardware/emulator/intel-hex.ts';
import { FIRMWARE } from '../host.ts';

const END = ':00000001FF';

describe('reading a program', () => {
  test('bytes lie where the record says, the rest is erased', () => {
    // Intel, Hexadecimal Object File Format Specification: length, address, kind, data, sum.
    const flash = readHex(`:0400100034127856D8\r\n${END}\r\n`);
    expect([flash[7], flash[8], flash[9], flash[10]]).toEqual([0xffff, 0x1234, 0x5678, 0xffff]);
    expect(flash).toHaveLength(16_384);
  });

  test('the firmware is one, and begins with a jump', () => {
    expect(readHex(FIRMWARE)[0]).toBe(0x940c);
  });

  test.each([
    ['a wrong sum', `:0400100034127856D9\n${END}`, 'line 1 of the program: its sum is wrong'],
    ['a wrong length', `:0500100034127856D7\n${END}`, 'its length is wrong'],
    ['no record', `hello\n${END}`, 'not an Intel HEX record'],
    ['no end', ':0400100034127856D8', 'no end record'],
    ['something after the end', `${END}\n:0400100034127856D8`, 'line 2 of the program: something follows'],
    ['an address beyond the flash', `:048000003412785668\n${END}`, 'outside the flash'],
    ['a record of another kind', `:020000021000EC\n${END}`, 'a record of kind 2'],
  ])('%s is refused by its line', (_, text, why) => {
    expect(() => readHex(text)).toThrow(why);
  });
});
