// Where the liquid stands while the compressor turns: what lumped exchangers must be told about their own length.
//
// Validity: trends and ranges of a performance test at 20 to 45 °C, both refrigerants with either device. Not found here:
// superheat at the suction (as long as liquid lies in the evaporator its vapour is saturated), pressure drop along the
// exchangers, frost on the coil. From 40 °C with more than 60 % humidity any condenser here is too small.
import type { Equilibrium } from '../network/equilibrium.ts';
import { flashRatio } from '../network/flow.ts';
import type { Node } from '../network/node.ts';
import { DISSOLVED_DENSITY_KG_PER_M3 } from '../network/oil.ts';
import { freeLiquidFraction } from '../network/stream.ts';
import type { Circuit, Vehicle } from './vehicle.ts';

/**
 * Condenser and evaporator hold liquid because condensing and boiling take place along them. One lump each cannot know
 * that, so their outlets are throttled by how full they are (shares of volume, estimates):
 * the condenser lets its liquid go freely once it holds what it does at a right charge; below, the outlet carries bubbles
 * and passes less; above, its flooded end subcools the liquid, which then chokes later in an orifice.
 */
const CONDENSER_HOLDS = { 'orifice-tube': 0.36, 'expansion-valve': 0.32 } as const;
const BUBBLES_PASS = 0.25;
/** Subcooling: from this liquid on, 63 % of its most with so much more; and the share a pass behind a receiver reaches. */
const SUBCOOLS_FROM = 0.14;
const SUBCOOLING_SPAN = 0.2;
const SUBCOOLS_TO = 0.85;
const PASS_BEHIND_RECEIVER = 0.4;
/** Liquid beyond this takes condensing area away; at the second figure only the inlet is left. */
const FLOODS_FROM = 0.28;
const FLOODED_AT = 0.58;
const LEAST_CONDENSING = 0.1;
/** The evaporator is wetted all along with this; one with an orifice tube spills what is more. */
const EVAPORATOR_HOLDS = { 'orifice-tube': 0.24, 'expansion-valve': 0.15 } as const;
/** Oil bleed of an accumulator, share of the suction's volume that is liquid; foam and droplets above a level. */
const OIL_BLEED = 1e-4;
const FOAM_FROM = 0.1;
const FOAM_SPAN = 0.15;
const FOAM_SHARE = 20e-3;
/** Of the receiver, desiccant and filter leave this much to the liquid. */
const RECEIVER_HOLDS = 0.5;
const RECEIVER_SPAN = 0.1;
/** The liquid line as a share of the bare pipe's area: a few tenths of a bar at full flow. */
const LIQUID_LINE = 0.4;
/** An expansion valve moves at this speed, from shut with the evaporator a little overfilled to open with it starved by this share. */
const VALVE_TIME_S = 1.5;
const VALVE_SHUTS_AT = 1.15;
const VALVE_BAND = 0.3;

/** Never quite shut: a path that shuts and opens makes the network rewire itself. */
const AJAR = 1e-6;

const ramp = (x: number): number => (x <= 0 ? 0 : x >= 1 ? 1 : x * x * (3 - 2 * x));

const dissolvedShare = (node: Node): number => node.dissolvedKg / DISSOLVED_DENSITY_KG_PER_M3 / node.volumeM3;

/** Share of the volume that is liquid refrigerant, whether it lies free or in the oil. */
const filled = (node: Node): number => freeLiquidFraction(node) + dissolvedShare(node);

/** How far the free liquid wets the evaporator, above 1 when there is more than it takes. */
function wetting(circuit: Circuit, evaporator: Node): number {
  const holds = EVAPORATOR_HOLDS[circuit.kind];
  return freeLiquidFraction(evaporator) / Math.max(0.3 * holds, holds - dissolvedShare(evaporator));
}

/** Flow factor of the condenser's outlet below a full holdup. */
const outletShare = (liquidFraction: number): number =>
  BUBBLES_PASS + (1 - BUBBLES_PASS) * Math.min(1, liquidFraction / CONDENSER_HOLDS['orifice-tube']);

