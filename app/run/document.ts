// The document that `run --json` prints: grams, seconds and fixed key names. What was not measured is absent.

import type { AfterCut } from '../../controller/after-cut.ts';
import { LOCAL_CODES_DECIDE, RULES } from '../../controller/jurisdiction.ts';
import type { Blocker, Notice } from '../../controller/notice.ts';
import type { JobResult } from '../../controller/result.ts';
import type { IdentificationAccount } from '../../controller/state.ts';
import type { Ticket } from '../../controller/ticket.ts';
import type { Truth, TruthWithin } from '../../sim/spec.ts';
import { toCelsius } from '../units.ts';
import type { FaultHistory } from './faults.ts';
import { type Loss, loss } from './loss.ts';

export type Outcome = 'completed' | 'stopped' | 'refused';

export type RunDocument = {
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
  readonly oil?: { readonly drainedMl?: number; readonly injectedMl?: number };
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
  readonly loss?: Loss;
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
  /** Where the power failed and came back: what is known of the grams, and what must come next. */
  readonly afterCut?: {
    readonly next: string;
    readonly tankGainG?: number;
    readonly uncertaintyG?: number;
    readonly vehicle?: { readonly leastG: number; readonly mostG: number };
    readonly engineMayRun: boolean;
  };
  /** The simulator's own: which faults were switched, and when. Without times: never came on. */
  readonly faults?: readonly {
    readonly fault: string;
    readonly output?: string;
    readonly size?: number;
    readonly onAtS?: number;
    readonly offAtS?: number;
  }[];
  readonly truth: TruthDocument;
  readonly truthOil: { readonly vehicleG: number };
  readonly truthWithin: TruthWithinDocument;
  readonly simulatedS: number;
  readonly wallS: number;
  readonly tablesS: number;
};

/** Grams of refrigerant, air and water; oil stands apart, so that the places of refrigerant can be summed. */
export type TruthDocument = {
  readonly [K in Exclude<keyof Truth, 'vehicleOilKg'> as K extends `${infer N}Kg` ? `${N}G` : never]: number;
};

export type TruthWithinDocument = {
  readonly [K in keyof TruthWithin as K extends `${infer N}Kg` ? `${N}G` : never]: number;
};

export type RunFacts = {
  readonly outcome: Outcome;
  readonly ticket: Ticket;
  /** Absent when the job was refused before it began. */
  readonly result?: JobResult;
  readonly blockers: readonly Blocker[];
  /** Where the power failed and came back. */
  readonly afterCut?: AfterCut;
  readonly faults: readonly FaultHistory[];
  readonly truth: Truth;
  readonly within: TruthWithin;
  readonly simulatedMs: number;
  readonly wallMs: number;
  readonly tablesMs: number;
};

/** Nine figures: a microgram of a kilogram, and no tail of binary digits. */
export const rounded = (value: number): number => Number(value.toPrecision(9));
export const grams = (massKg: number): number => rounded(massKg * 1000);
export const seconds = (timeMs: number): number => rounded(timeMs / 1000);

type Given<T, K extends string> = { readonly [N in K]?: T };

/** `{[key]: convert(value)}`, or nothing when there is no value. */
export function given<T, K extends string, R>(
  key: K,
  value: T | undefined,
  convert: (value: T) => R,
): Given<R, K> {
  return (value === undefined ? {} : { [key]: convert(value) }) as Given<R, K>;
}

export function truthDocument(truth: Truth): TruthDocument {
  return {
    initialG: grams(truth.initialKg),
    vehicleRefrigerantG: grams(truth.vehicleRefrigerantKg),
    cylinderRefrigerantG: grams(truth.cylinderRefrigerantKg),
    hoseRefrigerantG: grams(truth.hoseRefrigerantKg),
    machineRefrigerantG: grams(truth.machineRefrigerantKg),
    tankRefrigerantG: grams(truth.tankRefrigerantKg),
    pumpExhaustG: grams(truth.pumpExhaustKg),
    leakedG: grams(truth.leakedKg),
    purgedG: grams(truth.purgedKg),
    spilledG: grams(truth.spilledKg),
    ventedG: grams(truth.ventedKg),
    tankAirG: grams(truth.tankAirKg),
    vehicleWaterG: grams(truth.vehicleWaterKg),
    massDriftG: grams(truth.massDriftKg),
  };
}

