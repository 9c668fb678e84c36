// What the job has come to so far, for the record.
import { lossOf } from './estimates/abnormal-loss.ts';
import type { LedgerEntry } from './ledger.ts';
import type { Notice } from './notice.ts';
import type {
  BottleAccount,
  ControllerState,
  Cycle,
  FillAccount,
  HoldAccount,
  IdentificationAccount,
  LeakCheckAccount,
  PerformanceAccount,
  RepairAccount,
  Visit,
} from './state.ts';

/** Added by measured time. */
type Injected = Omit<BottleAccount, 'emptied'>;

export type JobResult = {
  readonly outcome: 'running' | 'completed' | 'stopped';
  /** Every visit in order. */
  readonly stages: readonly Visit[];
  readonly masses: {
    /** What has left the vehicle, with what the condenser still holds of it. */
    readonly recoveredKg?: number;
    /** Of the recovered mass; k = 2. */
    readonly recoveredUncertaintyKg?: number;
    /** Of what a leak check let in, what has come back. */
    readonly returnedKg?: number;
    readonly hoseRecoveredKg?: number;
    readonly chargedKg?: number;
    /** Let off with the tank's air, refrigerant and air together. */
    readonly purgedKg?: number;
    /** Best estimate of what is in the vehicle at the end. */
    readonly netChargeKg?: number;
    /** Of the net charge; k = 2. */
    readonly uncertaintyKg?: number;
    /** Refrigerant went where no weighing counts it: what the vehicle holds is not known. */
    readonly lostTrack?: true;
  };
  /** What a recovered vehicle lacked of its nominal charge, what is reckoned to be left in it counted; k = 2. */
  readonly missing?: { readonly kg: number; readonly uncertaintyKg: number };
  readonly recovery?: { readonly cycles: readonly Cycle[] };
  readonly repair?: RepairAccount;
  readonly fill?: FillAccount;
  readonly evacuation?: { readonly lowestPa: number; readonly minutes: number };
  readonly hold?: HoldAccount;
  /** As read off the catch bottle, and as added by measured time. */
  readonly oil?: { readonly drainedM3?: number } & Injected;
  readonly dye?: Injected;
  readonly leakCheck?: LeakCheckAccount;
  readonly performance?: PerformanceAccount;
  readonly identification?: IdentificationAccount;
  readonly notices: readonly Notice[];
  readonly ledger: readonly LedgerEntry[];
};

/** The named fields that exist. */
function existing<K extends string, T>(
  fields: { readonly [N in K]: T | undefined },
): { readonly [N in K]?: T } {
  return Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== undefined)) as {
    [N in K]?: T;
  };
}

const injected = ({ injectedM3, injectedUncertaintyM3 }: BottleAccount) => ({
  injectedM3,
  injectedUncertaintyM3,
});

export function jobResult(state: ControllerState): JobResult {
  const { accounts, chart } = state;
  const { hoseRecoveredKg, chargedKg, netChargeKg, uncertaintyKg } = accounts;
  const { evacuation, hold, leakCheck, performance, recoveryBefore, repair } = accounts;
  const recovery = recoveryBefore ?? accounts;
  const { cycles, recoveredKg, recoveredUncertaintyKg } = recovery;
  const loss = lossOf(state.plan, recovery);
  const returnedKg = recoveryBefore && accounts.recoveredKg;
  const oil = existing({ drainedM3: accounts.oil.drainedM3, ...injected(accounts.oil) });
  const dye = existing(injected(accounts.dye));
  return {
    outcome: chart.value === 'completed' || chart.value === 'stopped' ? chart.value : 'running',
    stages: state.visits,
    masses: {
      ...existing({
        recoveredKg,
        recoveredUncertaintyKg,
        returnedKg,
        hoseRecoveredKg,
        chargedKg,
        purgedKg: accounts.purgedKg,
        netChargeKg,
        uncertaintyKg,
      }),
      ...(accounts.lostTrack ? { lostTrack: true } : {}),
    },
    ...(loss === undefined ? {} : { missing: { kg: loss.missingKg, uncertaintyKg: loss.uncertaintyKg } }),
    ...(cycles.length === 0 ? {} : { recovery: { cycles } }),
    ...(repair === undefined ? {} : { repair }),
    ...(accounts.fill === undefined ? {} : { fill: accounts.fill }),
    ...(evacuation === undefined ? {} : { evacuation }),
    ...(hold === undefined ? {} : { hold }),
    ...(Object.keys(oil).length === 0 ? {} : { oil }),
    ...(Object.keys(dye).length === 0 ? {} : { dye }),
    ...(leakCheck === undefined ? {} : { leakCheck }),
    ...(performance === undefined ? {} : { performance }),
    ...(accounts.identification === undefined ? {} : { identification: accounts.identification }),
    notices: state.notices,
    ledger: state.ledger,
  };
}
