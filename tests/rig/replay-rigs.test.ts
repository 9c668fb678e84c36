// Recordings of every kind of rig are replayed alike; tests/rig/whole-job.test.ts does so with a whole job behind the firmware.
import { writeFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { readRecording } from '../../app/bench/read-recording.ts';
import { Recorder } from '../../app/bench/recorder.ts';
import { replay } from '../../app/bench/replay.ts';
import { fluidOnce, PACING } from '../../app/bench/whole-jobs.ts';
import { runOnBoard } from '../../app/rig/board-runs.ts';
import { runRigJob } from '../../app/rig/job.ts';
import type { Observer, ScanLoop } from '../../app/run/loop.ts';
import { prepare, type Session } from '../../app/run/prepare.ts';
import { operatorAt, runSession } from '../../app/run/session.ts';
import { toScenario } from '../../app/scenario/scenario.ts';
import type { Commands } from '../../controller/signals.ts';
import { inFolder } from '../app/bench/recordings.ts';
import { VirtualBoard } from '../app/rig/virtual-board.ts';
import { VirtualMachine } from '../app/rig/virtual-machine.ts';

const FILE = {
  ticket: { refrigerant: 'R-134a', nominalChargeG: 400, service: 'recover' },
  vehicle: { chargeG: 300, volumeL: 1.5 },
  operator: { delayS: 2 },
};
/** Long enough for the compressor to have started. */
const LASTS_MS = 128_000;

const session = (): Session => prepare(toScenario(FILE, 'the test'), 'the test', fluidOnce, () => 0);

/** What takes a recording down in memory, and ends the job after a while. */
class Taken {
  readonly #text: string[] = [];
  readonly #recorder = new Recorder({ write: (line) => this.#text.push(line), flush: () => {} });
  #loop: ScanLoop | undefined;
  readonly observers: Observer[] = [
    this.#recorder.look,
    ({ nowMs }) => {
      if (nowMs >= LASTS_MS) this.#loop?.send({ type: 'aborted' });
    },
  ];

  readonly started = (loop: ScanLoop): void => {
    this.#loop = loop;
    this.#recorder.begin(loop, { name: 'the test', rig: 'the test' });
  };

  async replayed(name: string) {
    this.#recorder.end();
    writeFileSync(inFolder(name), this.#text.join(''));
    return replay(await readRecording(inFolder(name)));
  }
}

const SAME = { difference: undefined, estimates: undefined, damage: undefined, cut: undefined };

describe('every command comes out again', () => {
  test('of the simulated bench, with what the operator said', async () => {
    const taken = new Taken();
    await runSession(session(), { observers: taken.observers, pacing: PACING, started: taken.started });
    const replayed = await taken.replayed('simulated');
    expect(replayed).toMatchObject(SAME);
    expect(replayed.words).toBeGreaterThan(3);
  });

  test('of a job whose records could not be written: what was permitted, though the rig was given less', async () => {
    const taken = new Taken();
    const less: number[] = [];
    const journal = {
      intend: (_: unknown, commands: Commands) => {
        if (commands.compressor.on) throw new Error('no room');
      },
      note: () => {},
      failed: () => {},
    };
    const look: Observer = ({ nowMs, permitted, commands }) => {
      if (permitted !== commands) less.push(nowMs);
    };
    await runSession(session(), {
      observers: [...taken.observers, look],
      pacing: PACING,
      started: taken.started,
      recorder: { blockers: () => [], begin: () => journal },
    });
    expect(less.length).toBeGreaterThan(0);
    expect(await taken.replayed('unwritten')).toMatchObject(SAME);
    const given: number[] = [];
    for await (const scan of (await readRecording(inFolder('unwritten'))).scans())
      if (scan.commands !== scan.permitted) given.push(scan.nowMs);
    expect(given).toEqual(less);
  });

  test('of the simulated bench with the outputs of a board behind a line that is pulled and comes back', async () => {
    const taken = new Taken();
    const far = new VirtualBoard();
    const pull: Observer = ({ nowMs }) => {
      if (nowMs === 90_000) far.pull('the cable is out');
    };
    const onlookers = { observers: [...taken.observers, pull], pacing: PACING, started: taken.started };
    const told: string[] = [];
    await runOnBoard(session(), far.open, far.time, onlookers, (text) => told.push(text));
    expect(told.join()).toMatch(/line to the board is down/);
    const replayed = await taken.replayed('outputs');
    expect(replayed).toMatchObject(SAME);
    expect(replayed.words).toBeGreaterThan(3);
  });

  test('of a job on a machine behind a serial line with the real firmware, at the times that the clock gave', async () => {
    const taken = new Taken();
    const far = new VirtualMachine(FILE);
    const { equipment, scenario } = far.session;
    await runRigJob(
      { name: 'a car', ticket: scenario.ticket, equipment, rig: far.rig(), time: far.time },
      {
        operator: operatorAt(far.session),
        observers: taken.observers,
        tell: () => {},
        started: taken.started,
      },
    );
    const replayed = await taken.replayed('serial');
    expect(replayed).toMatchObject(SAME);
    expect(replayed.words).toBeGreaterThan(3);
  });
});
