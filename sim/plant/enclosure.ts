// The air inside the machine's cabinet as one well-mixed volume: what leaks into it, and what fan or draught carry off.

/** Air between the parts of a machine on wheels (estimate). */
export const ENCLOSURE_M3 = 0.2;
/** A 120 mm fan behind its grilles moves 70 m³/h, and with it at rest the louvres let a tenth of that through (estimates). */
export const FAN_M3_PER_S = 0.02;
export const DRAUGHT_M3_PER_S = 0.002;

export class Enclosure {
  /** Refrigerant in the air of the cabinet. */
  gasKg = 0;
  #leakedKg = 0;

  /**
   * Exact for a leak that is steady over the period.
   * @param leakedKg all that has leaked into the cabinet since the start.
   */
  advance(leakedKg: number, fanTurns: boolean, durationS: number): void {
    const inflowKgPerS = (leakedKg - this.#leakedKg) / durationS;
    this.#leakedKg = leakedKg;
    if (inflowKgPerS === 0 && this.gasKg === 0) return;
    const perS = (fanTurns ? FAN_M3_PER_S : DRAUGHT_M3_PER_S) / ENCLOSURE_M3;
    const steadyKg = inflowKgPerS / perS;
    this.gasKg = steadyKg + (this.gasKg - steadyKg) * Math.exp(-perS * durationS);
  }

  save() {
    return { gasKg: this.gasKg, leakedKg: this.#leakedKg };
  }

  restore(saved: ReturnType<Enclosure['save']>): void {
    this.gasKg = saved.gasKg;
    this.#leakedKg = saved.leakedKg;
  }

  /** @returns kg/m³. */
  get concentration(): number {
    return this.gasKg / ENCLOSURE_M3;
  }
}
