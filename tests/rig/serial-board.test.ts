// A board behind a real serial port of the operating system keeps the contract of a rig: socat makes the port, the
// firmware runs emulated behind it, and everything goes at the pace of the clock.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, test } from 'vitest';
import { fluidOnce } from '../../app/bench/whole-jobs.ts';
import { emulatedParts } from '../../app/rig/emulated.ts';
import { boardReady, realTime } from '../../app/rig/paced.ts';
import { openPseudoTerminal, type PseudoTerminal } from '../../app/rig/pseudo-terminal.ts';
import { WiredBoard } from '../../app/rig/wired-board.ts';
import { prepare } from '../../app/run/prepare.ts';
import { toScenario } from '../../app/scenario/scenario.ts';
import { SAFE_COMMANDS } from '../../controller/signals.ts';
import { Connection } from '../../hardware/connection.ts';
import { BoardRig, SERIAL_CAPABILITIES } from '../../hardware/rig.ts';
import { openSerial } from '../../hardware/serial.ts';
import { alikeWithin, type Edge } from '../contract/edges.ts';
import { rigContract } from '../contract/rig.ts';

/** Two processes and a pseudo-terminal lie between the two ends. */
const EDGE_MS = 60;
const BEAT_MS = 5;

const socatIsThere = spawnSync('socat', ['-V']).status === 0;
if (!socatIsThere)
  process.stderr.write('skipped: socat is not installed, so there is no serial port to speak through\n');

describe.skipIf(!socatIsThere)('through a serial port', () => {
  const folder = mkdtempSync(path.join(tmpdir(), 'coldbench-port-'));
  const port = path.join(folder, 'board');
  const time = realTime();
  const edges: Edge[] = [];
  let terminal: PseudoTerminal;
  let connection: Connection;
  let rig: BoardRig;
  let beat: NodeJS.Timeout;

  const until = async (timeMs: number): Promise<void> => {
    while (time.nowMs() < timeMs) {
      rig.tick();
      rig.readings();
      await time.sleep(Math.min(BEAT_MS, Math.max(timeMs - time.nowMs(), 0)));
    }
  };

  beforeAll(async () => {
    const scenario = toScenario(
      { ticket: { refrigerant: 'R-134a', nominalChargeG: 600 }, vehicle: { chargeG: 500 } },
      'the contract',
    );
    const session = prepare(scenario, 'the contract', fluidOnce, () => 0);
    const parts = emulatedParts(session);
    parts.board.onOutputs((word) => edges.push({ atMs: time.nowMs(), word }));
    terminal = openPseudoTerminal(
      port,
      (bytes) => machine.receive(bytes),
      (error) => {
        throw error;
      },
    );
    const machine = new WiredBoard(parts, (byte) => terminal.send(Uint8Array.from(byte)));
    beat = setInterval(() => {
      const nowMs = time.nowMs();
      while (session.bench.nowMs() < nowMs) machine.turn(nowMs);
    }, BEAT_MS);
    await time.sleep(500);
    connection = new Connection({ open: openSerial(port), nowMs: time.nowMs });
    rig = new BoardRig({
      connection,
      sensors: parts.sensors,
      capabilities: SERIAL_CAPABILITIES,
      nowMs: time.nowMs,
    });
    const problem = await boardReady(rig, time);
    if (problem !== undefined) throw new Error(problem);
    await until(time.nowMs() + 1_000);
  }, 20_000);

  afterAll(() => {
    clearInterval(beat);
    connection?.close();
    terminal?.close();
    rmSync(folder, { recursive: true });
  });

  rigContract<BoardRig, readonly Edge[]>('a board behind a serial port', {
    create: async () => {
      rig.takeControl();
      rig.apply(SAFE_COMMANDS);
      await until(time.nowMs() + 200);
      edges.length = 0;
      return rig;
    },
    nowMs: () => time.nowMs(),
    reach: (_, timeMs) => until(timeMs),
    seen: () => edges.map(({ atMs, word }) => ({ atMs: atMs - edges[0]!.atMs, word })),
    alike: alikeWithin(EDGE_MS),
    stepMs: 3 * EDGE_MS,
    output: 'vacuumValve',
    besides: ['vacuumPump', 'highSideValve'],
  });

  test('the port outlives its board: what is wrong is told in one line', async ({ expect }) => {
    terminal.close();
    await until(time.nowMs() + 2_000);
    expect(rig.undriven).toBe('not-connected');
    expect(connection.problem).toMatch(/has gone|fallen silent|there is no port/);
  });
});
