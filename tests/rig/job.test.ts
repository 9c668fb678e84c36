import { describe, expect, test } from 'vitest';
import type { ControlWatch } from '../../app/rig/control-watch.ts';
import { runRigJob } from '../../app/rig/job.ts';
import { jobDocument } from '../../app/run/document.ts';
import type { ScanLoop } from '../../app/run/loop.ts';
import { printedJob } from '../../app/run/printed.ts';
import { operatorAt } from '../../app/run/session.ts';
import { unitsFor } from '../../app/units.ts';
import { VirtualMachine } from '../app/rig/virtual-machine.ts';

const FILE = {
  name: 'a small car',
  ticket: { refrigerant: 'R-134a', nominalChargeG: 400, service: 'recover' },
  vehicle: { chargeG: 300, volumeL: 1.5 },
  operator: { delayS: 2 },
};

type Look = (nowMs: number, loop: ScanLoop, watch: ControlWatch) => void;

/** The machine knows its own equipment exactly; a person answers its prompts. */
function run(far: VirtualMachine, look: Look, ticket = far.session.scenario.ticket) {
  const { session, time } = far;
  const told: string[] = [];
  let parts: { loop: ScanLoop; watch: ControlWatch } | undefined;
  const done = runRigJob(
    { name: session.scenario.name, ticket, equipment: session.equipment, rig: far.rig(), time },
    {
      operator: operatorAt(session),
      observers: [({ nowMs }) => look(nowMs, parts!.loop, parts!.watch)],
      tell: (text) => told.push(text),
      started: (loop, watch) => {
        parts = { loop, watch };
      },
    },
  );
  return { done, told };
}

describe('a job on a rig behind a line', () => {
  test('the machine is driven in real time until the job ends, and the record says on what', async () => {
    const far = new VirtualMachine(FILE);
    const { done, told } = run(far, (nowMs, loop) => {
      if (nowMs >= 128_000) loop.send({ type: 'aborted' });
    });
    const { facts, lastedMs } = await done;
    expect(told).toEqual([expect.stringMatching(/weighed once more/)]);
    expect(facts.outcome).toBe('stopped');
    const gainKg = far.session.bench.truth().tankRefrigerantKg - far.session.scenario.tank.contentKg;
    expect(Math.abs(facts.afterStop!.tankGainKg! - gainKg)).toBeLessThan(0.005);
    expect(lastedMs).toBeGreaterThan(120_000);
    expect(far.session.bench.truth().vehicleRefrigerantKg).toBeLessThan(0.295);
    expect(far.machine.word).toBe(0);
    const document = jobDocument(facts);
    expect(document.stages.map(({ stage }) => stage)).toEqual(['identify', 'settle', 'recover']);
    expect(document).not.toHaveProperty('truth');
    expect(document.line).toMatchObject({ opened: 1, losses: { crc: 0, missed: 0, board: { crc: 0 } } });
    const { name, ticket } = far.session.scenario;
    const page = printedJob(
      { name, ticket, machine: "rig at the test, equipment 'good'" },
      facts,
      lastedMs,
      far.session.equipment,
      unitsFor('si', 101_325),
    );
    expect(page).toMatch(/JOB RECORD {2}a small car[\s\S]*rig at the test[\s\S]*not certified/);
    expect(page).not.toMatch(/simulat/i);
  });

  test('a ticket that cannot be is refused before the board has been armed', async () => {
    const far = new VirtualMachine(FILE);
    const { ticket } = far.session.scenario;
    const { done } = run(far, () => {}, { ...ticket, refrigerant: 'R-1234yf' });
    const { facts } = await done;
    expect(facts.outcome).toBe('refused');
    expect(facts.blockers.length).toBeGreaterThan(0);
    expect(far.words).toEqual([]);
  });

  test('a board that starts anew in the middle pauses the job; the operator goes on, and only then it is driven', async () => {
    const far = new VirtualMachine(FILE);
    const seen: { atMs: number; word: number }[] = [];
    let openMs = Number.POSITIVE_INFINITY;
    const { done, told } = run(far, (nowMs, loop, watch) => {
      seen.push({ atMs: nowMs, word: far.machine.word });
      // The valves are open by then, and the compressor has not been started: it need not rest again.
      const recovers = loop.state.stage?.stage === 'recover' && far.machine.word !== 0;
      if (recovers && nowMs < openMs) {
        openMs = nowMs;
        far.parts.board.reset('brownOut');
      }
      if (nowMs >= openMs + 9000 && nowMs < openMs + 9100) expect(watch.goOn()).toBe(true);
      if (nowMs >= openMs + 14_000) loop.send({ type: 'aborted' });
    });
    await done;
    expect(told.join()).toMatch(/back on the line/);
    const { facts } = await done;
    expect(facts.line?.opened).toBe(2);
    const drivenFor = (fromMs: number, toMs: number): number =>
      seen.filter(({ atMs, word }) => atMs > openMs + fromMs && atMs < openMs + toMs && word !== 0).length;
    expect(drivenFor(200, 9000)).toBe(0);
    expect(drivenFor(9200, 14_000)).toBeGreaterThan(10);
  });

  test('where no board answers there is no job, and the remedy is told', async () => {
    const far = new VirtualMachine(FILE);
    far.parts.board.powerOff();
    await expect(run(far, () => {}).done).rejects.toThrow(/right port.*power/);
  });
});
