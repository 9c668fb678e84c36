// What stays in the machine's condenser: a coil colder than the tank keeps the first grams of every draw.
// Figures are estimates for a small finned coil of 0.8 kJ/K, fitted to the bench's own simulator.

/** Liquid that warms the coil by one kelvin: 800 J/K over 235 kJ/kg of condensing and cooling hot gas. */
const KEPT_KG_PER_K = 0.0034;
/** With its fan running the coil takes more before it is as warm as the tank. */
const KEPT_WITH_FAN_KG_PER_K = 0.0085;
/** Every gram that has reached the tank pushed out this much of what the coil had kept. */
const PUSHED_OUT = 0.6;
/** Less than this on the scale is no delivery. */
const NOTHING_KG = 0.002;

export type CoilInput = {
  /** What the scale shows of the draw. */
  readonly deliveredKg: number;
  /** Tank above ambient. */
  readonly warmerK: number;
  readonly fanStopped: boolean;
  /** What was in the coil before plus what the draw should bring, where that is known. */
  readonly expectedKg: number | undefined;
};

/** Refrigerant left as liquid in the coil after a draw. */
export function keptInCoilKg({ deliveredKg, warmerK, fanStopped, expectedKg }: CoilInput): number {
  const mostKg = Math.max(warmerK, 0) * (fanStopped ? KEPT_KG_PER_K : KEPT_WITH_FAN_KG_PER_K);
  if (deliveredKg >= NOTHING_KG) return Math.max(mostKg - PUSHED_OUT * deliveredKg, 0);
  return Math.min(expectedKg ?? mostKg / 2, mostKg);
}
