// The interlocks: each row forbids outputs or trips, with its hazard. They are the last word.
import { OUTPUTS, type Output } from '../signals.ts';
import { type Interlock, interlock, type Verdict } from './interlock.ts';
import { BOTTLE_ROWS, ENGINE_ROWS, OIL_ROWS } from './oil-and-engine-rows.ts';
import { OVERLAP_ROWS } from './overlap-rows.ts';
import { SEAT_ROWS } from './seat-rows.ts';

const NOTHING: Verdict = { forbids: [] };
const EVERYTHING: Verdict = { forbids: OUTPUTS };
const forbid = (...outputs: readonly Output[]): Verdict => ({ forbids: outputs });
const trip = (reason: string): Verdict => ({ forbids: OUTPUTS, trip: reason });

const COMPRESSOR = forbid('compressor');
const INFLOW = forbid('recoveryValve', 'compressor');
const VACUUM_VALVE = forbid('vacuumValve');
const CHARGE_VALVE = forbid('chargeValve');

const machineRows: readonly Interlock[] = [
  ...OUTPUTS.map((output) =>
    interlock({
      id: `IL-01-${output}`,
      hazard: `${output} is not fitted: energising its terminal does something unknown`,
      remedy: 'Leave it off. List it as fitted once it is wired and tested.',
      outputs: [output],
      fitting: [output],
      judge: ({ fitting }) => (fitting[output] === 'fitted' ? NOTHING : forbid(output)),
    }),
  ),
  interlock({
    id: 'IL-02',
    hazard: 'A trip is forgotten and the machine starts again by itself',
    remedy: 'Remove the cause of the trip, then reset it.',
    outputs: OUTPUTS,
    memory: ['trip'],
    judge: ({ memory }) => (memory.trip === 'none' ? NOTHING : EVERYTHING),
  }),
  interlock({
    id: 'IL-03',
    hazard: 'Time stood still, jumped or ran back: no timer and no reading can be believed',
    remedy: 'Wish again. If this comes back, check the clock and the load of the computer.',
    outputs: OUTPUTS,
    memory: ['clock'],
    judge: ({ memory }) => (memory.clock === 'steady' ? NOTHING : EVERYTHING),
  }),
  interlock({
    id: 'IL-04',
    hazard: 'Someone is in danger and pressed the emergency stop',
    remedy: 'See that everyone is safe, release the emergency stop, then reset the trip.',
    outputs: OUTPUTS,
    bands: ['emergencyStop'],
    judge: ({ bands }) => {
      if (bands.emergencyStop === 'tripped') return trip('emergency-stop');
      return bands.emergencyStop === 'clear' ? NOTHING : EVERYTHING;
    },
  }),
];

const tankRows: readonly Interlock[] = [
  interlock({
    id: 'IL-05',
    hazard: 'Discharge over-pressure: tank valve shut by hand, blocked filter, hot or air-filled tank',
    remedy:
      'Open the tank valve, let the tank cool and check the filter; then reset the switch and the trip.',
    outputs: ['compressor', 'recoveryValve', 'tankHeater'],
    bands: ['highPressureSwitch'],
    judge: ({ bands }) => {
      if (bands.highPressureSwitch === 'tripped') return trip('high-pressure-switch');
      return bands.highPressureSwitch === 'clear'
        ? NOTHING
        : forbid('compressor', 'recoveryValve', 'tankHeater');
    },
  }),
  interlock({
    id: 'IL-06',
    hazard: 'Tank pressure comes near the cut-out before the hard-wired switch acts',
    remedy: 'Open the tank valve, let the tank cool, check the filter, and suspect air in the tank.',
    outputs: ['compressor', 'recoveryValve', 'tankHeater'],
    bands: ['tankPressure'],
    judge: ({ bands }) => {
      if (bands.tankPressure === 'high') return trip('tank-pressure-high');
      return bands.tankPressure === 'normal' ? NOTHING : forbid('compressor', 'recoveryValve', 'tankHeater');
    },
  }),
  interlock({
    id: 'IL-07',
    hazard: 'Tank overfilled: it goes liquid-full when it warms and bursts or blows off',
    remedy: 'Change to a tank with room, or empty this one.',
    outputs: ['recoveryValve', 'compressor'],
    bands: ['tankMass'],
    judge: ({ bands }) => (bands.tankMass === 'full' || bands.tankMass === 'unknown' ? INFLOW : NOTHING),
  }),
  interlock({
    id: 'IL-08',
    hazard: 'Tank heated beyond its limit, or nearly empty, or unobserved',
    remedy:
      'Let the tank cool, or fill it: the heater needs liquid around it and a temperature that can be read.',
    outputs: ['tankHeater'],
    bands: ['tankTemperature', 'tankLiquid'],
    judge: ({ bands }) =>
      bands.tankTemperature === 'normal' && bands.tankLiquid === 'enough' ? NOTHING : forbid('tankHeater'),
  }),
];

