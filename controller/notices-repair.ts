// Wordings of the notices around the repair and the loss that demands it.
import type { Wording } from './notice.ts';

export const REPAIR_WORDINGS = {
  'loss-abnormal': {
    severity: 'warning',
    text: 'The vehicle lacks {missing} g (± {doubt} g, k = 2), and {allowed} g are ordinary for {age}: an abnormal loss. Where Directive 2006/40/EC, Article 6(3), holds, it may not be refilled before it is repaired. The machine stands safe for the repair.',
    remedy:
      'Find the leak and mend it, then confirm. If it has been mended already, write so into the ticket (repaired) and start anew.',
  },
  'loss-of-all': {
    severity: 'warning',
    text: 'The vehicle came empty: an abnormal loss. Where Directive 2006/40/EC, Article 6(3), holds, it may not be refilled before it is repaired. The machine stands safe for the repair.',
    remedy:
      'Find the leak and mend it, then confirm. If it has been mended already, write so into the ticket (repaired) and start anew.',
  },
  'repair-put-off': {
    severity: 'advice',
    text: 'The vehicle stands at {pressure} kPa absolute, above the atmosphere: nobody may open it yet. The machine recovers again.',
    remedy: 'Leave the vehicle closed. Warm the accumulator or receiver with warm air.',
  },
  'repair-refused': {
    severity: 'warning',
    text: 'The vehicle stands at {pressure} kPa absolute, above the atmosphere, and recovery has used up its cycles or its time: it must not be opened. The machine clears the hoses and ends the job.',
    remedy: 'Warm the vehicle and start the service again.',
  },
  'repair-pressure-back': {
    severity: 'warning',
    text: 'Pressure has come back: a side stands {above} kPa above the atmosphere. Trapped liquid or oil gives off refrigerant. The machine stays shut and withdraws its question until the pressure is gone.',
    remedy:
      'Do not open the vehicle. Confirm to recover again. Gas that was put in for a leak test is let off instead, never recovered.',
  },
  'repair-foreign-pressure': {
    severity: 'warning',
    text: 'A side stands {above} kPa above the atmosphere, and this is no case for a recovery: gas of a leak test, or this service recovers nothing, or no thermometer tells. The machine stays shut and withdraws its question until the pressure is gone.',
    remedy:
      'Let off gas that was put in for a leak test. If it may be refrigerant, leave the vehicle closed, abort this job and run the service whole. Where neither can be, look at the plugs and wires of the side sensors.',
  },
  'repair-under-pressure': {
    severity: 'warning',
    text: 'The repair was confirmed, but the vehicle stands at {pressure} kPa absolute, above the atmosphere: evacuating it would vent what is in it. The machine shut its valves and asks again.',
    remedy:
      'Let off gas that was put in for a leak test. If it may be refrigerant, leave the vehicle closed, abort this job and run the service whole.',
  },
  'repair-unproven': {
    severity: 'warning',
    text: 'The repair was confirmed, but no sensor says what pressure the vehicle has. The machine shut its valves and asks again.',
    remedy: 'Mend the manifold pressure sensor, then confirm again.',
  },
  'tank-moved-in-repair': {
    severity: 'warning',
    text: 'After the repair the tank weighs {moved} g {direction} than before, more than a scale drifts. Nothing is booked for this; the masses that follow count from the new weighing.',
    remedy:
      'See that it is still the same tank of the same refrigerant, that nothing lies on it, and that it leaks nowhere.',
  },
} as const satisfies { readonly [code: string]: Wording };
