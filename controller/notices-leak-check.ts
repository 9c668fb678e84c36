// Notices of the pressurised leak check: a part of the one table in notices.ts.
import type { Wording } from './notice.ts';

export const LEAK_CHECK_WORDINGS = {
  'checked-from-empty': {
    severity: 'information',
    text: 'The vehicle stands at {pressure} kPa absolute, no more than the atmosphere: nothing in it could show a leak. The machine evacuates it, watches the vacuum and then lets in a partial charge for the search.',
    remedy: 'Nothing to do.',
  },
  'partial-charge-short': {
    severity: 'warning',
    text: 'The partial charge for the search ended at {charged} g of {target} g. The machine takes back what it has let in and ends the job.',
    remedy: 'Remove the cause, then start the job again.',
  },
  'search-no-pressure': {
    severity: 'warning',
    text: 'The vehicle shows {pressure} kPa absolute, too little for a search: the partial charge did not get there, or has gone. No search proves anything like this. The machine takes back what is left and ends the job.',
    remedy:
      'Check that both couplers are fully open and that the engine stands still. If so, look for a large leak with nitrogen or under vacuum; a gauge that has not moved at all has a stuck sensor.',
  },
  'search-blind': {
    severity: 'warning',
    text: 'Nobody knows whether the vehicle is under pressure: its gauges do not read. No search proves anything like this. The machine ends the job and takes back what it has let in.',
    remedy: 'Mend the side sensors, then start the job again.',
  },
  'search-weak': {
    severity: 'advice',
    text: 'The vehicle stands {pressure} kPa above the atmosphere at {temperature} °C: a detector may miss a small leak below 340 kPa or 15 °C. The search goes on.',
    remedy: 'Warm the vehicle for a better search, and mind that nothing found is not much proof.',
  },
  'search-found': {
    severity: 'warning',
    text: 'The detector found a leak with {admitted} g in the vehicle. The machine does not charge: it recovers what it has let in, so that nothing more is lost, clears the hoses and ends the job.',
    remedy: 'Mark the place, mend the leak, then evacuate, check again and charge.',
  },
  'search-found-as-it-stood': {
    severity: 'warning',
    text: 'The detector found a leak in the vehicle as it stood. The machine has let nothing in and takes back only what the hoses hold: the vehicle keeps its charge and goes on losing it.',
    remedy: 'Recover the vehicle soon, mend the leak, then evacuate, check again and charge.',
  },
  'pressure-fell': {
    severity: 'advice',
    text: 'While you searched, the pressure fell by {fall} kPa more than the temperature explains. A leak does this, and so does oil that takes up refrigerant after an evacuation: the detector decides.',
    remedy: 'If the vehicle has lost charge before, search once more where the detector can hardly reach.',
  },
  'pressure-says-little': {
    severity: 'information',
    text: 'While you searched, the pressure was steady once the temperature was allowed for; in {minutes} min a loss below {limit} kg a year would not have shown. The detector decides.',
    remedy: 'Nothing to do.',
  },
  'pressure-says-nothing': {
    severity: 'information',
    text: 'The pressure says nothing of a leak: {reason}. The detector alone decides.',
    remedy: 'Nothing to do.',
  },
} as const satisfies { readonly [code: string]: Wording };
