// Whether the sides bear out the word that the engine stands still: nothing pumps, so they come together.
import { SURE } from '../constants.ts';
import type { NoticeDraft } from '../notices.ts';
import { kilopascals, minutes, type StageInput } from './stage.ts';

/** How far the high side stands above or below the low one; absent where one of them cannot be seen. */
export function sidesApartPa({ plan, seen }: Pick<StageInput, 'plan' | 'seen'>): number | undefined {
  if (plan.ticket.ports === 1 || seen.highSidePa === undefined || seen.lowSidePa === undefined)
    return undefined;
  return Math.abs(seen.highSidePa - seen.lowSidePa);
}

/** Sides that differ by less are at rest, sensor errors allowed for. */
export const sidesTolerancePa = ({ plan, equipment: { pressure } }: StageInput): number =>
  plan.settle.sidesTolerancePa + SURE * Math.max(pressure.highSideSdPa, pressure.lowSideSdPa);

/** At rest, or half of what they were apart at the word is gone: a running engine would have kept it up. */
export const comesTogether = (atWordPa: number, apartPa: number, input: StageInput): boolean =>
  apartPa <= Math.max(atWordPa / 2, sidesTolerancePa(input));

/** Told once, and the engine is asked for again; what the operator then says counts. */
export const engineDoubted = (waitedMs: number, apartPa: number): NoticeDraft => ({
  code: 'engine-perhaps-running',
  with: { minutes: minutes(waitedMs), apart: kilopascals(apartPa) },
});
