// The document that `run --json` prints: grams, seconds and fixed key names, from what came of the job.
import type { AfterCut } from '../../controller/after-cut.ts';
import { LOCAL_CODES_DECIDE, RULES } from '../../controller/jurisdiction.ts';
import type { Blocker } from '../../controller/notice.ts';
import type { JobResult } from '../../controller/result.ts';
import type { Ticket } from '../../controller/ticket.ts';
import type { Truth, TruthWithin } from '../../sim/spec.ts';
import {
  celsius,
  faultsOf,
  given,
  grams,
  noticesOf,
  rounded,
  seconds,
  truthDocument,
  truthOilDocument,
} from './document-parts.ts';
import type {
  JobDocument,
  LeftOff,
  LineAccount,
  Outcome,
  RunDocument,
  TruthWithinDocument,
} from './document-type.ts';
import type { FaultHistory } from './faults.ts';
import { type Loss, lossOfJob } from './loss.ts';

/** What came of a job on any rig. */
export type JobFacts = {
  readonly outcome: Outcome;
  readonly ticket: Ticket;
  /** Absent when the job was refused before it began. */
  readonly result?: JobResult;
  readonly blockers: readonly Blocker[];
  /** Where the power failed and came back. */
  readonly afterCut?: AfterCut;
  /** Where the job stopped with something moved since its last weighing. */
  readonly afterStop?: AfterCut;
  /** Of a rig behind a line: what got lost on it. */
  readonly line?: LineAccount;
};

/** What came of a job on the simulated bench. */
export type RunFacts = JobFacts & {
  readonly faults: readonly FaultHistory[];
  readonly truth: Truth;
  readonly within: TruthWithin;
  readonly simulatedMs: number;
  readonly wallMs: number;
  readonly tablesMs: number;
};

const truthWithinDocument = (within: TruthWithin): TruthWithinDocument => ({
  vehicleDissolvedG: grams(within.vehicleDissolvedKg),
  vehicleLiquidG: grams(within.vehicleLiquidKg),
  vesselRefrigerantG: grams(within.vesselRefrigerantKg),
  cabinetGasG: grams(within.cabinetGasKg),
  swallowedLiquidG: grams(within.swallowedLiquidKg),
});

function massesOf({ masses }: JobResult): JobDocument['masses'] {
  return {
    ...given('recoveredG', masses.recoveredKg, grams),
    ...given('recoveredUncertaintyG', masses.recoveredUncertaintyKg, grams),
    ...given('returnedG', masses.returnedKg, grams),
    ...given('hoseRecoveredG', masses.hoseRecoveredKg, grams),
    ...given('chargedG', masses.chargedKg, grams),
    ...given('purgedG', masses.purgedKg, grams),
    ...given('netChargeG', masses.netChargeKg, grams),
    ...given('uncertaintyG', masses.uncertaintyKg, grams),
    ...given('lostTrack', masses.lostTrack, (so) => so),
  };
}

function fillOf({ fill }: JobResult): Pick<JobDocument, 'fill'> {
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
}: JobResult): Pick<JobDocument, 'recovery' | 'evacuation' | 'hold'> {
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

function leakCheckOf({ leakCheck }: JobResult): Pick<JobDocument, 'leakCheck'> {
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
const injected = ({ injectedM3, injectedUncertaintyM3 }: NonNullable<JobResult['dye']>) => ({
  ...given('injectedMl', injectedM3, millilitres),
  ...given('injectedUncertaintyMl', injectedUncertaintyM3, millilitres),
});

function oilAndEngineOf({
  oil,
  dye,
  performance,
}: JobResult): Pick<JobDocument, 'oil' | 'dye' | 'performance'> {
  return {
    ...given('oil', oil, (known) => ({
      ...given('drainedMl', known.drainedM3, millilitres),
      ...injected(known),
    })),
    ...given('dye', dye, injected),
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
): Pick<JobDocument, 'identification' | 'machineNeedsCleaning'> {
  if (result === undefined) return {};
  return {
    ...given('identification', result.identification, (known) => known),
    ...(needsCleaning(result) ? { machineNeedsCleaning: true } : {}),
  };
}

const roundedLoss = ({ linearPercentPerYear, compoundPercentPerYear }: Loss): Loss => ({
  linearPercentPerYear: rounded(linearPercentPerYear),
  compoundPercentPerYear: rounded(compoundPercentPerYear),
});

function lossOf(ticket: Ticket, result: JobResult | undefined): Pick<JobDocument, 'loss'> {
  const estimate = lossOfJob(ticket, result);
  if (estimate === undefined || 'refused' in estimate) return given('loss', estimate, (refused) => refused);
  const { likely, least, most } = estimate;
  return { loss: { ...roundedLoss(likely), least: roundedLoss(least), most: roundedLoss(most) } };
}

function repairOf({ repair }: JobResult): Pick<JobDocument, 'repair'> {
  return given('repair', repair, ({ why, loss: judged, confirmedAtMs }) => ({
    why,
    ...given('missingG', judged?.missingKg, grams),
    ...given('uncertaintyG', judged?.uncertaintyKg, grams),
    ...given('allowedG', judged?.allowedKg, grams),
    ...given('confirmedAtS', confirmedAtMs, seconds),
  }));
}

const jurisdictionOf = ({ jurisdiction }: Ticket): JobDocument['jurisdiction'] => ({
  where: jurisdiction,
  rules: RULES[jurisdiction],
  caution: LOCAL_CODES_DECIDE,
});

const leftOff = ({ next, tankGainKg, uncertaintyKg, vehicle, engineMayRun }: AfterCut): LeftOff => ({
  next,
  ...given('tankGainG', tankGainKg, grams),
  ...given('uncertaintyG', uncertaintyKg, grams),
  ...given('vehicle', vehicle, ({ leastKg, mostKg }) => ({ leastG: grams(leastKg), mostG: grams(mostKg) })),
  engineMayRun,
});

/** What any rig can tell of a job. */
export function jobDocument(facts: JobFacts): JobDocument {
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
    ...given('afterCut', facts.afterCut, leftOff),
    ...given('afterStop', facts.afterStop, leftOff),
    ...given('line', facts.line, (line) => line),
  };
}

/** That, and what a simulator knows besides. */
export function runDocument(facts: RunFacts): RunDocument {
  return {
    ...jobDocument(facts),
    ...faultsOf(facts.faults),
    truth: truthDocument(facts.truth),
    truthOil: truthOilDocument(facts.truth),
    truthWithin: truthWithinDocument(facts.within),
    simulatedS: seconds(facts.simulatedMs),
    wallS: seconds(facts.wallMs),
    tablesS: seconds(facts.tablesMs),
  };
}
