// The saturation line of a refrigerant, as dials and diagrams are sent it.
import type { SaturationCurve } from '../../../controller/saturation.ts';
import { newSaturationState } from '../../../sim/fluids/property-state.ts';
import type { Dome } from '../shown.ts';

const DOME_STEP = 4;
/** Above the curve, nearer to each other towards the critical point, where the two phases meet ever more steeply. */
const TOP_ROWS = 8;

function topRowsK(lastK: number, criticalK: number): readonly number[] {
  return Array.from({ length: TOP_ROWS }, (_, index) => {
    const left = 1 - (index + 1) / TOP_ROWS;
    return criticalK - (criticalK - lastK) * left * left;
  });
}

/** The saturation line of a session, thinned out and closed at the critical point, with its enthalpies. */
export function domeOf({
  curve,
  tables,
}: {
  readonly curve: SaturationCurve;
  readonly tables: {
    readonly fluid: { readonly criticalTemperatureK: number };
    saturation(temperatureK: number, out: ReturnType<typeof newSaturationState>): void;
  };
}): Dome {
  const ofCurve = curve.temperatureK.filter(
    (_, index) => index % DOME_STEP === 0 || index === curve.temperatureK.length - 1,
  );
  const top = topRowsK(ofCurve.at(-1)!, tables.fluid.criticalTemperatureK);
  const rows = [...ofCurve, ...top].map((temperatureK) => {
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
