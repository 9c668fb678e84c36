// A thermal vacuum sensor: sees the heat a thin gas carries from a hot wire, and calls it a pressure of air.
import type { Reading } from '../../controller/signals.ts';
import { AIR } from '../fluids/air.ts';
import { WATER_VAPOUR } from '../fluids/water.ts';
import type { Node } from '../network/node.ts';
import type { Random } from '../random.ts';
import { Lag } from './lag.ts';
import { noise } from './noise.ts';
import { good, OUT_OF_RANGE } from './transducers.ts';

/** Where it reads. Beyond, the wire's heat hardly depends on pressure any more. */
const THERMAL_RANGE_PA = [1, 2500] as const;
/** It never sees more than this, so that coming down from one atmosphere takes seconds, not minutes (estimate). */
const SATURATED_PA = 2 * THERMAL_RANGE_PA[1];
/** Time constant, within the usual 1 to 5 s (estimate). */
export const THERMAL_LAG_S = 2;
const NOISE = 0.005;
/**
 * True over indicated for a sensor calibrated in air: water vapour from the vacuum literature, from memory; heavy
 * refrigerant vapour an estimate between 0.5 and 1.
 */
const TRUE_PER_INDICATED = { water: 0.55, refrigerant: 0.75 } as const;

/** Composition of a gas by mass. */
export type Gas = Pick<Node, 'gasRefrigerant' | 'gasAir' | 'gasWater'>;

/**
 * Indicated over true pressure of a mixture. A thin gas carries heat species by species, so partial pressures add,
 * each with its own factor.
 */
export function gasFactor(gas: Gas, refrigerantJPerKgK: number): number {
  const refrigerant = gas.gasRefrigerant * refrigerantJPerKgK;
  const air = gas.gasAir * AIR.gasConstantJPerKgK;
  const water = gas.gasWater * WATER_VAPOUR.gasConstantJPerKgK;
  const all = refrigerant + air + water;
  if (!(all > 0)) return 1;
  return (refrigerant / TRUE_PER_INDICATED.refrigerant + air + water / TRUE_PER_INDICATED.water) / all;
}

export class ThermalVacuumSensor {
  readonly #gain: number;
  readonly #refrigerantJPerKgK: number;
  readonly #random: Random;
  readonly #seenPa: Lag;

  /** A gain error that holds over its whole range; sampled every `periodS`, first at one atmosphere. */
  constructor(gain: number, refrigerantJPerKgK: number, periodS: number, random: Random) {
    this.#gain = gain;
    this.#refrigerantJPerKgK = refrigerantJPerKgK;
    this.#random = random;
    this.#seenPa = new Lag(THERMAL_LAG_S, periodS, SATURATED_PA);
  }

  reading(node: Gas & Pick<Node, 'pressurePa'>, atMs: number): Reading {
    const carriedPa = node.pressurePa * this.#gain * gasFactor(node, this.#refrigerantJPerKgK);
    const readPa = this.#seenPa.follow(Math.min(carriedPa, SATURATED_PA)) * (1 + NOISE * noise(this.#random));
    const [least, most] = THERMAL_RANGE_PA;
    return readPa < least || readPa > most ? OUT_OF_RANGE : good(readPa, atMs);
  }
  /** Its chance is shared with other sensors and saved with them. */
  save(): number {
    return this.#seenPa.value;
  }

  restore(seenPa: number): void {
    this.#seenPa.value = seenPa;
  }
}
