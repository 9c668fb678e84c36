// The vehicle's side: high side, low side, and the vessel in which liquid collects.
import { areaOfBore, type Compressor, type Edge, makeEdge, type Port, SHARP_EDGE } from '../network/edge.ts';
import type { Equilibrium } from '../network/equilibrium.ts';
import type { Holds } from '../network/network.ts';
import { makeNode, type Node } from '../network/node.ts';
import type { VehicleSpec } from '../spec.ts';
import { fillVehicle } from './contents.ts';

export type Vehicle = {
  readonly high: Node;
  readonly low: Node;
  /** Accumulator of an orifice-tube system, receiver-drier of an expansion-valve system. */
  readonly vessel: Node;
  readonly nodes: readonly Node[];
  readonly edges: readonly Edge[];
  readonly circuit: Circuit;
  /** Oil and moisture in the nodes. */
  readonly holds: Holds;
};

/** The paths whose opening changes once the compressor turns. */
export type Circuit = {
  readonly compressor: Edge;
  /** A subcooled liquid opens an orifice beyond 1: it passes more than the saturated liquid of the node would. */
  readonly expansion: Edge;
  /** Opening of the expansion device at rest. */
  readonly expansionAtRest: number;
  /** Where the compressor draws from. */
  readonly suction: Node;
} & (
  | {
      readonly kind: 'orifice-tube';
      /** Liquid that leaves the evaporator with the vapour. */
      readonly overflow: Edge;
      /** Liquid that leaves the accumulator with the vapour: bleed hole, foam and droplets. */
      readonly carryOver: Edge;
    }
  | { readonly kind: 'expansion-valve'; readonly liquidPipe: Edge }
);

/**
 * Shares of the internal volume (estimates from 0.6 L condenser, 0.17 L liquid and discharge lines, 0.6 L evaporator,
 * 0.45 L suction line and compressor, 1.0 L accumulator or 0.3 L receiver).
 */
const VOLUME_SHARES = {
  'orifice-tube': { high: 0.27, low: 0.37, vessel: 0.36 },
  'expansion-valve': { high: 0.36, low: 0.5, vessel: 0.14 },
} as const;

/** Bores (estimates): a fixed orifice, an expansion valve fully open and its bleed at rest, the leak within a compressor. */
const EXPANSION_BORE_M = { 'orifice-tube': 1.7e-3, 'expansion-valve': 2.2e-3 } as const;
const VALVE_BLEED_BORE_M = 0.3e-3;
const COMPRESSOR_LEAK_BORE_M = 0.35e-3;
const PIPE_BORE_M = 10e-3;
const OVERFLOW_BORE_M = 4e-3;

/**
 * 150 cm³ belt-driven at 1,800 rpm, fast idle; clearance, exponent and efficiency as of a piston compressor of this
 * class (estimates).
 */
const COMPRESSOR = {
  sweptM3PerS: 150e-6 * 30,
  clearance: 0.08,
  polytropicExponent: 1.1,
  efficiency: 0.7,
} as const;

/** Metal of condenser and lines, of evaporator, suction line and compressor (aluminium, estimates), J/K. */
const HIGH_WALL_J_PER_K = 2600;
const LOW_WALL_J_PER_K = 2200;
/** From a wall to the water on it (estimates: 0.3 to 2 W/K). */
const FILM_UA_W_PER_K = { high: 0.5, low: 1, vessel: 0.5 } as const;

export function makeVehicle(spec: VehicleSpec, equilibrium: Equilibrium, ambientK: number): Vehicle {
  const shares = VOLUME_SHARES[spec.expansionDevice];
  const high = makeNode(
    {
      name: 'vehicle high side',
      volumeM3: spec.volumeM3 * shares.high,
      wallJPerK: HIGH_WALL_J_PER_K,
      wallUaDryWPerK: 8,
      wallUaWetWPerK: 60,
      wallUaOutWPerK: 12,
      filmUaWPerK: FILM_UA_W_PER_K.high,
    },
    ambientK,
  );
  const low = makeNode(
    {
      name: 'vehicle low side',
      volumeM3: spec.volumeM3 * shares.low,
      wallJPerK: LOW_WALL_J_PER_K,
      wallUaDryWPerK: 8,
      wallUaWetWPerK: 60,
      wallUaOutWPerK: 5,
      filmUaWPerK: FILM_UA_W_PER_K.low,
    },
    ambientK,
  );
  const vessel = makeNode(
    {
      name: spec.expansionDevice === 'orifice-tube' ? 'accumulator' : 'receiver',
      volumeM3: spec.volumeM3 * shares.vessel,
      contactMetalJPerK: spec.accumulatorHeatCapacityJPerK,
      contactUaWPerK: spec.accumulatorUaWPerK,
      filmUaWPerK: FILM_UA_W_PER_K.vessel,
    },
    ambientK,
  );
  const nodes = [high, low, vessel];
  const holds = fillVehicle({ high, low, vessel }, spec, equilibrium);
  return { high, low, vessel, nodes, holds, ...vehiclePaths(spec, high, low, vessel) };
}

/** The vessel sits in the suction line behind the evaporator, or in the liquid line before the expansion valve. */
function vehiclePaths(
  spec: VehicleSpec,
  high: Node,
  low: Node,
  vessel: Node,
): { circuit: Circuit; edges: readonly Edge[] } {
  const boreM = EXPANSION_BORE_M[spec.expansionDevice];
  if (spec.expansionDevice === 'orifice-tube') {
    const expansion = path('orifice tube', high, 'liquid', low, boreM);
    const overflow = { ...path('evaporator overflow', low, 'liquid', vessel, OVERFLOW_BORE_M), opening: 0 };
    const compressor = driven('vehicle compressor', vessel, 'vapour', high);
    const carryOver = driven('liquid in the suction', vessel, 'liquid', high);
    return {
      circuit: {
        kind: 'orifice-tube',
        compressor,
        expansion,
        expansionAtRest: 1,
        suction: vessel,
        overflow,
        carryOver,
      },
      edges: [
        expansion,
        path('suction pipe', low, 'vapour', vessel, PIPE_BORE_M),
        path('compressor leak', high, 'vapour', vessel, COMPRESSOR_LEAK_BORE_M),
        overflow,
        compressor,
        carryOver,
      ],
    };
  }
  const liquidPipe = path('liquid pipe', high, 'liquid', vessel, PIPE_BORE_M);
  const expansionAtRest = (VALVE_BLEED_BORE_M / boreM) ** 2;
  const expansion = {
    ...path('expansion valve', vessel, 'liquid', low, boreM),
    opening: expansionAtRest,
  };
  const compressor = driven('vehicle compressor', low, 'vapour', high);
  return {
    circuit: { kind: 'expansion-valve', compressor, expansion, expansionAtRest, suction: low, liquidPipe },
    edges: [
      liquidPipe,
      expansion,
      path('compressor leak', high, 'vapour', low, COMPRESSOR_LEAK_BORE_M),
      compressor,
    ],
  };
}

const path = (name: string, a: Node, portA: Port, b: Node, boreM: number): Edge =>
  makeEdge({
    kind: 'restriction',
    name,
    a,
    b,
    portA,
    portB: 'vapour',
    areaM2: areaOfBore(boreM, SHARP_EDGE),
    opening: 1,
  });

const driven = (name: string, a: Node, portA: Port, b: Node): Edge => {
  const form: Compressor = {
    kind: 'compressor',
    name,
    a,
    b,
    portA,
    portB: 'vapour',
    ...COMPRESSOR,
    opening: 0,
  };
  return makeEdge(form);
};
