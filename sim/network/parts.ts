// Something held in parts that follow at different speeds, looked at once a second and moved at a steady rate between looks.

/** Within one period a hold takes at most this share of what the gas has. */
export const MOST_TAKEN_SHARE = 0.2;

/** The sum lives in a node and is moved step by step; here it is kept which part holds how much of it. */
export class Parts {
  readonly #timesS: readonly number[];
  readonly #heldKg: number[];
  readonly #plannedKg: number[];
  #bookedKg = 0;

  constructor(timesS: readonly number[]) {
    this.#timesS = timesS;
    this.#heldKg = timesS.map(() => 0);
    this.#plannedKg = timesS.map(() => 0);
  }

  start(heldKg: readonly number[]): void {
    this.#bookedKg = 0;
    for (const [i, kg] of heldKg.entries()) {
      this.#heldKg[i] = kg;
      this.#plannedKg[i] = 0;
      this.#bookedKg += kg;
    }
  }

  /**
   * Lets what has moved since the last look fall to the parts. What was not planned comes from oil that was poured in
   * or out: it is spread as the whole is.
   */
  book(totalKg: number): void {
    const held = this.#heldKg;
    const planned = this.#plannedKg;
    const changeKg = totalKg - this.#bookedKg;
    let plannedKg = 0;
    for (let i = 0; i < planned.length; i++) plannedKg += planned[i]!;
    const followed = plannedKg === 0 ? 0 : Math.min(1, Math.max(0, changeKg / plannedKg));
    const elseKg = changeKg - followed * plannedKg;
    for (let i = 0; i < held.length; i++) {
      const spread = this.#bookedKg > 0 ? held[i]! / this.#bookedKg : 1 / held.length;
      held[i] = Math.max(0, held[i]! + followed * planned[i]! + elseKg * spread);
    }
    this.#bookedKg = totalKg;
  }

  /**
   * Plans the next period, every part towards its wanted content at its own speed, and answers what the whole will take
   * up in it, at most `mostKg`. `timesS` stands for the parts' own times when they are faster or slower just now.
   */
  plan(
    wantedKg: readonly number[],
    periodS: number,
    mostKg: number,
    timesS: readonly number[] = this.#timesS,
  ): number {
    const planned = this.#plannedKg;
    let takenKg = 0;
    for (let i = 0; i < planned.length; i++) {
      const progress = 1 - Math.exp(-periodS / timesS[i]!);
      planned[i] = (wantedKg[i]! - this.#heldKg[i]!) * progress;
      takenKg += planned[i]!;
    }
    if (takenKg <= mostKg) return takenKg;
    for (let i = 0; i < planned.length; i++) planned[i]! *= mostKg / takenKg;
    return mostKg;
  }
  save() {
    return { heldKg: [...this.#heldKg], plannedKg: [...this.#plannedKg], bookedKg: this.#bookedKg };
  }

  restore({ heldKg, plannedKg, bookedKg }: ReturnType<Parts['save']>): void {
    for (let i = 0; i < heldKg.length; i++) {
      this.#heldKg[i] = heldKg[i]!;
      this.#plannedKg[i] = plannedKg[i]!;
    }
    this.#bookedKg = bookedKg;
  }
}
