// What the ledger of a job says, beside the truth at the moment at which it says so.
import type { ControllerState } from '../../controller/scan.ts';
import type { Truth } from '../../sim/spec.ts';

/** Grams. `saidG` is the stated uncertainty, k = 2. */
export type LedgerError = { readonly of: string; readonly errorG: number; readonly saidG: number };

type Mark = { readonly ofKg: number | undefined; readonly truth: Truth };

/** Follows the account of the recovery: what is booked then is true of that moment, not of the end. */
export class LedgerWatch {
  readonly #begun: Truth;
  #recovered: Mark;
  #filled: Mark;

  constructor(begun: Truth) {
    this.#begun = begun;
    this.#recovered = { ofKg: undefined, truth: begun };
    this.#filled = this.#recovered;
  }

  look({ accounts }: ControllerState, truth: () => Truth): void {
    const recoveredKg = (accounts.recoveryBefore ?? accounts).recoveredKg;
    if (recoveredKg !== this.#recovered.ofKg) this.#recovered = { ofKg: recoveredKg, truth: truth() };
    const filledKg = accounts.fill?.kg;
    if (filledKg !== this.#filled.ofKg) this.#filled = { ofKg: filledKg, truth: truth() };
  }

  errors({ accounts }: ControllerState, ended: Truth): readonly LedgerError[] {
    const found: LedgerError[] = [];
    const add = (of: string, errorKg: number, saidKg: number | undefined): void => {
      found.push({ of, errorG: 1000 * errorKg, saidG: 1000 * (saidKg ?? 0) });
    };
    const recovery = accounts.recoveryBefore ?? accounts;
    if (this.#recovered.ofKg !== undefined) {
      const goneKg = this.#begun.vehicleRefrigerantKg - this.#recovered.truth.vehicleRefrigerantKg;
      add('recovered', this.#recovered.ofKg - goneKg, recovery.recoveredUncertaintyKg);
    }
    const { netChargeKg, uncertaintyKg, fill } = accounts;
    if (netChargeKg !== undefined) add('net charge', netChargeKg - ended.vehicleRefrigerantKg, uncertaintyKg);
    if (fill !== undefined && this.#filled.ofKg !== undefined) {
      const gainKg = this.#filled.truth.tankRefrigerantKg - this.#begun.tankRefrigerantKg;
      add('filled', fill.kg - gainKg, fill.uncertaintyKg);
    }
    return found;
  }
}
