// The interlocks for the machine as a whole and for the room it stands in.
import { OUTPUTS } from '../signals.ts';
import { forbid, type Interlock, interlock, NOTHING, trip } from './interlock.ts';

const EVERYTHING = forbid(...OUTPUTS);

export const MACHINE_ROWS: readonly Interlock[] = [
  ...OUTPUTS.map((output) =>
    interlock({
      id: `IL-01-${output}`,
      hazard: `${output} is not fitted: energising its terminal does something unknown`,
      remedy: 'Leave it off. List it as fitted once it is wired and tested.',
      acts: [output],
      fitting: [output],
      judge: ({ fitting }) => (fitting[output] === 'fitted' ? NOTHING : forbid(output)),
    }),
  ),
  interlock({
    id: 'IL-02',
    hazard: 'A trip is forgotten and the machine starts again by itself',
    remedy: 'Remove the cause of the trip, then reset it.',
    acts: OUTPUTS,
    memory: ['trip'],
    judge: ({ memory }) => (memory.trip === 'none' ? NOTHING : EVERYTHING),
  }),
  interlock({
    id: 'IL-03',
    hazard:
      'Time stood still, jumped or ran back, or the rig was not heard for a while: no timer can be believed, and the board may have dropped its outputs',
    remedy: 'Wish again. If this comes back, check the line, the clock and the load of the computer.',
    acts: OUTPUTS,
    memory: ['clock'],
    judge: ({ memory }) => (memory.clock === 'steady' ? NOTHING : EVERYTHING),
  }),
  interlock({
    id: 'IL-04',
    hazard: 'Someone is in danger and pressed the emergency stop',
    remedy: 'See that everyone is safe, release the emergency stop, then reset the trip.',
    acts: OUTPUTS,
    bands: ['emergencyStop'],
    judge: ({ bands }) => {
      if (bands.emergencyStop === 'tripped') return trip('emergency-stop');
      return bands.emergencyStop === 'clear' ? NOTHING : EVERYTHING;
    },
  }),
];

export const ROOM_ROWS: readonly Interlock[] = [
  interlock({
    id: 'IL-24',
    hazard: 'Refrigerant gas around the machine',
    remedy: 'Leave the room, ventilate, keep ignition away and find the leak; then reset the trip.',
    acts: OUTPUTS,
    bands: ['gasAlarm', 'flammability'],
    judge: ({ bands }) => {
      if (bands.gasAlarm === 'tripped') return trip('gas-alarm');
      return bands.gasAlarm === 'unknown' && bands.flammability === 'mild' ? EVERYTHING : NOTHING;
    },
  }),
  interlock({
    id: 'IL-25',
    hazard: 'Mildly flammable refrigerant without moving air in the cabinet',
    remedy: 'Let the fan run and check its flow switch; two seconds of moving air are enough.',
    acts: OUTPUTS,
    bands: ['flammability'],
    memory: ['fan'],
    judge: ({ bands, memory }) =>
      bands.flammability === 'mild' && memory.fan === 'unproven' ? EVERYTHING : NOTHING,
  }),
  interlock({
    id: 'IL-26',
    hazard: 'Fan stopped around a mildly flammable refrigerant',
    remedy: 'Leave the fan running.',
    acts: ['fanStop'],
    bands: ['flammability'],
    judge: ({ bands }) => (bands.flammability === 'mild' ? forbid('fanStop') : NOTHING),
  }),
];