const truthWithinDocument = (within: TruthWithin): TruthWithinDocument => ({
  vehicleDissolvedG: grams(within.vehicleDissolvedKg),
  vehicleLiquidG: grams(within.vehicleLiquidKg),
  vesselRefrigerantG: grams(within.vesselRefrigerantKg),
  swallowedLiquidG: grams(within.swallowedLiquidKg),
});

function massesOf({ masses }: JobResult): RunDocument['masses'] {
  return {
    ...given('recoveredG', masses.recoveredKg, grams),
    ...given('recoveredUncertaintyG', masses.recoveredUncertaintyKg, grams),
    ...given('returnedG', masses.returnedKg, grams),
    ...given('hoseRecoveredG', masses.hoseRecoveredKg, grams),
    ...given('chargedG', masses.chargedKg, grams),
    ...given('purgedG', masses.purgedKg, grams),
    ...given('netChargeG', masses.netChargeKg, grams),
    ...given('uncertaintyG', masses.uncertaintyKg, grams),
  };
}

function fillOf({ fill }: JobResult): Pick<RunDocument, 'fill'> {
  return given('fill', fill, ({ kg, uncertaintyKg, leftInCylinderKg, leftUncertaintyKg }) => ({
    filledG: grams(kg),
    uncertaintyG: grams(uncertaintyKg),
    ...given('leftInCylinderG', leftInCylinderKg, grams),
    ...given('leftUncertaintyG', leftUncertaintyKg, grams),
  }));
}

function testsOf({
  recovery,
  evacuation,
  hold,
}: JobResult): Pick<RunDocument, 'recovery' | 'evacuation' | 'hold'> {
  return {
    ...given('recovery', recovery, ({ cycles }) => ({
      cycles: cycles.map((cycle) => ({
        recoveredG: grams(cycle.recoveredKg),
        ...given('restRisePa', cycle.restRisePa, rounded),
      })),
    })),
    ...given('evacuation', evacuation, ({ lowestPa, minutes }) => ({
      lowestPa: rounded(lowestPa),
      minutes: rounded(minutes),
    })),
    ...given('hold', hold, ({ verdict, cause, slopePaPerS, plateauPa, detectionLimitKgPerYear }) => ({
      verdict,
      ...given('cause', cause, (known) => known),
      ...given('slopePaPerS', slopePaPerS, rounded),
      ...given('plateauPa', plateauPa, rounded),
      ...given('detectionLimitGPerYear', detectionLimitKgPerYear, grams),
    })),
  };
}

function leakCheckOf({ leakCheck }: JobResult): Pick<RunDocument, 'leakCheck'> {
  return given('leakCheck', leakCheck, ({ found, admittedKg, watch }) => ({
    ...given('found', found, Boolean),
    ...given('admittedG', admittedKg, grams),
    ...given('watch', watch, ({ said, fromPa, minutes, fallPa, limitKgPerYear }) => ({
      said,
      fromPa: rounded(fromPa),
      minutes: rounded(minutes),
      ...given('fallPa', fallPa, rounded),
      ...given('limitGPerYear', limitKgPerYear, grams),
    })),
  }));
}

const millilitres = (volumeM3: number): number => rounded(volumeM3 * 1e6);
export const celsius = (temperatureK: number): number => rounded(toCelsius(temperatureK));

function oilAndEngineOf({ oil, performance }: JobResult): Pick<RunDocument, 'oil' | 'performance'> {
  return {
    ...given('oil', oil, ({ drainedM3, injectedM3 }) => ({
      ...given('drainedMl', drainedM3, millilitres),
      ...given('injectedMl', injectedM3, millilitres),
    })),
    ...given('performance', performance, ({ verdict, highPa, lowPa, ventK, ambientK }) => ({
      verdict,
      highPa: rounded(highPa),
      lowPa: rounded(lowPa),
      ...given('ventC', ventK, celsius),
      ambientC: celsius(ambientK),
    })),
  };
}

/** Whatever was drawn after a contaminated refrigerant was let in has passed through the machine. */
export const needsCleaning = ({ identification, masses }: JobResult): boolean =>
  identification?.verdict === 'contaminated' && masses.recoveredKg !== undefined;

