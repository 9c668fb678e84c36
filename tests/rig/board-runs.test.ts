import { describe, expect, test } from 'vitest';
import { clockMs, fluidOnce, PACING } from '../../app/bench/whole-jobs.ts';
import { runOnBoard } from '../../app/rig/board-runs.ts';
import type { Observer } from '../../app/run/loop.ts';
import { prepare } from '../../app/run/prepare.ts';
import { toScenario } from '../../app/scenario/scenario.ts';
import { wordOf } from '../../hardware/rig.ts';
import { VirtualBoard } from '../app/rig/virtual-board.ts';

const FILE = {
  ticket: { refrigerant: 'R-134a', nominalChargeG: 400, service: 'recover' },
  vehicle: { chargeG: 300, volumeL: 1.5 },
  operator: { delayS: 2 },
};

/** Runs the job until somebody ends it. */
async function onBoard(
  far: VirtualBoard,
  observe: (nowMs: number, abort: () => void) => void,
  also: Observer[] = [],
) {
  const session = prepare(toScenario(FILE, 'the test'), 'the test', fluidOnce, clockMs);
  const told: string[] = [];
  let abort = (): void => {};
  const facts = await runOnBoard(
    session,
    far.open,
    far.time,
    {
      observers: [({ nowMs }) => observe(nowMs, abort), ...also],
      pacing: PACING,
      started: (loop) => {
        abort = () => loop.send({ type: 'aborted' });
      },
    },
    (text) => told.push(text),
  );
  return { facts, told };
}

describe('the rig in the loop: sensors of the bench, outputs of a board', () => {
  test('the board drives what is commanded, and what it drives moves the plant', async () => {
    const far = new VirtualBoard();
    const commanded = new Set<number>();
    const { facts, told } = await onBoard(
      far,
      (nowMs, abort) => {
        if (nowMs === 128_000) abort();
      },
      [({ commands }) => commanded.add(wordOf(commands))],
    );
    const driven = new Set(far.words.map(({ word }) => word));
    expect(commanded.size).toBeGreaterThan(2);
    for (const word of commanded) expect(driven.has(word)).toBe(true);
    expect(facts.truth.vehicleRefrigerantKg).toBeLessThan(0.295);
    expect(told).toEqual([]);
    expect(far.board.outputs()).toBe(0);
  });

  test('a stop pressed at the board trips the job, and the plant stands still', async () => {
    const far = new VirtualBoard();
    const closed = { emergencyStop: true, highPressureSwitch: true, gasAlarm: true, fanFlow: true };
    let driven = -1;
    const { facts, told } = await onBoard(far, (nowMs, abort) => {
      if (nowMs === 40_000) far.board.setInputs({ closed: { ...closed, emergencyStop: false } });
      if (nowMs === 41_000) driven = far.board.outputs();
      if (nowMs === 45_000) abort();
    });
    expect(driven).toBe(0);
    expect(told.join()).toContain('emergency stop');
    expect(facts.result!.notices.some(({ text }) => text.includes('emergency-stop'))).toBe(true);
    expect(facts.outcome).toBe('stopped');
  });

  test('a board whose line is pulled leaves the plant at rest, and the operator goes on with it', async () => {
    const far = new VirtualBoard();
    const { told } = await onBoard(far, (nowMs, abort) => {
      if (nowMs === 90_000) far.pull('the cable is out');
      if (nowMs === 125_000) abort();
    });
    expect(told.join()).toMatch(/line to the board is down.*back on the line/);
    const last = far.words.findLast(({ word }) => word !== 0)!;
    expect(last.atMs).toBeGreaterThan(100_000);
  });

  test('without a board there is no job, and the remedy is told', async () => {
    const far = new VirtualBoard();
    far.board.powerOff();
    await expect(onBoard(far, () => {})).rejects.toThrow(/right port.*power/);
  });
});
