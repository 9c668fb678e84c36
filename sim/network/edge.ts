// A path between two nodes: what it takes from its donor, and what resists the flow.
import type { Node } from './node.ts';

/**
 * Where a path leaves a node. `vapour` sits at the top and carries liquid only when the node is nearly full of it;
 * `liquid` sits at the bottom and carries vapour once the liquid is nearly gone; `mixed` carries what is there.
 */
export type Port = 'vapour' | 'liquid' | 'mixed';

/**
 * Where the mouth of a `liquid` port sits, in shares of the node's volume that lie as free liquid: from `uncoversAt` up
 * it takes liquid alone, from `dryAt` down gas alone. Other ports have no use for it.
 */
export type Mouth = { readonly dryAt: number; readonly uncoversAt: number };

/** A port in the lowest place of a small vessel (estimate). */
export const IN_THE_SUMP: Mouth = { dryAt: 0, uncoversAt: 0.02 };

/** Long-tube flow at low pressure: Q = K·p̄·Δp + Cm·Δp, both as for air; scaled to the gas that flows. */
export type Tube = { readonly laminarM3PerSPa: number; readonly molecularM3PerS: number };

type Ends = {
  readonly name: string;
  readonly a: Node;
  readonly b: Node;
  readonly portA: Port;
  readonly portB: Port;
  /** Left out: in the sump. */
  readonly mouthA?: Mouth;
  readonly mouthB?: Mouth;
};

/** An orifice, a valve or a tube, or both in series. Flow is positive from a to b. */
export type Restriction = Ends & {
  readonly kind: 'restriction';
  /** Effective area fully open, discharge coefficient included, m². */
  readonly areaM2: number;
  /** 0 shut … 1 open. */
  opening: number;
  readonly tube?: Tube | undefined;
  /**
   * What liquid weighs on its way from a down to b, Pa: a drain, which passes liquid alone. Negative where liquid has to
   * rise.
   */
  readonly headPa?: number;
  /** Lets flow pass from a to b only, once the difference exceeds this. */
  readonly checkPa?: number | undefined;
};

/** A reciprocating compressor drawing gas from a and delivering it to b. */
export type Compressor = Ends & {
  readonly kind: 'compressor';
  readonly sweptM3PerS: number;
  readonly clearance: number;
  readonly polytropicExponent: number;
  readonly efficiency: number;
  /** Share of the swept volume in use, 0 standing still … 1. */
  opening: number;
};

/** A rotary vacuum pump behind its valve, drawing from a and exhausting into b. */
export type VacuumPump = Ends & {
  readonly kind: 'pump';
  readonly sweptM3PerS: number;
  /** Rises with cold, wet or dirty oil. */
  ultimatePa: number;
  /** Effective area of the valve ahead of the pump. */
  readonly valveAreaM2: number;
  opening: number;
};

type EdgeForm = Restriction | Compressor | VacuumPump;

/** The solution of the running step and what has passed since the start. */
type EdgeState = {
  readonly mouthA: Mouth;
  readonly mouthB: Mouth;
  readonly headPa: number;
  /** What streams: per cubic metre and per kilogram. */
  streamDensity: number;
  streamEnthalpy: number;
  streamRefrigerant: number;
  streamAir: number;
  streamWater: number;
  /** Taken from gas alone: composition may follow the donor within a step. */
  streamFollows: boolean;
  /** Something flows, or would with the slightest difference. */
  moving: boolean;
  /** From a to b: which end was the donor when the flow was evaluated. */
  forward: boolean;
  /** The running step goes the other way than the flow was evaluated. */
  turned: boolean;
  /** Flow at the start of the step, positive from a to b. */
  flowKgPerS: number;
  /** ∂|flow|/∂Δp along the curve, and from here to rest: kg/(s·Pa). */
  tangent: number;
  secant: number;
  /** What ∂|flow|/∂p of the donor has beyond the tangent: a denser stream flows more. */
  upstreamSlope: number;
  /** Slopes of the mean flow in the pressures of a and b, fitted over the step. */
  slopeA: number;
  slopeB: number;
  /** Mean flow of the step, positive from a to b. */
  meanKgPerS: number;
  /** Work done on the gas, J/kg. */
  workJPerKg: number;
  /** What moved in the running step, from a to b; added to what has passed once the step is accepted. */
  movedRefrigerantKg: number;
  movedAirKg: number;
  movedWaterKg: number;
  movedWorkJ: number;
  passedRefrigerantKg: number;
  passedAirKg: number;
  passedWaterKg: number;
  passedWorkJ: number;
};

