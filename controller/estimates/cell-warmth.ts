// How much warmer the cell of the scale is than the room: compressor and pump warm the machine that it stands in.

/** What an hour of either makes of it, and the time constant of that (estimates; sheet metal with a fan). */
const WARMS_K = 4;
const TIME_MS = 20 * 60_000;

/** After another scan of `elapsedMs`. Between two weighings the zero may have moved as over so many kelvin of the room. */
export const warmerK = (beforeK: number, driven: boolean, elapsedMs: number): number =>
  beforeK + ((driven ? WARMS_K : 0) - beforeK) * Math.min(Math.max(elapsedMs, 0) / TIME_MS, 1);
