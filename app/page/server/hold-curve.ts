// The hold as a curve: what was watched, the shape that was found in it, and its verdict.
import { type DecayFit, fitDecay } from '../../../controller/estimates/decay.ts';
import type { ControllerState } from '../../../controller/state.ts';
import type { HoldView } from '../shown.ts';

const SAMPLE_S = 1;
const MOST_POINTS = 150;

/** The fitted curve: its slope and time constant are known, constant and amplitude follow by least squares. */
function curveOf({ slopePaPerS, tauS }: DecayFit, samplesPa: readonly number[]): (seconds: number) => number {
  const shape = (seconds: number) => (tauS > 0 ? Math.exp(-seconds / tauS) : 0);
  let [n, e, ee, y, ey] = [0, 0, 0, 0, 0];
  for (const [index, samplePa] of samplesPa.entries()) {
    const at = shape(index * SAMPLE_S);
    const rest = samplePa - slopePaPerS * index * SAMPLE_S;
    n += 1;
    e += at;
    ee += at * at;
    y += rest;
    ey += at * rest;
  }
  const determinant = n * ee - e * e;
  const amplitude = Math.abs(determinant) > 1e-9 ? (n * ey - e * y) / determinant : 0;
  const constant = (y - amplitude * e) / n;
  return (seconds) => constant + slopePaPerS * seconds + amplitude * shape(seconds);
}

/** Looks on, and keeps the last hold after its stage has gone. */
export class HoldCurve {
  #samplesPa: readonly number[] = [];
  #fitted = 0;
  #view: HoldView | undefined;

  clear(): void {
    this.#samplesPa = [];
    this.#fitted = 0;
    this.#view = undefined;
  }

  /** Called every so often while a job runs: fits nothing yet. */
  keep({ stage }: ControllerState): void {
    if (stage?.stage !== 'hold') return;
    const thermal = stage.thermalPa ?? [];
    const samplesPa = thermal.length > 0 ? thermal : stage.manifoldPa;
    if (samplesPa.length > 0) this.#samplesPa = samplesPa;
  }

  view({ accounts, equipment }: ControllerState): HoldView | undefined {
    const samplesPa = this.#samplesPa;
    if (samplesPa.length === 0) return undefined;
    if (samplesPa.length !== this.#fitted) {
      this.#fitted = samplesPa.length;
      this.#view = viewOf(samplesPa, equipment.pressure.manifoldResolutionPa);
    }
    return { ...this.#view!, ...(accounts.hold === undefined ? {} : { account: accounts.hold }) };
  }
}

function viewOf(samplesPa: readonly number[], resolutionPa: number): HoldView {
  const every = Math.ceil(samplesPa.length / MOST_POINTS);
  const shown = samplesPa.filter((_, index) => index % every === 0);
  const fit = fitDecay({ samplesPa, intervalS: SAMPLE_S, resolutionPa });
  const curve = fit === undefined ? undefined : curveOf(fit, samplesPa);
  const tenths = (pressurePa: number) => Math.round(pressurePa * 10) / 10;
  return {
    intervalS: every * SAMPLE_S,
    samplesPa: shown.map(tenths),
    fitPa: curve === undefined ? [] : shown.map((_, index) => tenths(curve(index * every * SAMPLE_S))),
  };
}
