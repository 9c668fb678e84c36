// Two 74HC595 in a row and their buffer on MISO.

/** What shift registers hold when they get power is anybody's guess; the worst is that everything is on. */
const AFTER_POWER_ON = 0xffff;

export class Registers {
  private shifted = AFTER_POWER_ON;
  private latched = AFTER_POWER_ON;
  private clock = 0;
  /** A line from the end of the chain that is broken reads so; undefined is a line in order. */
  stuckAt: 0 | 1 | undefined;

  powerOn(): void {
    this.shifted = this.latched = AFTER_POWER_ON;
    this.clock = 0;
  }

  /** Shifts eight bits in at the rising edges and gives the eight that came out at the far end. */
  swap(byte: number): number {
    const out = this.shifted >> 8;
    this.shifted = ((this.shifted << 8) | byte) & 0xffff;
    return this.stuckAt === undefined ? out : this.stuckAt * 0xff;
  }

  /** Level at the far end, before the next clock. */
  get end(): number {
    return this.stuckAt ?? this.shifted >> 15;
  }

  /** The latch line has a level; at its rising edge the outputs take over what was shifted in. */
  latch(level: number): void {
    if (level === 1 && this.clock === 0) this.latched = this.shifted;
    this.clock = level;
  }

  /** The outputs, as far as they are enabled. */
  get outputs(): number {
    return this.latched;
  }
}
