// The operator's hands on hoses and couplers, and what a coupler spills when it comes off.
import { OIL_HEAT_J_PER_KG_K } from '../fluids/oil.ts';
import type { Node } from '../network/node.ts';
import type { HandAction } from '../spec.ts';

/** Between the coupler's own seal and the vehicle's valve core (estimate). */
const DEAD_VOLUME_M3 = 1e-6;

export class Hoses {
  highOpen = false;
  lowOpen = false;
  /** Refrigerant that couplers let go as they came off, since the start. */
  spilledKg = 0;
  readonly #hoses: readonly Node[];
  #onVehicle = false;

  constructor(hoses: readonly Node[]) {
    this.#hoses = hoses;
  }

  operate(action: HandAction): void {
    if (action === 'connect-hoses') {
      this.#onVehicle = true;
      this.highOpen = true;
      this.lowOpen = true;
    } else if (action === 'close-high-coupler') {
      this.highOpen = false;
    } else if (action === 'close-couplers' || action === 'disconnect-hoses') {
      this.highOpen = false;
      this.lowOpen = false;
    }
    if (action === 'disconnect-hoses' && this.#onVehicle) this.#takeOff();
  }

  save() {
    const { highOpen, lowOpen, spilledKg } = this;
    return { highOpen, lowOpen, spilledKg, onVehicle: this.#onVehicle };
  }

  restore({ highOpen, lowOpen, spilledKg, onVehicle }: ReturnType<Hoses['save']>): void {
    this.highOpen = highOpen;
    this.lowOpen = lowOpen;
    this.spilledKg = spilledKg;
    this.#onVehicle = onVehicle;
  }

  #takeOff(): void {
    this.#onVehicle = false;
    for (const hose of this.#hoses) this.spilledKg += cutOff(hose, DEAD_VOLUME_M3);
  }
}

/** Takes away the share of a node's fluids that fills a volume, as they are; answers the refrigerant in it. */
function cutOff(node: Node, volumeM3: number): number {
  const share = volumeM3 / node.volumeM3;
  const refrigerantKg = share * node.refrigerantKg;
  node.energyJ -= share * (node.energyJ - node.oilKg * OIL_HEAT_J_PER_KG_K * node.temperatureK);
  node.refrigerantKg -= refrigerantKg;
  node.airKg *= 1 - share;
  node.waterKg *= 1 - share;
  return refrigerantKg;
}
