// A supply cylinder in the vehicle's place, upside down: its outlet is the lowest place, and liquid stands over it.
import type { Equilibrium } from '../network/equilibrium.ts';
import { makeNode } from '../network/node.ts';
import type { CylinderSpec } from '../spec.ts';
import type { Source } from './vehicle.ts';

/**
 * A steel cylinder of 0.23 kg a litre, as those that are not refilled, and of 3 W/K for 22 L in still air, which goes with
 * its surface (estimates). Inside it is wetted all over: it stands on its head and its content has just been moved.
 */
const STEEL_J_PER_K_M3 = 110e3;
const OUTSIDE_W_PER_K_M2 = 3 / 21.6e-3 ** (2 / 3);
const INSIDE_DRY_W_PER_K_M2 = 10 / 21.6e-3 ** (2 / 3);
const INSIDE_WET_W_PER_K_M2 = 120 / 21.6e-3 ** (2 / 3);

export function makeCylinder(spec: CylinderSpec, equilibrium: Equilibrium, ambientK: number): Source {
  const { waterCapacityM3, temperatureK, contentKg, airKg } = spec;
  const surface = waterCapacityM3 ** (2 / 3);
  const cylinder = makeNode(
    {
      name: 'supply cylinder',
      volumeM3: waterCapacityM3,
      wallJPerK: STEEL_J_PER_K_M3 * waterCapacityM3,
      wallUaDryWPerK: INSIDE_DRY_W_PER_K_M2 * surface,
      wallUaWetWPerK: INSIDE_WET_W_PER_K_M2 * surface,
      wallUaOutWPerK: OUTSIDE_W_PER_K_M2 * surface,
    },
    ambientK,
  );
  cylinder.wallK = temperatureK;
  equilibrium.fill(cylinder, temperatureK, { refrigerantKg: contentKg, airKg });
  return {
    high: cylinder,
    low: cylinder,
    outlet: 'liquid',
    nodes: [cylinder],
    edges: [],
    holds: { oils: [], moistures: [] },
  };
}
