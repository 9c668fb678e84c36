// A charge that waits for its tank to stand above the vehicle, and a machine whose tank has a heater.
import type { Equipment } from '../../../controller/equipment.ts';
import type { ChargeAssist } from '../../../controller/stages/data-charge.ts';
import { EQUIPMENT } from './machine.ts';

export const HEATER: Equipment = { ...EQUIPMENT, fitted: [...EQUIPMENT.fitted, 'tankHeater'] };

export const assisting = (over: Partial<ChargeAssist> = {}): ChargeAssist => ({
  rounds: 1,
  spentMs: 0,
  sinceMs: 0,
  fromKg: 0.2,
  still: undefined,
  helped: false,
  heats: false,
  evenPa: 0,
  markPa: undefined,
  markGapPa: undefined,
  markAtMs: 0,
  ...over,
});
