// The simulated operator: sees a prompt, takes some time, does what it asks by hand, then says so.
import type { OperatorEvent, Prompt } from '../../controller/operator.ts';
import type { HandAction } from '../../sim/spec.ts';

/** What the operator has in hand: the plant, and an identifier's reading of the vehicle. */
export type Surroundings = {
  readonly operate: (action: HandAction) => void;
  /** The refrigerant that is really in the vehicle. */
  readonly refrigerant: string;
};

/** An identifier reads refrigerant purity without the air, which it reports apart. */
const PURITY_PERCENT = 99.9;

/** Whoever answers the controller's prompts: asked once a scan, answers with what happened since. */
export interface Operator {
  respond(prompt: Prompt | undefined, nowMs: number): readonly OperatorEvent[];
}

export class SimulatedOperator implements Operator {
  readonly #surroundings: Surroundings;
  readonly #delayMs: number;
  #answeredAskedAtMs: number | undefined;

  constructor(surroundings: Surroundings, delayMs: number) {
    this.#surroundings = surroundings;
    this.#delayMs = delayMs;
  }

  /** Each asking is answered once; the same prompt asked again later is done again. */
  respond(prompt: Prompt | undefined, nowMs: number): readonly OperatorEvent[] {
    if (prompt === undefined || prompt.askedAtMs === this.#answeredAskedAtMs) return [];
    if (nowMs - prompt.askedAtMs < this.#delayMs) return [];
    this.#answeredAskedAtMs = prompt.askedAtMs;
    if (prompt.id === 'identify-refrigerant') {
      const { refrigerant } = this.#surroundings;
      return [{ type: 'identified', result: { refrigerant, purityPercent: PURITY_PERCENT } }];
    }
    this.#surroundings.operate(prompt.id);
    return [{ type: 'confirmed', prompt: prompt.id }];
  }
}
