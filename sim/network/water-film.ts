// Free water on the walls of a node: a film or ice that evaporates as fast as heat and vapour pressure let it.
import {
  CONDENSED_WATER,
  VAPOUR_ENERGY_OFFSET_J_PER_KG,
  WATER_VAPOUR,
  waterVapourPressurePa,
  waterVapourPressureSlope,
} from '../fluids/water.ts';
import type { Node } from './node.ts';

/**
 * Evaporation per pascal of difference between film and gas. Kinetic theory gives 1e-5 kg/(s·Pa) for 100 cm²; a film is
 * never clean nor all in reach. So large that heat and the way out decide, as they do (estimate).
 */
const EVAPORATION_KG_PER_S_PA = 2e-6;
/** A film thinner than this is gone. */
const LEAST_FILM_KG = 1e-10;
/** Where the vapour-pressure curve is asked; a film left without water has no temperature worth the name. */
export const COLDEST_FILM_K = 180;
/** So far its pressure is carried along; the error stays below 1e-6. */
const CARRIED_K = 0.02;
const HOTTEST_K = 370;

/** Temperature of a film from its energy (zero as liquid at 0 °C): ice, a mixture at the freezing point, or liquid. */
export function filmTemperatureK(filmKg: number, energyJ: number): number {
  const { freezingK, liquidHeatJPerKgK, iceHeatJPerKgK, fusionJPerKg } = CONDENSED_WATER;
  const specific = energyJ / filmKg;
  if (specific >= 0) return freezingK + specific / liquidHeatJPerKgK;
  if (specific > -fusionJPerKg) return freezingK;
  return freezingK + (specific + fusionJPerKg) / iceHeatJPerKgK;
}

/** Share of the film that is ice. */
export function iceShare(node: Node): number {
  if (node.filmKg <= 0) return 0;
  return Math.min(1, Math.max(0, -node.filmEnergyJ / node.filmKg / CONDENSED_WATER.fusionJPerKg));
}

/** Lays water at the temperature of the wall, as liquid or as ice. */
export function layFilm(node: Node, kg: number): void {
  const { freezingK, liquidHeatJPerKgK, iceHeatJPerKgK, fusionJPerKg } = CONDENSED_WATER;
  const aboveK = wallK(node) - freezingK;
  node.filmKg = kg;
  node.filmEnergyJ = kg * (aboveK >= 0 ? liquidHeatJPerKgK * aboveK : iceHeatJPerKgK * aboveK - fusionJPerKg);
}

/** Energy of all the water that a node's own `energyJ` leaves out: film, and vapour beyond cv·T. */
export const hiddenWaterEnergyJ = (node: Node): number =>
  node.filmEnergyJ + node.waterKg * VAPOUR_ENERGY_OFFSET_J_PER_KG;

const wallK = (node: Node): number => (node.wallJPerK > 0 ? node.wallK : node.temperatureK);

/**
 * Sets what the film will do over the step: `filmKgPerSPa` times (`filmPa` − vapour pressure in the gas), with the
 * film's own cooling already in both (linearly implicit). Conductance 0: nothing happens.
 */
export function prepareFilm(node: Node, stepS: number): void {
  const filmK = node.filmKg > 0 ? filmTemperatureK(node.filmKg, node.filmEnergyJ) : wallK(node);
  const withinK = Math.min(HOTTEST_K, Math.max(COLDEST_FILM_K, filmK));
  const pressurePa = vapourPressurePa(node, withinK);
  node.filmK = withinK;
  node.filmVapourPa = (node.waterKg * WATER_VAPOUR.gasConstantJPerKgK * node.temperatureK) / node.gasVolumeM3;
  if (node.filmKg <= 0 && node.filmVapourPa <= pressurePa) {
    node.filmKgPerSPa = 0;
    return;
  }
  const latent = latentHeatJPerKg(node, withinK);
  const slope = (pressurePa * latent) / (WATER_VAPOUR.gasConstantJPerKgK * withinK * withinK);
  const heated = stepS * node.filmUaWPerK;
  const capacity = filmHeatJPerK(node) + heated;
  node.filmKgPerSPa =
    EVAPORATION_KG_PER_S_PA / (1 + (stepS * EVAPORATION_KG_PER_S_PA * slope * latent) / capacity);
  node.filmPa = pressurePa + (slope * heated * (wallK(node) - withinK)) / capacity;
}

