// The air around the plant, and the ways by which a vehicle that is not tight meets it.
import { AIR } from '../fluids/air.ts';
import { humidityRatio } from '../fluids/moist-air.ts';
import { WATER_VAPOUR } from '../fluids/water.ts';
import type { Edge } from '../network/edge.ts';
import type { Equilibrium } from '../network/equilibrium.ts';
import { makeNode, type Node } from '../network/node.ts';
import type { VehicleSpec, WeatherSpec } from '../spec.ts';
import { makeHole, makeLeak } from './leak.ts';

/** Large enough that nothing the plant gives off changes the air around it. */
const SURROUNDINGS_M3 = 1e6;

/** Moist air: what comes in through a leak, a hose that is off or a pump at rest brings its water along. */
export function makeSurroundings(equilibrium: Equilibrium, weather: WeatherSpec): Node {
  const { ambientK, barometerPa, relativeHumidity } = weather;
  const ratio = humidityRatio(ambientK, relativeHumidity, barometerPa);
  const gasConstant = AIR.gasConstantJPerKgK + ratio * WATER_VAPOUR.gasConstantJPerKgK;
  const airKg = (barometerPa * SURROUNDINGS_M3) / (gasConstant * ambientK);
  const node = makeNode({ name: 'surroundings', volumeM3: SURROUNDINGS_M3 }, ambientK);
  equilibrium.fill(node, ambientK, { refrigerantKg: 0, airKg, waterKg: ratio * airKg });
  return node;
}

export function leaksOf(
  vehicle: VehicleSpec | undefined,
  high: Node,
  surroundings: Node,
  equilibrium: Equilibrium,
): readonly Edge[] {
  if (vehicle === undefined) return [];
  const { leakKgPerYear, holeDiameterM } = vehicle;
  return [
    ...(leakKgPerYear > 0 ? [makeLeak(leakKgPerYear, high, surroundings, equilibrium)] : []),
    ...(holeDiameterM > 0 ? [makeHole(holeDiameterM, high, surroundings)] : []),
  ];
}
