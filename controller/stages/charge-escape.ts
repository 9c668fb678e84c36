// Whether what was charged escapes: with nothing open but the hose into the vehicle, both its sides fall together.
import { SAFE_COMMANDS } from '../signals.ts';
import { at } from './charge-steps.ts';
import type { ChargeData } from './data-charge.ts';
import { kilopascals, type StageInput, type StageStep } from './stage.ts';

/** So long what was given last surges on (estimate). */
const SURGES_MS = 2_000;
/**
 * A vehicle that takes its charge up falls on one side and rises on the other. By so much both fall in this time only where
 * something lets it out: 3 kPa at most in 140 jobs of the bench's own, through the seat of a vacuum valve 30 to 150.
 */
const ESCAPES_PA = 25_000;
const WITHIN_MS = 20_000;

/**
 * Once a vehicle that answers has its charge and stands open to the manifold. Not by one side alone: a hose that is let go by its
 * coupler falls as well. A search lets in little, and oil takes that up.
 */
export function watchEscape(data: ChargeData, input: StageInput): ChargeData | 'escapes' {
  const { highSidePa, lowSidePa } = input.seen;
  if (data.step !== 'blow-down' || input.nowMs - data.stepSinceMs < SURGES_MS) return data;
  if (data.part === 'partial' || data.result !== 'charged' || input.engine !== 'off') return data;
  if (highSidePa === undefined || lowSidePa === undefined || input.plan.ticket.ports !== 2) return data;
  const { stood } = data;
  if (stood === undefined || input.nowMs - stood.atMs > WITHIN_MS)
    return { ...data, stood: { atMs: input.nowMs, highPa: highSidePa, lowPa: lowSidePa } };
  return Math.min(stood.highPa - highSidePa, stood.lowPa - lowSidePa) > ESCAPES_PA ? 'escapes' : data;
}

/** Shut first: what is in the vehicle stays there, and the closed manifold shows the interlocks which way it went. */
export function escaped(data: ChargeData, input: StageInput): StageStep<ChargeData> {
  const { highSidePa, lowSidePa } = input.seen;
  const figures = {
    highFrom: kilopascals(data.stood?.highPa ?? 0),
    high: kilopascals(highSidePa ?? 0),
    lowFrom: kilopascals(data.stood?.lowPa ?? 0),
    low: kilopascals(lowSidePa ?? 0),
  };
  return {
    data: { ...at(data, 'weigh-after', input.nowMs), result: 'valve-open' },
    wanted: SAFE_COMMANDS,
    accounts: { ...input.accounts, lostTrack: true },
    notices: [{ code: 'charge-escapes', with: figures }],
  };
}
