// Wordings of the notices around the hoses at the end of a job: whether they are empty, and safe to take off.
import type { Wording } from './notice.ts';

export const HOSES_WORDINGS = {
  'couplers-open': {
    severity: 'warning',
    text: 'The pressure does not fall while the {hoses} should be drawn down: {stillOpen}. The machine stopped drawing; what came out is counted.',
    remedy: 'Close {couplers} and confirm again.',
  },
  'hoses-not-recovered': {
    severity: 'warning',
    text: 'After {draws} draws there are still {pressure} kPa absolute in the {hoses}: not safe to disconnect. The job stopped with every valve shut.',
    remedy:
      'Close {couplers}, then recover the {hoses} with a new job before disconnecting. Wear goggles and gloves. If a hose should be empty by then, its sensor may be stuck.',
  },
  'hoses-took-air': {
    severity: 'warning',
    text: 'After they had been drawn down the {hoses} came to the pressure of the room and stand there: that is air. The machine does not draw it into the tank.',
    remedy:
      'Look for a loose hose, a coupler that does not seal, and a vacuum, oil or dye valve that does not shut, before the next job.',
  },
  'hoses-safe': {
    severity: 'information',
    text: 'Safe to disconnect: the {hoses} stayed below 30 kPa above the atmosphere.',
    remedy: '{takeOff}',
  },
  'hoses-not-safe': {
    severity: 'warning',
    text: 'NOT safe to disconnect any longer: pressure has come back, {pressure} kPa absolute stand in a hose. The machine keeps every valve shut.',
    remedy:
      'Do not take anything off. Close {couplers}, then recover the {hoses} with a new job. Wear goggles and gloves.',
  },
} as const satisfies { readonly [code: string]: Wording };
