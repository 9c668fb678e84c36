// A sensor that follows what it measures late: first order, sampled at a fixed period.

/** Exact for a target that stands still over each period. */
export class Lag {
  value: number;
  readonly #share: number;

  constructor(timeS: number, periodS: number, startValue: number) {
    this.value = startValue;
    this.#share = 1 - Math.exp(-periodS / timeS);
  }

  /** One period on; answers the new value. */
  follow(target: number): number {
    this.value += (target - this.value) * this.#share;
    return this.value;
  }
}
