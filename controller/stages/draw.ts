// How the compressor draws: with the condenser's fan, or without it when the tank is warmer than the room.
import { keptInCoilKg } from '../estimates/condenser.ts';
import { isFlammable } from '../interlocks/bands.ts';
import type { Commands } from '../signals.ts';
import { forPorts, type StageInput } from './stage.ts';

type PerPorts = { readonly [ports in 1 | 2]: Commands };

const WITH_FAN = forPorts('recoveryValve', 'compressor');
const WITHOUT_FAN = forPorts('recoveryValve', 'compressor', 'fanStop');
/** Closer than this the coil drains by the flow's own heat (estimate). */
const WARMER_K = 1;

export const drawWith = (fanStopped: boolean): PerPorts => (fanStopped ? WITHOUT_FAN : WITH_FAN);

/**
 * A coil that stands colder than the tank fills with liquid instead of passing it on, and what lies there is neither in
 * the tank nor on the scale. Without its fan it warms above the tank within seconds. Not for flammable refrigerant.
 */
export function wantsFanStopped({ equipment, seen }: StageInput): boolean {
  const { tankTemperatureK, ambientK } = seen;
  if (tankTemperatureK === undefined || ambientK === undefined) return false;
  if (isFlammable(equipment.tank.refrigerant) || !equipment.fitted.includes('fanStop')) return false;
  return tankTemperatureK > ambientK + WARMER_K;
}

/** Standard deviation of what nobody knows about the coil, per kelvin that the tank is warmer (estimates). */
const DOUBT_KG_PER_K = 0.0007;
const DOUBT_WITH_FAN_KG_PER_K = 0.004;

export function coilDoubtKg(fanStopped: boolean, { seen }: StageInput): number {
  const warmerK = Math.max((seen.tankTemperatureK ?? 0) - (seen.ambientK ?? seen.tankTemperatureK ?? 0), 0);
  return warmerK * (fanStopped ? DOUBT_KG_PER_K : DOUBT_WITH_FAN_KG_PER_K);
}

/** What the condenser keeps of a draw that the scale has just weighed. */
export function keptAfterDraw(
  deliveredKg: number,
  fanStopped: boolean,
  broughtKg: number | undefined,
  { seen, accounts }: StageInput,
): number {
  const { tankTemperatureK, ambientK } = seen;
  const warmerK = tankTemperatureK === undefined || ambientK === undefined ? 0 : tankTemperatureK - ambientK;
  const expectedKg = broughtKg === undefined ? undefined : accounts.keptInCoilKg + broughtKg;
  return keptInCoilKg({ deliveredKg, warmerK, fanStopped, expectedKg });
}
