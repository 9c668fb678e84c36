// Combinations that may never be commanded: from the hazards of the trade, written down without looking at the table.
import { OUTPUTS } from '../../../../controller/signals.ts';
import { COMPRESSOR, PUMP, TANK } from './forbidden-drives.ts';
import { CHARGE, ENGINE, OIL } from './forbidden-liquids.ts';
import { BOTTLES, type Forbidden, never, tooSoon, VEHICLE } from './never.ts';

const OVERLAP: readonly Forbidden[] = [
  tooSoon('vacuumValve', 'chargeValve', 'chargeSeat'),
  tooSoon('chargeValve', 'vacuumValve', 'vacuumSeat'),
  tooSoon('vacuumValve', 'recoveryValve', 'recoverySeat'),
  tooSoon('recoveryValve', 'vacuumValve', 'vacuumSeat'),
  tooSoon('recoveryValve', 'chargeValve', 'chargeSeat'),
  tooSoon('chargeValve', 'recoveryValve', 'recoverySeat'),
  tooSoon('lowSideValve', 'chargeValve', 'chargeSeat'),
  tooSoon('chargeValve', 'lowSideValve', 'lowSeat'),
  tooSoon('separatorDrainValve', 'highSideValve', 'highSeat'),
  tooSoon('separatorDrainValve', 'lowSideValve', 'lowSeat'),
  tooSoon('separatorDrainValve', 'vacuumValve', 'vacuumSeat'),
  tooSoon('separatorDrainValve', 'chargeValve', 'chargeSeat'),
  ...([...VEHICLE, ...BOTTLES, 'vacuumValve', 'chargeValve', 'compressor'] as const).map((output) =>
    tooSoon(output, 'separatorDrainValve', 'drainSeat'),
  ),
  ...BOTTLES.flatMap((bottle) => {
    const seat = bottle === 'oilValve' ? 'oilSeat' : 'dyeSeat';
    return [
      tooSoon(bottle, 'lowSideValve', 'lowSeat'),
      tooSoon(bottle, 'vacuumValve', 'vacuumSeat'),
      tooSoon(bottle, 'recoveryValve', 'recoverySeat'),
      tooSoon(bottle, 'chargeValve', 'chargeSeat'),
      ...(
        ['lowSideValve', 'vacuumValve', 'recoveryValve', 'chargeValve', 'separatorDrainValve'] as const
      ).map((output) => tooSoon(output, bottle, seat)),
    ];
  }),
  tooSoon('dyeValve', 'oilValve', 'oilSeat'),
  tooSoon('oilValve', 'dyeValve', 'dyeSeat'),
];

const MACHINE: readonly Forbidden[] = [
  never(
    'fan stopped around something that burns',
    { outputs: ['fanStop'], bands: ['flammability'] },
    ({ on, bands }) => on.fanStop && bands.flammability === 'mild',
  ),
  ...OUTPUTS.flatMap((output) => [
    never(
      `${output} on while the emergency stop is pressed or unread`,
      { outputs: [output], bands: ['emergencyStop'] },
      ({ on, bands }) => on[output] && bands.emergencyStop !== 'clear',
    ),
    never(
      `${output} on in a gas alarm, or around something that burns with the alarm unread`,
      { outputs: [output], bands: ['gasAlarm', 'flammability'] },
      ({ on, bands }) =>
        on[output] &&
        (bands.gasAlarm === 'tripped' || (bands.gasAlarm === 'unknown' && bands.flammability === 'mild')),
    ),
    never(
      `${output} on around something that burns without moving air`,
      { outputs: [output], bands: ['flammability'], memory: ['fan'] },
      ({ on, bands, memory }) => on[output] && bands.flammability === 'mild' && memory.fan === 'unproven',
    ),
    never(
      `${output} on after a trip that was not reset`,
      { outputs: [output], memory: ['trip'] },
      ({ on, memory }) => on[output] && memory.trip === 'latched',
    ),
    never(
      `${output} on by a clock that cannot be believed`,
      { outputs: [output], memory: ['clock'] },
      ({ on, memory }) => on[output] && memory.clock === 'jumped',
    ),
    never(
      `${output} on though a shut valve lets something through`,
      { outputs: [output], memory: ['seats'] },
      ({ on, memory }) => on[output] && memory.seats === 'leaks',
    ),
    never(
      `${output} on though the tank loses mass with every valve shut`,
      { outputs: [output], memory: ['restMass'] },
      ({ on, memory }) => on[output] && memory.restMass === 'falling',
    ),
    never(
      `${output} on though the manifold is open to the room`,
      { outputs: [output], memory: ['vent'] },
      ({ on, memory }) => on[output] && memory.vent === 'open',
    ),
    never(
      `${output} on though it is not there`,
      { outputs: [output], fitting: [output] },
      ({ on, fitting }) => on[output] && fitting[output] === 'not-fitted',
    ),
  ]),
];

export const FORBIDDEN: readonly Forbidden[] = [
  ...PUMP,
  ...COMPRESSOR,
  ...TANK,
  ...CHARGE,
  ...OIL,
  ...ENGINE,
  ...OVERLAP,
  ...MACHINE,
];
