// What the live line shows while a job runs.
import { describe, expect, test } from 'vitest';
import { type Progress, progress } from '../../controller/progress.ts';
import { openJob } from '../../controller/scan.ts';
import { newPlant, run } from './support/bench.ts';
import { EQUIPMENT, planFor } from './support/machine.ts';

const shown: Progress[] = [];
const times: number[] = [];
const plant = newPlant();
const ended = run(openJob(planFor(), EQUIPMENT, 0), {
  plant,
  watch: ({ state, nowMs }) => {
    shown.push(progress(state, nowMs));
    times.push(nowMs);
    return undefined;
  },
});
const endMs = times.at(-1)!;

describe('Progress', () => {
  test('waits for something in plain words in every scan', () => {
    for (const { waitingFor } of shown) expect(waitingFor).toMatch(/^[a-z].+/);
    expect(new Set(shown.map(({ waitingFor }) => waitingFor)).size).toBeGreaterThan(12);
  });

  test('the time that is left lies in the range nine times out of ten on a job without surprises', () => {
    const inside = shown.filter(({ remainingMs }, i) => {
      const leftMs = endMs - times[i]!;
      return (
        remainingMs !== undefined && remainingMs.low <= leftMs + 20_000 && remainingMs.high >= leftMs - 20_000
      );
    });
    expect(inside.length / shown.length).toBeGreaterThan(0.9);
  });

  test('the range is a range and never negative', () => {
    for (const { remainingMs, ended: over } of shown) {
      if (over) continue;
      expect(remainingMs!.low).toBeGreaterThanOrEqual(0);
      expect(remainingMs!.high).toBeGreaterThanOrEqual(remainingMs!.low);
    }
  });

  test('shows the grams of the stage against its target', () => {
    const charging = shown.filter(({ stage, figures }) => stage === 'charge' && (figures.phaseKg ?? 0) > 0.3);
    expect(charging.length).toBeGreaterThan(10);
    for (const { figures } of charging) expect(figures.targetKg).toBeGreaterThan(0.6);
    const recovering = shown.filter(({ stage }) => stage === 'recover');
    expect(recovering.at(-1)!.figures.phaseKg).toBeGreaterThan(0.45);
  });

  test('is finished when the job is', () => {
    const last = progress(ended, endMs);
    expect(last).toMatchObject({ stage: 'finished', ended: true, paused: false });
    expect(last.remainingMs).toBeUndefined();
    expect(last.prompt).toBeUndefined();
  });
});
