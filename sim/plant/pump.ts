// The vacuum pump's oil: how cold it is and what it has taken up decide how far the pump can pull; looked at once a second.
import type { Edge } from '../network/edge.ts';
import { addOil, OIL_DENSITY_KG_PER_M3 } from '../network/oil.ts';
import type { Build } from '../spec.ts';

/** Cold oil seals worse: three times the ultimate pressure, gone with this time constant (estimates). */
const COLD_EXCESS = 2;
const WARM_UP_S = 300;
const COOL_DOWN_S = 1800;
/** Ultimate pressure by water in the oil: 50 to 100 Pa per gram in 0.3 L (estimate). */
const PA_PER_WATER_KG = 75_000;
/** Share of the water vapour pumped that stays in the oil, ballast shut and open (estimates). */
const WATER_KEPT = 0.5;
const WATER_KEPT_WITH_BALLAST = 0.05;
/** Water leaves the oil of a running pump with these time constants (estimates). */
const DRIES_S = 7200;
const DRIES_WITH_BALLAST_S = 1200;
/** Refrigerant saturates the oil after so much, adds this when it has, and leaves in some minutes (estimates). */
const SATURATES_AFTER_KG = 0.005;
const PA_WHEN_SATURATED = 50;
const DEGASSES_S = 240;
/** An open ballast valve costs this much (30 to 200 Pa by the pump, estimate). */
const BALLAST_PA = 60;

/**
 * Oil that creeps back through a stopped pump with the air that comes in, at most so much in one stop (estimates: 1 to
 * 30 mL are told of).
 */
const CREEP_M3_PER_KG_OF_AIR = 10e-6 / 1.2e-3;
const MOST_CREEP_M3 = 30e-6;
/** No more of the manifold than this fills with oil. */
const MOST_OF_MANIFOLD = 0.5;

export class PumpOil {
  /** Oil that has crept back into the manifold since the start. No sensor sees it. */
  suckedBackOilKg = 0;
  readonly #pump: Edge & { kind: 'pump' };
  readonly #resting: Edge;
  readonly #build: Build;
  /** 0 cold … 1 warm. */
  #warmth = 0;
  #waterKg = 0;
  /** 0 free of refrigerant … 1 saturated. */
  #refrigerant = 0;
  #seenWaterKg = 0;
  #seenRefrigerantKg = 0;
  #seenAirKg = 0;
  #creptM3 = 0;

  constructor(pump: Edge & { kind: 'pump' }, resting: Edge, build: Build) {
    this.#pump = pump;
    this.#resting = resting;
    this.#build = build;
  }

  /** Sets the pump's ultimate pressure; `dirtPa` is what a fault adds. */
  look(periodS: number, turning: boolean, dirtPa: number): void {
    const ballast = this.#build.vacuumPumpBallast;
    const target = turning ? 1 : 0;
    this.#warmth += (target - this.#warmth) * (1 - Math.exp(-periodS / (turning ? WARM_UP_S : COOL_DOWN_S)));
    this.#takeUp(ballast ? WATER_KEPT_WITH_BALLAST : WATER_KEPT);
    if (turning) {
      this.#waterKg *= Math.exp(-periodS / (ballast ? DRIES_WITH_BALLAST_S : DRIES_S));
      this.#refrigerant *= Math.exp(-periodS / DEGASSES_S);
      this.#creptM3 = 0;
    } else {
      this.#creep();
    }
    this.#pump.ultimatePa =
      this.#build.vacuumPumpUltimatePa * (1 + COLD_EXCESS * (1 - this.#warmth)) +
      PA_PER_WATER_KG * this.#waterKg +
      PA_WHEN_SATURATED * this.#refrigerant +
      (ballast ? BALLAST_PA : 0) +
      dirtPa;
    this.#seenAirKg = this.#resting.passedAirKg;
  }

  save() {
    return {
      suckedBackOilKg: this.suckedBackOilKg,
      warmth: this.#warmth,
      waterKg: this.#waterKg,
      refrigerant: this.#refrigerant,
      seenWaterKg: this.#seenWaterKg,
      seenRefrigerantKg: this.#seenRefrigerantKg,
      seenAirKg: this.#seenAirKg,
      creptM3: this.#creptM3,
    };
  }

  restore(saved: ReturnType<PumpOil['save']>): void {
    this.suckedBackOilKg = saved.suckedBackOilKg;
    this.#warmth = saved.warmth;
    this.#waterKg = saved.waterKg;
    this.#refrigerant = saved.refrigerant;
    this.#seenWaterKg = saved.seenWaterKg;
    this.#seenRefrigerantKg = saved.seenRefrigerantKg;
    this.#seenAirKg = saved.seenAirKg;
    this.#creptM3 = saved.creptM3;
  }

  #takeUp(keptShare: number): void {
    const waterKg = this.#pump.passedWaterKg - this.#seenWaterKg;
    const refrigerantKg = this.#pump.passedRefrigerantKg - this.#seenRefrigerantKg;
    this.#seenWaterKg = this.#pump.passedWaterKg;
    this.#seenRefrigerantKg = this.#pump.passedRefrigerantKg;
    this.#waterKg += keptShare * waterKg;
    this.#refrigerant += (1 - this.#refrigerant) * (1 - Math.exp(-refrigerantKg / SATURATES_AFTER_KG));
  }

  #creep(): void {
    const cameInKg = this.#seenAirKg - this.#resting.passedAirKg;
    if (cameInKg <= 0) return;
    const manifold = this.#resting.a;
    const roomM3 = MOST_OF_MANIFOLD * manifold.volumeM3 - manifold.oilKg / OIL_DENSITY_KG_PER_M3;
    const creepM3 = Math.max(
      0,
      Math.min(cameInKg * CREEP_M3_PER_KG_OF_AIR, MOST_CREEP_M3 - this.#creptM3, roomM3),
    );
    this.#creptM3 += creepM3;
    const kg = creepM3 * OIL_DENSITY_KG_PER_M3;
    addOil(manifold, kg, manifold.surroundingsK);
    this.suckedBackOilKg += kg;
  }
}
