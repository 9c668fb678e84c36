// A machine with nothing wrong: every band and memory class in the state that permits.
import type { Bands } from '../../../controller/interlocks/bands.ts';
import type { Remembered } from '../../../controller/interlocks/memory.ts';

export const CALM_BANDS: Bands = {
  emergencyStop: 'clear',
  highPressureSwitch: 'clear',
  gasAlarm: 'clear',
  fanFlow: 'moving',
  flammability: 'none',
  tankUse: 'own',
  tankAir: 'some',
  bottleOil: 'fits',
  tankPressure: 'normal',
  tankMass: 'normal',
  tankLiquid: 'enough',
  tankTemperature: 'normal',
  scale: 'trusted',
  manifold: 'low',
  drainPressure: 'above-ambient',
  highHose: 'pressure',
  lowHose: 'pressure',
  chargeDirection: 'forward',
  runningSides: 'fit',
};

export const CALM_MEMORY: Remembered = {
  trip: 'none',
  clock: 'steady',
  compressor: 'rested',
  pump: 'up-to-speed',
  highPath: 'joined',
  lowPath: 'joined',
  highSeat: 'shut',
  lowSeat: 'shut',
  chargeSeat: 'shut',
  vacuumSeat: 'shut',
  recoverySeat: 'shut',
  fan: 'proven',
  suction: 'clear',
  manifoldHolds: 'no-liquid',
  deadEnd: 'empty',
  tankRest: 'rested',
  purge: 'some-left',
  engine: 'off',
  seats: 'tight',
  restMass: 'steady',
  delivery: 'free',
};
