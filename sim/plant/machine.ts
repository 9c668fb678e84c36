// The machine's side: hoses, manifold, recovery block and tank.
import type { Equilibrium } from '../network/equilibrium.ts';
import { makeNode, type Node } from '../network/node.ts';
import type { Build, TankSpec } from '../spec.ts';

export type Machine = {
  readonly highHose: Node;
  readonly lowHose: Node;
  readonly manifold: Node;
  readonly separator: Node;
  readonly condenser: Node;
  readonly tank: Node;
  readonly nodes: readonly Node[];
};

/** What the last job left in hoses, manifold and separator: vapour of the tank's refrigerant. */
const LEFT_FROM_LAST_JOB_PA = 60_000;

/**
 * Conductances of the machine's condenser coil, from condensing refrigerant to the air, fan running and fan stopped, and
 * of it the inside: 0.094 m² at 1.3 kW/(m²·K) (estimates), W/K.
 */
const COIL_UA_FAN_W_PER_K = 40;
const COIL_UA_STILL_W_PER_K = 6;
const COIL_INSIDE_W_PER_K = 120;
/**
 * Six metres of tube of 5 mm bore in the fins (estimate). The outlet is at the bottom and the check valve at the outlet,
 * so that the line behind it runs dry into the tank: what cannot leave drowns the coil from its lower end.
 */
const COIL_M3 = 0.118e-3;

/**
 * From the wall to the water on it. What a draw brings from a wet vehicle is vapour only up to the saturation of water:
 * beyond it water lies on the walls, and is no gas that keeps a coil from filling (estimate, as in the vehicle).
 */
const FILM_UA_W_PER_K = 0.5;

export function makeMachine(
  tankSpec: TankSpec,
  build: Build,
  equilibrium: Equilibrium,
  ambientK: number,
): Machine {
  const hose = (name: string, volumeM3: number) =>
    makeNode(
      { name, volumeM3, wallJPerK: 250, wallUaDryWPerK: 0.3, wallUaWetWPerK: 2.5, wallUaOutWPerK: 0.6 },
      ambientK,
    );
  const highHose = hose('high-side hose', build.highHoseVolumeM3);
  const lowHose = hose('low-side hose', build.lowHoseVolumeM3);
  const manifold = makeNode(
    {
      name: 'manifold',
      volumeM3: build.manifoldVolumeM3,
      wallJPerK: 400,
      wallUaDryWPerK: 0.3,
      wallUaWetWPerK: 3,
      wallUaOutWPerK: 0.5,
    },
    ambientK,
  );
  const separator = makeNode(
    {
      name: 'oil separator',
      volumeM3: 0.4e-3,
      wallJPerK: 700,
      wallUaDryWPerK: 1,
      wallUaWetWPerK: 10,
      wallUaOutWPerK: 0.8,
      filmUaWPerK: FILM_UA_W_PER_K,
    },
    ambientK,
  );
  const condenser = makeNode(
    {
      name: 'recovery condenser',
      volumeM3: COIL_M3,
      wallJPerK: 800,
      wallUaDryWPerK: 60,
      wallUaWetWPerK: COIL_INSIDE_W_PER_K,
      wallUaOutWPerK: outsideWPerK(COIL_UA_FAN_W_PER_K),
      filmUaWPerK: FILM_UA_W_PER_K,
    },
    ambientK,
  );
  const tank = makeNode(
    {
      name: 'tank',
      volumeM3: tankSpec.waterCapacityM3,
      wallJPerK: 5_700,
      wallUaDryWPerK: 10,
      wallUaWetWPerK: 120,
      wallUaOutWPerK: 3,
      filmUaWPerK: FILM_UA_W_PER_K,
    },
    ambientK,
  );
  tank.wallK = tankSpec.temperatureK;
  equilibrium.fill(tank, tankSpec.temperatureK, { refrigerantKg: tankSpec.contentKg, airKg: tankSpec.airKg });
  const condensingPa = 0.9 * equilibrium.saturationAt(ambientK).pressurePa;
  for (const node of [highHose, lowHose, manifold, separator]) {
    fillToPressure(node, equilibrium, ambientK, Math.min(LEFT_FROM_LAST_JOB_PA, condensingPa));
  }
  fillToPressure(condenser, equilibrium, ambientK, Math.min(tank.saturationPa, condensingPa));
  return {
    highHose,
    lowHose,
    manifold,
    separator,
    condenser,
    tank,
    nodes: [highHose, lowHose, manifold, separator, condenser, tank],
  };
}

/** Vapour alone at a pressure below saturation, found by secant on the mass. */
function fillToPressure(
  node: Node,
  equilibrium: Equilibrium,
  temperatureK: number,
  pressurePa: number,
): void {
  const gasConstant = equilibrium.tables.fluid.gasConstantJPerKgK;
  let massKg = (pressurePa * node.volumeM3) / (gasConstant * temperatureK);
  equilibrium.fill(node, temperatureK, { refrigerantKg: massKg });
  for (let i = 0; i < 20 && massKg > 0; i++) {
    massKg *= pressurePa / node.pressurePa;
    equilibrium.fill(node, temperatureK, { refrigerantKg: massKg });
  }
}

/** What remains for fins and air of a conductance that has the inside in series. */
const outsideWPerK = (wholeWPerK: number): number => 1 / (1 / wholeWPerK - 1 / COIL_INSIDE_W_PER_K);

/**
 * Sets what the coil gives to the air. Drowned tubes only cool liquid that is cold already: they do not condense, and so
 * the pressure rises until the coil empties into the tank.
 */
export function setCoil({ condenser }: Machine, fanTurns: boolean): void {
  const condensing = Math.max(0, 1 - condenser.liquidFraction);
  condenser.wallUaOutWPerK = outsideWPerK(
    condensing * (fanTurns ? COIL_UA_FAN_W_PER_K : COIL_UA_STILL_W_PER_K),
  );
}
