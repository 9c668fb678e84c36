// The dip tube of a tank: how high over the bottom it ends, and what share of the tank covers its mouth.
import type { Mouth } from '../network/edge.ts';

/** A tank is about as wide as its content is high: 0.30 m inside for 21.6 L (estimate). */
const DIAMETER_PER_CUBE_ROOT = 1.077;
/** From the lowest place of the bottom to the mouth: about a quarter of an inch (common practice). */
const END_ABOVE_BOTTOM_M = 6e-3;
/**
 * So far above the mouth the surface is sucked down into it: 0.69·(Q²/g)^(1/5), 6 mm for the 20 mL/s of a full charge
 * (Lubin and Springer, J. Fluid Mech. 29 (1967) 385, for a drain; from memory).
 */
const DIMPLE_M = 6e-3;

/**
 * Liquid below a height in a dished bottom, m³: a spherical cap, π·h²·(R − h/3). The crown of a dished end has the
 * tank's diameter for its radius R (DIN 28011); so has the pole of a 2:1 ellipsoid, (D/2)²/(D/4).
 */
const capM3 = (heightM: number, crownM: number): number =>
  Math.PI * heightM * heightM * (crownM - heightM / 3);

/** For a tank that stands upright on level ground. */
export function dipTubeOf(waterCapacityM3: number): Mouth {
  const diameterM = DIAMETER_PER_CUBE_ROOT * Math.cbrt(waterCapacityM3);
  const share = (heightM: number): number => capM3(heightM, diameterM) / waterCapacityM3;
  return { dryAt: share(END_ABOVE_BOTTOM_M), uncoversAt: share(END_ABOVE_BOTTOM_M + DIMPLE_M) };
}
