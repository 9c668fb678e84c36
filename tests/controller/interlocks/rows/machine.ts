// What the interlocks must take away around the machine as a whole and the room it stands in.
import { CHARGE, EVACUATE, RECOVER, type RowCase } from './case.ts';

export const MACHINE_CASES: readonly RowCase[] = [
  {
    row: 'IL-01-compressor',
    title: 'an output that is not fitted stays off',
    wants: RECOVER,
    fitting: { compressor: 'not-fitted' },
    falls: ['compressor'],
  },
  {
    row: 'IL-02',
    title: 'a latched trip keeps everything off',
    wants: EVACUATE,
    memory: { trip: 'latched' },
    falls: EVACUATE,
  },
  {
    row: 'IL-03',
    title: 'a clock that jumped switches everything off',
    wants: RECOVER,
    memory: { clock: 'jumped' },
    falls: RECOVER,
  },
  {
    row: 'IL-04',
    title: 'the emergency stop trips',
    wants: CHARGE,
    bands: { emergencyStop: 'tripped' },
    falls: CHARGE,
    trips: 'emergency-stop',
  },
  {
    row: 'IL-04',
    title: 'an unknown emergency stop keeps everything off without a trip',
    wants: CHARGE,
    bands: { emergencyStop: 'unknown' },
    falls: CHARGE,
  },
  {
    row: 'IL-24',
    title: 'the gas alarm trips',
    wants: RECOVER,
    bands: { gasAlarm: 'tripped' },
    falls: RECOVER,
    trips: 'gas-alarm',
  },
  {
    row: 'IL-24',
    title: 'an unknown gas alarm stops a flammable refrigerant',
    wants: RECOVER,
    bands: { gasAlarm: 'unknown', flammability: 'mild' },
    falls: RECOVER,
  },
  {
    row: 'IL-25',
    title: 'a flammable refrigerant needs moving air',
    wants: RECOVER,
    bands: { flammability: 'mild' },
    memory: { fan: 'unproven' },
    falls: RECOVER,
  },
  {
    row: 'IL-26',
    title: 'the fan is not stopped around a flammable refrigerant',
    wants: [...RECOVER, 'fanStop'],
    bands: { flammability: 'mild' },
    falls: ['fanStop'],
  },
];
