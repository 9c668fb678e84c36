// The gas alarm in the cabinet: a slow detector with a contact, set as a share of the lower flammable limit.
import { Lag } from './lag.ts';

/** The first of the usual two points, 10 % and 25 % of the limit (common practice). */
const CLOSES_AT = 0.1;
const OPENS_AT = 0.08;
/** Nine tenths of a step within ten seconds (estimate of a detector in moving air). */
const LAG_S = 10 / Math.LN10;

export class GasAlarm {
  closed = false;
  readonly #share: Lag;
  readonly #limitKgPerM3: number;

  constructor(lowerFlammableLimitKgPerM3: number, periodS: number) {
    this.#share = new Lag(LAG_S, periodS, 0);
    this.#limitKgPerM3 = lowerFlammableLimitKgPerM3;
  }

  save() {
    return { share: this.#share.value, closed: this.closed };
  }

  restore(saved: ReturnType<GasAlarm['save']>): void {
    this.#share.value = saved.share;
    this.closed = saved.closed;
  }

  /** One period on, in air of this concentration. */
  look(kgPerM3: number): void {
    const share = this.#share.follow(kgPerM3 / this.#limitKgPerM3);
    this.closed = share >= (this.closed ? OPENS_AT : CLOSES_AT);
  }
}
