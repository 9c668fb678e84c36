// Rules that depend on where the machine stands: what each demands here, whether it is law or practice, and its source.
// Texts of law as read in public copies; whoever works on vehicles has to look up what holds today.
import type { Blocker } from './notice.ts';
import type { Jurisdiction, Ticket } from './ticket.ts';

export type Rule = {
  readonly id: string;
  /** `law`: of statute or regulation. `practice`: of a standard or the trade. */
  readonly kind: 'law' | 'practice';
  readonly demands: string;
  /** What the machine does about it; a caution alone where it can do nothing. */
  readonly here: string;
  readonly source: string;
};

/** For every record, whatever is chosen. */
export const LOCAL_CODES_DECIDE =
  'Local codes and licensed practice decide; this list is neither complete nor legal advice, and this machine is approved by nobody.';

const NO_REFILL_SOURCE = 'Directive 2006/40/EC, Article 6(3)';

export const RULES: { readonly [J in Jurisdiction]: readonly Rule[] } = {
  eu: [
    {
      id: 'no-refill-before-repair',
      kind: 'law',
      demands:
        'A system that has lost an abnormal amount of refrigerant is not refilled before the repair is done.',
      here: 'After recovery the loss is judged; when it is abnormal, or the vehicle came empty, the vehicle is mended before it is evacuated and charged.',
      source: NO_REFILL_SOURCE,
    },
    {
      id: 'abnormal-loss',
      kind: 'practice',
      demands:
        'The directive gives no figure: more than 10 % of the charge a year, compound over five years at most, beyond the doubt of the measurement (k = 2), counts as abnormal. An age that is not given counts as one year.',
      here: 'The threshold is an estimate.',
      source:
        'for comparison, Directive 2006/40/EC: new types may lose 40 g a year, 60 g with two evaporators',
    },
    {
      id: 'no-release',
      kind: 'law',
      demands: 'Refrigerant is not released on purpose.',
      here: 'The vehicle is opened and evacuated only when its recovery has ended no higher than the atmosphere.',
      source: 'Regulation (EU) 2024/573',
    },
    {
      id: 'trained-people',
      kind: 'law',
      demands: 'Recovery is the work of people with a training attestation.',
      here: 'A caution: the machine cannot know who works it.',
      source: 'Regulation (EU) 2024/573, Article 10, with Implementing Regulation (EU) 2025/1893',
    },
  ],
  us: [
    {
      id: 'no-venting',
      kind: 'law',
      demands: 'Refrigerant is not vented in service, repair or disposal.',
      here: 'The vehicle is opened and evacuated only when its recovery has ended no higher than the atmosphere.',
      source: '42 USC 7671g(c), 40 CFR 82.154(a)',
    },
    {
      id: 'rest-after-recovery',
      kind: 'practice',
      demands:
        'After recovery the unit stands off for five minutes at least and recovers again until the vacuum is stable for two minutes.',
      here: 'Every recovery ends with such a rest.',
      source: 'SAE J1989 in 40 CFR 82 Subpart B, App. A',
    },
    {
      id: 'approved-equipment',
      kind: 'law',
      demands: 'Service for payment takes approved equipment and a certified technician.',
      here: 'A caution: this machine is not approved, and cannot know who works it.',
      source: '42 USC 7671h, 40 CFR 82.34(a)',
    },
    {
      id: 'records',
      kind: 'law',
      demands:
        'Where refrigerant is sent to another facility, its name and address, and proof of certification, are kept for three years on the site.',
      here: 'A caution: this record is a part of that at most.',
      source: '40 CFR 82.42(b)',
    },
  ],
  none: [],
};

/** Whether the machine has to judge the loss before it refills: nobody has said that the leak is mended already. */
export const judgesLoss = ({ jurisdiction, repaired }: Ticket): boolean => jurisdiction === 'eu' && !repaired;

/** A vehicle that comes empty to be charged has lost everything: somebody must stand for its repair. */
export function jurisdictionBlockers(ticket: Ticket): readonly Blocker[] {
  if (ticket.service !== 'evacuate-and-charge' || ticket.repair || !judgesLoss(ticket)) return [];
  return [
    {
      code: 'repair-not-stated',
      text: `The vehicle is empty, which is an abnormal loss unless somebody has just recovered it, and in the European Union it may not be refilled before it is repaired (${NO_REFILL_SOURCE}).`,
      remedy:
        'Mend it within this job (ticket.repair), or state that it has been mended, or has lost nothing since it was recovered (ticket.repaired).',
    },
  ];
}
