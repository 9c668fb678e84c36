// The interlocks around the tank: its limits, what may be let out of it, and the purge of its air.
import { OUTPUTS } from '../signals.ts';
import { forbid, type Interlock, interlock, NOTHING, trip } from './interlock.ts';

const INFLOW = forbid('recoveryValve', 'compressor');
const PURGE_VALVE = forbid('airPurgeValve');
const ALONE = OUTPUTS.filter((output) => output !== 'airPurgeValve' && output !== 'fanStop');

export const TANK_ROWS: readonly Interlock[] = [
  interlock({
    id: 'IL-05',
    hazard: 'Discharge over-pressure: tank valve shut by hand, blocked filter, hot or air-filled tank',
    remedy:
      'Open the tank valve, let the tank cool and check the filter; then reset the switch and the trip.',
    acts: OUTPUTS,
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
    acts: OUTPUTS,
    bands: ['tankPressure'],
    judge: ({ bands }) => {
      if (bands.tankPressure === 'high') return trip('tank-pressure-high');
      return bands.tankPressure === 'normal' ? NOTHING : forbid('compressor', 'recoveryValve', 'tankHeater');
    },
  }),
  interlock({
    id: 'IL-07',
    hazard: 'Tank overfilled: it goes liquid-full when it warms and bursts or blows off',
    remedy:
      'See that the scale reads and that nothing leans or lies on its platform. Then change to a tank with room, or empty this one.',
    acts: ['recoveryValve', 'compressor'],
    bands: ['tankMass'],
    judge: ({ bands }) => (bands.tankMass === 'full' || bands.tankMass === 'unknown' ? INFLOW : NOTHING),
  }),
  interlock({
    id: 'IL-08',
    hazard: 'Tank heated beyond its limit, or nearly empty, or unobserved',
    remedy:
      'Let the tank cool, or fill it: the heater needs liquid around it and a temperature that can be read.',
    acts: ['tankHeater'],
    bands: ['tankTemperature', 'tankLiquid'],
    judge: ({ bands }) =>
      bands.tankTemperature === 'normal' && bands.tankLiquid === 'enough' ? NOTHING : forbid('tankHeater'),
  }),
];

export const CONTAMINATED_ROWS: readonly Interlock[] = [
  interlock({
    id: 'IL-34',
    hazard: 'Contaminated refrigerant is let out of its cylinder, into machine or vehicle',
    remedy: "Put the machine's own tank back.",
    acts: ['chargeValve'],
    bands: ['tankUse'],
    judge: ({ bands }) => (bands.tankUse === 'own' ? NOTHING : forbid('chargeValve')),
  }),
];

export const PURGE_ROWS: readonly Interlock[] = [
  interlock({
    id: 'IL-36',
    hazard: 'Refrigerant is vented out of a tank that holds no air, or has not rested long enough to show it',
    remedy:
      'Let the tank stand untouched for two hours, better overnight, in a room of 18 °C or more; then look again.',
    acts: ['airPurgeValve'],
    bands: ['tankAir'],
    memory: ['tankRest'],
    judge: ({ bands, memory }) =>
      bands.tankAir === 'some' && memory.tankRest === 'rested' ? NOTHING : PURGE_VALVE,
  }),
  interlock({
    id: 'IL-37',
    hazard: 'More refrigerant is vented than a purge may cost, or by a scale that cannot count it',
    remedy: 'Let the tank rest overnight and purge again, or change the tank.',
    acts: ['airPurgeValve'],
    bands: ['scale'],
    memory: ['purge'],
    judge: ({ bands, memory }) =>
      bands.scale === 'trusted' && memory.purge === 'some-left' ? NOTHING : PURGE_VALVE,
  }),
  interlock({
    id: 'IL-38',
    hazard: "The purge valve stands open while anything else moves or stirs the machine's refrigerant",
    remedy: 'Shut every other valve and switch off every drive but the fan before the purge valve opens.',
    acts: ['airPurgeValve'],
    outputs: ALONE,
    judge: ({ on }) => (ALONE.some((output) => on[output]) ? PURGE_VALVE : NOTHING),
  }),
];
