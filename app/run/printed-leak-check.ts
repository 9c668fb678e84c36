// What the record says of a pressurised leak check.
import type { JobResult } from '../../controller/result.ts';
import type { Units } from '../units.ts';
import { entry } from './printed-entry.ts';

/** What the detector said, and what the pressure could have shown beside it. */
export function leakCheckLines({ leakCheck, masses }: JobResult, units: Units): string[] {
  if (leakCheck === undefined) return [];
  const { found, admittedKg, watch } = leakCheck;
  const told =
    found === undefined ? 'no search came to an end' : `the detector found ${found ? 'a leak' : 'nothing'}`;
  const gas =
    admittedKg === undefined ? 'the vehicle as it stood' : `a partial charge of ${units.charge(admittedKg)}`;
  const back = masses.returnedKg === undefined ? '' : `; ${units.charge(masses.returnedKg)} of it came back`;
  const lines = entry('Leak check', `${told}, with ${gas}${back}`);
  if (watch === undefined) return lines;
  const shown = `${watch.minutes.toFixed(1)} min from ${units.pressure(watch.fromPa)}`;
  return [...lines, ...entry('', `Pressure over ${shown}: ${watchText(watch, units)}`)];
}

type Watch = NonNullable<NonNullable<JobResult['leakCheck']>['watch']>;

function watchText({ said, fallPa = 0, limitKgPerYear }: Watch, units: Units): string {
  const limit =
    limitKgPerYear === undefined
      ? ''
      : `; less than ${limitKgPerYear.toPrecision(2)} kg a year could not have shown`;
  switch (said) {
    case 'steady':
      return `steady once the temperature is allowed for${limit}.`;
    case 'fell':
      return `fell by ${units.pressureDifference(fallPa)} beyond the temperature: a leak, or oil that takes up refrigerant${limit}.`;
    case 'saturated':
      return 'says nothing, because liquid would hold it.';
    case 'unknown':
      return 'not known all the time.';
  }
}
