// The page on the sequence against the statechart and the planner.
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { EDGES, INITIAL, STATES } from '../../app/bench/chart-edges.ts';
import { openChart } from '../../controller/chart-state.ts';
import { STAGES } from '../../controller/stages.ts';
import { follow } from '../../controller/statechart.ts';
import { PAGE, pageText } from './page.ts';
import { waysOut } from './ways-out.ts';

test('the page of the sequence is up to date: `npm run sequence` would not change it', () => {
  expect(readFileSync(PAGE, 'utf8')).toBe(pageText());
});

/** Conditions that do not hold for a fresh job of all stages. */
const ELSE = ['spoiled', 'no `charge`', 'had let in', 'has been tried'];

describe('the edges that the page shows', () => {
  const stages: readonly string[] = STAGES;

  test('are those that the sequence follows, for a plan of all stages', () => {
    for (const stage of STAGES) {
      const chart = { ...openChart(STAGES), value: stage };
      const first = new Map<string, string>();
      for (const { from, event, when, to } of EDGES)
        if (from === stage && !first.has(event) && !ELSE.some((words) => when.includes(words)))
          first.set(event, to);
      expect(first.size, stage).toBeGreaterThan(2);
      for (const [event, to] of first)
        expect(follow(chart, event as Parameters<typeof follow>[1]).value, `${stage}, ${event}`).toBe(to);
    }
  });

  test('reach every stage from the first, and from every stage an end', () => {
    const reach = (start: string): Set<string> => {
      const met = new Set([start]);
      for (const state of met) for (const { from, to } of EDGES) if (from === state) met.add(to);
      return met;
    };
    const fromFirst = reach(INITIAL);
    for (const stage of stages) {
      expect(fromFirst, stage).toContain(stage);
      const met = reach(stage);
      expect(
        STATES.some(({ key, ends }) => ends && met.has(key)),
        stage,
      ).toBe(true);
    }
  });

  test('give every stage a way out when time is up, when paused and when tripped', () => {
    for (const stage of stages)
      for (const event of ['timed-out', 'paused', 'tripped'])
        expect(
          EDGES.some((edge) => edge.from === stage && edge.event === event),
          `${stage}, ${event}`,
        ).toBe(true);
  });
});

describe('the ways out that the page shows', () => {
  test('are there for every stage: a limit of time that leads on, an abort, a pause and a trip', () => {
    for (const { stage, limit, leadsTo, resume } of waysOut()) {
      expect(limit, stage).toMatch(/^[1-9]\d* (min|days) /);
      expect(leadsTo, stage).not.toBe('');
      expect(resume, stage).not.toBe('');
      const chart = { ...openChart(STAGES), value: stage };
      expect(follow(chart, 'aborted').value, stage).toBe('stopped');
      expect(follow(chart, 'paused').value, stage).toBe('paused');
      expect(follow(chart, 'tripped').value, stage).toBe('tripped');
    }
  });
});
