// Never commanded: around the charge, oil and dye, and a running engine.
import { AWAY, BOTTLES, type Forbidden, never, together, VEHICLE } from './never.ts';

export const CHARGE: readonly Forbidden[] = [
  never(
    'charging by a scale that is not trusted',
    { outputs: ['chargeValve'], bands: ['scale'] },
    ({ on, bands }) => on.chargeValve && bands.scale !== 'trusted',
  ),
  never(
    'charging from a tank that is short of liquid or may be',
    { outputs: ['chargeValve'], bands: ['tankLiquid'] },
    ({ on, bands }) => on.chargeValve && bands.tankLiquid !== 'enough',
  ),
  never(
    'charging on after all that vehicle and hoses may hold has left the tank',
    { outputs: ['chargeValve'], memory: ['given'] },
    ({ on, memory }) => on.chargeValve && memory.given === 'spent',
  ),
  never(
    'charging a vehicle that was not seen to be empty, but for a short pulse apart from it',
    { outputs: ['chargeValve', 'chargePulse', 'highSideValve', 'lowSideValve'], memory: ['given'] },
    ({ on, memory }) =>
      on.chargeValve &&
      memory.given === 'unknown' &&
      !(on.chargePulse && !on.highSideValve && !on.lowSideValve),
  ),
  together('liquid into the low side', 'chargeValve', 'lowSideValve'),
  never(
    'liquid into a dead end, but for one short pulse into an empty manifold',
    { outputs: ['chargeValve', 'chargePulse', 'highSideValve'], memory: ['deadEnd'] },
    ({ on, memory }) =>
      on.chargeValve && !on.highSideValve && !(memory.deadEnd === 'empty' && on.chargePulse),
  ),
  never(
    'charging out of a cylinder for contaminated refrigerant',
    { outputs: ['chargeValve'], bands: ['tankUse'] },
    ({ on, bands }) => on.chargeValve && bands.tankUse === 'contaminated',
  ),
  never(
    'charging against a hotter high side, or one that may be, but for a short pulse apart from a running engine',
    {
      outputs: ['chargeValve', 'chargePulse', 'highSideValve'],
      bands: ['chargeDirection'],
      memory: ['engine'],
    },
    ({ on, bands, memory }) =>
      on.chargeValve &&
      bands.chargeDirection !== 'forward' &&
      !(memory.engine === 'running' && on.chargePulse && !on.highSideValve),
  ),
];

export const OIL: readonly Forbidden[] = [
  together('oil and dye drawn at once', 'oilValve', 'dyeValve'),
  never(
    'the drain open apart from the recovery path',
    { outputs: ['separatorDrainValve', 'recoveryValve'] },
    ({ on }) => on.separatorDrainValve && !on.recoveryValve,
  ),
  never(
    'the drain open without pressure that is seen to push outwards',
    { outputs: ['separatorDrainValve'], bands: ['drainPressure'] },
    ({ on, bands }) => on.separatorDrainValve && bands.drainPressure !== 'above-ambient',
  ),
  ...([...VEHICLE, ...BOTTLES, 'vacuumValve', 'chargeValve', 'compressor'] as const).map((output) =>
    together(`the drain open beside ${output}`, 'separatorDrainValve', output),
  ),
  never(
    "oil that is not surely of the vehicle's own kind",
    { outputs: ['oilValve'], bands: ['bottleOil'] },
    ({ on, bands }) => on.oilValve && bands.bottleOil !== 'fits',
  ),
  never(
    'dye that is not surely allowed in the vehicle',
    { outputs: ['dyeValve'], bands: ['bottleDye'] },
    ({ on, bands }) => on.dyeValve && bands.bottleDye !== 'fits',
  ),
  ...BOTTLES.flatMap((bottle) => [
    never(
      `${bottle} open to anything but a vacuum`,
      { outputs: [bottle], bands: ['manifold'] },
      ({ on, bands }) => on[bottle] && bands.manifold !== 'vacuum',
    ),
    never(
      `${bottle} open into a dead end`,
      { outputs: [bottle, 'highSideValve'] },
      ({ on }) => on[bottle] && !on.highSideValve,
    ),
    ...(['lowSideValve', 'recoveryValve', 'chargeValve', 'compressor'] as const).map((output) =>
      together(`${bottle} open beside ${output}`, bottle, output),
    ),
  ]),
];

export const ENGINE: readonly Forbidden[] = [
  ...AWAY.map((output) =>
    never(
      `${output} on while the engine runs${output === 'chargeValve' ? ', but for a short pulse apart from both sides' : ''}`,
      { outputs: [output, 'chargePulse', ...VEHICLE], memory: ['engine'] },
      ({ on, memory }) => {
        const lock = output === 'chargeValve' && on.chargePulse && !on.highSideValve && !on.lowSideValve;
        return on[output] && memory.engine === 'running' && !lock;
      },
    ),
  ),
  ...[...AWAY, ...VEHICLE].map((output) =>
    never(
      `${output} on while the engine seems to run unasked`,
      { outputs: [output], memory: ['engine'] },
      ({ on, memory }) => on[output] && memory.engine === 'suspected',
    ),
  ),
  never(
    'a running vehicle fed at its limits or unseen',
    { outputs: ['chargeValve'], bands: ['runningSides'], memory: ['engine'] },
    ({ on, bands, memory }) => on.chargeValve && memory.engine !== 'off' && bands.runningSides !== 'fit',
  ),
  never(
    'a pulse beside a running engine while the high side may not have shut yet',
    { outputs: ['chargeValve', 'highSideValve'], memory: ['engine', 'highSeat'] },
    ({ on, memory }) =>
      on.chargeValve && !on.highSideValve && memory.engine === 'running' && memory.highSeat === 'may-be-open',
  ),
  never(
    'the high side of a running engine opened while the pulse may not have shut yet',
    { outputs: ['chargeValve', 'highSideValve'], memory: ['engine', 'chargeSeat'] },
    ({ on, memory }) =>
      on.highSideValve &&
      !on.chargeValve &&
      memory.engine === 'running' &&
      memory.chargeSeat === 'may-be-open',
  ),
];
