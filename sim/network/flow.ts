// Mass flow through an edge and its slopes in the two pressures.
import { AIR, airViscosityPaS } from '../fluids/air.ts';
import { WATER_VAPOUR, waterVapourViscosityPaS } from '../fluids/water.ts';
import type { Compressor, Edge, Restriction, Tube, VacuumPump } from './edge.ts';
import { AIR_VISCOSITY_PA_S } from './edge.ts';
import type { Node } from './node.ts';
import { liquidShare, takeStream } from './stream.ts';

/**
 * Choking pressure ratios x_T of the expansion Y = 1 − x/(3 x_T) of IEC 60534-2-1, chosen so that the choked flow is that
 * of an ideal nozzle: 0.628·√(p·ρ)·A for thin refrigerant vapour, 0.685 for air (γ = 1.4), 0.673 for steam (γ = 1.33).
 * Dense vapour chokes earlier: x_T falls with 1 − Z by the two figures behind the first, fitted to isentropic nozzles of
 * both refrigerants from −40 to 80 °C up to saturation (largest error of the flow 1.5 %).
 */
const CHOKING_REFRIGERANT = [0.444, 0.315, 0.46] as const;
const CHOKING_AIR = 0.527;
const CHOKING_WATER = 0.509;
/** A liquid keeps to √Δp almost up to its limit; a gas bends all the way: exponent of x/x_T in Y. */
const BEND_OF_LIQUID = 4;
/** Liquid recovery factor F_L² of IEC 60534-2-1 for a small valve (typical table value 0.9). */
export const LIQUID_RECOVERY = 0.81;
/** Pressure difference, relative and absolute, below which √Δp is rounded off to a straight line. */
const ROUNDING = 1e-3;
const ROUNDING_PA = 0.05;

/**
 * A spring lets its valve open by degrees: fully at this share of its pressure beyond it, and this much more. Without it
 * a check valve between small volumes would beat, shut in one step and wide open in the next.
 */
const LIFT_SHARE = 0.2;
const LIFT_PA = 2_000;

/** The surroundings of the flow calculation: what does not belong to one edge. */
export type FlowContext = {
  /** Of the refrigerant. */
  readonly gasConstantJPerKgK: number;
  readonly criticalPa: number;
  readonly vapourViscosityPaS: (temperatureK: number) => number;
};

/** Flow and slopes at the pressures of the start of the step. */
export function evaluateFlow(edge: Edge, context: FlowContext): void {
  edge.turned = false;
  if (edge.kind === 'restriction') throughRestriction(edge, edge.a.pressurePa, edge.b.pressurePa, context);
  else if (edge.kind === 'compressor') throughCompressor(edge);
  else throughPump(edge);
}

/**
 * Where the pressures change places within a step, the other end gives the stream: from then on the flow follows the
 * chord from rest to these pressures, which are those expected at the end. Answers whether it may; check valves and drains do not.
 */
export function turnRound(edge: Edge, aPa: number, bPa: number, context: FlowContext): boolean {
  if (edge.kind !== 'restriction' || edge.checkPa !== undefined || edge.headPa > 0) return false;
  if (edge.forward ? aPa >= bPa : aPa <= bPa) return false;
  throughRestriction(edge, aPa, bPa, context);
  const chord = edge.flowKgPerS / (aPa - bPa);
  edge.flowKgPerS = chord * (edge.a.pressurePa - edge.b.pressurePa);
  edge.slopeA = chord;
  edge.slopeB = chord;
  edge.turned = true;
  return true;
}

/** What the liquid over the mouth of a weighs on its way to b; nothing more once it stands in b as well. */
function weightPa({ headPa, a, portA, mouthA, b, portB, mouthB }: Edge): number {
  const standing = liquidShare(a, portA, mouthA);
  return standing === 0 ? 0 : headPa * standing * (1 - liquidShare(b, portB, mouthB));
}

function passes(edge: Restriction & Edge, differencePa: number, weight: number): boolean {
  if (edge.checkPa !== undefined) return edge.forward && differencePa > 0;
  if (edge.headPa > 0) return edge.forward && weight > 0;
  return differencePa >= 0;
}

