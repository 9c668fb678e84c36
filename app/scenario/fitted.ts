// What the simulated machine has.
import type { Output } from '../../controller/signals.ts';

export const FITTED: readonly Output[] = [
  'highSideValve',
  'lowSideValve',
  'recoveryValve',
  'vacuumValve',
  'chargeValve',
  'oilValve',
  'separatorDrainValve',
  'airPurgeValve',
  'compressor',
  'vacuumPump',
  'tankHeater',
  'fanStop',
];
