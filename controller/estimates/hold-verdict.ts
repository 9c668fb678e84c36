// What a hold says: tight, giving off gas, leaking, or nothing; from the shape of the rise and how it goes on.
import { ZERO_CELSIUS_K } from '../constants.ts';
import { type DecayFit, fitDecay } from './decay.ts';
import { type Line, lineThrough } from './line.ts';
import { isBarometric } from './pressures.ts';
import { TRIPLE_POINT_PA, WATER_READS, waterVapourPa } from './water.ts';

/** `leak`: this hold looks like one; whether it is one, the next hold tells. */
export type HoldVerdict = 'tight' | 'outgassing' | 'leak' | 'inconclusive';
/** What gives off the gas. */
export type HoldCause = 'oil' | 'water' | 'ice';

export type Watched = {
  readonly samplesPa: readonly number[];
  readonly intervalS: number;
  /** Finest step of the sensor. */
  readonly resolutionPa: number;
};

/**
 * How a rise goes on. A leak is straight. What oil gives off tires: its deepest part, which holds on for hours, loses
 * some 3 % of its slope in the seven and a half minutes between the two windows (the simulator's own figure).
 */
export type Course = 'straight' | 'tiring' | 'unsure';

export type Rise = {
  readonly fit: DecayFit;
  /** Of the later half; of all of it where nothing but noise was seen. */
  readonly slopePaPerS: number;
  readonly slopeSdPaPerS: number;
  /** The largest steady slope, and so the largest leak, that this rise leaves room for. */
  readonly mostPaPerS: number;
  /** Of a straight line through all of it. */
  readonly meanSlopePaPerS: number;
  readonly course: Course;
  /** Slope of the late window over that of the early one; 0 where there was no rise to speak of. */
  readonly keeps: number;
  /** Where it settles, if it was seen to; else where it has come to. */
  readonly plateauPa: number;
  readonly endPa: number;
};

const SIGMAS = 3;
const LATER = 1 / 2;
const EARLY = [1 / 6, 1 / 2] as const;
const LATE = [2 / 3, 1] as const;
/** Half-way between what a leak and what deep oil loses from the early to the late window (estimate, see `Course`). */
const TIRES_BY = 0.015;
/** One deviation of that loss beyond which a coarse sensor cannot tell the two. */
const UNSURE_BEYOND = 0.005;
/** An exponential with a longer time constant, in holds, was not seen to settle. */
const SETTLED_HOLDS = 0.5;

/** The rise that was watched, or nothing when there are too few samples for any. */
export function riseOf(watched: Watched): Rise | undefined {
  const { samplesPa, intervalS, resolutionPa } = watched;
  const fit = fitDecay(watched);
  if (fit === undefined) return undefined;
  const window = (from: number, to: number): Line =>
    lineThrough(
      samplesPa.slice(Math.floor(from * samplesPa.length), Math.floor(to * samplesPa.length)),
      intervalS,
      resolutionPa,
    );
  const line = window(fit.model === 'constant' ? 0 : LATER, 1);
  const settled = fit.tauS > 0 && fit.tauS < SETTLED_HOLDS * samplesPa.length * intervalS;
  return {
    fit,
    slopePaPerS: line.slopePerS,
    slopeSdPaPerS: line.slopeSdPerS,
    mostPaPerS: Math.max(0, line.slopePerS) + SIGMAS * line.slopeSdPerS,
    meanSlopePaPerS: window(0, 1).slopePerS,
    ...courseOf(window(...EARLY), window(...LATE)),
    plateauPa: settled ? Math.max(fit.plateauPa, line.end) : line.end,
    endPa: line.end,
  };
}

function courseOf(early: Line, late: Line): Pick<Rise, 'course' | 'keeps'> {
  if (early.slopePerS <= SIGMAS * early.slopeSdPerS) return { course: 'unsure', keeps: 0 };
  const keeps = late.slopePerS / early.slopePerS;
  const sd = Math.hypot(early.slopeSdPerS, late.slopeSdPerS) / early.slopePerS;
  const tires = 1 - keeps > TIRES_BY + (sd > UNSURE_BEYOND ? SIGMAS * sd : 0);
  return { course: tires ? 'tiring' : sd > UNSURE_BEYOND ? 'unsure' : 'straight', keeps };
}

export type HoldLimits = {
  /** A dry system stays below. */
  readonly limitPa: number;
  /** A slope below this proves nothing, however quiet the sensor. */
  readonly slopeFloorPaPerS: number;
  /** A rise that leaves room for more is no tight system, whatever it is. */
  readonly tightPaPerS: number;
  /** A hold that leaves room for more than this says nothing of leaks. */
  readonly worstSlopePaPerS: number;
  /** Faster than this no oil gives off gas once it has been evacuated. */
  readonly grossPaPerS: number;
  /** And this fast it may, where a coarse sensor cannot see whether the rise tires. */
  readonly oilPaPerS: number;
};

export type Circumstances = {
  readonly limits: HoldLimits;
  /** Nothing more is to be had by watching longer. */
  readonly final: boolean;
  /** The system was open: air and moisture have been in it, and no refrigerant need be in its oil. */
  readonly opened: boolean;
  readonly gas: GasSeen;
  readonly barometerPa: number | undefined;
  /** A flat pressure that is the vapour pressure of water at the coldest that this place may be. */
  readonly saturated: boolean;
};

