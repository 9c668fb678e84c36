// Readings, boards and sessions as tests of commissioning write them down.
import { MEASURED, type Readings, SWITCHES } from '../../../controller/signals.ts';
import type { BoardSeen, Seen } from '../../../hardware/commissioning/line.ts';

/** An empty machine at rest in its room. */
const AT_REST: { readonly [name: string]: number | boolean } = {
  highSidePressurePa: 101_325,
  lowSidePressurePa: 101_325,
  tankPressurePa: 101_325,
  manifoldPressurePa: 101_325,
  vehicleVacuumPa: 2_000,
  barometerPa: 101_325,
  tankTemperatureK: 293.15,
  ambientTemperatureK: 293.15,
  ventTemperatureK: 293.15,
  scaleCounts: 1_300_000,
  emergencyStop: false,
  highPressureSwitch: false,
  fanFlow: true,
  gasAlarm: false,
};

export type Changes = { readonly [name: string]: number | boolean | undefined };

/** Left out is at rest; undefined is a broken wire. */
function readingsWith(changes: Changes = {}, atMs = 0): Readings {
  const all = { ...AT_REST, ...changes };
  return Object.fromEntries(
    [...MEASURED, ...SWITCHES].map((name) => [
      name,
      all[name] === undefined ? { ok: false, reason: 'open-circuit' } : { ok: true, value: all[name], atMs },
    ]),
  ) as unknown as Readings;
}

const BOARD: BoardSeen = { linked: true, state: 'armed', trip: 'none', word: 0, obeyed: 1, timeMs: 0 };

export const seenWith = (changes: Changes = {}, board: Partial<BoardSeen> = {}, atMs = 0): Seen => ({
  readings: readingsWith(changes, atMs),
  board: { ...BOARD, timeMs: atMs, ...board },
});
