// The keys of the document that `run --json` prints. What was not measured is absent.

import type { Blocker } from '../../controller/notice.ts';
import type { IdentificationAccount } from '../../controller/state.ts';
import type { LinkLosses } from '../../hardware/link.ts';
import type { Truth, TruthWithin } from '../../sim/spec.ts';
import type { Loss, LossRefusal } from './loss.ts';

export type Outcome = 'completed' | 'stopped' | 'refused';

/** Of a job that was left off: what is known of the grams by one more weighing, how sure (k = 2), and what must come next. */
export type LeftOff = {
  readonly next: string;
  readonly tankGainG?: number;
  readonly uncertaintyG?: number;
  readonly vehicle?: { readonly leastG: number; readonly mostG: number };
  readonly engineMayRun: boolean;
};

export type JobDocument = {
  readonly outcome: Outcome;
  readonly stages: readonly {
    readonly stage: string;
    readonly startedAtS: number;
    readonly endedAtS?: number;
    readonly result?: string;
  }[];
  readonly masses: {
    readonly recoveredG?: number;
    readonly recoveredUncertaintyG?: number;
    readonly returnedG?: number;
    readonly hoseRecoveredG?: number;
    readonly chargedG?: number;
    readonly purgedG?: number;
    readonly netChargeG?: number;
    readonly uncertaintyG?: number;
    /** Refrigerant went where no weighing counts it: what the vehicle holds is not known. */
    readonly lostTrack?: true;
  };
  readonly fill?: {
    readonly filledG: number;
    readonly uncertaintyG: number;
    readonly leftInCylinderG?: number;
    readonly leftUncertaintyG?: number;
  };
  readonly recovery?: {
    readonly cycles: readonly { readonly recoveredG: number; readonly restRisePa?: number }[];
  };
  readonly repair?: {
    readonly why: string;
    /** What the vehicle lacked when it came, its uncertainty, and what its age allows. */
    readonly missingG?: number;
    readonly uncertaintyG?: number;
    readonly allowedG?: number;
    /** Absent when the job ended before the repair was said to be done and no pressure spoke against it. */
    readonly confirmedAtS?: number;
  };
  readonly evacuation?: { readonly lowestPa: number; readonly minutes: number };
  readonly hold?: {
    readonly verdict: string;
    readonly cause?: string;
    readonly slopePaPerS?: number;
    readonly plateauPa?: number;
    readonly detectionLimitGPerYear?: number;
  };
  readonly leakCheck?: {
    readonly found?: boolean;
    readonly admittedG?: number;
    readonly watch?: {
      readonly said: string;
      readonly fromPa: number;
      readonly minutes: number;
      readonly fallPa?: number;
      readonly limitGPerYear?: number;
    };
  };
  readonly oil?: { readonly drainedMl?: number } & InjectedDocument;
  readonly dye?: InjectedDocument;
  readonly performance?: {
    readonly verdict: string;
    readonly highPa: number;
    readonly lowPa: number;
    readonly ventC?: number;
    readonly ambientC: number;
  };
  readonly identification?: IdentificationAccount;
  /** Contaminated refrigerant has gone through the machine: nothing else may, before it is cleaned. */
  readonly machineNeedsCleaning?: true;
  /** Likely, and the bounds that k = 2 leads to; or why none is named. */
  readonly loss?: (Loss & { readonly least: Loss; readonly most: Loss }) | { readonly refused: LossRefusal };
  /** Whose rules were asked for, and what each demands; none for `none`. */
  readonly jurisdiction: {
    readonly where: string;
    readonly rules: readonly {
      readonly id: string;
      readonly kind: string;
      readonly demands: string;
      readonly here: string;
      readonly source: string;
    }[];
    readonly caution: string;
  };
  readonly notices: readonly {
    readonly code: string;
    readonly text: string;
    readonly remedy: string;
    readonly atS: number;
  }[];
  readonly blockers: readonly Blocker[];
  /** Where the power failed and came back. */
  readonly afterCut?: LeftOff;
  /** Where the job stopped with something moved since its last weighing. */
  readonly afterStop?: LeftOff;
  readonly line?: LineAccount;
};

/** How often the line to a board was opened, and what got lost on both sides, by kind. */
export type LineAccount = { readonly opened: number; readonly losses: LinkLosses };

export type RunDocument = JobDocument & {
  /** The simulator's own: which faults were switched, and when. Without times: never came on. */
  readonly faults?: readonly {
    readonly fault: string;
    readonly output?: string;
    readonly size?: number;
    readonly onAtS?: number;
    readonly offAtS?: number;
  }[];
  readonly truth: TruthDocument;
  readonly truthOil: TruthOilDocument;
  readonly truthWithin: TruthWithinDocument;
  readonly simulatedS: number;
  readonly wallS: number;
  readonly tablesS: number;
};

/** Uncertainty with k = 2. */
type InjectedDocument = { readonly injectedMl?: number; readonly injectedUncertaintyMl?: number };

/** All oil, dye with it, and what of it came in as dye. */
export type TruthOilDocument = { readonly vehicleG: number; readonly vehicleDyeG: number };

/** Grams of refrigerant, air and water; oil stands apart, so that the places of refrigerant can be summed. */
export type TruthDocument = {
  readonly [K in Exclude<keyof Truth, 'vehicleOilKg' | 'vehicleDyeKg'> as K extends `${infer N}Kg`
    ? `${N}G`
    : never]: number;
};

export type TruthWithinDocument = {
  readonly [K in keyof TruthWithin as K extends `${infer N}Kg` ? `${N}G` : never]: number;
};
