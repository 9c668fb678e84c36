import { expect, test } from 'vitest';
import { HandDesk } from '../../../app/cli/hand-desk.ts';
import { handLine } from '../../../app/cli/hand-lines.ts';
import { RigHand } from '../../../app/rig/hand.ts';
import { beats, boardReady } from '../../../app/rig/paced.ts';
import { unitsFor } from '../../../app/units.ts';
import { VirtualMachine } from './virtual-machine.ts';

const HIGH_SIDE = 1 << 0;
const FILE = { ticket: { refrigerant: 'R-134a', nominalChargeG: 400 }, vehicle: { chargeG: 300 } };

/** Somebody at a real machine who types lines; time passes by itself. */
async function atTheMachine() {
  const far = new VirtualMachine(FILE);
  const { session, time } = far;
  const rig = far.rig();
  await boardReady(rig, time);
  const told: string[] = [];
  let work: RigHand | undefined;
  const pass = async (ms: number): Promise<void> => {
    const untilMs = time.nowMs() + ms;
    await beats(
      time,
      () => time.nowMs() < untilMs,
      (_, scans) => (work === undefined ? rig.tick() : work.beat(scans)),
    );
  };
  await pass(1_000);
  const desk = new HandDesk(
    (look) => {
      const { equipment, scenario } = session;
      const tell = (text: string) => told.push(text);
      work = new RigHand({ rig, time, equipment, ticket: scenario.ticket, observers: [look], tell });
      return work;
    },
    unitsFor('si', 101_325),
    (text) => told.push(text),
  );
  const type = (text: string): void => desk.obey(handLine(text)!, text);
  return { far, rig, desk, told, type, pass };
}

test('a valve of a real machine opens by hand, and everything is off when it is handed back', async () => {
  const { far, desk, type, pass } = await atTheMachine();
  await pass(500);
  type('open high valve for 1 min');
  await pass(500);
  expect(far.machine.word).toBe(HIGH_SIDE);
  expect(desk.end(false).outcome).toBe('completed');
  await pass(200);
  expect(far.machine.word).toBe(0);
});

test('the interlocks of a job refuse by hand what they refuse, with the reason, and the board is told nothing', async () => {
  const { far, told, type, pass } = await atTheMachine();
  far.machine.bench.operate('connect-hoses');
  await pass(3_000);
  type('open high valve for 1 min');
  await pass(2_000);
  type('open vacuum valve');
  await pass(500);
  expect(far.machine.word).toBe(HIGH_SIDE);
  expect(told.join()).toMatch(/IL-\d+/);
});

test('a trip of the board ends the work by hand; it is taken over again by who says so', async () => {
  const { far, rig, told, type, pass } = await atTheMachine();
  type('open high valve for 1 min');
  await pass(500);
  far.parts.board.reset('brownOut');
  await pass(4_500);
  expect(far.machine.word).toBe(0);
  expect(told.join()).toContain("'begin' takes it over again");
  expect(rig.undriven).toBe('reconnected');
  type('begin');
  await pass(300);
  expect(far.machine.word).toBe(0);
  type('open high valve for 1 min');
  await pass(500);
  expect(far.machine.word).toBe(HIGH_SIDE);
});
