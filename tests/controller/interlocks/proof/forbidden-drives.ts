// Never commanded: around the pump, the compressor and the tank.
import { OUTPUTS } from '../../../../controller/signals.ts';
import { BOTTLES, type Forbidden, never, together, VEHICLE } from './never.ts';

export const PUMP: readonly Forbidden[] = [
  together('pump and tank liquid joined', 'vacuumValve', 'chargeValve'),
  together('pump and recovery path joined', 'vacuumValve', 'recoveryValve'),
  together('pump and running compressor joined', 'vacuumValve', 'compressor'),
  ...BOTTLES.map((bottle) => together(`pump and ${bottle} joined`, 'vacuumValve', bottle)),
  never(
    'vacuum valve open on a pump that stands',
    { outputs: ['vacuumValve', 'vacuumPump'] },
    ({ on }) => on.vacuumValve && !on.vacuumPump,
  ),
  never(
    'vacuum valve open on a pump not up to speed',
    { outputs: ['vacuumValve'], memory: ['pump'] },
    ({ on, memory }) => on.vacuumValve && memory.pump !== 'up-to-speed',
  ),
  never(
    'pump open to pressure or to the unknown',
    { outputs: ['vacuumValve'], bands: ['manifold'] },
    ({ on, bands }) => on.vacuumValve && (bands.manifold === 'over-limit' || bands.manifold === 'unknown'),
  ),
  never(
    'pump opened onto a high side that was not yet joined to the absolute sensor',
    { outputs: ['vacuumValve', 'highSideValve'], memory: ['highPath'] },
    ({ on, memory }) => on.vacuumValve && on.highSideValve && memory.highPath === 'apart',
  ),
  never(
    'pump opened onto a low side that was not yet joined to the absolute sensor',
    { outputs: ['vacuumValve', 'lowSideValve'], memory: ['lowPath'] },
    ({ on, memory }) => on.vacuumValve && on.lowSideValve && memory.lowPath === 'apart',
  ),
  never(
    'pump open to a manifold that may hold liquid',
    { outputs: ['vacuumValve'], memory: ['manifoldHolds'] },
    ({ on, memory }) => on.vacuumValve && memory.manifoldHolds === 'liquid',
  ),
];

export const COMPRESSOR: readonly Forbidden[] = [
  together('tank liquid led to the recovery path', 'chargeValve', 'recoveryValve'),
  together('tank liquid beside a running compressor', 'chargeValve', 'compressor'),
  never(
    'compressor against a shut suction',
    { outputs: ['compressor', 'recoveryValve'] },
    ({ on }) => on.compressor && !on.recoveryValve,
  ),
  never(
    'compressor restarted too soon',
    { outputs: ['compressor'], memory: ['compressor'] },
    ({ on, memory }) => on.compressor && memory.compressor === 'just-stopped',
  ),
  never(
    'compressor on air',
    { outputs: ['compressor'], memory: ['suction'] },
    ({ on, memory }) => on.compressor && memory.suction === 'steady-at-barometer',
  ),
  never(
    'compressor brings air into the tank',
    { outputs: ['compressor'], memory: ['arrival'] },
    ({ on, memory }) => on.compressor && memory.arrival === 'air',
  ),
  never(
    'compressor on vacuum',
    { outputs: ['compressor'], bands: ['manifold'] },
    ({ on, bands }) => on.compressor && bands.manifold === 'vacuum',
  ),
  never(
    'compressor on what no sensor shows to hold pressure',
    { outputs: ['compressor', ...VEHICLE], bands: ['manifold', 'highHose', 'lowHose'] },
    ({ on, bands }) =>
      on.compressor &&
      bands.manifold === 'unknown' &&
      !(on.highSideValve && bands.highHose === 'pressure') &&
      !(on.lowSideValve && bands.lowHose === 'pressure'),
  ),
];

export const TANK: readonly Forbidden[] = [
  ...(['recoveryValve', 'compressor'] as const).flatMap((output) => [
    never(
      `${output} on into a full or unweighed tank`,
      { outputs: [output], bands: ['tankMass'] },
      ({ on, bands }) => on[output] && bands.tankMass !== 'normal',
    ),
    never(
      `${output} on although what is drawn does not arrive in the tank`,
      { outputs: [output], memory: ['delivery'] },
      ({ on, memory }) => on[output] && memory.delivery === 'blocked',
    ),
  ]),
  ...(['recoveryValve', 'compressor', 'tankHeater'] as const).flatMap((output) => [
    never(
      `${output} on with the tank pressure high or unknown`,
      { outputs: [output], bands: ['tankPressure'] },
      ({ on, bands }) => on[output] && bands.tankPressure !== 'normal',
    ),
    never(
      `${output} on with the high-pressure switch tripped or unknown`,
      { outputs: [output], bands: ['highPressureSwitch'] },
      ({ on, bands }) => on[output] && bands.highPressureSwitch !== 'clear',
    ),
  ]),
  never(
    'heating a tank that is hot or unread',
    { outputs: ['tankHeater'], bands: ['tankTemperature'] },
    ({ on, bands }) => on.tankHeater && bands.tankTemperature !== 'normal',
  ),
  never(
    'heating a tank that has little in it, or may have',
    { outputs: ['tankHeater'], bands: ['tankLiquid'] },
    ({ on, bands }) => on.tankHeater && bands.tankLiquid !== 'enough',
  ),
  never(
    'venting a tank that does not surely hold air',
    { outputs: ['airPurgeValve'], bands: ['tankAir'] },
    ({ on, bands }) => on.airPurgeValve && bands.tankAir !== 'some',
  ),
  never(
    'venting a tank that has not rested',
    { outputs: ['airPurgeValve'], memory: ['tankRest'] },
    ({ on, memory }) => on.airPurgeValve && memory.tankRest !== 'rested',
  ),
  never(
    'venting more than a purge may cost',
    { outputs: ['airPurgeValve'], memory: ['purge'] },
    ({ on, memory }) => on.airPurgeValve && memory.purge === 'spent',
  ),
  never(
    'venting uncounted',
    { outputs: ['airPurgeValve'], bands: ['scale'] },
    ({ on, bands }) => on.airPurgeValve && bands.scale !== 'trusted',
  ),
  ...OUTPUTS.filter((output) => output !== 'airPurgeValve' && output !== 'fanStop').map((output) =>
    together(`venting while ${output} is on`, 'airPurgeValve', output),
  ),
];
