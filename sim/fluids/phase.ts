// The word for a state's phase.

export type Phase = 'liquid' | 'two-phase' | 'vapour' | 'supercritical';

type CriticalPoint = { readonly criticalTemperatureK: number; readonly criticalPressurePa: number };

/**
 * Two-phase where liquid and vapour coexist; supercritical at or above both critical temperature and critical
 * pressure; warm gas below the critical pressure is vapour, and cold liquid above it is liquid.
 *
 * @param quality vapour mass fraction as the tables and the exact flash give it: 0 liquid, 1 gas
 */
export function phaseOf(
  fluid: CriticalPoint,
  state: { readonly temperatureK: number; readonly pressurePa: number; readonly quality: number },
): Phase {
  if (state.quality > 0 && state.quality < 1) return 'two-phase';
  if (state.temperatureK < fluid.criticalTemperatureK) return state.quality === 0 ? 'liquid' : 'vapour';
  return state.pressurePa < fluid.criticalPressurePa ? 'vapour' : 'supercritical';
}
