// What the interlocks must take away around valves that are still moving.
import { ADD_DYE, ADD_OIL, CHARGE, CLEAR, DRAIN, EVACUATE, RECOVER, type RowCase, VACUUM } from './case.ts';

export const OVERLAP_CASES: readonly RowCase[] = [
  ...(
    [
      [['chargeValve'], { vacuumSeat: 'may-be-open' }, CHARGE, 'tank liquid after the pump'],
      [['chargeValve'], { recoverySeat: 'may-be-open' }, CHARGE, 'tank liquid after the recovery path'],
      [['chargeValve'], { lowSeat: 'may-be-open' }, CHARGE, 'tank liquid after the low side'],
      [
        ['lowSideValve', 'vacuumValve'],
        { chargeSeat: 'may-be-open' },
        EVACUATE,
        'the pump after tank liquid',
      ],
      [['vacuumValve'], { recoverySeat: 'may-be-open' }, EVACUATE, 'the pump after the recovery path'],
      [['separatorDrainValve'], { highSeat: 'may-be-open' }, DRAIN, 'the drain after the high side'],
      [['separatorDrainValve'], { lowSeat: 'may-be-open' }, DRAIN, 'the drain after the low side'],
      [DRAIN, { vacuumSeat: 'may-be-open' }, DRAIN, 'the drain after the pump'],
      [DRAIN, { chargeSeat: 'may-be-open' }, DRAIN, 'the drain after tank liquid'],
      [['lowSideValve'], { chargeSeat: 'may-be-open' }, CLEAR, 'the low side after tank liquid'],
      [CLEAR, { drainSeat: 'may-be-open' }, CLEAR, 'the vehicle after the drain'],
      [CHARGE, { drainSeat: 'may-be-open' }, CHARGE, 'tank liquid after the drain'],
      [['chargeValve'], { oilSeat: 'may-be-open' }, CHARGE, 'tank liquid after the oil bottle'],
      [
        ['lowSideValve', 'vacuumValve'],
        { oilSeat: 'may-be-open' },
        EVACUATE,
        'the pump after the oil bottle',
      ],
      [['chargeValve'], { dyeSeat: 'may-be-open' }, CHARGE, 'tank liquid after the bottle of dye'],
      [
        ['lowSideValve', 'vacuumValve'],
        { dyeSeat: 'may-be-open' },
        EVACUATE,
        'the pump after the bottle of dye',
      ],
    ] as const
  ).map(
    ([falls, memory, wants, title]): RowCase => ({
      row: 'IL-43',
      title: `${title}: the one shuts before the other opens`,
      wants,
      memory,
      falls,
    }),
  ),
  {
    row: 'IL-43',
    title: 'the recovery path waits for tank liquid to be shut off, and the compressor with it',
    wants: RECOVER,
    memory: { chargeSeat: 'may-be-open' },
    falls: ['lowSideValve', 'recoveryValve', 'compressor'],
  },
  {
    row: 'IL-43',
    title: 'the compressor waits for the drain to be shut, and the vehicle with it',
    wants: RECOVER,
    memory: { drainSeat: 'may-be-open' },
    falls: ['highSideValve', 'lowSideValve', 'compressor'],
  },
  {
    row: 'IL-43',
    title: 'oil waits for the pump to be shut off',
    wants: ADD_OIL,
    bands: VACUUM,
    memory: { vacuumSeat: 'may-be-open' },
    falls: ['oilValve'],
  },
  ...(
    [
      [ADD_DYE, { oilSeat: 'may-be-open' }, 'dye waits for the oil'],
      [ADD_OIL, { dyeSeat: 'may-be-open' }, 'oil waits for the dye'],
      [ADD_DYE, { vacuumSeat: 'may-be-open' }, 'dye waits for the pump'],
      [ADD_DYE, { chargeSeat: 'may-be-open' }, 'dye waits for tank liquid'],
      [ADD_DYE, { recoverySeat: 'may-be-open' }, 'dye waits for the recovery path'],
      [ADD_DYE, { lowSeat: 'may-be-open' }, 'dye waits for the low side'],
      [ADD_DYE, { drainSeat: 'may-be-open' }, 'dye waits for the drain'],
    ] as const
  ).map(
    ([wants, memory, title]): RowCase => ({
      row: 'IL-43',
      title: `${title} to be shut off`,
      wants,
      bands: VACUUM,
      memory,
      falls: memory === undefined || 'drainSeat' in memory ? wants : [wants[1]],
    }),
  ),
  {
    row: 'IL-43',
    title: 'a pulse beside a running engine waits for the high side',
    wants: ['chargeValve'],
    briefMs: 100,
    memory: { engine: 'running', highSeat: 'may-be-open' },
    falls: ['chargeValve'],
  },
  {
    row: 'IL-43',
    title: 'and the high side for the pulse',
    wants: ['highSideValve'],
    memory: { engine: 'running', chargeSeat: 'may-be-open' },
    falls: ['highSideValve'],
  },
];