function throughRestriction(edge: Restriction & Edge, aPa: number, bPa: number, context: FlowContext): void {
  const weight = edge.headPa === 0 ? 0 : weightPa(edge);
  // Liquid that falls drives, and only liquid takes that way; liquid that has to rise holds itself back.
  edge.forward = aPa + Math.max(0, weight) >= bPa;
  const up = edge.forward ? edge.a : edge.b;
  const upPa = edge.forward ? aPa : bPa;
  const downPa = edge.forward ? bPa : aPa;
  const differencePa = upPa - downPa - (edge.checkPa ?? 0) + (edge.forward ? weight : 0);
  if (upPa <= 0 || !passes(edge, differencePa, weight)) {
    setFlow(edge, 0, 0, 0, 0);
    return;
  }
  const port = edge.forward ? edge.portA : edge.portB;
  const mouth = edge.forward ? edge.mouthA : edge.mouthB;
  const liquid = takeStream(edge, up, port, mouth);
  // A node in which there is nothing gives nothing, whatever pressure is expected in it at the end of the step.
  if (!(edge.streamDensity > 0)) {
    setFlow(edge, 0, 0, 0, 0);
    return;
  }

  const perUp = 1 / upPa;
  const choking = chokingRatio(up, upPa, liquid, context);
  const x = Math.min(differencePa * perUp, choking);
  const rounding = ROUNDING + ROUNDING_PA * perUp;
  const square = x * x + rounding * rounding;
  const root = Math.sqrt(Math.sqrt(square));
  const bend = 1 + liquid * (BEND_OF_LIQUID - 1);
  const perChoking = 1 / choking;
  const reached = x * perChoking;
  const near = liquid === 0 ? reached : reached ** bend;
  const share = near / (2 * bend + 1);
  const expansion = 1 - share;
  const scale = edge.areaM2 * edge.opening * Math.sqrt(2 * edge.streamDensity * upPa);
  const perRoot = scale / root;
  const orifice = perRoot * x * expansion;
  const orificeTangent = perRoot * perUp * (expansion - bend * share - (0.5 * expansion * x * x) / square);

  const resistance =
    edge.tube === undefined ? 0 : tubeResistance(edge.tube, edge, up, upPa, downPa, liquid, context);
  if (edge.checkPa !== undefined && resistance === 0) {
    const spanPa = LIFT_SHARE * edge.checkPa + LIFT_PA;
    const lift = Math.min(1, differencePa / spanPa);
    const flow = lift * orifice;
    const tangent = lift * Math.max(0, orificeTangent) + (lift < 1 ? orifice / spanPa : 0);
    setFlow(edge, flow, tangent, flow / differencePa, Math.max(0, flow * perUp - x * tangent));
    return;
  }
  if (resistance === 0 || differencePa <= 0) {
    const secant = differencePa > 0 ? ((1 - reached) * orifice) / differencePa : orificeTangent;
    setFlow(
      edge,
      orifice,
      Math.max(0, orificeTangent),
      secant,
      Math.max(0, orifice * perUp - x * orificeTangent),
    );
    return;
  }
  // Orifice and tube in series, Δp = R·F + Δp·(F/F_orifice)²: the tube rounds off the root physically.
  const quadratic = differencePa / (orifice * orifice);
  const flow =
    (2 * differencePa) / (resistance + Math.sqrt(resistance * resistance + 4 * quadratic * differencePa));
  const orificeShare = (flow * flow) / (orifice * orifice);
  const unchoked = Math.max(1e-6, 1 - reached * orificeShare);
  const tangent = 1 / (resistance + (2 * quadratic * flow) / unchoked);
  const secant = 1 / (resistance + (quadratic * flow) / unchoked);
  setFlow(edge, flow, tangent, secant, Math.max(0, flow * perUp - x * tangent));
}

function setFlow(edge: Edge, flow: number, tangent: number, secant: number, upstreamSlope: number): void {
  edge.flowKgPerS = edge.forward ? flow : -flow;
  edge.tangent = tangent;
  edge.secant = secant;
  edge.upstreamSlope = upstreamSlope;
}

/** F_F of IEC 60534-2-1: a liquid that flashes in the throat keeps this share of its vapour pressure there. */
export const flashRatio = (saturationPa: number, criticalPa: number): number =>
  0.96 - 0.28 * Math.sqrt(Math.min(1, saturationPa / criticalPa));

/**
 * Pressure ratio at which the flow no longer grows. A liquid near saturation flashes in the seat: IEC 60534-2-1 limits
 * its Δp to F_L²(p − F_F·p_sat); the factor makes the smooth curve end on that limit.
 */
function chokingRatio(up: Node, upPa: number, liquid: number, context: FlowContext): number {
  let gas = up.gasAir * CHOKING_AIR + up.gasWater * CHOKING_WATER;
  if (up.gasRefrigerant > 0) gas += up.gasRefrigerant * chokingOfRefrigerant(up, context.gasConstantJPerKgK);
  if (liquid === 0) return gas;
  const ratio = flashRatio(up.saturationPa, context.criticalPa);
  const flashing = LIQUID_RECOVERY * (upPa - ratio * Math.min(up.saturationPa, upPa));
  const onLimit = ((2 * BEND_OF_LIQUID + 1) / (2 * BEND_OF_LIQUID)) ** 2;
  return (1 - liquid) * gas + liquid * Math.max(0.05, (onLimit * flashing) / upPa);
}

