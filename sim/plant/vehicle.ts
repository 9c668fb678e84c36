// The vehicle's side: high side, low side, and the vessel in which liquid collects.
import { areaOfBore, type Edge, makeEdge, type Port } from '../network/edge.ts';
import type { Equilibrium } from '../network/equilibrium.ts';
import { makeNode, type Node } from '../network/node.ts';
import type { VehicleSpec } from '../spec.ts';

export type Vehicle = {
  readonly high: Node;
  readonly low: Node;
  /** Accumulator of an orifice-tube system, receiver-drier of an expansion-valve system. */
  readonly vessel: Node;
  readonly nodes: readonly Node[];
  readonly edges: readonly Edge[];
};

/**
 * Shares of the internal volume (estimates from 0.6 L condenser, 0.17 L liquid and discharge lines, 0.6 L evaporator,
 * 0.45 L suction line and compressor, 1.0 L accumulator or 0.3 L receiver).
 */
const VOLUME_SHARES = {
  'orifice-tube': { high: 0.27, low: 0.37, vessel: 0.36 },
  'expansion-valve': { high: 0.36, low: 0.5, vessel: 0.14 },
} as const;

/** Bores at rest (estimates): a fixed orifice is open, an expansion valve nearly shut, a compressor leaks within. */
const EXPANSION_BORE_M = { 'orifice-tube': 1.5e-3, 'expansion-valve': 0.3e-3 } as const;
const COMPRESSOR_LEAK_BORE_M = 0.35e-3;
const PIPE_BORE_M = 10e-3;
const DISCHARGE_COEFFICIENT = 0.7;

/** Metal of condenser and lines, of evaporator, suction line and compressor (aluminium, estimates), J/K. */
const HIGH_WALL_J_PER_K = 2600;
const LOW_WALL_J_PER_K = 2200;
/** The vessel may be filled this far with liquid before the rest stands in the exchangers. */
const VESSEL_FILL = 0.85;

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
    },
    ambientK,
  );
  const vessel = makeNode(
    {
      name: spec.expansionDevice === 'orifice-tube' ? 'accumulator' : 'receiver',
      volumeM3: spec.volumeM3 * shares.vessel,
      contactMetalJPerK: spec.accumulatorHeatCapacityJPerK,
      contactUaWPerK: spec.accumulatorUaWPerK,
    },
    ambientK,
  );
  const nodes = [high, low, vessel];
  fillVehicle(nodes, vessel, spec, equilibrium);
  return { high, low, vessel, nodes, edges: vehiclePaths(spec, high, low, vessel) };
}

/** The vessel sits in the suction line behind the evaporator, or in the liquid line before the expansion valve. */
function vehiclePaths(spec: VehicleSpec, high: Node, low: Node, vessel: Node): readonly Edge[] {
  const path = (name: string, a: Node, portA: Port, b: Node, boreM: number) =>
    makeEdge({
      kind: 'restriction',
      name,
      a,
      b,
      portA,
      portB: 'vapour',
      areaM2: areaOfBore(boreM, DISCHARGE_COEFFICIENT),
      opening: 1,
    });
  const expansion = EXPANSION_BORE_M[spec.expansionDevice];
  if (spec.expansionDevice === 'orifice-tube') {
    return [
      path('orifice tube', high, 'liquid', low, expansion),
      path('suction pipe', low, 'vapour', vessel, PIPE_BORE_M),
      path('compressor leak', high, 'vapour', vessel, COMPRESSOR_LEAK_BORE_M),
    ];
  }
  return [
    path('liquid pipe', high, 'liquid', vessel, PIPE_BORE_M),
    path('expansion valve', vessel, 'liquid', low, expansion),
    path('compressor leak', high, 'vapour', low, COMPRESSOR_LEAK_BORE_M),
  ];
}

/** Everything at one temperature: liquid in the vessel first, what does not fit there in the exchangers. */
function fillVehicle(
  nodes: readonly Node[],
  vessel: Node,
  spec: VehicleSpec,
  equilibrium: Equilibrium,
): void {
  const volumeM3 = nodes.reduce((sum, node) => sum + node.volumeM3, 0);
  const { liquidDensityKgPerM3, vapourDensityKgPerM3 } = equilibrium.saturationAt(spec.temperatureK);
  const gain = liquidDensityKgPerM3 - vapourDensityKgPerM3;
  const liquidM3 = Math.max(0, (spec.chargeKg - vapourDensityKgPerM3 * volumeM3) / gain);
  const inVesselM3 = Math.min(liquidM3, VESSEL_FILL * vessel.volumeM3);
  const restShare = (liquidM3 - inVesselM3) / (volumeM3 - vessel.volumeM3);
  const vapourDensity = liquidM3 > 0 ? vapourDensityKgPerM3 : spec.chargeKg / volumeM3;
  for (const node of nodes) {
    const nodeLiquidM3 = node === vessel ? inVesselM3 : restShare * node.volumeM3;
    node.wallK = spec.temperatureK;
    equilibrium.fill(node, spec.temperatureK, {
      refrigerantKg: nodeLiquidM3 * gain + vapourDensity * node.volumeM3,
      airKg: (spec.airKg * node.volumeM3) / volumeM3,
    });
  }
}
