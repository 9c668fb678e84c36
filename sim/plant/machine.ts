// The machine's side: hoses, manifold, recovery block, vacuum pump and tank, with the paths between them.
import {
  areaOfBore,
  areaOfKv,
  areasInSeries,
  makeEdge,
  type Port,
  type Tube,
  tubeOf,
} from '../network/edge.ts';
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

/** Flow coefficients of the valves, m³/h (estimates: 2.5 mm direct-acting seats, a wide one ahead of the pump). */
const SERVICE_VALVE_KV = 0.16;
const RECOVERY_VALVE_KV = 0.3;
const CHARGE_VALVE_KV = 0.1;
const VACUUM_VALVE_KV = 1.0;
/** Filter-drier, check valve and tank valve in the delivery line. */
const DELIVERY_KV = 0.25;
/** Valve core and coupler depressor as one orifice (estimate). */
const COUPLER_BORE_M = 2.2e-3;
/** Turbulent friction of half a service hose, as about four velocity heads (f·L/2D at f ≈ 0.02). */
const HALF_HOSE_VELOCITY_HEADS = 4;
/** A pump at rest lets this much through its clearances (estimate). */
const PUMP_CLEARANCE_BORE_M = 0.5e-3;
/**
 * Spring reliefs from every segment that can trap liquid, back to the tank: above the hottest vehicle's pressure over a
 * cold tank, below what hoses and fittings stand (estimate).
 */
const RELIEF_PA = 2_200_000;
const RELIEF_KV = 0.05;

/** What the last job left in hoses, manifold and separator: vapour of the tank's refrigerant. */
const LEFT_FROM_LAST_JOB_PA = 60_000;

/** Conductances of the machine's condenser coil to the air, fan running and fan stopped (estimates), W/K. */
const COIL_UA_FAN_W_PER_K = 40;
const COIL_UA_STILL_W_PER_K = 6;

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
    },
    ambientK,
  );
  const condenser = makeNode(
    {
      name: 'recovery condenser',
      volumeM3: 0.25e-3,
      wallJPerK: 800,
      wallUaDryWPerK: 60,
      wallUaWetWPerK: 120,
      wallUaOutWPerK: COIL_UA_FAN_W_PER_K,
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

export function setFan(machine: Machine, running: boolean): void {
  machine.condenser.wallUaOutWPerK = running ? COIL_UA_FAN_W_PER_K : COIL_UA_STILL_W_PER_K;
}

const path = (
  name: string,
  a: Node,
  b: Node,
  areaM2: number,
  more: { tube?: Tube; checkPa?: number; portA?: Port; portB?: Port; opening?: number } = {},
) =>
  makeEdge({ kind: 'restriction', name, a, b, portA: 'mixed', portB: 'mixed', areaM2, opening: 0, ...more });

/** Every path of the machine by name; couplers join the hoses to the vehicle's ports. */
export function makePaths(
  machine: Machine,
  build: Build,
  ports: { high: Node; low: Node },
  surroundings: Node,
) {
  const { highHose, lowHose, manifold, separator, condenser, tank } = machine;
  const boreArea = areaOfBore(build.hoseBoreM, 1);
  const halfHose = boreArea / Math.sqrt(HALF_HOSE_VELOCITY_HEADS);
  const halfTube = tubeOf(build.hoseBoreM, build.hoseLengthM / 2);
  const coupler = areasInSeries(areaOfBore(COUPLER_BORE_M, 0.7), halfHose);
  const service = areasInSeries(areaOfKv(SERVICE_VALVE_KV), halfHose);
  return {
    highCoupler: path('high-side coupler', ports.high, highHose, coupler, {
      tube: halfTube,
      portA: 'vapour',
    }),
    lowCoupler: path('low-side coupler', ports.low, lowHose, coupler, { tube: halfTube, portA: 'vapour' }),
    highSideValve: path('high-side valve', highHose, manifold, service, { tube: halfTube }),
    lowSideValve: path('low-side valve', lowHose, manifold, service, { tube: halfTube }),
    recoveryValve: path('recovery valve', manifold, separator, areaOfKv(RECOVERY_VALVE_KV), {
      portB: 'vapour',
    }),
    chargeValve: path('charge valve', tank, manifold, areaOfKv(CHARGE_VALVE_KV), { portA: 'liquid' }),
    delivery: path('delivery check valve', condenser, tank, areaOfKv(DELIVERY_KV), {
      portA: 'liquid',
      portB: 'vapour',
      checkPa: 5_000,
      opening: 1,
    }),
    compressor: makeEdge({
      kind: 'compressor',
      name: 'compressor',
      a: separator,
      b: condenser,
      portA: 'vapour',
      portB: 'mixed',
      sweptM3PerS: build.compressorSweptM3PerS,
      clearance: 0.05,
      polytropicExponent: 1.1,
      efficiency: 0.6,
      opening: 0,
    }),
    vacuumPump: makeEdge({
      kind: 'pump',
      name: 'vacuum pump',
      a: manifold,
      b: surroundings,
      portA: 'vapour',
      portB: 'mixed',
      sweptM3PerS: build.vacuumPumpM3PerS,
      ultimatePa: build.vacuumPumpUltimatePa,
      valveAreaM2: areaOfKv(VACUUM_VALVE_KV),
      opening: 0,
    }),
    restingPump: path('resting vacuum pump', manifold, surroundings, areaOfBore(PUMP_CLEARANCE_BORE_M, 0.7)),
    manifoldRelief: relief('manifold relief', manifold, tank),
    highHoseRelief: relief('high-side hose relief', highHose, tank),
    lowHoseRelief: relief('low-side hose relief', lowHose, tank),
  };
}

export type Paths = ReturnType<typeof makePaths>;

const relief = (name: string, from: Node, tank: Node) =>
  path(name, from, tank, areaOfKv(RELIEF_KV), { checkPa: RELIEF_PA, portB: 'vapour', opening: 1 });
