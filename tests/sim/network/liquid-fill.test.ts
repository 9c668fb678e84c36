// Liquid let into an evacuated vehicle: how far it goes is a matter of temperatures, not of time.
import { describe, expect, test } from 'vitest';
import { areaOfKv, makeEdge } from '../../../sim/network/edge.ts';
import { Network } from '../../../sim/network/network.ts';
import { makeNode } from '../../../sim/network/node.ts';
import { equilibriumOf, isothermalNode, ROOM_K } from './kit.ts';

const equilibrium = equilibriumOf('R-134a');

/** 3 L with 5 kJ/K of metal at the contents' temperature, no heat from outside, tank at 20 °C. */
function fill(vehicleC: number) {
  const tank = isothermalNode('tank', 21.6e-3);
  equilibrium.fill(tank, ROOM_K, { refrigerantKg: 15 });
  const vehicle = makeNode({ name: 'vehicle', volumeM3: 3e-3, contactMetalJPerK: 5000 }, vehicleC + 273.15);
  equilibrium.fill(vehicle, vehicleC + 273.15, { refrigerantKg: 0 });
  const valve = makeEdge({
    kind: 'restriction',
    name: 'charge valve',
    a: tank,
    b: vehicle,
    portA: 'liquid',
    portB: 'vapour',
    areaM2: areaOfKv(0.1),
    opening: 1,
  });
  return { vehicle, tank, network: new Network(equilibrium, [tank, vehicle], [valve]) };
}

describe('adiabatic liquid fill, against the energy balance m·h = U(T, m) + C·ΔT worked out with a reference equation of state', () => {
  test.each([
    { vehicleC: 25, stallG: 82.5 },
    { vehicleC: 40, stallG: 76 },
  ])('a vehicle at $vehicleC °C takes $stallG g from a tank at 20 °C and no more', ({ vehicleC, stallG }) => {
    const { vehicle, network } = fill(vehicleC);
    network.advance(300);
    expect(Math.abs((vehicle.refrigerantKg * 1000) / stallG - 1)).toBeLessThan(0.05);
  });

  test('a vehicle at the temperature of the tank does not stall: at 600 g it is at 18.2 °C and 5.40 bar', () => {
    const { vehicle, network } = fill(20);
    while (vehicle.refrigerantKg < 0.6) network.advance(0.1);
    expect(vehicle.temperatureK - 273.15).toBeCloseTo(18.2, 0);
    expect(vehicle.pressurePa / 1e5).toBeCloseTo(5.398, 1);
  });
});
