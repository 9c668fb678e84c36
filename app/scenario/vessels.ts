// What vehicle, supply cylinder and tank of a scenario hold, in SI units; what a file leaves unsaid is derived here.
import type { OilKind } from '../../controller/ticket.ts';
import { ZERO_CELSIUS_K } from '../../sim/celsius.ts';
import { AIR } from '../../sim/fluids/air.ts';
import { waterVapourPressurePa } from '../../sim/fluids/water.ts';
import { OIL_DENSITY_KG_PER_M3 } from '../../sim/network/oil.ts';
import type { CylinderSpec, TankSpec, VehicleSpec } from '../../sim/spec.ts';
import type { AnyFile, FillFile, ScenarioFile } from './schema.ts';
import { GRAM_KG, HOUR_S, LITRE_M3 } from './si.ts';

/** Electric compressors run in ester oil, belt-driven ones mostly in PAG (common practice). */
export const oilKindOf = ({ ticket }: Pick<AnyFile, 'ticket'>): OilKind =>
  ticket.oil.kind ?? (ticket.electricCompressor ? 'POE' : 'PAG');

/** Polyvinyl ether has no published isotherms here: it counts as polyol ester, the other oil of high-voltage compressors (estimate). */
const OIL_PHYSICS = { PAG: 'PAG', POE: 'POE', PVE: 'POE' } as const;

/**
 * A vehicle without refrigerant has been open: what oil leaves of it is full of air, which over free water makes room for
 * the vapour, so that all together stand at the barometer.
 */
function airKgOf({ vehicle, weather }: ScenarioFile, temperatureK: number): number {
  if (vehicle.airG !== undefined) return vehicle.airG * GRAM_KG;
  if (vehicle.chargeG > 0) return 0;
  const roomM3 = vehicle.volumeL * LITRE_M3 - (vehicle.oilG * GRAM_KG) / OIL_DENSITY_KG_PER_M3;
  const vapourPa = vehicle.waterG > 0 ? waterVapourPressurePa(temperatureK) : 0;
  return Math.max(0, (weather.barometerPa - vapourPa) * roomM3) / (AIR.gasConstantJPerKgK * temperatureK);
}

/** A system that stands open for an hour takes up a part of what the air could give its oil (estimate; hours to the rest). */
const TAKEN_UP_WHILE_OPEN = 0.4;

/** Oil is dry in a closed system; one that has been open, and so holds no refrigerant, has drawn moisture from the air. */
const oilHumidity = ({ ticket, vehicle, weather }: ScenarioFile): number =>
  ticket.opened && vehicle.chargeG === 0 ? TAKEN_UP_WHILE_OPEN * weather.relativeHumidity : 0;

export function vehicleOf(file: ScenarioFile): VehicleSpec {
  const { vehicle, ticket, tank, weather } = file;
  const temperatureK = (vehicle.temperatureC ?? weather.ambientC) + ZERO_CELSIUS_K;
  return {
    refrigerant: vehicle.refrigerant ?? tank.refrigerant ?? ticket.refrigerant,
    chargeKg: vehicle.chargeG * GRAM_KG,
    volumeM3: vehicle.volumeL * LITRE_M3,
    temperatureK,
    expansionDevice: vehicle.expansionDevice,
    airKg: airKgOf(file, temperatureK),
    leakKgPerYear: vehicle.leakGPerYear * GRAM_KG,
    holeDiameterM: vehicle.holeMm / 1000,
    oil: {
      kind: OIL_PHYSICS[oilKindOf(file)],
      kg: vehicle.oilG * GRAM_KG,
      humidity: oilHumidity(file),
    },
    waterKg: vehicle.waterG * GRAM_KG,
    ports: ticket.ports,
    accumulatorHeatCapacityJPerK: vehicle.accumulatorHeatCapacityJPerK,
    accumulatorUaWPerK: vehicle.accumulatorUaWPerK,
  };
}

export function cylinderOf({ cylinder, ticket, weather }: FillFile): CylinderSpec {
  return {
    refrigerant: cylinder.refrigerant ?? ticket.refrigerant,
    contentKg: cylinder.contentKg,
    waterCapacityM3: cylinder.waterCapacityL * LITRE_M3,
    temperatureK: (cylinder.temperatureC ?? weather.ambientC) + ZERO_CELSIUS_K,
    airKg: cylinder.airG * GRAM_KG,
  };
}

export function tankOf({ tank, ticket, weather }: AnyFile): TankSpec {
  return {
    refrigerant: tank.refrigerant ?? ticket.refrigerant,
    contentKg: tank.contentKg,
    waterCapacityM3: tank.waterCapacityL * LITRE_M3,
    temperatureK: (tank.temperatureC ?? weather.ambientC) + ZERO_CELSIUS_K,
    airKg: tank.airG * GRAM_KG,
    ...(tank.restedH === undefined ? {} : { restedS: tank.restedH * HOUR_S }),
  };
}
