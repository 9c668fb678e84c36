// What an edge takes from its donor: liquid, gas or both, by where the port sits.
import { type Edge, IN_THE_SUMP, type Mouth, type Port } from './edge.ts';
import type { Node } from './node.ts';
import { oilVolumeM3 } from './oil.ts';

/** A port at the top carries liquid from this share of liquid up, all of it when full. */
const VAPOUR_PORT_FROM = 0.9;

const smooth = (x: number): number => (x <= 0 ? 0 : x >= 1 ? 1 : x * x * (3 - 2 * x));

/** Share of the volume that is liquid refrigerant lying free: oil and what it holds do not stream. */
export function freeLiquidFraction(node: Node): number {
  return node.oilKg === 0
    ? node.liquidFraction
    : Math.max(0, node.liquidFraction - oilVolumeM3(node) / node.volumeM3);
}

/** Share of the stream's volume that is liquid. */
export function liquidShare(donor: Node, port: Port, mouth: Mouth = IN_THE_SUMP): number {
  const { liquidFraction } = donor;
  if (liquidFraction === 0 || donor.liquidDensityKgPerM3 === 0) return 0;
  if (port === 'vapour') return smooth((liquidFraction - VAPOUR_PORT_FROM) / (1 - VAPOUR_PORT_FROM));
  if (port === 'liquid') {
    return smooth((freeLiquidFraction(donor) - mouth.dryAt) / (mouth.uncoversAt - mouth.dryAt));
  }
  return Math.min(1, liquidFraction);
}

/** Fills the stream of an edge from its donor and answers the share of its volume that is liquid. */
export function takeStream(edge: Edge, donor: Node, port: Port, mouth: Mouth): number {
  const share = liquidShare(donor, port, mouth);
  if (share === 0) {
    edge.streamDensity = donor.gasDensityKgPerM3;
    edge.streamRefrigerant = donor.gasRefrigerant;
    edge.streamAir = donor.gasAir;
    edge.streamWater = donor.gasWater;
    edge.streamEnthalpy = donor.gasEnthalpyJPerKg;
    edge.streamFollows = port === 'mixed' || donor.liquidDensityKgPerM3 === 0;
    return 0;
  }
  const gas = (1 - share) * donor.gasDensityKgPerM3;
  const liquid = share === 0 ? 0 : share * donor.liquidDensityKgPerM3;
  const density = gas + liquid;
  const gasMass = density > 0 ? gas / density : 1;
  edge.streamDensity = density;
  edge.streamRefrigerant = 1 - gasMass + gasMass * donor.gasRefrigerant;
  edge.streamAir = gasMass * donor.gasAir;
  edge.streamWater = gasMass * donor.gasWater;
  edge.streamEnthalpy = gasMass * donor.gasEnthalpyJPerKg + (1 - gasMass) * donor.liquidEnthalpyJPerKg;
  edge.streamFollows = port === 'mixed' || donor.liquidDensityKgPerM3 === 0;
  return share;
}