const vacuumRows: readonly Interlock[] = [
  interlock({
    id: 'IL-09',
    hazard:
      'Pump stands still or is not up to speed behind an open valve: its oil is sucked into the vehicle',
    remedy: 'Start the vacuum pump and give it three seconds before its valve opens.',
    outputs: ['vacuumValve', 'vacuumPump'],
    memory: ['pump'],
    judge: ({ on, memory }) => (on.vacuumPump && memory.pump === 'up-to-speed' ? NOTHING : VACUUM_VALVE),
  }),
  interlock({
    id: 'IL-10',
    hazard: 'Pump opened to pressure: oil blown out, refrigerant vented',
    remedy: 'Recover first, until the manifold is no higher than the atmosphere.',
    outputs: ['vacuumValve'],
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
    outputs: ['vacuumValve', 'chargeValve'],
    judge: ({ on }) => (on.vacuumValve && on.chargeValve ? forbid('vacuumValve', 'chargeValve') : NOTHING),
  }),
  interlock({
    id: 'IL-14',
    hazard: 'Pump opened to a manifold that still holds liquid from charging',
    remedy:
      'Draw the manifold down through the recovery path first, until it has stayed low for ten seconds.',
    outputs: ['vacuumValve'],
    memory: ['manifoldHolds'],
    judge: ({ memory }) => (memory.manifoldHolds === 'no-liquid' ? NOTHING : VACUUM_VALVE),
  }),
];

