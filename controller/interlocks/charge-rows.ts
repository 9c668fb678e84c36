// The interlocks around the charge valve: liquid goes only where it is wanted, and only while it can be counted.
import { forbid, type Interlock, interlock, NOTHING } from './interlock.ts';

const CHARGE_VALVE = forbid('chargeValve');

export const CHARGE_ROWS: readonly Interlock[] = [
  interlock({
    id: 'IL-19',
    hazard: 'Liquid from the tank runs into the compressor',
    remedy: 'Shut the recovery valve and stop the compressor before the charge valve opens.',
    acts: ['chargeValve', 'recoveryValve', 'compressor'],
    outputs: ['chargeValve', 'recoveryValve', 'compressor'],
    judge: ({ on }) =>
      on.chargeValve && (on.recoveryValve || on.compressor)
        ? forbid('chargeValve', 'recoveryValve', 'compressor')
        : NOTHING,
  }),
  interlock({
    id: 'IL-20',
    hazard: 'Charging on while nobody knows how much: overcharge',
    remedy: 'Keep hands, hoses and tools off the scale until it has been quiet for five seconds.',
    acts: ['chargeValve'],
    bands: ['scale'],
    judge: ({ bands }) => (bands.scale === 'trusted' ? NOTHING : CHARGE_VALVE),
  }),
  interlock({
    id: 'IL-21',
    hazard: 'Dip tube uncovered: vapour instead of liquid, and a tank drawn down',
    remedy: 'Put in a fuller tank of the same refrigerant, or fill this one from a cylinder.',
    acts: ['chargeValve'],
    bands: ['tankLiquid'],
    judge: ({ bands }) => (bands.tankLiquid === 'enough' ? NOTHING : CHARGE_VALVE),
  }),
  interlock({
    id: 'IL-22',
    hazard: 'Liquid into the low side (compressor slugging) or into a dead end (trapped liquid)',
    remedy:
      'Shut the low-side valve and open the high-side valve before the charge valve opens. A short pulse into the closed manifold needs a way out of it to have been open since the last.',
    acts: ['chargeValve', 'lowSideValve'],
    outputs: ['chargeValve', 'chargePulse', 'highSideValve', 'lowSideValve'],
    memory: ['deadEnd'],
    judge: ({ on, memory }) => {
      if (!on.chargeValve) return NOTHING;
      if (on.lowSideValve) return forbid('chargeValve', 'lowSideValve');
      if (on.highSideValve) return NOTHING;
      // One short pulse fills no manifold; the next needs a way out to have been open in between.
      return on.chargePulse && memory.deadEnd === 'empty' ? NOTHING : CHARGE_VALVE;
    },
  }),
  interlock({
    id: 'IL-23',
    hazard: 'A hotter high side pushes refrigerant back into the tank through the charge valve',
    remedy:
      "Stop the engine if it runs. Else cool the vehicle's condenser or warm the tank, until the tank has the higher pressure.",
    acts: ['chargeValve'],
    outputs: ['chargeValve', 'chargePulse', 'highSideValve'],
    bands: ['chargeDirection'],
    memory: ['engine'],
    judge: ({ on, bands, memory }) => {
      // The high side of a running engine is always hotter; a short pulse behind its shut valve it cannot meet.
      const apart = memory.engine === 'running' && on.chargePulse && !on.highSideValve;
      return bands.chargeDirection === 'forward' || apart ? NOTHING : CHARGE_VALVE;
    },
  }),
  interlock({
    id: 'IL-45',
    hazard:
      'A vehicle is given more than its nominal charge and full hoses, or on top of what nobody knows it to hold',
    remedy:
      'Recover and evacuate the vehicle, then charge it anew. If it took more than it may, look for an open hose.',
    acts: ['chargeValve'],
    outputs: ['chargePulse', 'highSideValve', 'lowSideValve'],
    memory: ['given'],
    judge: ({ on, memory }) => {
      if (memory.given === 'some-left') return NOTHING;
      // A short pulse into the manifold, shut off from both hoses, gives a vehicle nothing.
      const apart = on.chargePulse && !on.highSideValve && !on.lowSideValve;
      return memory.given === 'unknown' && apart ? NOTHING : CHARGE_VALVE;
    },
  }),
];
