// Whether a run of the compressor has drawn what its displacement says: by the suction, which falls, and by what arrived.

/** What a gauge has told of a suction: nothing, alone, with the absolute sensor not against it later, or with that one against it. */
export type GaugeWord = 'none' | 'alone' | 'heard' | 'denied';

/** The suction of a run: the highest since the compressor came on, whether it has fallen from there, whether some of it was a guess. */
export type Suction = {
  readonly mostPa: number;
  readonly fell: boolean;
  readonly guessed: boolean;
  readonly gauge: GaugeWord;
};

/** Whatever is drawn on falls by more than a tenth, a boiling vehicle too: hoses and valves want that much (estimate). */
const FALLS_SHARE = 0.9;

type SuctionInput = {
  readonly suctionPa: number | undefined;
  /** Nothing where a sensor tells it. */
  readonly suctionSdShare: number;
  readonly suctionByGauge?: boolean;
  readonly suctionApart?: boolean;
  readonly suctionDenied?: boolean;
  readonly running: boolean;
};

export function watchSuction(suction: Suction | undefined, input: SuctionInput): Suction | undefined {
  const { suctionPa, suctionSdShare, suctionApart = false, running } = input;
  if (suctionPa === undefined) return suction;
  const before = suction ?? { mostPa: suctionPa, fell: false, guessed: false, gauge: 'none' };
  const guessed = before.guessed || suctionSdShare > 0 || suctionApart;
  const gauge = wordOf(before.gauge, input);
  if (before.fell && guessed === before.guessed && gauge === before.gauge) return before;
  const { mostPa, fell } = before;
  return {
    mostPa: running ? Math.max(mostPa, suctionPa) : suctionPa,
    fell: fell || (running && suctionPa < FALLS_SHARE * mostPa),
    guessed,
    gauge,
  };
}

/** What a gauge has told alone the absolute sensor may deny as soon as the pressure is within its span, and no later. */
function wordOf(
  before: GaugeWord,
  { suctionByGauge = false, suctionDenied = false, running }: SuctionInput,
): GaugeWord {
  if (!running || before === 'denied') return before;
  if (suctionByGauge) return 'alone';
  return before !== 'alone' ? before : suctionDenied ? 'denied' : 'heard';
}

/** One run as far as it was counted: by displacement, and by what the scale has shown. */
type Run = {
  readonly suction: Suction | undefined;
  readonly pushedEmpty: boolean;
  readonly totalKg: number;
  readonly drawnKg: number;
  readonly fromShownKg: number;
  readonly shownKg: number;
};

/** Less than this by displacement proves nothing (estimate). */
const LEAST_KG = 0.003;
/** And what arrives is less than this share of it (estimate). */
const ARRIVES_SHARE = 0.2;

/** The suction never fell and nothing came: the compressor has stood still, or drawn on a valve that is shut. */
export const drewNothing = (
  { suction, totalKg, fromShownKg }: Run,
  shownKg: number,
  scaleSdKg: number,
): boolean =>
  suction?.fell === false &&
  totalKg > LEAST_KG &&
  shownKg - fromShownKg < Math.max(ARRIVES_SHARE * totalKg, 2 * scaleSdKg);

/** Until the coil was pushed empty for the last time so much must have come, for a share to be told from it (estimate). */
const TOLD_FROM_KG = 0.06;
/**
 * A sound compressor brings 0.9 to 1.05 of its displacement, liquid that comes by itself more (the bench's own simulator,
 * 80 jobs); with less than this its valves are worn.
 */
const WORN_SHARE = 0.8;

/** What the compressor draws of its displacement, where the scale has shown that it is worn; else as it was known before. */
export function shareDrawn(
  { pushedEmpty, totalKg, drawnKg, shownKg, fromShownKg, suction }: Run,
  before: { readonly kg: number; readonly share: number },
): number {
  const untilEmptyKg = totalKg - drawnKg;
  if (!pushedEmpty || untilEmptyKg < TOLD_FROM_KG || suction?.guessed !== false) return before.share;
  const share = (shownKg - fromShownKg - before.kg) / untilEmptyKg;
  return share < WORN_SHARE ? Math.max(share, 0) : 1;
}
