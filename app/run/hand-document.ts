// The document that `hand --json` prints: what was written, what came of it, and what was seen. SI, grams and seconds.
import { saturatedK } from '../../controller/estimates/saturation.ts';
import type { Reason } from '../../controller/interlocks/reason.ts';
import { progress } from '../../controller/progress.ts';
import { OUTPUTS, type Output } from '../../controller/signals.ts';
import type { ControllerState } from '../../controller/state.ts';
import type { HandEntry } from '../../controller/wishes.ts';
import type { Truth } from '../../sim/spec.ts';
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
import type { RunDocument, TruthDocument } from './document-type.ts';
import type { FaultHistory } from './faults.ts';

type ReasonDocument = {
  readonly interlock: string;
  readonly hazard: string;
  /** What cannot be read. */
  readonly unknown?: string;
  readonly remedy: string;
};

export type LineDocument = {
  readonly atS: number;
  readonly line: string;
  readonly answer: 'done' | 'permitted' | 'refused' | 'not-understood';
  /** Of what was refused, and of what `why` would be refused: the first one is the one that counts. */
  readonly reasons?: readonly ReasonDocument[];
  /** Of a line that was not understood. */
  readonly remedy?: string;
};

/** What the sensors said; what was not read is absent. Saturation by the curve of the ticket's refrigerant. */
export type LookDocument = {
  readonly atS: number;
  readonly highSidePa?: number;
  readonly lowSidePa?: number;
  readonly lowSideSaturationC?: number;
  readonly manifoldPa?: number;
  readonly tankPa?: number;
  readonly tankC?: number;
  readonly ambientC?: number;
  readonly tankNetG?: number;
  readonly on: readonly Output[];
};

export type HandDocument = {
  readonly outcome: 'completed' | 'stopped';
  readonly lines: readonly LineDocument[];
  /** What the controller noted: also what fell or ended by itself. */
  readonly journal: readonly {
    readonly atS: number;
    readonly deed: string;
    readonly output?: string;
    readonly offAfterS?: number;
    readonly result: string;
    readonly reason?: ReasonDocument;
  }[];
  readonly looks: readonly LookDocument[];
  readonly notices: RunDocument['notices'];
  readonly faults?: RunDocument['faults'];
  readonly truth: TruthDocument;
  readonly truthOil: RunDocument['truthOil'];
  readonly simulatedS: number;
};

export const reasonDocument = ({ row, hazard, unknown, remedy }: Reason): ReasonDocument => ({
  interlock: row,
  hazard,
  ...given('unknown', unknown, String),
  remedy,
});

/** Without power every output is off, whatever the last scan permitted. */
export function lookDocument(state: ControllerState, nowMs: number, powered: boolean): LookDocument {
  const { figures } = progress(state, nowMs);
  const { highSidePa, lowSidePa, manifoldPa, tankPa, tankTemperatureK, tankNetKg } = figures;
  return {
    atS: seconds(nowMs),
    ...given('highSidePa', highSidePa, rounded),
    ...given('lowSidePa', lowSidePa, rounded),
    ...given('lowSideSaturationC', saturatedK(lowSidePa, state.plan.curve), celsius),
    ...given('manifoldPa', manifoldPa, rounded),
    ...given('tankPa', tankPa, rounded),
    ...given('tankC', tankTemperatureK, celsius),
    ...given('ambientC', state.seen?.ambientK, celsius),
    ...given('tankNetG', tankNetKg, grams),
    on: powered ? OUTPUTS.filter((output) => state.judged?.permitted[output].on) : [],
  };
}

const entryDocument = ({ atMs, deed, output, offAfterMs, result, reason }: HandEntry) => ({
  atS: seconds(atMs),
  deed,
  ...given('output', output, String),
  ...given('offAfterS', offAfterMs, seconds),
  result,
  ...given('reason', reason, reasonDocument),
});

/** What came of work by hand on any machine. */
export type HandResult = {
  readonly outcome: HandDocument['outcome'];
  readonly lines: readonly LineDocument[];
  readonly looks: readonly LookDocument[];
  readonly state: ControllerState;
  readonly lastedMs: number;
};

/** That, and what a simulator knows besides. */
export type HandFacts = HandResult & { readonly faults: readonly FaultHistory[]; readonly truth: Truth };

export function handDocument(facts: HandFacts): HandDocument {
  const { outcome, lines, looks, state, truth } = facts;
  return {
    outcome,
    lines,
    journal: state.handJournal.map(entryDocument),
    looks,
    notices: noticesOf(state.notices),
    ...faultsOf(facts.faults),
    truth: truthDocument(truth),
    truthOil: truthOilDocument(truth),
    simulatedS: seconds(facts.lastedMs),
  };
}
