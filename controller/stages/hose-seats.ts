// Whether a hose valve that is told to be shut lets through what is pulsed into the closed manifold: its hose then follows.
import type { Seen } from '../estimates/seen.ts';

/** Pulses that came up in a hose almost as they did in the manifold. */
export type PassedOn = { readonly highSide: number; readonly lowSide: number };

export const NOTHING_PASSED: PassedOn = { highSide: 0, lowSide: 0 };

/** So much must have come into the manifold to tell (estimate: five times the noise of a coarse gauge). */
const TELLS_PA = 20_000;
/**
 * Half a second after a pulse the hose behind an open valve has risen by 0.9 of what the manifold has, behind a shut one by
 * nothing (the bench's own simulator). A seat that a higher pressure lifts keeps most of it back.
 */
const SHARE = 0.6;
/** One pulse alone may meet a hose that somebody moves. */
const PULSES = 2;

type Pressures = Pick<Seen, 'manifoldPa' | 'highSidePa' | 'lowSidePa'>;

/** @param before, now around one pulse, with both hose valves shut; what is not read tells nothing. */
export function passedOn(passed: PassedOn, before: Pressures, now: Pressures): PassedOn {
  if (before.manifoldPa === undefined || now.manifoldPa === undefined) return passed;
  const risePa = now.manifoldPa - before.manifoldPa;
  if (risePa < TELLS_PA) return passed;
  const follows = (fromPa = Number.NaN, toPa = Number.NaN): number =>
    toPa - fromPa > SHARE * risePa ? 1 : 0;
  return {
    highSide: passed.highSide + follows(before.highSidePa, now.highSidePa),
    lowSide: passed.lowSide + follows(before.lowSidePa, now.lowSidePa),
  };
}

/** Which does not shut, in words; absent where none is known of. */
export function openSeat({ highSide, lowSide }: PassedOn): string | undefined {
  const names = [...(highSide >= PULSES ? ['high-side'] : []), ...(lowSide >= PULSES ? ['low-side'] : [])];
  return names.length === 0 ? undefined : names.join(' and the ');
}
