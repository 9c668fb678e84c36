// What the interlocks must take away around what passes although every valve is shut.
import { CHARGE, RECOVER, type RowCase } from './case.ts';

export const SEAT_CASES: readonly RowCase[] = [
  {
    row: 'IL-40',
    title: 'a valve that leaks through shuts everything between tank and vehicle',
    wants: CHARGE,
    memory: { seats: 'leaks' },
    falls: CHARGE,
    trips: 'valve-leaks-through',
  },
  {
    row: 'IL-41',
    title: 'and so does a tank that loses mass with every valve shut',
    wants: CHARGE,
    memory: { restMass: 'falling' },
    falls: CHARGE,
    trips: 'tank-loses-mass',
  },
  {
    row: 'IL-46',
    title: 'a manifold that is open to the room shuts everything between tank and vehicle',
    wants: CHARGE,
    memory: { vent: 'open' },
    falls: CHARGE,
    trips: 'manifold-open-to-room',
  },
  {
    row: 'IL-42',
    title: 'a compressor whose gas does not arrive in the tank trips',
    wants: RECOVER,
    memory: { delivery: 'blocked' },
    falls: RECOVER,
    trips: 'delivery-blocked',
  },
];
