// The vehicle's side: high side, low side, and the vessel in which liquid collects.
import {
  areaOfBore,
  type Compressor,
  type Edge,
  makeEdge,
  type Port,
  type Restriction,
  SHARP_EDGE,
} from '../network/edge.ts';
import type { Equilibrium } from '../network/equilibrium.ts';
import type { Holds } from '../network/network.ts';
import { makeNode, type Node } from '../network/node.ts';
import type { VehicleSpec } from '../spec.ts';
import { fillVehicle } from './contents.ts';
import { expansionAreaM2 } from './expansion.ts';

/** What the hoses are put on. */
export type Source = {
  readonly high: Node;
  readonly low: Node;
  /** Where its ports sit. */
  readonly outlet: Port;
  readonly nodes: readonly Node[];
  readonly edges: readonly Edge[];
  /** Oil and moisture in the nodes. */
  readonly holds: Holds;
};

export type Vehicle = Source & {
  /** Accumulator of an orifice-tube system, receiver-drier of an expansion-valve system. */
  readonly vessel: Node;
  readonly circuit: Circuit;
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
      /** Liquid that leaves the accumulator with the vapour: bleed hole, foam and droplets. */
      readonly carryOver: Edge;
    }
  | { readonly kind: 'expansion-valve'; readonly liquidPipe: Edge }
);

/**
 * Shares of the internal volume (estimates from 0.6 L condenser, 0.17 L liquid and discharge lines, 0.6 L evaporator,
 * 0.45 L suction line and compressor, 1.0 L accumulator or 0.3 L receiver).
 */
export const VOLUME_SHARES = {
  'orifice-tube': { high: 0.27, low: 0.37, vessel: 0.36 },
  'expansion-valve': { high: 0.36, low: 0.5, vessel: 0.14 },
} as const;

/** Bores (estimates): the bleed of an expansion valve at rest, the leak within a compressor, pipes. */
const VALVE_BLEED_BORE_M = 0.3e-3;
const COMPRESSOR_LEAK_BORE_M = 0.35e-3;
const PIPE_BORE_M = 10e-3;
/**
 * An evaporator's passes trap liquid up to the first of these shares of the low side's volume, and let all go that is
 * beyond the second; it runs down to the accumulator, 8 cm below, 15 g/s at most (estimates). So it is with the
 * compressor running, and so liquid that came through the orifice tube at rest finds its way.
 */
const SPILL = {
  mouthA: { dryAt: 0.21, uncoversAt: 0.27 },
  headPa: 1000,
} as const;
const SPILL_BORE_M = 4e-3;
/** From the bottom of the condenser up to the orifice tube: 30 cm of liquid (estimate). */
const LIQUID_LINE_RISE_PA = 3500;

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
/** Vapour at rest on the whole inside of an exchanger: 0.4 m² at 1 kW/(m²·K), a condensing film's low end (estimate). */
const CONDENSING_W_PER_K = 400;
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
      wallUaCondensingWPerK: CONDENSING_W_PER_K,
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
      wallUaCondensingWPerK: CONDENSING_W_PER_K,
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
  return {
    high,
    low,
    vessel,
    outlet: 'vapour',
    nodes,
    holds,
    ...vehiclePaths(spec, equilibrium, high, low, vessel),
  };
}

/** The vessel sits in the suction line behind the evaporator, or in the liquid line before the expansion valve. */
function vehiclePaths(
  spec: VehicleSpec,
  equilibrium: Equilibrium,
  high: Node,
  low: Node,
  vessel: Node,
): { circuit: Circuit; edges: readonly Edge[] } {
  const expansionM2 = expansionAreaM2(spec.expansionDevice, equilibrium);
  if (spec.expansionDevice === 'orifice-tube') {
    const expansion = path('orifice tube', high, 'liquid', low, expansionM2, {
      headPa: -LIQUID_LINE_RISE_PA,
    });
    const compressor = driven('vehicle compressor', vessel, 'vapour', high);
    const carryOver = driven('liquid in the suction', vessel, 'liquid', high);
    return {
      circuit: {
        kind: 'orifice-tube',
        compressor,
        expansion,
        expansionAtRest: 1,
        suction: vessel,
        carryOver,
      },
      edges: [
        expansion,
        path('suction pipe', low, 'vapour', vessel, bore(PIPE_BORE_M)),
        path('compressor leak', high, 'vapour', vessel, bore(COMPRESSOR_LEAK_BORE_M)),
        path('evaporator spill', low, 'liquid', vessel, bore(SPILL_BORE_M), SPILL),
        compressor,
        carryOver,
      ],
    };
  }
  const liquidPipe = path('liquid pipe', high, 'liquid', vessel, bore(PIPE_BORE_M));
  const expansionAtRest = bore(VALVE_BLEED_BORE_M) / expansionM2;
  const expansion = {
    ...path('expansion valve', vessel, 'liquid', low, expansionM2),
    opening: expansionAtRest,
  };
  const compressor = driven('vehicle compressor', low, 'vapour', high);
  return {
    circuit: { kind: 'expansion-valve', compressor, expansion, expansionAtRest, suction: low, liquidPipe },
    edges: [
      liquidPipe,
      expansion,
      path('compressor leak', high, 'vapour', low, bore(COMPRESSOR_LEAK_BORE_M)),
      compressor,
    ],
  };
}

const bore = (boreM: number): number => areaOfBore(boreM, SHARP_EDGE);

const path = (
  name: string,
  a: Node,
  portA: Port,
  b: Node,
  areaM2: number,
  more: Partial<Restriction> = {},
): Edge =>
  makeEdge({
    kind: 'restriction',
    name,
    a,
    b,
    portA,
    portB: 'vapour',
    areaM2,
    opening: 1,
    ...more,
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
