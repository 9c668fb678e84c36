// Pressures that more than one sensor tells of.
import { STANDARD_ATMOSPHERE_PA } from '../constants.ts';
import type { Seen } from './seen.ts';

/** Around the barometer by this much suction may be air (common practice: 0.95–1.05 bar near sea level). */
export const BAROMETRIC_PA = 5_000;
/** With no barometer at all: from a high mountain pass to the strongest high pressure. */
const LOWEST_WEATHER_PA = 70_000;
export const HIGHEST_WEATHER_PA = 106_000;

export function isBarometric(pressurePa: number, barometerPa: number | undefined): boolean {
  return barometerPa === undefined
    ? pressurePa >= LOWEST_WEATHER_PA && pressurePa <= HIGHEST_WEATHER_PA
    : Math.abs(pressurePa - barometerPa) <= BAROMETRIC_PA;
}

export const barometerPa = (seen: Seen): number => seen.barometerPa ?? STANDARD_ATMOSPHERE_PA;

/**
 * The pressure of whatever is joined: the absolute sensor inside its span, above it the gauge transducers, the finer
 * low side first. A vehicle with one port has the high side; its low hose is a dead end that tells nothing.
 */
export const circuitPa = (seen: Seen, ports: 1 | 2): number | undefined =>
  seen.manifoldPa ?? (ports === 1 ? seen.highSidePa : (seen.lowSidePa ?? seen.highSidePa));

/** The highest pressure any hose on the vehicle may have; with one port the low-side hose is capped and tells nothing. */
export function hosePa(seen: Seen, ports: 1 | 2): number | undefined {
  if (ports === 1) return seen.highSidePa;
  if (seen.highSidePa === undefined) return seen.lowSidePa;
  return seen.lowSidePa === undefined ? seen.highSidePa : Math.max(seen.highSidePa, seen.lowSidePa);
}

/** Mean hose pressure above the atmosphere, for the force of the hoses on the platform. */
export function hoseGaugePa(seen: Seen): number {
  const { highSidePa, lowSidePa } = seen;
  if (highSidePa === undefined && lowSidePa === undefined) return 0;
  const mean = ((highSidePa ?? lowSidePa ?? 0) + (lowSidePa ?? highSidePa ?? 0)) / 2;
  return mean - barometerPa(seen);
}

/** A side that stands moves by less from scan to scan (estimate). */
const STANDS_PA = 20_000;

/** By how much that mean differs from the last for no other reason than that one of the two sensors is silent now, or was. */
export function phantomPa(before: Seen | undefined, now: Seen): number {
  if (before === undefined) return 0;
  return (
    ofLost(before.lowSidePa, now.lowSidePa, before.highSidePa, now.highSidePa) +
    ofLost(before.highSidePa, now.highSidePa, before.lowSidePa, now.lowSidePa)
  );
}

type Pressure = number | undefined;

/** One side by its own, given that the other stands. Single figures, because it runs every scan. */
function ofLost(wasPa: Pressure, isPa: Pressure, otherWasPa: Pressure, otherPa: Pressure): number {
  if ((wasPa === undefined) === (isPa === undefined)) return 0;
  if (otherWasPa === undefined || otherPa === undefined || Math.abs(otherPa - otherWasPa) > STANDS_PA)
    return 0;
  return isPa === undefined ? (otherPa - wasPa!) / 2 : (isPa - otherPa) / 2;
}
