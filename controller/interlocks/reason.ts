// Why an interlock forbids something, in words for people: its row, its hazard, what it cannot read, and the remedy.
import { BAND_WORDS } from './bands.ts';
import type { Refusal } from './permit.ts';
import { INTERLOCKS } from './table.ts';

export type Reason = {
  readonly row: string;
  readonly hazard: string;
  /** What cannot be read: the hazard is then a precaution and not what has happened. */
  readonly unknown?: string;
  readonly remedy: string;
};

const MEND = 'Check the sensor, its cable, and the line to the machine.';

/** Of a row that is not in the table, such as a fault of the controller itself, nothing more is known. */
export function reasonOf(row: string): Reason {
  const interlock = INTERLOCKS.find(({ id }) => id === row);
  if (interlock === undefined) {
    return { row, hazard: 'The controller cannot be trusted', remedy: 'Keep the record and report it.' };
  }
  const { hazard, remedy } = interlock;
  return { row, hazard, remedy };
}

export function reasonOfRefusal({ row, unknown }: Refusal): Reason {
  const reason = reasonOf(row);
  if (unknown.length === 0) return reason;
  return { ...reason, unknown: unknown.map((band) => BAND_WORDS[band]).join(' or '), remedy: MEND };
}

/** After 'the interlock forbids this: '. */
export function because({ hazard, unknown }: Reason): string {
  const inSentence = `${hazard[0]?.toLowerCase()}${hazard.slice(1)}`;
  return unknown === undefined
    ? inSentence
    : `${unknown} cannot be read, and unknown is never permission; it guards against this: ${inSentence}`;
}
