// Charge and loss as shares of the nominal charge.

export type Loss = { readonly linearPercentPerYear: number; readonly compoundPercentPerYear: number };

/**
 * Yearly loss as a share of the nominal charge (linear), and as the constant yearly rate that leads from nominal to
 * recovered (compound). Assumes that the vehicle held its nominal charge when new and was never topped up. Negative
 * when more than nominal was recovered.
 */
export function loss(nominalKg: number, recoveredKg: number, ageYears: number): Loss {
  const left = recoveredKg / nominalKg;
  return {
    linearPercentPerYear: ((1 - left) / ageYears) * 100,
    compoundPercentPerYear: (1 - left ** (1 / ageYears)) * 100,
  };
}

/** A mass, or its uncertainty, as a share of the nominal charge. */
export const percentOf = (massKg: number, nominalKg: number): number => (massKg / nominalKg) * 100;