const compressorRows: readonly Interlock[] = [
  interlock({
    id: 'IL-15',
    hazard: 'Compressor runs against a shut suction',
    remedy: 'Open the recovery valve before the compressor starts.',
    outputs: ['compressor', 'recoveryValve'],
    judge: ({ on }) => (on.compressor && !on.recoveryValve ? COMPRESSOR : NOTHING),
  }),
  interlock({
    id: 'IL-16',
    hazard: 'Compressor restarts against head before its pressures have evened out',
    remedy: 'Wait until the compressor has stood still for its minimum time.',
    outputs: ['compressor'],
    memory: ['compressor'],
    judge: ({ memory }) => (memory.compressor === 'just-stopped' ? COMPRESSOR : NOTHING),
  }),
  interlock({
    id: 'IL-17',
    hazard: 'Compressor draws air: air with refrigerant under pressure can burn, and spoils the tank',
    remedy: 'Look for an open fitting or coupler, and see which hose shows the pressure with its valve shut.',
    outputs: ['compressor'],
    memory: ['suction', 'compressor'],
    judge: ({ on, memory }) => {
      if (!on.compressor || memory.suction === 'clear') return NOTHING;
      return memory.compressor === 'running' ? trip('air-suspected') : COMPRESSOR;
    },
  }),
  interlock({
    id: 'IL-18',
    hazard: 'Compressor runs dry and hot, or draws on something that no sensor has shown to hold pressure',
    remedy:
      'There is nothing left to draw. If there should be, open the valve of the hose that holds pressure.',
    outputs: ['compressor', 'highSideValve', 'lowSideValve'],
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

const chargeRows: readonly Interlock[] = [
  interlock({
    id: 'IL-19',
    hazard: 'Liquid from the tank runs into the compressor',
    remedy: 'Shut the recovery valve and stop the compressor before the charge valve opens.',
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
    outputs: ['chargeValve'],
    bands: ['scale'],
    judge: ({ bands }) => (bands.scale === 'trusted' ? NOTHING : CHARGE_VALVE),
  }),
  interlock({
    id: 'IL-21',
    hazard: 'Dip tube uncovered: vapour instead of liquid, and a tank drawn down',
    remedy: 'Put in a fuller tank of the same refrigerant, or fill this one from a cylinder.',
    outputs: ['chargeValve'],
    bands: ['tankLiquid'],
    judge: ({ bands }) => (bands.tankLiquid === 'enough' ? NOTHING : CHARGE_VALVE),
  }),
  interlock({
    id: 'IL-22',
    hazard: 'Liquid into the low side (compressor slugging) or into a dead end (trapped liquid)',
    remedy:
      'Shut the low-side valve and open the high-side valve before the charge valve opens. A short pulse into the closed manifold needs a way out of it to have been open since the last.',
    outputs: ['chargeValve', 'highSideValve', 'lowSideValve'],
    memory: ['deadEnd'],
    judge: ({ on, brief, memory }) => {
      if (!on.chargeValve) return NOTHING;
      if (on.lowSideValve) return forbid('chargeValve', 'lowSideValve');
      if (on.highSideValve) return NOTHING;
      // One short pulse fills no manifold; the next needs a way out to have been open in between.
      return brief.chargeValve && memory.deadEnd === 'empty' ? NOTHING : CHARGE_VALVE;
    },
  }),
  interlock({
    id: 'IL-23',
    hazard: 'A hotter high side pushes refrigerant back into the tank through the charge valve',
    remedy: "Cool the vehicle's condenser or warm the tank, until the tank has the higher pressure.",
    outputs: ['chargeValve', 'highSideValve'],
    bands: ['chargeDirection'],
    memory: ['engine'],
    judge: ({ on, brief, bands, memory }) => {
      // The high side of a running engine is always hotter; a short pulse behind its shut valve it cannot meet.
      const apart = memory.engine === 'running' && brief.chargeValve && !on.highSideValve;
      return bands.chargeDirection === 'forward' || apart ? NOTHING : CHARGE_VALVE;
    },
  }),
];

const contaminatedRows: readonly Interlock[] = [
  interlock({
    id: 'IL-34',
    hazard: 'Contaminated refrigerant is let out of its cylinder, into machine or vehicle',
    remedy: "Put the machine's own tank back.",
    outputs: ['chargeValve'],
    bands: ['tankUse'],
    judge: ({ bands }) => (bands.tankUse === 'own' ? NOTHING : CHARGE_VALVE),
  }),
];

const PURGE_VALVE = forbid('airPurgeValve');
const ALONE = OUTPUTS.filter((output) => output !== 'airPurgeValve' && output !== 'fanStop');

const purgeRows: readonly Interlock[] = [
  interlock({
    id: 'IL-36',
    hazard: 'Refrigerant is vented out of a tank that holds no air, or has not rested long enough to show it',
    remedy:
      'Let the tank stand untouched for two hours, better overnight, in a room of 18 °C or more; then look again.',
    outputs: ['airPurgeValve'],
    bands: ['tankAir'],
    memory: ['tankRest'],
    judge: ({ bands, memory }) =>
      bands.tankAir === 'some' && memory.tankRest === 'rested' ? NOTHING : PURGE_VALVE,
  }),
  interlock({
    id: 'IL-37',
    hazard: 'More refrigerant is vented than a purge may cost, or by a scale that cannot count it',
    remedy: 'Let the tank rest overnight and purge again, or change the tank.',
    outputs: ['airPurgeValve'],
    bands: ['scale'],
    memory: ['purge'],
    judge: ({ bands, memory }) =>
      bands.scale === 'trusted' && memory.purge === 'some-left' ? NOTHING : PURGE_VALVE,
  }),
  interlock({
    id: 'IL-38',
    hazard: "The purge valve stands open while anything else moves or stirs the machine's refrigerant",
    remedy: 'Shut every other valve and switch off every drive but the fan before the purge valve opens.',
    outputs: [...ALONE, 'airPurgeValve'],
    judge: ({ on }) => (ALONE.some((output) => on[output]) ? PURGE_VALVE : NOTHING),
  }),
];

const roomRows: readonly Interlock[] = [
  interlock({
    id: 'IL-24',
    hazard: 'Refrigerant gas around the machine',
    remedy: 'Leave the room, ventilate, keep ignition away and find the leak; then reset the trip.',
    outputs: OUTPUTS,
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
    outputs: OUTPUTS,
    bands: ['flammability'],
    memory: ['fan'],
    judge: ({ bands, memory }) =>
      bands.flammability === 'mild' && memory.fan === 'unproven' ? EVERYTHING : NOTHING,
  }),
  interlock({
    id: 'IL-26',
    hazard: 'Fan stopped around a mildly flammable refrigerant',
    remedy: 'Leave the fan running.',
    outputs: ['fanStop'],
    bands: ['flammability'],
    judge: ({ bands }) => (bands.flammability === 'mild' ? forbid('fanStop') : NOTHING),
  }),
  interlock({
    id: 'IL-27',
    hazard: 'A bottle is opened though no step of the service needs it',
    remedy: 'Leave it shut.',
    outputs: ['dyeValve'],
    judge: () => forbid('dyeValve'),
  }),
];

export const INTERLOCKS: readonly Interlock[] = [
  ...machineRows,
  ...tankRows,
  ...vacuumRows,
  ...compressorRows,
  ...chargeRows,
  ...SEAT_ROWS,
  ...OVERLAP_ROWS,
  ...contaminatedRows,
  ...purgeRows,
  ...roomRows,
  ...OIL_ROWS,
  ...BOTTLE_ROWS,
  ...ENGINE_ROWS,
];
