// What the trend charts show: a row every few simulated seconds, thinned out as a run grows long.

import { STAGES } from '../../../controller/stages.ts';
import type { ScanSeen } from '../../run/loop.ts';
import type { TrendRow } from '../shown.ts';

const EVERY_MS = 2_000;
const MOST_ROWS = 4_000;

/** Five figures are more than any chart can show. */
const figure = (value: number | undefined): number | null =>
  value === undefined ? null : Number(value.toPrecision(5));

export class History {
  #rows: TrendRow[] = [];
  #everyMs = EVERY_MS;
  #nextMs = Number.NEGATIVE_INFINITY;
  #epoch = 0;

  get rows(): readonly TrendRow[] {
    return this.#rows;
  }

  /** Another one: what was handed out before is no longer the beginning of the rows. */
  get epoch(): number {
    return this.#epoch;
  }

  clear(): void {
    this.#rows = [];
    this.#everyMs = EVERY_MS;
    this.#nextMs = Number.NEGATIVE_INFINITY;
    this.#epoch += 1;
  }

  look({
    nowMs,
    progress,
    readings,
  }: Pick<ScanSeen, 'nowMs' | 'readings'> & { progress: ScanSeen['progress'] }): void {
    this.#rows.push(rowOf(nowMs, progress, readings));
    this.#nextMs = nowMs + this.#everyMs;
    if (this.#rows.length > MOST_ROWS) this.#thin();
  }

  isDue(nowMs: number): boolean {
    return nowMs >= this.#nextMs;
  }

  #thin(): void {
    this.#rows = this.#rows.filter((_, index) => index % 2 === 0);
    this.#everyMs *= 2;
    this.#epoch += 1;
  }
}

function rowOf(
  nowMs: number,
  { figures, stage }: ScanSeen['progress'],
  readings: ScanSeen['readings'],
): TrendRow {
  const ambient = readings.ambientTemperatureK;
  return [
    nowMs,
    figure(figures.highSidePa),
    figure(figures.lowSidePa),
    figure(figures.manifoldPa),
    figure(figures.vehicleVacuumPa),
    figure(figures.tankPa),
    figure(figures.tankTemperatureK),
    figure(ambient.ok ? ambient.value : undefined),
    figure(figures.tankNetKg),
    figure(figures.flowKgPerS),
    (STAGES as readonly string[]).indexOf(stage),
  ];
}
