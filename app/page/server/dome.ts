// The saturation line of a refrigerant, as dials and diagrams are sent it.
import type { SaturationCurve } from '../../../controller/saturation.ts';
import { newSaturationState } from '../../../sim/fluids/property-state.ts';
import type { Dome } from '../shown.ts';

const DOME_STEP = 4;

/** The saturation line of a session, thinned out, with its enthalpies. */
export function domeOf({
  curve,
  tables,
}: {
  readonly curve: SaturationCurve;
  readonly tables: { saturation(temperatureK: number, out: ReturnType<typeof newSaturationState>): void };
}): Dome {
  const rows = curve.temperatureK
    .filter((_, index) => index % DOME_STEP === 0 || index === curve.temperatureK.length - 1)
    .map((temperatureK) => {
      const state = newSaturationState();
      tables.saturation(temperatureK, state);
      return { temperatureK, ...state };
    });
  return {
    refrigerant: curve.refrigerant,
    temperatureK: rows.map((row) => row.temperatureK),
    pressurePa: rows.map((row) => row.pressurePa),
    liquidJPerKg: rows.map((row) => row.liquidEnthalpyJPerKg),
    vapourJPerKg: rows.map((row) => row.vapourEnthalpyJPerKg),
    liquidDensityKgPerM3: rows.map((row) => row.liquidDensityKgPerM3),
    vapourDensityKgPerM3: rows.map((row) => row.vapourDensityKgPerM3),
  };
}