/** Vapour pressure of the film: asked anew when its temperature has moved, else carried along slope and bend. */
function vapourPressurePa(node: Node, temperatureK: number): number {
  const warmer = temperatureK - node.filmAskedK;
  if (warmer <= CARRIED_K && warmer >= -CARRIED_K) {
    const rise = node.filmLogSlope * warmer;
    return node.filmAskedPa * (1 + rise * (1 + 0.5 * rise));
  }
  const pressurePa = waterVapourPressurePa(temperatureK);
  node.filmAskedK = temperatureK;
  node.filmAskedPa = pressurePa;
  node.filmLogSlope = waterVapourPressureSlope(temperatureK) / pressurePa;
  return pressurePa;
}

/** Moves water between film and gas; `vapourRisePa` is what the step does to the vapour pressure otherwise. */
export function applyFilm(node: Node, stepS: number, vapourRisePa: number): void {
  if (node.filmKgPerSPa === 0) return;
  const wished = stepS * node.filmKgPerSPa * (node.filmPa - node.filmVapourPa - vapourRisePa);
  const kg = Math.max(-0.9 * node.waterKg, Math.min(node.filmKg, wished));
  const { filmK } = node;
  const heated = stepS * node.filmUaWPerK;
  const capacity = filmHeatJPerK(node) + heated;
  const latent = latentHeatJPerKg(node, filmK);
  const aboveK = wallK(node) - filmK;
  const warmedK = capacity === Number.POSITIVE_INFINITY ? 0 : (heated * aboveK - kg * latent) / capacity;
  const heatJ = heated * (aboveK - warmedK);
  node.filmKg -= kg;
  node.filmEnergyJ += heatJ - kg * (VAPOUR_ENERGY_OFFSET_J_PER_KG + WATER_VAPOUR.cpJPerKgK * filmK);
  node.waterKg += kg;
  node.energyJ += kg * WATER_VAPOUR.cpJPerKgK * filmK;
  giveFromWall(node, heatJ);
  if (node.filmKg > LEAST_FILM_KG) return;
  // The last trace becomes vapour; what energy the empty film has left goes to the wall.
  node.waterKg += node.filmKg;
  giveFromWall(node, node.filmKg * VAPOUR_ENERGY_OFFSET_J_PER_KG - node.filmEnergyJ);
  node.filmKg = 0;
  node.filmEnergyJ = 0;
}

function giveFromWall(node: Node, heatJ: number): void {
  if (node.wallJPerK > 0) node.wallK -= heatJ / node.wallJPerK;
  else node.energyJ -= heatJ;
}

/** Heat of evaporation, or of sublimation where the film is all ice. */
function latentHeatJPerKg(node: Node, filmK: number): number {
  const { freezingK, liquidHeatJPerKgK, iceHeatJPerKgK, fusionJPerKg, evaporationJPerKg } = CONDENSED_WATER;
  const aboveK = filmK - freezingK;
  const { cpJPerKgK } = WATER_VAPOUR;
  return isIce(node, filmK)
    ? evaporationJPerKg + fusionJPerKg + (cpJPerKgK - iceHeatJPerKgK) * aboveK
    : evaporationJPerKg + (cpJPerKgK - liquidHeatJPerKgK) * aboveK;
}

/** Infinite while the film freezes or melts: heat changes no temperature then. */
function filmHeatJPerK(node: Node): number {
  const { freezingK, liquidHeatJPerKgK, iceHeatJPerKgK } = CONDENSED_WATER;
  if (node.filmKg > 0 && node.filmK === freezingK) return Number.POSITIVE_INFINITY;
  return node.filmKg * (isIce(node, node.filmK) ? iceHeatJPerKgK : liquidHeatJPerKgK);
}

const isIce = (node: Node, filmK: number): boolean =>
  filmK < CONDENSED_WATER.freezingK && (node.filmKg > 0 ? node.filmEnergyJ < 0 : true);
