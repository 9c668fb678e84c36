// The saturation table that a plan carries, made from the simulator's property tables.

import type { SaturationCurve } from '../../controller/saturation.ts';
import { ZERO_CELSIUS_K } from '../../sim/celsius.ts';
import type { Fluid } from '../../sim/fluids/fluid.ts';

import { newSaturationState } from '../../sim/fluids/property-state.ts';
import type { FluidTables } from '../../sim/fluids/tables.ts';

const COLDEST_K = ZERO_CELSIUS_K - 60;
const STEP_K = 0.5;
/** So far below the critical point the two phases are still well apart. */
const CRITICAL_MARGIN_K = 2;

/** Every half kelvin from −60 °C to near the critical point: ln p over 1/T is then linear to 4e-6. */
export function saturationCurve(fluid: Fluid, tables: FluidTables): SaturationCurve {
  const count = Math.floor((fluid.criticalTemperatureK - CRITICAL_MARGIN_K - COLDEST_K) / STEP_K) + 1;
  const points = Array.from({ length: count }, (_, index) => {
    const temperatureK = COLDEST_K + index * STEP_K;
    const state = newSaturationState();
    tables.saturation(temperatureK, state);
    return { temperatureK, ...state };
  });
  return {
    refrigerant: fluid.name,
    temperatureK: points.map((point) => point.temperatureK),
    pressurePa: points.map((point) => point.pressurePa),
    liquidDensityKgPerM3: points.map((point) => point.liquidDensityKgPerM3),
    vapourDensityKgPerM3: points.map((point) => point.vapourDensityKgPerM3),
  };
}
