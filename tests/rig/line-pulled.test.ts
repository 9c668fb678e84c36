// The real firmware in the loop: its line is pulled in every stage, at a moment drawn by lot.
import { expect, test } from 'vitest';
import { ControlWatch } from '../../app/rig/control-watch.ts';
import { emulatedParts } from '../../app/rig/emulated.ts';
import { JoinedBench } from '../../app/rig/joined.ts';
import { SCAN_MS, ScanLoop } from '../../app/run/loop.ts';
import { operatorAt } from '../../app/run/session.ts';
import { isFinished, runningStage } from '../../controller/chart-state.ts';
import { STAGES, type Stage } from '../../controller/stages.ts';
import { wordOf } from '../../hardware/rig.ts';
import { Random } from '../../sim/random.ts';
import { JOB_NAMES, startsOf } from '../properties/starts.ts';

const EXPIRES_MS = 250;
const FAN_STOP = 1 << 12;

/** A saved moment of the stage, at work where there is one. */
function momentIn(stage: Stage) {
  for (const job of JOB_NAMES) {
    const { session, moments } = startsOf('good', job);
    const within = moments.filter(({ state }) => runningStage(state.chart) === stage);
    const atWork = within.find(
      ({ state }) => (state.judged === undefined ? 0 : wordOf(state.judged.permitted)) > 0,
    );
    const moment = atWork ?? within[0];
    if (moment !== undefined) return { session, moment };
  }
  throw new Error(`no job is saved in ${stage}`);
}

/** The machine goes on from a moment with a board that has just been switched on. */
function behindBoard(stage: Stage) {
  const { session, moment } = momentIn(stage);
  session.bench.restore(moment.bench);
  const parts = emulatedParts(session);
  const edges: { readonly atMs: number; readonly word: number }[] = [];
  const aheadMs = parts.board.timeMs - session.bench.nowMs();
  parts.board.onOutputs((word, timeUs) => edges.push({ atMs: timeUs / 1000 - aheadMs, word }));
  const bench = new JoinedBench(parts);
  const operator = operatorAt(session);
  operator.restore(moment.operator);
  const told: string[] = [];
  const loop: ScanLoop = new ScanLoop({
    rig: bench,
    state: moment.state,
    operator,
    observers: [() => watch.look()],
  });
  const watch = new ControlWatch(
    bench,
    (event) => loop.send(event),
    (text) => told.push(text),
  );
  let nowMs = bench.nowMs();
  const pass = (ms: number): void => {
    for (const untilMs = nowMs + ms; nowMs < untilMs; ) {
      nowMs += SCAN_MS;
      bench.advanceTo(nowMs);
      loop.turn(nowMs);
    }
  };
  return { bench, loop, watch, told, edges, pass, board: parts.board };
}

test.each(STAGES)(
  'in %s: off within 250 ms, told, and nothing comes back until the operator goes on',
  (stage) => {
    const { bench, loop, watch, told, edges, pass, board } = behindBoard(stage);
    const lot = new Random(STAGES.indexOf(stage), 'pulled');
    pass(1_000 + SCAN_MS * Math.floor(20 * lot.uniform()));
    const before = board.outputs();
    const pulledMs = bench.nowMs() + Math.floor(SCAN_MS * lot.uniform());
    bench.advanceTo(pulledMs);
    bench.switchFault({ fault: 'link-lost' }, true);
    pass(3_000);
    const byThen = edges.findLast(({ atMs }) => atMs <= pulledMs + EXPIRES_MS)?.word ?? 0;
    const late = edges.filter(({ atMs, word }) => atMs > pulledMs + EXPIRES_MS && word !== 0);
    expect({ byThen, late }).toEqual({ byThen: 0, late: [] });
    expect(board.outputs()).toBe(0);
    expect(board.outputs() & FAN_STOP).toBe(0);
    expect(told.join()).toContain('line to the board is down');
    expect(loop.state.notices.map(({ code }) => code)).toContain('rig-silent');

    bench.switchFault({ fault: 'link-lost' }, false);
    pass(6_000);
    expect(told.join()).toContain('back on the line');
    expect(bench.undriven).toBe('reconnected');
    expect(board.outputs()).toBe(0);
    if (isFinished(loop.state.chart)) return;
    expect(loop.state.chart.value).toBe('paused');

    expect(watch.goOn()).toBe(true);
    pass(500);
    expect(bench.undriven).toBeUndefined();
    expect(loop.state.chart.value).not.toBe('paused');
    if (before === 0) return;
    // A compressor that has just been stopped rests for two minutes, and nothing opens before.
    let driven = 0;
    for (let scans = 0; scans < 1_300 && driven === 0 && !isFinished(loop.state.chart); scans++) {
      pass(SCAN_MS);
      driven = board.outputs();
    }
    expect(driven !== 0 || isFinished(loop.state.chart)).toBe(true);
  },
);

test('a board whose line is not pulled goes on driving, and the same look sees it', () => {
  const { pass, board, told } = behindBoard('evacuate');
  pass(1_000);
  expect(board.outputs()).not.toBe(0);
  pass(3_000);
  expect(board.outputs()).not.toBe(0);
  expect(told).toEqual([]);
});
