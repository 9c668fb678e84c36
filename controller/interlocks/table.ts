// The interlocks: each row forbids outputs or trips, with its hazard. They are the last word. The files *-rows.ts have them.
import { CHARGE_ROWS } from './charge-rows.ts';
import { COMPRESSOR_ROWS, VACUUM_ROWS } from './drive-rows.ts';
import type { Interlock } from './interlock.ts';
import { MACHINE_ROWS, ROOM_ROWS } from './machine-rows.ts';
import { BOTTLE_ROWS, ENGINE_ROWS, OIL_ROWS } from './oil-and-engine-rows.ts';
import { OVERLAP_ROWS } from './overlap-rows.ts';
import { SEAT_ROWS } from './seat-rows.ts';
import { CONTAMINATED_ROWS, PURGE_ROWS, TANK_ROWS } from './tank-rows.ts';

export const INTERLOCKS: readonly Interlock[] = [
  ...MACHINE_ROWS,
  ...TANK_ROWS,
  ...VACUUM_ROWS,
  ...COMPRESSOR_ROWS,
  ...CHARGE_ROWS,
  ...SEAT_ROWS,
  ...OVERLAP_ROWS,
  ...CONTAMINATED_ROWS,
  ...PURGE_ROWS,
  ...ROOM_ROWS,
  ...OIL_ROWS,
  ...BOTTLE_ROWS,
  ...ENGINE_ROWS,
];
