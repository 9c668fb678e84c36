// Feeds the scale chain a stream whose truth is known.
import { coilOf } from '../../../controller/estimates/coil-surge.ts';
import { mostInCondenserKg, startCount } from '../../../controller/estimates/condenser.ts';
import { NOTHING_KEPT } from '../../../controller/estimates/kept.ts';
import { updateScale } from '../../../controller/estimates/scale.ts';
import { openScale, type Path, type ScaleState } from '../../../controller/estimates/scale-state.ts';
import { EQUIPMENT } from '../support/machine.ts';

const { countsPerKg, zeroCounts, noiseKg } = EQUIPMENT.scale;

/** Repeatable noise of about one standard deviation, without chance. */
export const noise = (i: number): number => {
  const x = Math.sin(i * 12.9898) * 43758.5453;
  const y = Math.sin(i * 78.233) * 12543.531;
  const u = Math.max(x - Math.floor(x), 1e-9);
  return Math.sqrt(-2 * Math.log(u)) * Math.cos(2 * Math.PI * (y - Math.floor(y)));
};

export type Truth = (timeS: number) => {
  readonly kg: number;
  readonly path?: Path;
  readonly settling?: boolean;
  readonly drawsSinceS?: number;
  readonly addedKg?: number;
  readonly hosePa?: number;
  readonly hosePhantomPa?: number;
  /** What the compressor has drawn since it began, by its displacement. */
  readonly drawnKg?: number;
  /** The coil passes all of it on. */
  readonly passes?: boolean;
};

const coilAfter = (
  drawnKg: number,
  pushedEmpty: boolean,
  startKg: number | undefined,
  lastKg: number | undefined,
) =>
  coilOf(
    {
      count: { ...startCount(0), pushedEmpty, drawnKg, totalKg: drawnKg, drawnSdKg: 0.02 * drawnKg },
      startKg,
      lastKg,
      leftKg: 0,
    },
    NOTHING_KEPT,
    mostInCondenserKg(EQUIPMENT),
  );

export function feed(
  truth: Truth,
  toS: number,
  from: ScaleState = openScale(),
  startS = 0,
  forceKgPerPa = 0,
): ScaleState {
  let state = from;
  let startKg: number | undefined;
  let lastKg: number | undefined;
  for (let i = Math.round(startS * 10) + 1; i <= toS * 10; i += 1) {
    const {
      kg,
      path = 'shut',
      settling = false,
      drawsSinceS,
      addedKg = 0,
      hosePa = 0,
      hosePhantomPa = 0,
      drawnKg,
      passes = false,
    } = truth(i / 10);
    if (state.trust === 'trusted') lastKg = state.massKg;
    if (drawnKg !== undefined) startKg ??= lastKg;
    const counts = Math.round(zeroCounts + (kg + addedKg + noiseKg * noise(i)) * countsPerKg);
    state = updateScale(
      state,
      {
        counts,
        atMs: i * 100,
        path,
        settling,
        drawsSinceMs: drawsSinceS === undefined ? undefined : 1000 * drawsSinceS,
        coil: drawnKg === undefined ? undefined : coilAfter(drawnKg, passes, startKg, lastKg),
        hoseGaugePa: hosePa,
        hosePhantomPa,
        hoseForceKgPerPa: forceKgPerPa,
        hoseForceSdKgPerPa: EQUIPMENT.scale.hoseForceKgPerPaSd,
      },
      EQUIPMENT,
    );
  }
  return state;
}