function identificationOf(
  result: JobResult | undefined,
): Pick<RunDocument, 'identification' | 'machineNeedsCleaning'> {
  if (result === undefined) return {};
  return {
    ...given('identification', result.identification, (known) => known),
    ...(needsCleaning(result) ? { machineNeedsCleaning: true } : {}),
  };
}

function lossOf(ticket: Ticket, result: JobResult | undefined): Pick<RunDocument, 'loss'> {
  const recoveredKg = result?.masses.recoveredKg;
  if (ticket.vehicleAgeYears === undefined || recoveredKg === undefined) return {};
  const { linearPercentPerYear, compoundPercentPerYear } = loss(
    ticket.nominalChargeKg,
    recoveredKg,
    ticket.vehicleAgeYears,
  );
  return {
    loss: {
      linearPercentPerYear: rounded(linearPercentPerYear),
      compoundPercentPerYear: rounded(compoundPercentPerYear),
    },
  };
}

function repairOf({ repair }: JobResult): Pick<RunDocument, 'repair'> {
  return given('repair', repair, ({ why, loss: judged, confirmedAtMs }) => ({
    why,
    ...given('missingG', judged?.missingKg, grams),
    ...given('uncertaintyG', judged?.uncertaintyKg, grams),
    ...given('allowedG', judged?.allowedKg, grams),
    ...given('confirmedAtS', confirmedAtMs, seconds),
  }));
}

const jurisdictionOf = ({ jurisdiction }: Ticket): RunDocument['jurisdiction'] => ({
  where: jurisdiction,
  rules: RULES[jurisdiction],
  caution: LOCAL_CODES_DECIDE,
});

export const noticesOf = (notices: readonly Notice[]): RunDocument['notices'] =>
  notices.map(({ code, text, remedy, atMs }) => ({ code, text, remedy, atS: seconds(atMs) }));

export function faultsOf(histories: readonly FaultHistory[]): Pick<RunDocument, 'faults'> {
  if (histories.length === 0) return {};
  const faults = histories.map(({ planned, onAtMs, offAtMs }) => ({
    ...planned.fault,
    ...given('onAtS', onAtMs, seconds),
    ...given('offAtS', offAtMs, seconds),
  }));
  return { faults };
}

function afterCutOf(afterCut: AfterCut | undefined): Pick<RunDocument, 'afterCut'> {
  if (afterCut === undefined) return {};
  const { next, tankGainKg, uncertaintyKg, vehicle, engineMayRun } = afterCut;
  return {
    afterCut: {
      next,
      ...given('tankGainG', tankGainKg, grams),
      ...given('uncertaintyG', uncertaintyKg, grams),
      ...given('vehicle', vehicle, ({ leastKg, mostKg }) => ({
        leastG: grams(leastKg),
        mostG: grams(mostKg),
      })),
      engineMayRun,
    },
  };
}

export function runDocument(facts: RunFacts): RunDocument {
  const { result } = facts;
  return {
    outcome: facts.outcome,
    stages: (result?.stages ?? []).map((stage) => ({
      stage: stage.stage,
      startedAtS: seconds(stage.startedAtMs),
      ...given('endedAtS', stage.endedAtMs, seconds),
      ...given('result', stage.result, String),
    })),
    masses: result === undefined ? {} : massesOf(result),
    ...(result === undefined
      ? {}
      : { ...fillOf(result), ...testsOf(result), ...leakCheckOf(result), ...oilAndEngineOf(result) }),
    ...identificationOf(result),
    ...(result === undefined ? {} : repairOf(result)),
    ...lossOf(facts.ticket, result),
    jurisdiction: jurisdictionOf(facts.ticket),
    notices: noticesOf(result?.notices ?? []),
    blockers: facts.blockers,
    ...afterCutOf(facts.afterCut),
    ...faultsOf(facts.faults),
    truth: truthDocument(facts.truth),
    truthOil: { vehicleG: grams(facts.truth.vehicleOilKg) },
    truthWithin: truthWithinDocument(facts.within),
    simulatedS: seconds(facts.simulatedMs),
    wallS: seconds(facts.wallMs),
    tablesS: seconds(facts.tablesMs),
  };
}