/** A rise this large in an absolute sensor, in its own deviations, tells what gas a thermal one sees. */
const GAS_SIGMAS = 10;
/** Half-way between what refrigerant and water read, with a tenth for the gain; where nothing was open, better evidence. */
const WATER_FROM = { opened: 1.56, closed: 1.75 } as const;

/** What the rise consists of, as two different sensors see it. */
export type GasSeen = 'water' | 'other' | 'unknown';

/** Only rises are compared: the zero of the absolute sensor drops out. */
export function gasSeen(thermal: Rise | undefined, absolute: Rise | undefined, opened: boolean): GasSeen {
  if (thermal === undefined || absolute === undefined) return 'unknown';
  if (absolute.slopePaPerS < GAS_SIGMAS * absolute.slopeSdPaPerS) return 'unknown';
  const least = opened ? WATER_FROM.opened : WATER_FROM.closed;
  return thermal.slopePaPerS / absolute.slopePaPerS >= least ? 'water' : 'other';
}

/** Colder than the room by the cold of evaporation, or not: within this share of saturation a flat pressure is water's. */
const SATURATED = [0.8, 1.2] as const;

/** Whether a thermal reading may be water vapour in equilibrium with liquid or ice at this temperature. */
export function isSaturated(readPa: number, ambientK: number): boolean {
  const vapourPa = waterVapourPa(ambientK);
  return readPa > SATURATED[0] * vapourPa && readPa < SATURATED[1] * WATER_READS * vapourPa;
}

/** It has come, or will come, to a pressure that a dry system does not have. */
export const isHigh = (rise: Rise, { limits, gas, saturated }: Circumstances): boolean =>
  (saturated && gas !== 'other') || rise.plateauPa >= limits.limitPa;

/** What has filled up to the pressure of the air outside is open to it: a curve that levels off there is no outgassing. */
export const isVacuumLost = ({ endPa, plateauPa }: Rise, { barometerPa }: Circumstances): boolean =>
  isBarometric(endPa, barometerPa) || (isBarometric(plateauPa, barometerPa) && endPa > plateauPa / 2);

export function verdictOf(rise: Rise | undefined, at: Circumstances): HoldVerdict {
  if (rise === undefined) return 'inconclusive';
  if (isVacuumLost(rise, at)) return 'leak';
  const { limits, final, opened, gas } = at;
  const { slopePaPerS, mostPaPerS, course } = rise;
  const calm = isHigh(rise, at) ? 'outgassing' : 'tight';
  if (mostPaPerS <= limits.slopeFloorPaPerS) return calm;
  if (!final) return 'inconclusive';
  if (slopePaPerS < SIGMAS * rise.slopeSdPaPerS)
    return mostPaPerS > limits.worstSlopePaPerS ? 'inconclusive' : calm;
  const rising = mostPaPerS <= limits.tightPaPerS ? calm : 'outgassing';
  if (gas === 'water') return rising;
  if (course === 'straight' || isGross(rise, limits)) return 'leak';
  if (course === 'unsure' && slopePaPerS > (opened ? limits.worstSlopePaPerS : limits.oilPaPerS))
    return 'leak';
  return rising;
}

/**
 * Two successive holds agree: nothing that is given off keeps its slope through another evacuation, whatever this hold
 * looks like by itself. A leak of humid air tires in every hold, because a dry desiccant drinks from it.
 */
export function agrees(rise: Rise, beforePaPerS: number, least: number): boolean {
  return rise.slopePaPerS >= least * beforePaPerS - SIGMAS * Math.SQRT2 * rise.slopeSdPaPerS;
}

/** The slope is known to a fiftieth and better: another evacuation takes four times that from any oil. */
const SHARP = 0.02;
export const isSharp = ({ slopePaPerS, slopeSdPaPerS }: Rise): boolean =>
  SIGMAS * Math.SQRT2 * slopeSdPaPerS < SHARP * slopePaPerS;

/** Water that boils cold warms up in every hold alike, and loses a third and more of its slope in each (estimate). */
const HARDLY_TIRES = 0.85;

/** Whether a rise may be a leak though it is not straight: its slope is sharp, holds on, and is not that of water. */
export const mayBeLeak = (rise: Rise, gas: GasSeen): boolean =>
  gas !== 'water' && isSharp(rise) && rise.keeps > HARDLY_TIRES;

/** Air that fills a system to a few tenths of an atmosphere comes slower in the end; oil and water tire much more. */
const GROSS_KEEPS = 0.85;

export const isGross = ({ slopePaPerS, meanSlopePaPerS }: Rise, { grossPaPerS }: HoldLimits): boolean =>
  slopePaPerS >= grossPaPerS && slopePaPerS >= GROSS_KEEPS * meanSlopePaPerS;

/** Ice melts at this pressure and stays there until it has. */
const MELTS = [0.9, 1.1] as const;
const ICE_BELOW_K = ZERO_CELSIUS_K + 0.5;

/** What gives off the gas, as well as pressure, temperature and history tell. */
export function causeOf(
  rise: Rise,
  { gas, saturated, opened }: Circumstances,
  ambientK: number | undefined,
  thermal: boolean,
): HoldCause {
  const wet = gas === 'water' || (gas === 'unknown' && (saturated || opened));
  if (!wet) return 'oil';
  const vapourPa = thermal ? rise.endPa / WATER_READS : rise.endPa;
  const melts = vapourPa > MELTS[0] * TRIPLE_POINT_PA && vapourPa < MELTS[1] * TRIPLE_POINT_PA;
  const cold = ambientK !== undefined && ambientK < ICE_BELOW_K;
  return cold || (thermal && melts) ? 'ice' : 'water';
}
