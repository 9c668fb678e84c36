// The recovery compressor's motor and what it swallows: a restart against head stalls it, liquid at its suction is counted.
import type { Edge } from '../network/edge.ts';
import { liquidShare } from '../network/stream.ts';

/**
 * Within this time after a stop the gas shut in over the piston has not leaked away yet, and a single-phase motor
 * cannot turn over against more than this head (estimates; common practice asks for two minutes of pause).
 */
const HEAD_LEAKS_AWAY_MS = 120_000;
const STALLS_ABOVE_PA = 300_000;

export class CompressorMotor {
  /** Liquid that came in through the suction since the start: what breaks valves. No sensor sees it. */
  swallowedLiquidKg = 0;
  readonly #edge: Edge;
  #powered = false;
  #stalled = false;
  #stoppedAtMs = Number.NEGATIVE_INFINITY;
  #seenKg = 0;

  constructor(edge: Edge) {
    this.#edge = edge;
  }

  /** Its protector has cut it: it hums and does not turn until it is switched off. */
  get stalled(): boolean {
    return this.#stalled;
  }

  /** Power on or off at a time; answers whether it turns. */
  power(on: boolean, nowMs: number): boolean {
    if (on && !this.#powered) {
      const headPa = this.#edge.b.pressurePa - this.#edge.a.pressurePa;
      this.#stalled = headPa > STALLS_ABOVE_PA && nowMs - this.#stoppedAtMs < HEAD_LEAKS_AWAY_MS;
    }
    if (!on && this.#powered) {
      if (!this.#stalled) this.#stoppedAtMs = nowMs;
      this.#stalled = false;
    }
    this.#powered = on;
    return on && !this.#stalled;
  }

  /** Counts the liquid in what has passed since the last look. */
  look(): void {
    const edge = this.#edge;
    const passedKg = edge.passedRefrigerantKg - this.#seenKg;
    this.#seenKg = edge.passedRefrigerantKg;
    const share = liquidShare(edge.a, edge.portA);
    if (share === 0 || passedKg <= 0) return;
    const liquid = share * edge.a.liquidDensityKgPerM3;
    this.swallowedLiquidKg += (passedKg * liquid) / (liquid + (1 - share) * edge.a.gasDensityKgPerM3);
  }
  save() {
    return {
      swallowedLiquidKg: this.swallowedLiquidKg,
      powered: this.#powered,
      stalled: this.#stalled,
      stoppedAtMs: this.#stoppedAtMs,
      seenKg: this.#seenKg,
    };
  }

  restore(saved: ReturnType<CompressorMotor['save']>): void {
    this.swallowedLiquidKg = saved.swallowedLiquidKg;
    this.#powered = saved.powered;
    this.#stalled = saved.stalled;
    this.#stoppedAtMs = saved.stoppedAtMs;
    this.#seenKg = saved.seenKg;
  }
}
