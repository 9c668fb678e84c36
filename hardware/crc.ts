// CRC-16/IBM-3740, the check at the end of every line between host and board.

const POLYNOMIAL = 0x1021;

const TABLE = Uint16Array.from({ length: 256 }, (_, byte) => {
  let crc = byte << 8;
  for (let bit = 0; bit < 8; bit++) crc = crc & 0x8000 ? (crc << 1) ^ POLYNOMIAL : crc << 1;
  return crc & 0xffff;
});

/**
 * CRC-16/IBM-3740 (also CCITT-FALSE) of a text of single-byte characters: polynomial 0x1021, starts at 0xFFFF, nothing
 * reflected. It finds every error of up to three bits in a line of this length: x + 1 divides the polynomial, so no odd number
 * of bits escapes, and no two bits less than 32,767 apart do (Koopman and Chakravarty, Cyclic Redundancy Code Polynomial
 * Selection for Embedded Networks, 2004). Check value of the catalogue of parametrised CRC algorithms: "123456789" gives
 * 0x29B1.
 */
export function crc16(text: string): number {
  let crc = 0xffff;
  for (let at = 0; at < text.length; at++)
    crc = ((crc << 8) & 0xffff) ^ TABLE[((crc >> 8) ^ text.charCodeAt(at)) & 0xff]!;
  return crc;
}
