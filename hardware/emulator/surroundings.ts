// What the emulated chip is soldered to: the other half of every pin.

export type Port = 'B' | 'C' | 'D';

export interface Surroundings {
  /** The cells of the EEPROM; they outlast resets and power. */
  readonly eeprom: Uint8Array;
  /** Levels at the pins of a port, as bits, as far as the chip does not drive them. */
  levels(port: Port, cycles: number): number;
  /** The chip drives other pins or other levels than before. */
  driven(port: Port, pins: number, levels: number, cycles: number): void;
  /** A byte goes over the SPI bus; `phase` is the clock phase of its mode. Returns the byte that comes back. */
  swapByte(byte: number, phase: 0 | 1, cycles: number): number;
  /** Volts at an analog input. */
  volts(channel: number): number;
  /** A byte has left the UART. */
  sent(byte: number, cycles: number): void;
}
