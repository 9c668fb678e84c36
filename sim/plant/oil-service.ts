// Oil by hand of the machine: drained from the separator into a catch bottle, drawn from bottles into an evacuated system.
import type { Edge } from '../network/edge.ts';
import type { Node } from '../network/node.ts';
import { addOil, type DissolvedEnergy, OIL_DENSITY_KG_PER_M3, takeOil } from '../network/oil.ts';
import { DRAIN_BORE_M } from './paths.ts';

/** Viscosities of the oil as drained (thinned by what it holds) and of new oil at room temperature (estimates). */
const DRAINED_PA_S = 0.08;
const NEW_PA_S = 0.11;
/** Length of the drain pipe (estimate): with its bore 4 mL/s at half a bar. */
const DRAIN_LENGTH_M = 0.3;
/** Bottles as they stand at the start: some oil, and dye for a few vehicles (estimates). */
const NEW_OIL_M3 = 250e-6;
const DYE_M3 = 50e-6;
/** What clings to manifold and hose before anything goes on (1 to 3 mL, estimate). */
const FILM_M3 = 2e-6;
/** A place takes oil until this share of it is full; in the vehicle what dissolves in the oil needs room as well. */
const MOST_OF_PLACE = 0.7;
const MOST_OF_VEHICLE = 0.5;

/** Laminar flow of a liquid in a pipe (Hagen–Poiseuille), m³/s per pascal. */
export const viscousConductance = (boreM: number, lengthM: number, viscosityPaS: number): number =>
  (Math.PI * boreM ** 4) / (128 * viscosityPaS * lengthM);

type Bottle = {
  leftM3: number;
  /** The way the air comes when the bottle is empty, or gas goes when the line stands above it. */
  readonly path: Edge;
};

/** What is drawn out of bottles. Dye is carried in oil, and as thick and heavy (estimate). */
export const LIQUIDS = ['oil', 'dye'] as const;
export type Liquid = (typeof LIQUIDS)[number];

/** Where new oil may go, from the manifold outwards: the vehicle's side, its hose, and the manifold itself. */
export type OilTargets = { readonly vehicle: Node | undefined; readonly hose: Node | undefined };

export class OilService {
  /** Oil, and refrigerant in it, that went to the catch bottle since the start. */
  drainedOilKg = 0;
  caughtRefrigerantKg = 0;
  /** New oil and dye that left their bottles since the start, and the dye of it that came into the vehicle. */
  injectedOilKg = 0;
  injectedDyeKg = 0;
  vehicleDyeKg = 0;
  readonly #drain: Edge;
  readonly #oil: Bottle;
  readonly #dye: Bottle;
  readonly #energy: DissolvedEnergy;
  readonly #drainConductance = viscousConductance(DRAIN_BORE_M, DRAIN_LENGTH_M, DRAINED_PA_S);
  readonly #hoseConductance: number;
  #filmM3 = 0;

  constructor(
    paths: { separatorDrain: Edge; oilBottle: Edge; dyeBottle: Edge },
    hose: { boreM: number; lengthM: number },
    energy: DissolvedEnergy,
  ) {
    this.#drain = paths.separatorDrain;
    this.#oil = { leftM3: NEW_OIL_M3, path: paths.oilBottle };
    this.#dye = { leftM3: DYE_M3, path: paths.dyeBottle };
    this.#energy = energy;
    this.#hoseConductance = viscousConductance(hose.boreM, hose.lengthM, NEW_PA_S);
  }

  /**
   * Gas finds the drain free: the room is at the higher pressure and air bubbles in through the oil, or no oil is left
   * and the float that should shut the drain then sticks.
   */
  drainCarriesGas(floatSticks: boolean): boolean {
    const { a: separator, b: outside } = this.#drain;
    return separator.oilKg <= 0 ? floatSticks : separator.pressurePa <= outside.pressurePa;
  }

  /** Nothing is left to draw, or the manifold stands above the room and blows out through the bottle. */
  lineCarriesGas(which: Liquid): boolean {
    const { leftM3, path } = this.#bottle(which);
    return leftM3 <= 0 || path.b.pressurePa >= path.a.pressurePa;
  }

  /** Lets oil out of the separator for a time. */
  drain(durationS: number): void {
    const { a: separator, b: outside } = this.#drain;
    const overPa = separator.pressurePa - outside.pressurePa;
    if (overPa <= 0) return;
    const wantedKg = this.#drainConductance * overPa * durationS * OIL_DENSITY_KG_PER_M3;
    const { oilKg, refrigerantKg } = takeOil(separator, wantedKg, this.#energy);
    this.drainedOilKg += oilKg;
    this.caughtRefrigerantKg += refrigerantKg;
  }

  /** Draws from a bottle for a time. */
  draw(which: Liquid, targets: OilTargets, durationS: number): void {
    if (this.lineCarriesGas(which)) return;
    const bottle = this.#bottle(which);
    const manifold = bottle.path.b;
    const target = targets.vehicle ?? targets.hose ?? manifold;
    const overPa = bottle.path.a.pressurePa - Math.max(manifold.pressurePa, target.pressurePa);
    const drawnM3 = Math.min(
      bottle.leftM3,
      Math.max(0, this.#hoseConductance * overPa * durationS),
      roomM3(target, target === targets.vehicle ? MOST_OF_VEHICLE : MOST_OF_PLACE),
    );
    bottle.leftM3 -= drawnM3;
    const filmM3 = Math.min(drawnM3, FILM_M3 - this.#filmM3, roomM3(manifold, MOST_OF_PLACE));
    this.#filmM3 += filmM3;
    pour(manifold, filmM3);
    pour(target, drawnM3 - filmM3);
    if (which === 'oil') {
      this.injectedOilKg += drawnM3 * OIL_DENSITY_KG_PER_M3;
      return;
    }
    this.injectedDyeKg += drawnM3 * OIL_DENSITY_KG_PER_M3;
    if (target === targets.vehicle) this.vehicleDyeKg += (drawnM3 - filmM3) * OIL_DENSITY_KG_PER_M3;
  }

  save() {
    return {
      drainedOilKg: this.drainedOilKg,
      caughtRefrigerantKg: this.caughtRefrigerantKg,
      injectedOilKg: this.injectedOilKg,
      injectedDyeKg: this.injectedDyeKg,
      vehicleDyeKg: this.vehicleDyeKg,
      oilLeftM3: this.#oil.leftM3,
      dyeLeftM3: this.#dye.leftM3,
      filmM3: this.#filmM3,
    };
  }

  restore(saved: ReturnType<OilService['save']>): void {
    this.drainedOilKg = saved.drainedOilKg;
    this.caughtRefrigerantKg = saved.caughtRefrigerantKg;
    this.injectedOilKg = saved.injectedOilKg;
    this.injectedDyeKg = saved.injectedDyeKg;
    this.vehicleDyeKg = saved.vehicleDyeKg;
    this.#oil.leftM3 = saved.oilLeftM3;
    this.#dye.leftM3 = saved.dyeLeftM3;
    this.#filmM3 = saved.filmM3;
  }

  #bottle(which: Liquid): Bottle {
    return which === 'oil' ? this.#oil : this.#dye;
  }
}

const roomM3 = (node: Node, most: number): number =>
  Math.max(0, most * node.volumeM3 - node.oilKg / OIL_DENSITY_KG_PER_M3);

/** The bottles stand in the room. */
function pour(node: Node, volumeM3: number): void {
  if (volumeM3 > 0) addOil(node, volumeM3 * OIL_DENSITY_KG_PER_M3, node.surroundingsK);
}
