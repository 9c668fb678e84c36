// What a performance test shows: the pattern of both pressures against what the weather lets expect, never one number.
import { ZERO_CELSIUS_K } from '../constants.ts';
import type { SaturationCurve } from '../saturation.ts';
import { saturationPa } from './saturation.ts';

export type PerformanceVerdict =
  | 'as-expected'
  | 'undercharge-or-restriction'
  | 'restriction'
  | 'weak-compressor'
  | 'overcharge-air-or-airflow'
  | 'unclear'
  | 'compressor-not-running'
  | 'too-cold-to-judge';

export type PerformanceInput = {
  readonly curve: SaturationCurve;
  readonly ambientK: number;
  readonly highPa: number;
  readonly lowPa: number;
  readonly ventK: number | undefined;
  /** What the gauges may be off by. */
  readonly highDoubtPa: number;
  readonly lowDoubtPa: number;
};

const REFERENCE_K = 20 + ZERO_CELSIUS_K;
/** A condenser stands 15 to 25 K above the air (common practice), here with 4 K of tolerance to either side. */
const CONDENSER_COOLEST_K = 11;
const CONDENSER_WARMEST_K = 29;
/**
 * Evaporation at 20 °C outside and how it moves with each kelvin, from usual low sides of R-134a: 1.4 to 2.0 bar gauge
 * at 20 °C, 2.4 to 3.4 bar at 40 °C (common practice, no vehicle's specification), with 4 K of tolerance to either side.
 */
const EVAPORATOR_COLDEST = { at20K: -9 + ZERO_CELSIUS_K, perK: 0.47 } as const;
const EVAPORATOR_WARMEST = { at20K: 5 + ZERO_CELSIUS_K, perK: 0.53 } as const;
/** Colder by so much more the evaporator is starved (estimate). */
const STARVED_K = 7;
/** Warmest air at the vents in humid weather: 9 °C at 20 °C outside, 26 °C at 40 °C (common practice). */
const VENT_WARMEST = { at20K: 9 + ZERO_CELSIUS_K, perK: 0.87 } as const;

type Line = { readonly at20K: number; readonly perK: number };
const on = ({ at20K, perK }: Line, ambientK: number): number => at20K + perK * (ambientK - REFERENCE_K);

type Level = 'very-low' | 'low' | 'usual' | 'high';
type Limits = { readonly starvedPa: number; readonly leastPa: number; readonly mostPa: number };

function levelOf(pressurePa: number, doubtPa: number, limits: Limits): Level {
  if (pressurePa + doubtPa < limits.starvedPa) return 'very-low';
  if (pressurePa + doubtPa < limits.leastPa) return 'low';
  return pressurePa - doubtPa > limits.mostPa ? 'high' : 'usual';
}

function levels(input: PerformanceInput): { readonly high: Level; readonly low: Level } {
  const { curve, ambientK, highPa, lowPa, highDoubtPa, lowDoubtPa } = input;
  const coldest = on(EVAPORATOR_COLDEST, ambientK);
  return {
    high: levelOf(highPa, highDoubtPa, {
      starvedPa: 0,
      leastPa: saturationPa(curve, ambientK + CONDENSER_COOLEST_K),
      mostPa: saturationPa(curve, ambientK + CONDENSER_WARMEST_K),
    }),
    low: levelOf(lowPa, lowDoubtPa, {
      starvedPa: saturationPa(curve, coldest - STARVED_K),
      leastPa: saturationPa(curve, coldest),
      mostPa: saturationPa(curve, on(EVAPORATOR_WARMEST, ambientK)),
    }),
  };
}

/** The pattern in one word; what fits none is unclear. Source of the patterns: common practice. */
export function judgePerformance(input: PerformanceInput): PerformanceVerdict {
  const { high, low } = levels(input);
  if (low === 'very-low') return high === 'low' ? 'undercharge-or-restriction' : 'restriction';
  if (high === 'low' && low === 'low') return 'undercharge-or-restriction';
  if (high === 'low' && low === 'high') return 'weak-compressor';
  if (high === 'high' && low === 'high') return 'overcharge-air-or-airflow';
  if (high !== 'usual' || low !== 'usual') return 'unclear';
  const warm = input.ventK !== undefined && input.ventK > on(VENT_WARMEST, input.ambientK);
  return warm ? 'unclear' : 'as-expected';
}
