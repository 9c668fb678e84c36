// Whether a vehicle has lost more than it ordinarily would: what is missing against what its age allows.
import type { Plan } from '../plan.ts';
import { residueOf } from './residue.ts';

/** What recovery has told. */
type Recovered = {
  readonly recoveredKg: number | undefined;
  /** k = 2. */
  readonly recoveredUncertaintyKg: number | undefined;
  readonly cycles: readonly { readonly recoveredKg: number }[];
};

export type LossJudged = {
  /** Nominal charge less what was recovered and what is reckoned to be left in the vehicle. */
  readonly missingKg: number;
  /** What the age allows. */
  readonly allowedKg: number;
  /** Of what is missing, k = 2. */
  readonly uncertaintyKg: number;
  /** Years reckoned with. */
  readonly years: number;
};

/** Of a vehicle that was recovered; nothing while nothing was. */
export function lossOf(
  { ticket, loss }: Pick<Plan, 'ticket' | 'loss'>,
  accounts: Recovered,
): LossJudged | undefined {
  const { recoveredKg, recoveredUncertaintyKg, cycles } = accounts;
  if (recoveredKg === undefined || recoveredUncertaintyKg === undefined) return undefined;
  const { nominalChargeKg, vehicleAgeYears } = ticket;
  const years = Math.min(vehicleAgeYears ?? loss.unknownYears, loss.mostYears);
  const residue = residueOf(cycles.map((cycle) => cycle.recoveredKg));
  const fallingKg = residue.kind === 'falling' ? residue.leftKg : 0;
  const leftKg = Math.max(loss.leftShare * nominalChargeKg, fallingKg);
  return {
    missingKg: nominalChargeKg - recoveredKg - leftKg,
    allowedKg: nominalChargeKg * (1 - (1 - loss.yearlyShare) ** years),
    uncertaintyKg: Math.hypot(recoveredUncertaintyKg, loss.fillKg, loss.leftDoubtShare * nominalChargeKg),
    years,
  };
}

/** Surely more than the age allows. */
export const isAbnormal = ({ missingKg, allowedKg, uncertaintyKg }: LossJudged): boolean =>
  missingKg - allowedKg > uncertaintyKg;
