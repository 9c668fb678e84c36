// The cabin's side of the evaporator: what the blower's air gives the refrigerant, and what comes out of the vents.
import { Coil } from '../fluids/moist-air.ts';
import type { Node } from '../network/node.ts';
import type { WeatherSpec } from '../spec.ts';

/** Dry air through the evaporator at the highest blower speed (common figure for one blower, 400 m³/h). */
const BLOWER_KG_PER_S = 0.115;
/** Air-side transfer units of the evaporator: bypass factor 15 % (estimate). */
const TRANSFER_UNITS = 1.9;
/** Ducts, blower motor and leaking temperature flap warm the air on its way (estimate). */
const REHEAT_K = 1.5;
/** Cold vapour alone still cools this share of the air. */
const LEAST_WETTED = 0.1;
/** Of a vent thermometer in the stream, with the ducts. */
const VENT_TIME_S = 15;

/** Doors and windows open, recirculation: the evaporator draws air of the surroundings. */
export class Cabin {
  /** Air at the vents, K; that of the surroundings when the blower stands still. */
  ventAirK: number;
  /** Air right behind the evaporator, K. */
  coilAirK: number;
  /** Heat taken from the air, W, and water that drips from the evaporator. */
  heatW = 0;
  condensateKgPerS = 0;
  readonly #ambientK: number;
  readonly #coil: Coil;

  constructor(weather: WeatherSpec) {
    this.ventAirK = weather.ambientK;
    this.coilAirK = weather.ambientK;
    this.#ambientK = weather.ambientK;
    this.#coil = new Coil(
      {
        temperatureK: weather.ambientK,
        relativeHumidity: weather.relativeHumidity,
        pressurePa: weather.barometerPa,
      },
      BLOWER_KG_PER_S,
      TRANSFER_UNITS,
    );
  }

  /**
   * Gives the evaporator the conductance and the temperature of an equivalent dry surrounding: the tangent of the
   * coil's duty at its present metal temperature. The network then carries the heat implicitly. `wetted` is the share of
   * the coil in which refrigerant boils; the rest does little for the air that passes it.
   */
  blow(evaporator: Node, wetted: number, durationS: number): void {
    const duty = this.#coil.at(evaporator.wallK, Math.max(LEAST_WETTED, wetted));
    evaporator.wallUaOutWPerK = duty.conductanceWPerK;
    evaporator.surroundingsK = evaporator.wallK + duty.heatW / duty.conductanceWPerK;
    this.heatW = duty.heatW;
    this.condensateKgPerS = duty.condensateKgPerS;
    this.coilAirK = duty.leavingK;
    this.#follow(Math.min(this.#ambientK, duty.leavingK + REHEAT_K), durationS);
  }

  /** Blower off. */
  rest(durationS: number): void {
    this.heatW = 0;
    this.condensateKgPerS = 0;
    this.coilAirK = this.#ambientK;
    this.#follow(this.#ambientK, durationS);
  }

  save() {
    const { ventAirK, coilAirK, heatW, condensateKgPerS } = this;
    return { ventAirK, coilAirK, heatW, condensateKgPerS };
  }

  restore({ ventAirK, coilAirK, heatW, condensateKgPerS }: ReturnType<Cabin['save']>): void {
    this.ventAirK = ventAirK;
    this.coilAirK = coilAirK;
    this.heatW = heatW;
    this.condensateKgPerS = condensateKgPerS;
  }

  #follow(airK: number, durationS: number): void {
    this.ventAirK += (airK - this.ventAirK) * (1 - Math.exp(-durationS / VENT_TIME_S));
  }
}
