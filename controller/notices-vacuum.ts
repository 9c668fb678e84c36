// Wordings of the notices at vacuum: pumping, water, and what the hold shows.
import type { Wording } from './notice.ts';

export const VACUUM_WORDINGS = {
  'pump-cannot-open': {
    severity: 'warning',
    text: 'The pressure before the vacuum pump stays at {pressure} kPa absolute, above what the pump may be opened to. The job stopped with every valve shut.',
    remedy: 'Recover the refrigerant that is left, or mend the manifold pressure sensor.',
  },
  'vacuum-blind': {
    severity: 'warning',
    text: 'The absolute pressure of the manifold is unknown, and the vacuum pump is opened to nothing that nobody sees: no vacuum was reached. The job stopped with every valve shut.',
    remedy: 'Check the cable of the manifold pressure sensor, or change the sensor. Then evacuate again.',
  },
  'rough-vacuum-failed': {
    severity: 'warning',
    text: 'After {seconds} s of pumping the pressure is still {pressure} kPa absolute. Something is open, or liquid refrigerant is still boiling. The job stopped: pumping on would draw in wet air or vent refrigerant.',
    remedy: 'Check couplers, hoses and service ports for a gross leak; if they are sound, recover again.',
  },
  'vacuum-came-back': {
    severity: 'warning',
    text: 'While it was pumped, the pressure came back from {lowest} kPa absolute to {pressure} kPa absolute, and not through the machine: a hose, a coupler, a fitting or the repair has opened. The job stopped with every valve shut: pumping on would draw in wet air.',
    remedy: 'Look for what has opened on the vehicle and its hoses; then evacuate again.',
  },
  'vacuum-not-reached': {
    severity: 'warning',
    text: 'After {minutes} min the pressure is {pressure} Pa and the target of {target} Pa is not reached. The job stopped with every valve shut.',
    remedy: 'Check for a leak, for moisture in the system and for tired pump oil.',
  },
  'water-boils': {
    severity: 'advice',
    text: 'The pressure has stood at {pressure} Pa for some minutes: water boils in the system, and what boils fast freezes; a gross leak does the same. The machine pumps on for the usual time, then the hold tells which it is.',
    remedy:
      'Warm the vehicle, the evaporator above all. Where ice has formed, let it melt and pump gently; open the gas ballast of the pump.',
  },
  'hold-outgassed': {
    severity: 'advice',
    text: 'In the hold the pressure rose towards {plateau} Pa and slowed down: oil or moisture is giving off gas, this is not a leak. The machine evacuates again.',
    remedy: 'Warm the vehicle to speed this up.',
  },
  'hold-water': {
    severity: 'advice',
    text: 'In the hold the pressure rose towards {plateau} Pa as water does: moisture is left in the system, this is not a leak. The machine evacuates again.',
    remedy: 'Warm the vehicle, the evaporator above all, and open the gas ballast of the pump.',
  },
  'hold-ice': {
    severity: 'advice',
    text: 'In the hold the pressure went to {plateau} Pa, the vapour pressure of ice: water has frozen in the system and leaves it by and by only. The machine evacuates again.',
    remedy: 'Warm the vehicle above freezing before the pump goes on, and pump gently while the ice melts.',
  },
  'hold-outgassing-accepted': {
    severity: 'information',
    text: 'In the hold the pressure still rose by {slope} Pa/s, {as}: too little to do harm. The machine goes on; a leak below {limit} kg a year could hide in this.',
    remedy: '{first} If the vehicle has lost charge, look for the leak with a detector once it is charged.',
  },
  'hold-outgassing-persists': {
    severity: 'warning',
    text: 'After {evacuations} evacuations the system still gives off gas (towards {plateau} Pa). The machine does not pump any longer and goes on.',
    remedy:
      'Expect moisture: change the receiver-drier, and sweep with dry nitrogen before the next evacuation.',
  },
  'leak-suspected': {
    severity: 'advice',
    text: 'In the hold the pressure rose in a straight line by {slope} Pa/s. The machine evacuates again and looks a second time before it calls this a leak.',
    remedy: 'Check {couplers} meanwhile.',
  },
  'vacuum-lost': {
    severity: 'warning',
    text: 'The vacuum is gone: within the hold the pressure came to {end} Pa, {as}. The machine does not charge.',
    remedy:
      'Look for a hole, an open port or a coupler that is not seated, and for a vacuum valve that does not shut behind the pump; mend it, then evacuate and charge.',
  },
  'leak-found': {
    severity: 'warning',
    text: 'Two holds agree on a straight rise of {slope} Pa/s, about {rate} kg of refrigerant a year. The machine does not charge.',
    remedy: 'Find and mend the leak, then evacuate and charge.',
  },
  'hold-blind': {
    severity: 'warning',
    text: 'The hold saw nothing: no vacuum sensor gave a reading. The machine goes on; nobody knows whether the vehicle is tight.',
    remedy:
      'Mend the sensor before the next job. Look for leaks with a detector once the vehicle is charged.',
  },
  'hold-inconclusive': {
    severity: 'warning',
    text: 'The hold could not tell tight from leaking: {reason}. The machine goes on; leaks below {limit} kg a year would not have been seen in any case.',
    remedy: 'Look for leaks with a detector once the vehicle is charged.',
  },
  'pressure-came-back': {
    severity: 'warning',
    text: 'Pressure came into the evacuated vehicle during the hold, more than any leak from outside could bring. The job stopped with every valve shut.',
    remedy:
      'Suspect a charge valve that leaks or an engine that was started. Recover before you evacuate again.',
  },
} as const satisfies { readonly [code: string]: Wording };