export type Edge = EdgeForm & EdgeState;

/** Not a whole number: the engine then keeps the fields as plain doubles from the start. */
const UNSET = 0.5;

/** State, and every figure that some form has; what a form leaves out is never read. */
const BLANK = {
  mouthA: IN_THE_SUMP,
  mouthB: IN_THE_SUMP,
  headPa: 0,
  streamDensity: UNSET,
  streamEnthalpy: UNSET,
  streamRefrigerant: UNSET,
  streamAir: UNSET,
  streamWater: UNSET,
  streamFollows: false,
  moving: false,
  forward: true,
  turned: false,
  flowKgPerS: UNSET,
  tangent: UNSET,
  secant: UNSET,
  upstreamSlope: UNSET,
  slopeA: UNSET,
  slopeB: UNSET,
  meanKgPerS: UNSET,
  workJPerKg: UNSET,
  movedRefrigerantKg: UNSET,
  movedAirKg: UNSET,
  movedWaterKg: UNSET,
  movedWorkJ: UNSET,
  passedRefrigerantKg: UNSET,
  passedAirKg: UNSET,
  passedWaterKg: UNSET,
  passedWorkJ: UNSET,
  opening: UNSET,
  areaM2: UNSET,
  sweptM3PerS: UNSET,
  clearance: UNSET,
  polytropicExponent: UNSET,
  efficiency: UNSET,
  ultimatePa: UNSET,
  valveAreaM2: UNSET,
  tube: undefined,
  checkPa: undefined,
};

/**
 * Every edge gets the same shape, whatever its kind and whatever its form leaves out: with a second shape the hot loops
 * are compiled anew in the middle of a job, when first a compressor or a pump turns.
 */
export function makeEdge<F extends EdgeForm>(form: F): F & EdgeState {
  const { kind, name, a, b, portA, portB } = form;
  const edge = { ...BLANK, kind, name, a, b, portA, portB };
  edge.workJPerKg = 0;
  edge.passedRefrigerantKg = 0;
  edge.passedAirKg = 0;
  edge.passedWaterKg = 0;
  edge.passedWorkJ = 0;
  return Object.assign(edge, form);
}

/** Effective area of a valve from its flow coefficient Kv (m³/h of water at 1 bar); Kv includes the discharge coefficient. */
export const areaOfKv = (kvM3PerH: number): number => kvM3PerH / 3600 / Math.sqrt((2 * 1e5) / 1000);

/** Discharge coefficient of sharp-edged orifices and open ends of pipes (estimate: 0.6 to 0.8). */
export const SHARP_EDGE = 0.7;

/** Effective area of an orifice from its bore. */
export const areaOfBore = (boreM: number, dischargeCoefficient: number): number =>
  (dischargeCoefficient * Math.PI * boreM * boreM) / 4;

/** Restrictions in series: resistances to the square of flow add. */
export const areasInSeries = (...areasM2: readonly number[]): number =>
  1 / Math.sqrt(areasM2.reduce((sum, area) => sum + 1 / (area * area), 0));

/**
 * Long tube of circular bore for air at room temperature: laminar (Poiseuille, 1.82e-5 Pa·s) and free-molecular
 * (12.1 d³/L in litre per second with centimetres, the vacuum handbook form). Their sum is adequate in transition.
 */
export function tubeOf(boreM: number, lengthM: number): Tube {
  const boreCm = boreM * 100;
  return {
    laminarM3PerSPa: (Math.PI * boreM ** 4) / (128 * AIR_VISCOSITY_PA_S * lengthM),
    molecularM3PerS: (12.1e-3 * boreCm ** 3) / (lengthM * 100),
  };
}

export const AIR_VISCOSITY_PA_S = 1.82e-5;
