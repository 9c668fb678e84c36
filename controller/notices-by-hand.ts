// Notices of work by hand: a part of the one table in notices.ts.
import type { Wording } from './notice.ts';

export const BY_HAND_WORDINGS = {
  'by-hand-begun': {
    severity: 'information',
    text: 'The operator works the machine by hand. The same interlocks hold as in a job. What is switched on goes off after {minutes} min unless it is wished again or was given a time of its own.',
    remedy: 'Nothing is weighed and booked by itself: read the scale before and after.',
  },
  'by-hand-ended': {
    severity: 'information',
    text: 'Work by hand has ended. Every valve is shut and every drive is off.',
    remedy: 'Hoses may still hold refrigerant: recover them before disconnecting.',
  },
  'by-hand-refused-in-job': {
    severity: 'advice',
    text: 'Work by hand was refused: a job runs or stands paused, and would go on with masses and a vacuum that no longer are what it measured.',
    remedy: 'Abort the job first, or let it come to its end.',
  },
  'by-hand-refused-by-trip': {
    severity: 'advice',
    text: 'Work by hand was refused: the trip {reason} is latched.',
    remedy: 'Remove the cause and reset the trip first.',
  },
  'wish-not-by-hand': {
    severity: 'advice',
    text: '{output} stays as it is: the machine is not worked by hand.',
    remedy:
      'Reset the trip if there is one, then begin work by hand. While a job runs or stands paused, only the job moves valves.',
  },
  'wish-refused': {
    severity: 'advice',
    text: '{output} stays as it is. The interlock {row} forbids it: {because}.',
    remedy: '{remedy}',
  },
  'wish-fell': {
    severity: 'warning',
    text: '{output} was switched off. The interlock {row} forbids it: {because}. It stays off until it is wished again.',
    remedy: '{remedy}',
  },
  'wish-expired': {
    severity: 'advice',
    text: '{output} was wished {minutes} min ago and not again since: the machine switched it off.',
    remedy: 'Wish it again, or give it a time when you wish it.',
  },
} as const satisfies { readonly [code: string]: Wording };
