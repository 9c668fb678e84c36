// The interlocks for valves that are still moving: what may never be open at once is not opened in the moment after either.
import { forbid, type Interlock, interlock, NOTHING } from './interlock.ts';

/** What may not open before each of these has surely shut. */
const WAITS = [
  [
    'chargeValve',
    'chargeSeat',
    ['vacuumValve', 'recoveryValve', 'lowSideValve', 'separatorDrainValve', 'oilValve', 'dyeValve'],
  ],
  [
    'vacuumValve',
    'vacuumSeat',
    ['chargeValve', 'recoveryValve', 'separatorDrainValve', 'oilValve', 'dyeValve'],
  ],
  ['recoveryValve', 'recoverySeat', ['chargeValve', 'vacuumValve', 'oilValve', 'dyeValve']],
  ['lowSideValve', 'lowSeat', ['chargeValve', 'separatorDrainValve', 'oilValve', 'dyeValve']],
  ['highSideValve', 'highSeat', ['separatorDrainValve']],
  [
    'separatorDrainValve',
    'drainSeat',
    ['highSideValve', 'lowSideValve', 'vacuumValve', 'chargeValve', 'oilValve', 'dyeValve', 'compressor'],
  ],
  [
    'oilValve',
    'oilSeat',
    ['lowSideValve', 'vacuumValve', 'recoveryValve', 'chargeValve', 'separatorDrainValve', 'dyeValve'],
  ],
  [
    'dyeValve',
    'dyeSeat',
    ['lowSideValve', 'vacuumValve', 'recoveryValve', 'chargeValve', 'separatorDrainValve', 'oilValve'],
  ],
] as const;

const ENGINE_WAITS = [
  ['highSideValve', 'highSeat', 'chargeValve'],
  ['chargeValve', 'chargeSeat', 'highSideValve'],
] as const;

const HAZARD =
  'A valve that was told to shut a moment ago still stands open while another opens that it must not meet';
const REMEDY = 'Wait a moment after the one has been shut, then open the other.';

export const OVERLAP_ROWS: readonly Interlock[] = [
  ...WAITS.map(([valve, seat, others]) =>
    interlock({
      id: `IL-43-${valve}`,
      hazard: HAZARD,
      remedy: REMEDY,
      acts: others,
      outputs: [valve],
      memory: [seat],
      judge: ({ on, memory }) => (!on[valve] && memory[seat] === 'may-be-open' ? forbid(...others) : NOTHING),
    }),
  ),
  // A running engine pushes through its high side whatever opens at the other end of the manifold.
  ...ENGINE_WAITS.map(([valve, seat, other]) =>
    interlock({
      id: `IL-43-engine-${valve}`,
      hazard: HAZARD,
      remedy: REMEDY,
      acts: [other],
      outputs: [valve],
      memory: [seat, 'engine'],
      judge: ({ on, memory }) =>
        !on[valve] && memory[seat] === 'may-be-open' && memory.engine !== 'off' ? forbid(other) : NOTHING,
    }),
  ),
];
