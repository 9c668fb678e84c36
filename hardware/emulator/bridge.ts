// The load cell's bridge converter, of the HX711 kind (from memory, as the firmware's).

const CLOCK_HZ = 16_000_000;
const BITS = 24;
const PULSES = 25;
/** A clock that stays high so long switches the part off. */
const OFF_AFTER_CYCLES = 60 * 16;
/** Conversions that settle after power-on before the first is given. */
const SETTLING = 4;

export class Bridge {
  /** Signed counts; undefined where the part is missing. */
  counts: number | undefined;
  /** How often the clock was held high so long that the part switched itself off. */
  switchedOff = 0;
  private readonly cyclesAConversion: number;
  private readyAt = 0;
  private pulses = 0;
  private latched = 0;
  private clock = 0;
  private roseAt = 0;

  /** @param rateHz 10 or 80 conversions a second. */
  constructor(rateHz: 10 | 80) {
    this.cyclesAConversion = CLOCK_HZ / rateHz;
  }

  powerOn(cycles: number): void {
    this.pulses = 0;
    this.clock = 0;
    this.readyAt = cycles + SETTLING * this.cyclesAConversion;
  }

  setClock(level: number, cycles: number): void {
    if (level === this.clock) return;
    this.clock = level;
    if (level === 1) {
      this.roseAt = cycles;
      this.rise(cycles);
    } else if (cycles - this.roseAt >= OFF_AFTER_CYCLES) {
      this.switchedOff++;
      this.powerOn(cycles);
    }
  }

  /** Level of its data line. */
  level(cycles: number): number {
    if (this.counts === undefined) return 1;
    if (this.pulses > 0) return (this.latched >> (BITS - this.pulses)) & 1;
    return cycles >= this.readyAt ? 0 : 1;
  }

  private rise(cycles: number): void {
    if (this.pulses === 0) {
      if (cycles < this.readyAt) return;
      this.latched = (this.counts ?? 0) & 0xffffff;
      // The next conversion has its own time, however late this one is fetched.
      const late = Math.floor((cycles - this.readyAt) / this.cyclesAConversion);
      this.readyAt += (late + 1) * this.cyclesAConversion;
    }
    this.pulses = (this.pulses + 1) % PULSES;
  }
}
