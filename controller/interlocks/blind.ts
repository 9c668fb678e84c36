// Which unreadable things a row forbids an output for: those that, could they be read, might permit it.
import type { Output } from '../signals.ts';
import { BANDS, type BandName, type Bands } from './bands.ts';
import type { Fitting, Interlock, Word } from './interlock.ts';
import type { Remembered } from './remembered.ts';

export type WholeView = {
  readonly on: Word;
  readonly bands: Bands;
  readonly memory: Remembered;
  readonly fitting: Fitting;
};

/** The unknown bands of a row that forbids this output; none when no reading of them would make it permit. */
export function blindTo(row: Interlock, view: WholeView, output: Output): readonly BandName[] {
  const unknown = row.reads.bands.filter((band) => view.bands[band] === 'unknown');
  const enough = unknown.filter((band) => mightPermit(row, view, output, [band]));
  return enough.length === 0 && mightPermit(row, view, output, unknown) ? unknown : enough;
}

/** Whether some reading of these bands makes the row permit the output, everything else being as it is. */
function mightPermit(row: Interlock, view: WholeView, output: Output, unread: readonly BandName[]): boolean {
  const [band, ...others] = unread;
  if (band === undefined) return !row.judge(view).forbids.includes(output);
  return BANDS[band].some((value) =>
    mightPermit(row, { ...view, bands: { ...view.bands, [band]: value } }, output, others),
  );
}
