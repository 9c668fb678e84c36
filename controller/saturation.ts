// Saturation as data: the only thing the controller knows of a fluid, handed in with the plan.

/** A plain table, rising in temperature, fine enough for linear interpolation of ln p against 1/T. */
export type SaturationCurve = {
  readonly refrigerant: string;
  readonly temperatureK: readonly number[];
  readonly pressurePa: readonly number[];
  readonly liquidDensityKgPerM3: readonly number[];
  readonly vapourDensityKgPerM3: readonly number[];
};
