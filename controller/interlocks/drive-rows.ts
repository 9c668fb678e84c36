// The interlocks around the two drives, vacuum pump and compressor: what they may draw on, and when.
import { OUTPUTS } from '../signals.ts';
import { forbid, type Interlock, interlock, NOTHING, trip } from './interlock.ts';

const COMPRESSOR = forbid('compressor');
const VACUUM_VALVE = forbid('vacuumValve');

export const VACUUM_ROWS: readonly Interlock[] = [
  interlock({
    id: 'IL-09',
    hazard:
      'Pump stands still or is not up to speed behind an open valve: its oil is sucked into the vehicle',
    remedy: 'Start the vacuum pump and give it three seconds before its valve opens.',
    acts: ['vacuumValve'],
    outputs: ['vacuumPump'],
    memory: ['pump'],
    judge: ({ on, memory }) => (on.vacuumPump && memory.pump === 'up-to-speed' ? NOTHING : VACUUM_VALVE),
  }),
  interlock({
    id: 'IL-10',
    hazard: 'Pump opened to pressure: oil blown out, refrigerant vented',
    remedy: 'Recover first, until the manifold is no higher than the atmosphere.',
    acts: ['vacuumValve'],
    bands: ['manifold'],
    judge: ({ bands }) =>
      bands.manifold === 'vacuum' || bands.manifold === 'low' || bands.manifold === 'barometric'
        ? NOTHING
        : VACUUM_VALVE,
  }),
  interlock({
    id: 'IL-11',
    hazard: 'Vehicle opened to a running pump before the absolute sensor has seen its pressure',
    remedy:
      'Shut the vacuum valve, open the hose valve, and give the absolute sensor a second to see the pressure.',
    acts: ['vacuumValve'],
    outputs: ['vacuumValve', 'highSideValve', 'lowSideValve'],
    memory: ['highPath', 'lowPath'],
    judge: ({ on, memory }) => {
      const unseen =
        (on.highSideValve && memory.highPath === 'apart') || (on.lowSideValve && memory.lowPath === 'apart');
      return on.vacuumValve && unseen ? VACUUM_VALVE : NOTHING;
    },
  }),
  interlock({
    id: 'IL-12',
    hazard: 'Pump draws on the recovery path and vents what the separator and condenser hold',
    remedy: 'Shut the vacuum valve before you recover, recovery valve and compressor before you evacuate.',
    acts: ['vacuumValve', 'recoveryValve', 'compressor'],
    outputs: ['vacuumValve', 'recoveryValve', 'compressor'],
    judge: ({ on }) =>
      on.vacuumValve && (on.recoveryValve || on.compressor)
        ? forbid('vacuumValve', 'recoveryValve', 'compressor')
        : NOTHING,
  }),
  interlock({
    id: 'IL-13',
    hazard: 'Tank liquid is sucked into the pump and vented',
    remedy: 'Shut the one of the two before the other opens.',
    acts: ['vacuumValve', 'chargeValve'],
    outputs: ['vacuumValve', 'chargeValve'],
    judge: ({ on }) => (on.vacuumValve && on.chargeValve ? forbid('vacuumValve', 'chargeValve') : NOTHING),
  }),
  interlock({
    id: 'IL-14',
    hazard: 'Pump opened to a manifold that still holds liquid from charging',
    remedy:
      'Draw the manifold down through the recovery path first, until it has stayed low for ten seconds.',
    acts: ['vacuumValve'],
    memory: ['manifoldHolds'],
    judge: ({ memory }) => (memory.manifoldHolds === 'no-liquid' ? NOTHING : VACUUM_VALVE),
  }),
];

export const COMPRESSOR_ROWS: readonly Interlock[] = [
  interlock({
    id: 'IL-15',
    hazard: 'Compressor runs against a shut suction',
    remedy: 'Open the recovery valve before the compressor starts.',
    acts: ['compressor'],
    outputs: ['compressor', 'recoveryValve'],
    judge: ({ on }) => (on.compressor && !on.recoveryValve ? COMPRESSOR : NOTHING),
  }),
  interlock({
    id: 'IL-16',
    hazard: 'Compressor restarts against head before its pressures have evened out',
    remedy: 'Wait until the compressor has stood still for its minimum time.',
    acts: ['compressor'],
    memory: ['compressor'],
    judge: ({ memory }) => (memory.compressor === 'just-stopped' ? COMPRESSOR : NOTHING),
  }),
  interlock({
    id: 'IL-17',
    hazard: 'Compressor draws air: air with refrigerant under pressure can burn, and spoils the tank',
    remedy:
      'Look for an open fitting or coupler, see which hose shows the pressure with its valve shut, and look for a valve to the room that does not shut: vacuum, oil, dye or drain.',
    acts: OUTPUTS,
    outputs: ['compressor'],
    memory: ['suction', 'arrival', 'compressor'],
    judge: ({ on, memory }) => {
      if (!on.compressor || (memory.suction === 'clear' && memory.arrival === 'refrigerant')) return NOTHING;
      return memory.compressor === 'running' ? trip('air-suspected') : COMPRESSOR;
    },
  }),
  interlock({
    id: 'IL-18',
    hazard: 'Compressor runs dry and hot, or draws on something that no sensor has shown to hold pressure',
    remedy:
      'There is nothing left to draw. If there should be, open the valve of the hose that holds pressure.',
    acts: ['compressor'],
    outputs: ['highSideValve', 'lowSideValve'],
    bands: ['manifold', 'highHose', 'lowHose'],
    judge: ({ on, bands }) => {
      if (bands.manifold === 'vacuum') return COMPRESSOR;
      if (bands.manifold !== 'unknown') return NOTHING;
      const shown =
        (on.highSideValve && bands.highHose === 'pressure') ||
        (on.lowSideValve && bands.lowHose === 'pressure');
      return shown ? NOTHING : COMPRESSOR;
    },
  }),
];