function chokingOfRefrigerant(up: Node, gasConstantJPerKgK: number): number {
  const thin = CHOKING_REFRIGERANT[0];
  const first = CHOKING_REFRIGERANT[1];
  const second = CHOKING_REFRIGERANT[2];
  const density = up.gasDensityKgPerM3 * up.gasRefrigerant;
  const missing = 1 - up.saturationPa / (density * gasConstantJPerKgK * up.temperatureK);
  return thin * (1 - missing * (first + missing * second));
}

/**
 * Δp per kg/s of the tube alone. Gas counts as ideal: where a tube matters, its pressure is low. What carries liquid
 * has the density it has.
 */
function tubeResistance(
  tube: Tube,
  edge: Edge,
  up: Node,
  upPa: number,
  downPa: number,
  liquid: number,
  context: FlowContext,
): number {
  const meanPa = 0.5 * (upPa + downPa);
  const heavy = edge.streamRefrigerant;
  const moist = edge.streamWater;
  // By mass fraction: a rough mean, exact where one gas is alone, as it is nearly always.
  let viscosity = heavy * context.vapourViscosityPaS(up.temperatureK);
  if (edge.streamAir > 0) viscosity += edge.streamAir * airViscosityPaS(up.temperatureK);
  if (moist > 0) viscosity += moist * waterVapourViscosityPaS(up.temperatureK);
  const gasConstant =
    heavy * context.gasConstantJPerKgK +
    edge.streamAir * AIR.gasConstantJPerKgK +
    moist * WATER_VAPOUR.gasConstantJPerKgK;
  // Molecular flow goes with √(M_air/M).
  const lightness = Math.sqrt(gasConstant / AIR.gasConstantJPerKgK);
  const conductance =
    tube.laminarM3PerSPa * meanPa * (AIR_VISCOSITY_PA_S / viscosity) + tube.molecularM3PerS * lightness;
  const densityPerPa = liquid === 0 ? 1 / (gasConstant * up.temperatureK) : edge.streamDensity / upPa;
  return 1 / (conductance * densityPerPa);
}

/** Volumetric efficiency 1 + c − c·(p_d/p_s)^(1/n); nothing flows where it is negative. */
function throughCompressor(edge: Compressor & Edge): void {
  const suction = edge.a;
  const ratio = edge.b.pressurePa / Math.max(suction.pressurePa, 1);
  const n = edge.polytropicExponent;
  const reexpansion = edge.clearance * ratio ** (1 / n);
  const efficiency = 1 + edge.clearance - reexpansion;
  edge.forward = true;
  takeStream(edge, suction, edge.portA, edge.mouthA);
  if (efficiency <= 0 || suction.pressurePa <= 0) {
    setFlow(edge, 0, 0, 0, 0);
    return;
  }
  const drawn = edge.streamDensity * edge.sweptM3PerS * edge.opening;
  const flow = drawn * efficiency;
  const downstream = (drawn * reexpansion) / (n * edge.b.pressurePa);
  const upstream = flow / suction.pressurePa + (drawn * reexpansion) / (n * suction.pressurePa);
  edge.workJPerKg =
    ((n / (n - 1)) * (suction.pressurePa / edge.streamDensity) * (Math.max(1, ratio) ** ((n - 1) / n) - 1)) /
    edge.efficiency;
  setFlow(edge, flow, downstream, downstream, upstream - downstream);
}

/** Pumping speed S0·(1 − p_ult/p) behind a choked valve of conductance 0.628·A·√(p/ρ), in series. */
function throughPump(edge: VacuumPump & Edge): void {
  const inlet = edge.a;
  edge.forward = true;
  takeStream(edge, inlet, 'vapour', edge.mouthA);
  if (inlet.pressurePa <= edge.ultimatePa) {
    setFlow(edge, 0, 0, 0, 0);
    return;
  }
  const speed = edge.sweptM3PerS * (1 - edge.ultimatePa / inlet.pressurePa);
  const valve = 0.628 * edge.valveAreaM2 * edge.opening * Math.sqrt(inlet.pressurePa / edge.streamDensity);
  const flow = (edge.streamDensity * speed * valve) / (speed + valve);
  const growth = 1 + ((valve / (speed + valve)) * edge.ultimatePa) / (inlet.pressurePa - edge.ultimatePa);
  setFlow(edge, flow, 0, 0, (flow * growth) / inlet.pressurePa);
}
