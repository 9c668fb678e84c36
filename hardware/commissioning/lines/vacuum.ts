// Moves around the vacuum pump, and pressures as the lines need them.
import type { Reading, Readings } from '../../../controller/signals.ts';
import type { Known, Move, Wish } from '../line.ts';
import { averaged, held, wish } from '../moves.ts';
import { type Figures, numberIn } from '../record.ts';
import type { PressureName } from '../sensors.ts';

/** The room that gauge readings are added to when there is no barometer: see `dataSheetSensors`. */
const SOME_ROOM_PA = 101_325;

/** As the data sheet has it: above the room for a gauge transmitter, absolute for the manifold's. */
export const read =
  (name: PressureName) =>
  (readings: Readings): Reading => {
    const reading = readings[`${name}PressurePa`];
    if (!reading.ok || name === 'manifold') return reading;
    const roomPa = readings.barometerPa.ok ? readings.barometerPa.value : SOME_ROOM_PA;
    return { ...reading, value: reading.value - roomPa };
  };

/** What the manifold's sensor says once its two points are known. */
export function manifoldIn({ of }: Known): (readings: Readings) => Reading {
  const found: Figures = of('second-point');
  const gain = numberIn(found, 'manifoldGain');
  const offsetPa = numberIn(found, 'manifoldOffsetPa');
  return ({ manifoldPressurePa: reading }) =>
    reading.ok ? { ...reading, value: reading.value * gain + offsetPa } : reading;
}

const RUN_UP_MS = 3_000;
const SHUT_MS = 1_000;
/** A look meanwhile takes its time too. */
const SPARE_MS = 20_000;

/** The longest that `pumpedDown` has the pump on. */
export const pumpTimeMs = (forMs: number): number => RUN_UP_MS + forMs + SHUT_MS + SPARE_MS;

type Pumping = {
  /** Open from the start, and after the pump has been shut off, for whatever comes then. */
  readonly also?: readonly Wish[];
  readonly tell?: string;
  /** Looks while the pump is open. */
  readonly look?: (on: readonly Wish[]) => Move;
};

/** The pump runs up, is opened to the manifold, is shut off from it, and stops. */
export function pumpedDown(forMs: number, { also = [], tell, look }: Pumping = {}): readonly Move[] {
  const forAllMs = pumpTimeMs(forMs);
  const pump = wish('vacuumPump', forAllMs);
  const open = [pump, wish('vacuumValve', forAllMs), ...also];
  return [
    held(RUN_UP_MS, [pump, ...also], tell),
    held(forMs, open),
    ...(look === undefined ? [] : [look(open)]),
    held(SHUT_MS, [pump, ...also]),
  ];
}

/** The manifold at rest. */
export const manifoldRead = (
  known: Known,
  keep: (meanPa: number, sdPa: number) => Figures,
  on: readonly Wish[] = [],
  settleMs = 2_000,
): Move =>
  averaged({
    of: manifoldIn(known),
    named: 'the manifold sensor',
    settleMs,
    forMs: 5_000,
    on,
    keep,
  });
