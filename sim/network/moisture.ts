// Moisture held in the oil and the desiccant of a node: taken from the gas and given back slowly.
import type { OilKind } from '../fluids/oil.ts';
import { WATER_VAPOUR, waterVapourPressurePa } from '../fluids/water.ts';
import type { Node } from './node.ts';
import { MOST_TAKEN_SHARE, Parts } from './parts.ts';
import { COLDEST_FILM_K } from './water-film.ts';

/** Water in oil at 100 % relative humidity, kg/kg, straight over humidity (estimates: PAG 1.5–3 %, POE 0.2–0.25 %). */
const SATURATED_OIL: { readonly [K in OilKind]: number } = { PAG: 0.02, POE: 0.0022 };
/** Of desiccant, nearly the same at any humidity: a molecular sieve (estimate 15–20 %). */
const SATURATED_DESICCANT = 0.18;
/** Humidity at which a molecular sieve is half full (estimate). */
const SIEVE_HALF_FULL = 0.005;
/** Oil takes hours, the sieve in its vessel tens of minutes (estimates). */
const TIMES_S = [7200, 1800] as const;

export class MoistureHold {
  readonly node: Node;
  readonly #saturatedOil: number;
  readonly #desiccantKg: number;
  readonly #parts = new Parts(TIMES_S);
  readonly #wantedKg = [0, 0];

  constructor(node: Node, oilKind: OilKind, desiccantKg: number) {
    this.node = node;
    this.#saturatedOil = SATURATED_OIL[oilKind];
    this.#desiccantKg = desiccantKg;
  }

  /** Starts with oil in equilibrium with a humidity (0 to 1) and a dry desiccant. */
  start(oilHumidity: number): void {
    const inOilKg = this.#saturatedOil * this.node.oilKg * oilHumidity;
    this.#parts.start([inOilKg, 0]);
    this.node.sorbedWaterKg = inOilKg;
    this.node.releaseKgPerS = 0;
  }

  /** Books what has moved since the last look and sets the rate for the next `periodS`. */
  look(periodS: number): void {
    const { node } = this;
    if (node.waterKg <= 0 && node.sorbedWaterKg <= 0) return;
    this.#parts.book(node.sorbedWaterKg);
    const vapourPa = (node.waterKg * WATER_VAPOUR.gasConstantJPerKgK * node.temperatureK) / node.gasVolumeM3;
    const humidity = Math.min(
      1,
      vapourPa / waterVapourPressurePa(Math.max(COLDEST_FILM_K, node.temperatureK)),
    );
    this.#wantedKg[0] = this.#saturatedOil * node.oilKg * humidity;
    this.#wantedKg[1] = (SATURATED_DESICCANT * this.#desiccantKg * humidity) / (humidity + SIEVE_HALF_FULL);
    const mostKg = MOST_TAKEN_SHARE * node.waterKg;
    node.releaseKgPerS = -this.#parts.plan(this.#wantedKg, periodS, mostKg) / periodS;
  }
  save() {
    return this.#parts.save();
  }

  restore(saved: ReturnType<MoistureHold['save']>): void {
    this.#parts.restore(saved);
  }
}
