// What the weighings of the scale line say: counts a kilogram, and how far a weighing may be off.
import { outOfTolerance } from '../judge.ts';
import type { Known, Move, Tolerance } from '../line.ts';
import { type Figures, numberIn, numbersIn } from '../record.ts';
import { lineThrough, meanOf } from '../statistics.ts';
import { EVENLY } from './second-point.ts';

/** A scale that always says the same is not without noise: what is less than its last digit does not show. */
const HALF_COUNT = 0.5;

/** Straight line through all weighings; what remains of it by load is linearity, what remains within a load repeatability. */
function fitted(figures: Figures, loadsKg: readonly number[]): Figures {
  const line = lineThrough(loadsKg, numbersIn(figures, 'counts'));
  // A scale that does not move has no figure in kilograms, and its slope tells.
  const perKg = Math.abs(line.slope) || Number.NaN;
  const loads = [...new Set(loadsKg)];
  const byLoad = loads.map((load) => line.residuals.filter((_, i) => loadsKg[i] === load));
  const within = byLoad.flatMap((residuals) => residuals.map((one) => one - meanOf(residuals)));
  const repeatability = Math.sqrt(
    within.reduce((sum, one) => sum + one * one, 0) / (within.length - loads.length),
  );
  return {
    loadsKg,
    countsPerKg: line.slope,
    emptyCounts: line.intercept,
    repeatabilityKg: repeatability / perKg,
    linearityKg: Math.max(...byLoad.map((residuals) => Math.abs(meanOf(residuals)))) / perKg,
    noiseKg: Math.max(numberIn(figures, 'noiseCounts'), HALF_COUNT * EVENLY) / perKg,
    spanErrorSd: Math.hypot(line.slopeSd / perKg, numberIn(figures, 'massErrorShare') * EVENLY),
  };
}

/** A scale that is out of its tolerances already is not watched for half an hour. */
export const scaleFound = (
  { figures }: Known,
  loadsKg: readonly number[],
  tolerances: readonly Tolerance[],
): Move => ({
  asks: false,
  step: () => {
    const found = fitted(figures, loadsKg);
    const known = tolerances.filter(({ figure }) => figure in found);
    return {
      kind: outOfTolerance({ tolerances: known }, found) === undefined ? 'next' : 'end',
      figures: found,
    };
  },
});

/** As a share of the load. */
export const withCreep = (figures: Figures, lastCounts: number): Figures => ({
  creepSd:
    Math.abs(lastCounts - numberIn(figures, 'creepFirstCounts')) /
    (numberIn(figures, 'countsPerKg') * numbersIn(figures, 'massesKg').at(-1)!),
});

/** Its size counts as its scatter: it comes and goes with the pressure, and its sign with how the hoses lie. */
export const withHoses = (figures: Figures, pressedCounts: number): Figures => ({
  hoseForceKgPerPaSd:
    Math.abs(pressedCounts - numberIn(figures, 'zeroCounts')) /
    Math.abs(numberIn(figures, 'countsPerKg')) /
    numberIn(figures, 'hosePressurePa'),
});
