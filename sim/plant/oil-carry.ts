// Oil that leaves the vehicle with what is drawn from it, and is caught in the separator.
import type { Edge } from '../network/edge.ts';
import type { Node } from '../network/node.ts';
import { type DissolvedEnergy, moveOil, type OilHold } from '../network/oil.ts';

/** Kilograms of oil a kilogram of refrigerant takes along (estimates; 5 to 30 mL in an ordinary recovery). */
const IN_VAPOUR = 0.01;
const IN_FOAM = 0.05;
const IN_LIQUID = 0.03;
/** A port is near the bottom of the oil: less than this in its node, and it takes proportionally less (estimate). */
const PLENTY_KG = 0.03;
/** Above this share of liquid at the port it is liquid that streams. */
const LIQUID_FROM = 0.5;

type Port = { readonly coupler: Edge; readonly oil: OilHold; seenKg: number };

/**
 * Looked at once a second. Oil does not stay in the hoses: what leaves the vehicle while the way to the separator is
 * open arrives there, and what leaves it otherwise runs back.
 */
export class OilCarry {
  readonly #ports: readonly Port[];
  readonly #recovery: Edge;
  readonly #separator: Node;
  readonly #energy: DissolvedEnergy;

  constructor(
    couplers: readonly { readonly coupler: Edge; readonly oil: OilHold }[],
    recovery: Edge,
    energy: DissolvedEnergy,
  ) {
    this.#ports = couplers.map(({ coupler, oil }) => ({ coupler, oil, seenKg: 0 }));
    this.#recovery = recovery;
    this.#separator = recovery.b;
    this.#energy = energy;
  }

  look(): void {
    for (const port of this.#ports) {
      const drawnKg = port.coupler.passedRefrigerantKg - port.seenKg;
      port.seenKg = port.coupler.passedRefrigerantKg;
      const { node } = port.oil;
      if (drawnKg <= 0 || node.oilKg <= 0 || this.#recovery.opening === 0) continue;
      const inGas = IN_VAPOUR + (IN_FOAM - IN_VAPOUR) * port.oil.foam;
      const share = node.liquidFraction > LIQUID_FROM ? IN_LIQUID : inGas;
      const kg = drawnKg * share * Math.min(1, node.oilKg / PLENTY_KG);
      moveOil(node, this.#separator, kg, this.#energy);
    }
  }
  save(): readonly number[] {
    return this.#ports.map(({ seenKg }) => seenKg);
  }

  restore(seenKg: readonly number[]): void {
    for (const [index, port] of this.#ports.entries()) port.seenKg = seenKg[index]!;
  }
}
