// Whether what a scenario puts into vehicle and tank fits there as liquid.
import type { SaturationCurve } from '../../controller/saturation.ts';
import { OIL_DENSITY_KG_PER_M3 } from '../../sim/network/oil.ts';
import type { TankSpec, VehicleSpec } from '../../sim/spec.ts';
import { InputError } from '../cli/command.ts';
import { toCelsius } from '../units.ts';
import { liquidDensityKgPerM3 } from './curve.ts';
import type { Scenario } from './scenario.ts';

type Vessel = {
  readonly massKey: string;
  readonly massKg: number;
  readonly volumeKey: string;
  readonly volumeM3: number;
  readonly temperatureK: number;
};

/** Shares of the vehicle's volume that oil and free water may take: several times what a real one holds (estimates). */
const MOST_OIL = 0.2;
const MOST_WATER = 0.05;
const WATER_KG_PER_M3 = 1000;

/** @throws InputError naming the mass and the volume that do not go together. */
export function checkRoom(scenario: Scenario, curve: SaturationCurve, source: string): void {
  const { vehicle, cylinder, tank, weather } = scenario;
  const vessels: Vessel[] = [
    ...(vehicle === undefined ? [] : [vehicleVessel(vehicle, source)]),
    ...(cylinder === undefined ? [] : [bottle('cylinder', cylinder)]),
    bottle('tank', tank),
  ];
  for (const { massKey, massKg, volumeKey, volumeM3, temperatureK } of vessels) {
    const warmestK = Math.max(temperatureK, weather.ambientK);
    const mostKg = volumeM3 * liquidDensityKgPerM3(curve, warmestK);
    if (massKg <= mostKg) continue;
    const unit = massKey.includes('Kg') ? 'kg' : 'g';
    const most = Math.floor(mostKg * (unit === 'kg' ? 100 : 1000)) / (unit === 'kg' ? 100 : 1);
    throw new InputError(
      `${source}: ${massKey} does not fit ${volumeKey} even as liquid at ` +
        `${toCelsius(warmestK).toFixed(1)} °C; at most ${most} ${unit} do`,
    );
  }
}

function vehicleVessel(vehicle: VehicleSpec, source: string): Vessel {
  checkLiquid(`vehicle.oilG`, vehicle.oil.kg, MOST_OIL * OIL_DENSITY_KG_PER_M3 * vehicle.volumeM3, source);
  checkLiquid(`vehicle.waterG`, vehicle.waterKg, MOST_WATER * WATER_KG_PER_M3 * vehicle.volumeM3, source);
  return {
    massKey: `vehicle.chargeG ${Number((vehicle.chargeKg * 1000).toPrecision(6))}`,
    massKg: vehicle.chargeKg,
    volumeKey: `vehicle.volumeL ${Number((vehicle.volumeM3 * 1000).toPrecision(6))}`,
    volumeM3: vehicle.volumeM3 - vehicle.oil.kg / OIL_DENSITY_KG_PER_M3,
    temperatureK: vehicle.temperatureK,
  };
}

const bottle = (key: string, { contentKg, waterCapacityM3, temperatureK }: TankSpec): Vessel => ({
  massKey: `${key}.contentKg ${contentKg}`,
  massKg: contentKg,
  volumeKey: `${key}.waterCapacityL ${Number((waterCapacityM3 * 1000).toPrecision(6))}`,
  volumeM3: waterCapacityM3,
  temperatureK,
});

function checkLiquid(key: string, kg: number, mostKg: number, source: string): void {
  if (kg <= mostKg) return;
  throw new InputError(
    `${source}: ${key} ${Number((kg * 1000).toPrecision(6))} is more than a vehicle of this volume can have in it; ` +
      `at most ${Math.floor(mostKg * 1000)} g`,
  );
}
