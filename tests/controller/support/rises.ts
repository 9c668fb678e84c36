// The rise of a hold, given by its figures: what oil gives off, unless a test says otherwise.
import type { Rise } from '../../../controller/estimates/hold-verdict.ts';

/** Half a pascal a second, sharp, to 600 Pa. */
export const rise = (over: Partial<Rise> = {}): Rise => ({
  fit: {
    model: 'straight',
    slopePaPerS: 0,
    slopeSdPaPerS: 0,
    plateauPa: 600,
    endPa: 600,
    tauS: 0,
    noisePa: 0,
    correlation: 0,
  },
  slopePaPerS: 0.5,
  slopeSdPaPerS: 0.001,
  mostPaPerS: 0.503,
  meanSlopePaPerS: 0.5,
  course: 'tiring',
  keeps: 0.9,
  plateauPa: 600,
  endPa: 600,
  ...over,
});
