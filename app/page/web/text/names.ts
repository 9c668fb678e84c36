// What stages, outputs, services, outcomes and verdicts are called.
import type { Output } from '../../../../controller/signals.ts';
import type { Stage } from '../../../../controller/stages.ts';
import type { Jurisdiction } from '../../../../controller/ticket.ts';

export const STAGE_NAMES: { readonly [S in Stage]: string } = {
  identify: 'Identify',
  fill: 'Fill tank',
  'purge-air': 'Purge air',
  settle: 'Connect',
  recover: 'Recover',
  rest: 'Rest',
  'drain-oil': 'Drain oil',
  repair: 'Repair',
  evacuate: 'Evacuate',
  hold: 'Vacuum hold',
  'add-oil': 'Add oil',
  'leak-check': 'Leak check',
  charge: 'Charge',
  verify: 'Performance',
  'clear-hoses': 'Clear hoses',
  'recover-hoses': 'Recover hoses',
};

/** What it is called, what it is when it is on and off, and what switching it is. */
type OutputText = {
  readonly name: string;
  readonly tag: string;
  readonly on: string;
  readonly off: string;
  readonly switchOn: string;
  readonly switchOff: string;
};
const valve = (name: string, tag: string): OutputText => ({
  name,
  tag,
  on: 'Open',
  off: 'Shut',
  switchOn: 'Open',
  switchOff: 'Shut',
});
const drive = (name: string, tag: string): OutputText => ({
  name,
  tag,
  on: 'Runs',
  off: 'Off',
  switchOn: 'Start',
  switchOff: 'Stop',
});

/** Tags after ISA-5.1: SV is a valve with a solenoid. */
export const OUTPUT_NAMES: { readonly [O in Output]: OutputText } = {
  highSideValve: valve('High-side valve', 'SV-1'),
  lowSideValve: valve('Low-side valve', 'SV-2'),
  recoveryValve: valve('Recovery valve', 'SV-3'),
  vacuumValve: valve('Vacuum valve', 'SV-4'),
  chargeValve: valve('Charge valve', 'SV-5'),
  oilValve: valve('Oil valve', 'SV-6'),
  dyeValve: valve('Dye valve', 'SV-7'),
  separatorDrainValve: valve('Separator drain', 'SV-8'),
  airPurgeValve: valve('Air purge valve', 'SV-9'),
  compressor: drive('Compressor', 'K-1'),
  vacuumPump: drive('Vacuum pump', 'P-1'),
  tankHeater: { ...drive('Tank heater', 'E-1'), on: 'Heats', switchOn: 'Heat' },
  fanStop: {
    name: 'Fan stop relay',
    tag: 'M-1',
    on: 'Energised',
    off: 'Off',
    switchOn: 'Stop the fan',
    switchOff: 'Let it run',
  },
};

export const SERVICE_NAMES: { readonly [service: string]: string } = {
  whole: 'Whole service',
  recover: 'Recover',
  'evacuate-and-charge': 'Evacuate and charge',
  'leak-check': 'Leak check',
  'fill-tank': 'Fill the tank',
};

export const JURISDICTION_NAMES: { readonly [J in Jurisdiction]: string } = {
  none: 'no place in particular',
  us: 'United States',
  eu: 'European Union',
};

export const SEVERITY_NAMES = {
  information: 'Note',
  advice: 'Advice',
  warning: 'Warning',
  trip: 'Trip',
} as const;

export const OUTCOMES: { readonly [outcome: string]: string } = {
  completed: 'Job completed',
  stopped: 'Job stopped',
  'power-lost': 'The power failed',
};

export const VERDICTS: { readonly [verdict: string]: string } = {
  tight: 'Tight',
  outgassing: 'Gives off gas',
  leak: 'Leak',
  inconclusive: 'Inconclusive',
};

/** What made an interlock trip. */
export const TRIP_NAMES: { readonly [reason: string]: string } = {
  'air-suspected': 'The compressor may be drawing air',
  'delivery-blocked': 'The compressor draws and nothing arrives in the tank',
  'emergency-stop': 'The emergency stop is pressed',
  'gas-alarm': 'The gas alarm sounds',
  'high-pressure-switch': 'The high-pressure switch has opened',
  'manifold-open-to-room': 'The manifold is open to the room',
  'tank-loses-mass': 'The tank loses mass',
  'tank-pressure-high': 'The pressure in the tank is too high',
  'valve-leaks-through': 'A valve leaks through',
};