/**
 * Subcooling of the liquid on its way to the expansion device, K, as a share of the way from condensing to air
 * temperature: in the flooded end of the condenser, or in the pass behind the receiver as long as that holds liquid.
 */
function subcoolingK(vehicle: Vehicle, airK: number): number {
  const { circuit, high, vessel } = vehicle;
  const aboveK = Math.max(0, high.temperatureK - airK);
  if (circuit.kind === 'expansion-valve')
    return aboveK * PASS_BEHIND_RECEIVER * Math.min(1, freeLiquidFraction(vessel) / 0.1);
  const flooded = Math.max(0, filled(high) - SUBCOOLS_FROM);
  return aboveK * SUBCOOLS_TO * (1 - Math.exp(-flooded / SUBCOOLING_SPAN));
}

/**
 * A lump has one temperature and knows no subcooled end. The heat the liquid gives up there to the air is booked as
 * (negative) work on the expansion device, J/kg; and the answer is how much more a choked orifice passes: √ of the
 * differences at which liquid flashes, p − F_F·p_sat (IEC 60534-2-1), at the inlet's and at saturation temperature.
 */
export function subcool(vehicle: Vehicle, airK: number, equilibrium: Equilibrium): number {
  const { circuit, high } = vehicle;
  const coldK = high.temperatureK - subcoolingK(vehicle, airK);
  const warm = equilibrium.saturationAt(high.temperatureK).liquidEnthalpyJPerKg;
  const cold = equilibrium.saturationAt(coldK);
  circuit.expansion.workJPerKg = cold.liquidEnthalpyJPerKg - warm;
  const fullPa = high.saturationPa;
  const ratio = flashRatio(fullPa, equilibrium.tables.fluid.criticalPressurePa);
  const saturatedPa = Math.min(cold.pressurePa, fullPa);
  return Math.sqrt((high.pressurePa - ratio * saturatedPa) / (high.pressurePa - ratio * fullPa));
}

/** Share of the condenser that is not flooded, of that at a right charge. */
export function condensingShare(condenser: Node): number {
  const flooded = (filled(condenser) - FLOODS_FROM) / (FLOODED_AT - FLOODS_FROM);
  return 1 - (1 - LEAST_CONDENSING) * Math.min(1, Math.max(0, flooded));
}

/** Share of the evaporator that is wet. */
export const wettedShare = ({ circuit, low }: Vehicle): number => Math.min(1, wetting(circuit, low));

/** Sets the openings for the next moment; `passage` is 1, or what is left of a clogged expansion device. */
export function throttle(
  vehicle: Vehicle,
  stroke: number,
  gain: number,
  passage: number,
  durationS: number,
): void {
  const { circuit, high, low, vessel } = vehicle;
  const { expansion } = circuit;
  if (circuit.kind === 'orifice-tube') {
    expansion.opening = passage * outletShare(filled(high)) * gain;
    const foam = FOAM_SHARE * ramp((filled(vessel) - FOAM_FROM) / FOAM_SPAN);
    circuit.carryOver.opening = stroke * (OIL_BLEED + foam);
    return;
  }
  const room = 1 - ramp((filled(vessel) - RECEIVER_HOLDS) / RECEIVER_SPAN + 0.5);
  circuit.liquidPipe.opening =
    AJAR + LIQUID_LINE * room * ramp(filled(high) / CONDENSER_HOLDS['expansion-valve'] - 0.5);
  const wanted = ramp((VALVE_SHUTS_AT - wetting(circuit, low)) / VALVE_BAND);
  const least = circuit.expansionAtRest;
  const aim = least + (1 - least) * wanted;
  expansion.opening += (aim * passage - expansion.opening) * (1 - Math.exp(-durationS / VALVE_TIME_S));
}

/** Everything as it is with the compressor at rest. */
export function release(circuit: Circuit): void {
  circuit.expansion.opening = circuit.expansionAtRest;
  circuit.expansion.workJPerKg = 0;
  circuit.compressor.opening = 0;
  if (circuit.kind === 'orifice-tube') {
    circuit.carryOver.opening = 0;
  } else circuit.liquidPipe.opening = 1;
}
