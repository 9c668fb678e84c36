// A charge that the draw back has left short: how much is given once more, by what the first time has shown of the hoses.
import { flowsAnew } from './charge-steps.ts';
import { heldUpKg, overKg } from './charge-target.ts';
import type { ChargeData, DrawBack } from './data-charge.ts';
import { atAfresh, type StageInput, type StageStep, want } from './stage.ts';

/** Of what is given too much, this is drawn on the first go, on top of what the hose is expected to hold. */
export const FIRST_SHARE = 0.25;

/** What was too much after the first go, and what the tank should have lost for good. */
type Found = { readonly firstExcessKg: number; readonly wantedLostKg: number };

/**
 * What was missing after the first go was in the hoses: they held more than reckoned. Filled once more by a tank that the
 * draws have warmed they may or may not, and half of it lies between (estimate).
 */
const HELD_AGAIN = 0.5;

/**
 * All once more, so that the first go leaves what the draws that follow can take. The hoses hold of it what they held the
 * first time, but for what the tank has become warmer since: its liquid boils more on its way. Where that is not known, what
 * they are reckoned to hold stands in.
 */
export function refill(
  data: ChargeData,
  drawBack: DrawBack,
  found: Found,
  input: StageInput,
): StageStep<ChargeData> {
  const leavesKg = (1 - FIRST_SHARE) * overKg(input.accounts);
  const holdsKg = heldUpKg(input, data.vehiclePa);
  const topUpKg =
    drawBack.heldKg === undefined
      ? found.wantedLostKg + leavesKg + holdsKg
      : data.deliveredAtShutKg + HELD_AGAIN * (leavesKg - found.firstExcessKg) + holdsKg - drawBack.heldKg;
  const next = {
    ...flowsAnew(atAfresh(data, 'settle', input.nowMs)),
    drawBack: { ...drawBack, refills: drawBack.refills + 1 },
    topUpKg,
    targetKg: topUpKg,
  };
  return { data: next, wanted: want('highSideValve'), accounts: input.accounts };
}
