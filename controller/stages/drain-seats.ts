// What pulses into the closed manifold tell of the valves around it: one that does not shut lets them through.
import type { Around, DrainOilData, PassedOn } from './data-recovery.ts';

type Counted = Pick<DrainOilData, 'seenShut' | 'seenOpen'>;
type Behind = Counted & Pick<DrainOilData, 'closedPa' | 'fromPa'>;

/** What the first pulses must bring, and from how low, to tell whether they came into the manifold alone (estimates). */
const TELLS_PA = 10_000;
const TELLS_FROM_PA = 60_000;
/**
 * Half a second after a pulse a shut manifold has risen by 0.95 to 3 times what is left once the separator is joined; with
 * the recovery valve open all the time by 0.43 to 0.73 of it (the bench's own simulator, -10 to 45 °C, both profiles).
 */
const SHUT_SHARE = 0.84;

/**
 * A manifold of 0.04 L, shut, stands higher by what flashes in it than joined to the separator of 0.4 L; with the recovery
 * valve open all the time it only goes on rising.
 */
export function lookedBehind({ closedPa, fromPa, seenShut, seenOpen }: Behind, joinedPa: number): Counted {
  if (closedPa === undefined || fromPa === undefined || fromPa > TELLS_FROM_PA) return { seenShut, seenOpen };
  const risePa = joinedPa - fromPa;
  if (risePa < TELLS_PA) return { seenShut, seenOpen };
  return closedPa - fromPa > SHUT_SHARE * risePa
    ? { seenShut: seenShut + 1, seenOpen }
    : { seenShut, seenOpen: seenOpen + 1 };
}

export const NOTHING_PASSED: PassedOn = { highSide: 0, lowSide: 0 };

/** So much must have come into the manifold to tell (estimate: five times the noise of a coarse gauge). */
const HOSES_TELL_PA = 20_000;
/**
 * Half a second after a pulse the hose behind an open valve has risen by 0.9 of what the manifold has, behind a shut one by
 * nothing (the bench's own simulator). A seat that a higher pressure lifts keeps most of it back.
 */
const FOLLOWS = 0.6;
/** One pulse alone may meet a hose that somebody moves. */
const PULSES = 2;

/** @param before, now around one pulse, with both hose valves shut; what is not read tells nothing. */
export function passedOn(passed: PassedOn, before: Around, now: Around): PassedOn {
  if (before.manifoldPa === undefined || now.manifoldPa === undefined) return passed;
  const risePa = now.manifoldPa - before.manifoldPa;
  if (risePa < HOSES_TELL_PA) return passed;
  const follows = (fromPa = Number.NaN, toPa = Number.NaN): number =>
    toPa - fromPa > FOLLOWS * risePa ? 1 : 0;
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
