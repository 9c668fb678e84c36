// What has come out of the vehicle so far: on the scale, or kept by the condenser.
import { gainOf, type Weighing, withDrift } from '../estimates/masses.ts';
import type { Accounts, RecoveryAccount } from '../state.ts';
import type { StageInput } from './stage.ts';
import { underPressure } from './under-pressure.ts';

/**
 * What neither the tank nor the coil shows, one standard deviation: refrigerant in the separator's oil, and vapour in
 * hoses, manifold and separator, which hold about as much before as after (estimate: at the half bar of a recovery's end
 * 10 mL of oil take up some 3 %, 0.3 g).
 */
const MACHINE_SD_KG = 0.0005;

/**
 * What the scale shows too much of a run, the coil is held to keep too little of, and the other way round: so far the errors
 * of the two go together. Three quarters of the correlation that the bench shows are relied on (0.31 to 0.36 over 600 jobs).
 */
const SHARED = 0.25;

const togetherSdKg = (scaleSdKg: number, coilSdKg: number): number =>
  Math.sqrt(scaleSdKg ** 2 + coilSdKg ** 2 - 2 * SHARED * scaleSdKg * coilSdKg);

/** Books more recovered refrigerant; a weighing newer than all others makes the total surer or less sure. */
export function recovered(
  accounts: Accounts,
  moreKg: number,
  weighed: Weighing,
  input: Pick<StageInput, 'equipment' | 'plan' | 'seen'>,
): Accounts {
  const first = accounts.weighedFirst ?? weighed;
  const gain = gainOf(first, weighed, input.equipment, accounts.hoseForce);
  const under = underPressure(input);
  const statedKg = 2 * Math.hypot(togetherSdKg(gain.sdKg, accounts.kept.sdKg), MACHINE_SD_KG, under.sdKg);
  return {
    ...accounts,
    weighed,
    underPressureKg: under.kg,
    recoveredOverMs: weighed.atMs - first.atMs,
    recoveredKg: (accounts.recoveredKg ?? 0) + moreKg + under.kg - accounts.underPressureKg,
    recoveredUncertaintyKg: statedKg + unexplainedKg(moreKg, statedKg),
  };
}

/** No vehicle takes back what it gave: what is missing beyond any doubt went elsewhere, or the scale tells it wrongly. */
const unexplainedKg = (moreKg: number, doubtKg: number): number => (moreKg < -doubtKg ? -moreKg : 0);

/** What was booked before the zero of the scale was known to run away is no surer than what is booked after. */
export function inDoubtOf(accounts: Accounts, knownKgPerS: number, kgPerS: number): Accounts {
  if (kgPerS <= knownKgPerS) return accounts;
  const less = <A extends RecoveryAccount>(account: A): A =>
    account.recoveredUncertaintyKg === undefined
      ? account
      : {
          ...account,
          recoveredUncertaintyKg: withDrift(
            account.recoveredUncertaintyKg,
            account.recoveredOverMs,
            knownKgPerS,
            kgPerS,
          ),
        };
  const { recoveryBefore } = accounts;
  return less({ ...accounts, recoveryBefore: recoveryBefore && less(recoveryBefore) });
}

/**
 * What the vehicle's oil still holds when the evacuation ends: about two per cent of what was dissolved sits deep in the
 * sump and takes hours to come out (estimate, 0.5 to 1.5 g); next to nothing where there was hardly anything to recover.
 */
const RESIDUE_KG = 0.0009;
const RESIDUE_WORTH_KG = 0.05;
export const RESIDUE_SD_KG = 0.0003;

export const residueKg = ({ recoveredKg = 0 }: Pick<Accounts, 'recoveredKg'>): number =>
  recoveredKg > RESIDUE_WORTH_KG ? RESIDUE_KG : 0;
