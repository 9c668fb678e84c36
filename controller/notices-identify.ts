// What is told of the refrigerant identifier's result, and of contaminated refrigerant.
import type { Wording } from './notice.ts';

const ANOTHER_CYLINDER =
  "Put a labelled cylinder for contaminated refrigerant in the tank's place, tell the machine so, and run the service recover: it takes such refrigerant into such a cylinder only. Or use equipment meant for it.";

export const IDENTIFY_WORDINGS = {
  'refrigerant-refused': {
    severity: 'warning',
    text: 'The identifier shows {refrigerant} at {purity} %, the tank holds {wanted} and takes nothing below {minimum} %. The job stopped before any valve opened: a contaminated refrigerant must not enter the tank.',
    remedy: ANOTHER_CYLINDER,
  },
  'air-refused': {
    severity: 'warning',
    text: 'The identifier shows {air} % of air: recovered, it would fill the tank with air. The job stopped before any valve opened.',
    remedy: `Take the sample again with the hose of the identifier flushed. ${ANOTHER_CYLINDER}`,
  },
  'hydrocarbons-refused': {
    severity: 'warning',
    text: 'The identifier shows {hydrocarbons} % of hydrocarbons, which burn far more easily than anything this machine is made for. The job stopped before any valve opened, whatever the cylinder.',
    remedy:
      'Keep ignition away, ventilate, and leave the vehicle to someone with recovery equipment rated for hydrocarbons (safety class A3).',
  },
  'override-refused': {
    severity: 'warning',
    text: 'Going on without an identifier result was refused (reason given: {reason}). It takes a reason, and for {refrigerant}, where it burns, none but a vehicle without pressure. The job stopped before any valve opened.',
    remedy: 'Identify the refrigerant and start the job again.',
  },
  'identification-overridden': {
    severity: 'advice',
    text: 'Nobody has identified the refrigerant for this job. Reason given: {reason}. The machine goes on and keeps the reason in the record.',
    remedy: 'If in doubt, stop the job and identify the refrigerant.',
  },
  'vehicle-not-identified': {
    severity: 'warning',
    text: 'The vehicle was said to have no pressure, and so was not identified; but it stands at {pressure} kPa absolute. The job stopped with every valve shut.',
    remedy: 'Identify the refrigerant and start the job again.',
  },
  'air-in-vehicle': {
    severity: 'advice',
    text: 'The identifier shows {air} % of air beside the refrigerant. The machine goes on; the air will end up in the tank.',
    remedy:
      'Let the tank rest overnight after this job, and have its air let off. Look for how the air came into the vehicle.',
  },
  'recovers-contaminated': {
    severity: 'warning',
    text: 'The identifier shows {refrigerant} at {purity} %. The cylinder on the scale is labelled for contaminated refrigerant, so the machine recovers into it and does nothing else. Afterwards hoses, filter-drier, separator and compressor are contaminated too.',
    remedy:
      'After this job: change the filter-drier, drain and flush the separator, flush and evacuate hoses and machine; until then tell the machine that it has not been cleaned. Send the cylinder to reclaim or destruction.',
  },
} as const satisfies { readonly [code: string]: Wording };
