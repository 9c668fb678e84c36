// How much of a step's mean lies at its end.

/**
 * Exponentially fitted weight of the implicit end of a step for a relaxation z = step / time constant: ½ when z is
 * small (second order), 1 when it is large (no overshoot), exact for a linear relaxation in between.
 */
export function fittedWeight(z: number): number {
  if (z > 20) return 1 - 1 / z;
  if (z < 0.8) {
    const square = z * z;
    return 0.5 + z * (1 / 12 - square * (1 / 720 - square * (1 / 30240 - square / 1209600)));
  }
  return 1 / (1 - Math.exp(-z)) - 1 / z;
}
