// A hole to the air: choked both ways, and every gram booked.
import { expect, test } from 'vitest';
import { areaOfBore, SHARP_EDGE } from '../../../sim/network/edge.ts';
import { MachineRig } from './machine-rig.ts';

const HOLE_M = 0.3e-3;
const AREA_M2 = areaOfBore(HOLE_M, SHARP_EDGE);

/** Mass flow of an ideal gas through a choked nozzle (ISO 9300, critical flow function of an ideal gas). */
function chokedKgPerS(areaM2: number, pressurePa: number, densityKgPerM3: number, gamma: number): number {
  const factor = Math.sqrt(gamma) * (2 / (gamma + 1)) ** ((gamma + 1) / (2 * (gamma - 1)));
  return areaM2 * factor * Math.sqrt(pressurePa * densityKgPerM3);
}

/** In the vehicle and the hoses on it. */
const airKgOf = ({ nodes }: MachineRig): number => nodes.reduce((sum, node) => sum + node.airKg, 0);

test('dry air comes into a vacuum as through a choked nozzle, at the same rate until the vehicle is half full of it', () => {
  const rig = new MachineRig({
    relativeHumidity: 0,
    vehicle: { chargeKg: 0, holeDiameterM: HOLE_M },
  }).connect();
  const beforeKg = airKgOf(rig);
  rig.hold([], 60);
  const firstKg = airKgOf(rig) - beforeKg;
  rig.hold([], 30);
  const nextKg = airKgOf(rig) - beforeKg - firstKg;
  const airDensity = 101_325 / (287.05 * 293.15);
  const expected = chokedKgPerS(AREA_M2, 101_325, airDensity, 1.4);
  expect(firstKg / 60 / expected).toBeCloseTo(1, 2);
  expect(nextKg / 30 / expected).toBeCloseTo(1, 2);
  rig.hold([], 3600);
  expect(rig.plant.vehicle.high.pressurePa / 101_325).toBeCloseTo(1, 3);
});

test('refrigerant leaves through it as choked vapour, and is booked as leaked', () => {
  const rig = new MachineRig({ vehicle: { holeDiameterM: HOLE_M } }).connect();
  const { plant } = rig;
  const { pressurePa, gasDensityKgPerM3 } = plant.vehicle.high;
  rig.hold([], 10);
  const { leakedKg, massDriftKg, vehicleRefrigerantKg } = plant.truth();
  // Dense vapour near saturation passes some per cent less than an ideal gas of γ = 1.1 would.
  expect(leakedKg / 10 / chokedKgPerS(AREA_M2, pressurePa, gasDensityKgPerM3, 1.1)).toBeGreaterThan(0.93);
  expect(leakedKg / 10 / chokedKgPerS(AREA_M2, pressurePa, gasDensityKgPerM3, 1.1)).toBeLessThan(1.01);
  expect(vehicleRefrigerantKg).toBeLessThan(0.6 - 0.9 * leakedKg);
  expect(Math.abs(massDriftKg)).toBeLessThan(1e-9);
});

test('a sound vehicle neither loses nor takes in anything', () => {
  const rig = new MachineRig().connect().hold([], 600);
  expect(rig.plant.truth().leakedKg).toBe(0);
  expect(airKgOf(rig)).toBe(0);
});
