// Pauses a job whose commands no longer reach the machine, and goes on with it when the operator so chooses.
import type { OperatorEvent } from '../../controller/operator.ts';
import type { Undriven } from '../../hardware/rig.ts';

/** A rig that may have to be taken control of anew. */
export type Driven = { readonly undriven: Undriven | undefined; takeControl(): void };

const TEXTS: { readonly [U in Undriven]: string } = {
  'no-control': 'Nobody has taken control of the machine: its board is only read.',
  'not-connected':
    'The line to the board is down. By itself the board has shut every valve and stopped every drive but the fan.',
  reconnected: 'The board is back on the line. It is only read until control is taken again.',
  'link-lost':
    'For a quarter of a second the board heard nothing that it could obey, and dropped every output.',
  'emergency-stop': 'The emergency stop was pressed, and the board dropped every output.',
  'high-pressure': 'The high-pressure switch opened, and the board dropped every output.',
  'output-chain':
    'What the board shifts out does not come back: a register or its wiring is faulty. The board dropped every output.',
  watchdog: "The board's program hung and was started anew; every output is off.",
};

/** What to say of a rig that is not driven. */
export const undrivenText = (undriven: Undriven): string => TEXTS[undriven];

export class ControlWatch {
  readonly #rig: Driven;
  readonly #send: (event: OperatorEvent) => void;
  readonly #tell: (text: string) => void;
  #undriven: Undriven | undefined;
  #paused = false;

  /** @param tell takes one sentence for the operator. */
  constructor(rig: Driven, send: (event: OperatorEvent) => void, tell: (text: string) => void) {
    this.#rig = rig;
    this.#send = send;
    this.#tell = tell;
  }

  /** Why the machine is not driven, if it is not. */
  get undriven(): Undriven | undefined {
    return this.#undriven;
  }

  /** To be called once a scan. */
  look(): void {
    const { undriven } = this.#rig;
    if (undriven === this.#undriven) return;
    this.#undriven = undriven;
    if (undriven === undefined) return;
    this.#tell(undrivenText(undriven));
    if (!this.#paused) this.#send({ type: 'paused' });
    this.#paused = true;
  }

  /** The operator's choice to go on; answers whether there is a board to go on with. */
  goOn(): boolean {
    if (this.#undriven === 'not-connected') return false;
    this.#rig.takeControl();
    this.#undriven = this.#rig.undriven;
    if (this.#undriven !== undefined) return false;
    this.#send({ type: 'resumed' });
    this.#paused = false;
    return true;
  }
}
