// The interlocks for valves that are still moving: what may never be open at once is not opened in the moment after either.
import type { Output } from '../signals.ts';
import { type Interlock, interlock } from './interlock.ts';

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

export const OVERLAP_ROWS: readonly Interlock[] = [
  interlock({
    id: 'IL-43',
    hazard:
      'A valve that was told to shut a moment ago still stands open while another opens that it must not meet',
    remedy: 'Wait a moment after the one has been shut, then open the other.',
    outputs: [
      'chargeValve',
      'vacuumValve',
      'recoveryValve',
      'lowSideValve',
      'highSideValve',
      'separatorDrainValve',
      'oilValve',
      'dyeValve',
      'compressor',
    ],
    memory: [
      'chargeSeat',
      'vacuumSeat',
      'recoverySeat',
      'lowSeat',
      'highSeat',
      'drainSeat',
      'oilSeat',
      'dyeSeat',
      'engine',
    ],
    judge: ({ on, memory }) => {
      const forbids: Output[] = [];
      for (const [valve, seat, others] of WAITS)
        if (!on[valve] && memory[seat] === 'may-be-open') forbids.push(...others);
      if (memory.engine === 'off') return { forbids };
      // A running engine pushes through its high side whatever opens at the other end of the manifold.
      if (!on.highSideValve && memory.highSeat === 'may-be-open') forbids.push('chargeValve');
      if (!on.chargeValve && memory.chargeSeat === 'may-be-open') forbids.push('highSideValve');
      return { forbids };
    },
  }),
];
