// The record's page on the repair and on the rules that were asked for.
import { LOCAL_CODES_DECIDE, RULES } from '../../controller/jurisdiction.ts';
import type { JobResult } from '../../controller/result.ts';
import type { Scenario } from '../scenario/scenario.ts';
import { clock, type Units } from '../units.ts';
import { entry, within } from './printed-entry.ts';

const REPAIR_REASONS = {
  asked: 'asked for by the ticket',
  'abnormal-loss': 'demanded by an abnormal loss',
  'came-empty': 'demanded because the vehicle came empty',
} as const;

export function repairLines({ repair }: JobResult, units: Units): string[] {
  if (repair === undefined) return [];
  const { why, loss: judged, confirmedAtMs } = repair;
  const lacks =
    judged === undefined
      ? ''
      : `; by estimate ${units.charge(judged.missingKg)}${within(judged.uncertaintyKg, units)} were missing, ` +
        `${units.charge(judged.allowedKg)} are ordinary for ${judged.years} ${judged.years === 1 ? 'year' : 'years'}`;
  const done = confirmedAtMs === undefined ? 'not confirmed' : `confirmed at ${clock(confirmedAtMs)}`;
  return entry('Repair', `${REPAIR_REASONS[why]}, ${done}${lacks}`);
}

const PLACES = { us: 'the United States', eu: 'the European Union' } as const;

/** The rules that were asked for. */
export function ruleLines({ ticket: { jurisdiction } }: Pick<Scenario, 'ticket'>): string[] {
  if (jurisdiction === 'none') return [];
  const rules = RULES[jurisdiction].flatMap(({ kind, demands, here, source }) =>
    entry(kind === 'law' ? '  law' : '  practice', `${demands} ${here} (${source})`),
  );
  return ['', ...entry('Rules', `of ${PLACES[jurisdiction]}. ${LOCAL_CODES_DECIDE}`), ...rules];
}
