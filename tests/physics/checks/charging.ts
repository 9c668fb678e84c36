// Liquid let into an evacuated vehicle: how far it goes is a matter of temperatures, not of time.
import { areaOfKv } from '../../../sim/network/edge.ts';
import { Network } from '../../../sim/network/network.ts';
import { makeNode, type Node } from '../../../sim/network/node.ts';
import { isothermalNode, ROOM_K, restriction } from '../../sim/network/kit.ts';
import { CELSIUS_K, equilibrium, type Refrigerant } from '../bench-top.ts';
import { type Check, once, type Topic } from '../check.ts';

/** 3 L with 5 kJ/K of metal at the contents' temperature, no heat from outside, tank at 20 °C. */
function fill(
  refrigerant: Refrigerant,
  vehicleC: number,
): { readonly vehicle: Node; readonly network: Network } {
  const of = equilibrium(refrigerant);
  const tank = isothermalNode('tank', 21.6e-3);
  of.fill(tank, ROOM_K, { refrigerantKg: 15 });
  const vehicleK = CELSIUS_K + vehicleC;
  const vehicle = makeNode({ name: 'vehicle', volumeM3: 3e-3, contactMetalJPerK: 5000 }, vehicleK);
  of.fill(vehicle, vehicleK, { refrigerantKg: 0 });
  const valve = restriction(tank, vehicle, areaOfKv(0.1), { portA: 'liquid' });
  return { vehicle, network: new Network(of, [tank, vehicle], [valve]) };
}

function stallG(refrigerant: Refrigerant, vehicleC: number): number {
  const { vehicle, network } = fill(refrigerant, vehicleC);
  network.advance(600);
  return 1000 * vehicle.refrigerantKg;
}

const at600g = {
  'R-134a': once(() => filled('R-134a')),
  'R-1234yf': once(() => filled('R-1234yf')),
};
function filled(refrigerant: Refrigerant): Node {
  const { vehicle, network } = fill(refrigerant, 20);
  while (vehicle.refrigerantKg < 0.6) network.advance(0.05);
  return vehicle;
}

const SOURCE = 'energy balance m·h′ = U(T, m) + C·ΔT with property values of CoolProp 8';

export const charging: Topic = {
  heading: 'Charging with liquid',
  checks: [
    ...(
      [
        ['R-134a', 22, 906],
        ['R-134a', 25, 82.5],
        ['R-134a', 40, 76],
        ['R-1234yf', 22, 740],
        ['R-1234yf', 25, 97],
        ['R-1234yf', 40, 90],
      ] as const
    ).map(
      ([refrigerant, vehicleC, grams]): Check => ({
        id: `charge-stall-${refrigerant.toLowerCase()}-${vehicleC}-c`,
        title: `A vehicle of 3 L and 5 kJ/K at ${vehicleC} °C, without heat, takes from a tank of ${refrigerant} at 20 °C`,
        source: SOURCE,
        unit: 'g',
        expected: grams,
        tolerance: { relative: 0.05 },
        obtain: () => stallG(refrigerant, vehicleC),
      }),
    ),
    ...(
      [
        ['R-134a', 18.16, 5.398],
        ['R-1234yf', 18.25, 5.623],
      ] as const
    ).flatMap(([refrigerant, celsius, bar]): readonly Check[] => [
      {
        id: `charge-600-g-cooling-${refrigerant.toLowerCase()}`,
        title: `The same vehicle at 20 °C does not stall: 600 g of ${refrigerant} have cooled it by`,
        source: SOURCE,
        unit: 'K',
        expected: 20 - celsius,
        tolerance: { relative: 0.05 },
        obtain: () => ROOM_K - at600g[refrigerant]().temperatureK,
      },
      {
        id: `charge-600-g-pressure-${refrigerant.toLowerCase()}`,
        title: 'at a pressure of',
        source: SOURCE,
        unit: 'bar',
        expected: bar,
        tolerance: { relative: 0.01 },
        obtain: () => at600g[refrigerant]().pressurePa / 1e5,
      },
    ]),
  ],
};
