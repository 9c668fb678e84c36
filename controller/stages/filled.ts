// What the tank has gained from a supply cylinder, and what must be left in there.
import type { Kept } from '../estimates/kept.ts';
import { gainOf, type Weighing } from '../estimates/masses.ts';
import type { Accounts } from '../state.ts';
import type { StageInput } from './stage.ts';

/**
 * After hours of a slow draw the displacement has lost count of the coil. So little at a time condenses that most of it runs
 * on into the tank (estimate: up to 40 g stay).
 */
const COIL_KG = 0.008;
const COIL_SD_KG = 0.015;

export const coilAfterFill = (before: Kept): Kept => ({ ...before, kg: COIL_KG, sdKg: COIL_SD_KG });

/**
 * By the scale alone: what the tank can give back. What coil and separator keep is no part of it; where liquid has run on into
 * them, nobody knows what is left in the cylinder.
 */
export function filled(
  accounts: Accounts,
  weighed: Weighing,
  input: Pick<StageInput, 'equipment' | 'plan'>,
): Accounts {
  const first = accounts.weighedFirst ?? weighed;
  const gain = gainOf(first, weighed, input.equipment, accounts.hoseForce);
  const { cylinderKg } = input.plan.ticket;
  const left =
    cylinderKg === undefined || accounts.lostTrack
      ? {}
      : {
          leftInCylinderKg: Math.max(0, cylinderKg - gain.massKg - accounts.kept.kg),
          leftUncertaintyKg: 2 * Math.hypot(gain.sdKg, accounts.kept.sdKg),
        };
  return {
    ...accounts,
    weighed,
    fill: { kg: gain.massKg, uncertaintyKg: 2 * gain.sdKg, ...left },
  };
}
