// What pages may do to the machine: one has control, the others watch; a lost page leaves nothing on; the class is told no secrets.
import { describe, expect, test } from 'vitest';
import type { Message } from '../../../app/page/messages.ts';
import type { Snapshot } from '../../../app/page/shown.ts';
import { FAULT_NAMES } from '../../../sim/faults.ts';
import { FakePage, newPanel, servePanel } from './panel.ts';

/** A panel whose wall clock stands still between two beats. */
function virtual(simulatedSpeed = 1000) {
  let wallMs = 0;
  const panel = newPanel(undefined, { wallClockMs: () => wallMs });
  const page = { audience: 'class' } as const;
  const teacher = { audience: 'teacher' } as const;
  panel.come(page);
  const says = (message: Message, from: { audience: 'class' | 'teacher' } = page) =>
    panel.heed(from, message);
  says({ type: 'take-control' });
  says({ type: 'time', running: true, speed: simulatedSpeed });
  const beat = (ms = 100) => {
    wallMs += ms;
    panel.beat();
  };
  return { panel, page, teacher, says, beat };
}

/** What a person does who reads the instruments and follows each prompt. */
function answerTo({ prompt }: Snapshot): Message | undefined {
  if (prompt === undefined || prompt.underWay) return undefined;
  const asked = { prompt: prompt.id, askedAtMs: prompt.askedAtMs };
  const { shows } = prompt;
  if (shows?.reading !== undefined)
    return { type: 'answer', answer: { ...asked, kind: 'reading', ...shows.reading } };
  if (shows?.volumeM3 !== undefined)
    return { type: 'answer', answer: { ...asked, kind: 'volume', volumeM3: shows.volumeM3 } };
  if (shows?.detector !== undefined)
    return { type: 'answer', answer: { ...asked, kind: 'searched', found: shows.detector } };
  return { type: 'answer', answer: { ...asked, kind: 'done' } };
}

describe('a whole job from the page', () => {
  test('is done by answering what is asked, with the same words to the controller as on the command line', () => {
    const { panel, says, beat } = virtual();
    expect(says({ type: 'start' })).toBeUndefined();
    const asked = new Set<string>();
    for (let beats = 0; beats < 4000 && panel.bench.phase === 'job'; beats += 1) {
      beat();
      const snapshot = panel.snapshot('class');
      const answer = answerTo(snapshot);
      if (answer !== undefined) {
        asked.add(snapshot.prompt!.id);
        expect(says(answer)).toBeUndefined();
      }
    }
    const { outcome, hosesSafe, ribbon, masses, cyclesKg, hold } = panel.snapshot('class');
    expect(outcome).toBe('completed');
    expect(hosesSafe).toBe(true);
    expect([...asked]).toEqual(
      expect.arrayContaining(['identify-refrigerant', 'connect-hoses', 'start-engine']),
    );
    expect(ribbon.every(({ state }) => state === 'done' || state === 'skipped')).toBe(true);
    expect(cyclesKg.length).toBeGreaterThan(1);
    expect(hold?.account?.verdict).toBeDefined();
    expect(hold!.fitPa.length).toBe(hold!.samplesPa.length);
    expect(masses.netChargeKg).toBeCloseTo(0.6, 1);
    expect(panel.bench.history.rows.length).toBeGreaterThan(500);
  });

  test('an answer to what is no longer asked is refused, and so is one of the wrong kind', () => {
    const { panel, says, beat } = virtual(10);
    says({ type: 'start' });
    beat();
    const { prompt } = panel.snapshot('class');
    const asked = { prompt: prompt!.id, askedAtMs: prompt!.askedAtMs };
    expect(
      says({ type: 'answer', answer: { ...asked, askedAtMs: asked.askedAtMs - 1, kind: 'done' } }),
    ).toMatch(/no longer|any longer/);
    expect(says({ type: 'answer', answer: { ...asked, kind: 'done' } })).toMatch(/figure/);
    expect(says({ type: 'answer', answer: { ...asked, kind: 'volume', volumeM3: 1e-5 } })).toMatch(
      /no volume/,
    );
    beat();
    expect(panel.snapshot('class').prompt?.id).toBe('identify-refrigerant');
  });

  test('what stands against a job is shown with its remedy, and nothing begins', () => {
    const { panel, says } = virtual();
    const ticket = {
      refrigerant: 'R-134a',
      nominalChargeG: 600,
      service: 'whole',
      electricCompressor: true,
      oil: { kind: 'PAG', addMl: 20 },
    };
    expect(says({ type: 'ticket', ticket })).toBeUndefined();
    const { blockers, phase } = panel.snapshot('class');
    expect(phase).toBe('ready');
    expect(blockers.length).toBeGreaterThan(0);
    for (const { text, remedy } of blockers)
      expect([text.length > 10, remedy.length > 10]).toEqual([true, true]);
    expect(says({ type: 'start' })).toMatch(/stands against/);
    expect(panel.bench.phase).toBe('ready');
    expect(says({ type: 'ticket', ticket: { refrigerant: 'R-999' } })).toMatch(/R-999/);
  });
});

describe('control', () => {
  test('is with one page; another watches, and gets it when it is let go', () => {
    const { panel, says } = virtual();
    const other = { audience: 'class' } as const;
    panel.come(other);
    expect(panel.heed(other, { type: 'take-control' })).toMatch(/another page/);
    expect(panel.heed(other, { type: 'start' })).toMatch(/take control first/);
    expect(panel.bench.phase).toBe('ready');
    says({ type: 'release-control' });
    expect(panel.heed(other, { type: 'take-control' })).toBeUndefined();
    expect(says({ type: 'start' })).toMatch(/take control first/);
    expect(panel.heed(other, { type: 'start' })).toBeUndefined();
  });

  test('over real sockets two pages compete, one of them has it, and the other one after the first is gone', async () => {
    const { served } = await servePanel();
    const [one, two] = [new FakePage(served.port), new FakePage(served.port)];
    await Promise.all([one.hears('snapshot'), two.hears('snapshot')]);
    await one.says({ type: 'take-control' });
    expect((await one.hears('control')).yours).toBe(true);
    await two.says({ type: 'take-control' });
    expect((await two.hears('refused')).because).toMatch(/another page/);
    one.socket.terminate();
    await two.shows(({ control }) => !control.held);
    await two.says({ type: 'take-control' });
    expect((await two.hears('control')).yours).toBe(true);
    await served.close();
  });

  test('a page with control that vanishes leaves nothing on that was wished by hand', () => {
    const { panel, page, says, beat } = virtual(1);
    says({ type: 'say', what: 'by-hand-begun' });
    says({ type: 'wish', output: 'vacuumPump', on: true });
    beat();
    expect(panel.bench.seen.commands.vacuumPump.on).toBe(true);
    panel.leave(page);
    beat();
    expect(Object.values(panel.bench.seen.commands).some(({ on }) => on)).toBe(false);
  });

  test('one that only watched and vanishes changes nothing', () => {
    const { panel, says, beat } = virtual(1);
    const other = { audience: 'class' } as const;
    panel.come(other);
    says({ type: 'say', what: 'by-hand-begun' });
    says({ type: 'wish', output: 'vacuumPump', on: true });
    beat();
    panel.leave(other);
    beat();
    expect(panel.bench.seen.commands.vacuumPump.on).toBe(true);
  });

  test('a job goes on without its page', () => {
    const { panel, page, says, beat } = virtual(100);
    says({ type: 'simulated-operator', on: true });
    says({ type: 'start' });
    beat();
    panel.leave(page);
    for (let beats = 0; beats < 40; beats += 1) beat();
    expect(panel.bench.phase).toBe('job');
    expect(panel.bench.seen.progress.paused).toBe(false);
    expect(panel.bench.seen.progress.stage).not.toBe('identify');
  });

  test('a job that runs can not be chosen away', () => {
    const { panel, says } = virtual();
    says({ type: 'start' });
    expect(says({ type: 'choose', id: 'freeze-up' })).toMatch(/end that first/);
    expect(says({ type: 'say', what: 'by-hand-begun' })).toMatch(/job runs/);
    expect(panel.bench.phase).toBe('job');
  });
});

describe('by hand', () => {
  test('a wish that an interlock forbids is refused, with the reason and what to do', () => {
    const { panel, says, beat } = virtual(1);
    says({ type: 'say', what: 'by-hand-begun' });
    says({ type: 'hands', action: 'connect-hoses' });
    beat(1000);
    for (const output of ['highSideValve', 'lowSideValve'] as const) says({ type: 'wish', output, on: true });
    beat(1000);
    says({ type: 'wish', output: 'vacuumValve', on: true });
    beat(1000);
    const valve = panel.snapshot('class').outputs.find(({ output }) => output === 'vacuumValve')!;
    expect(valve.on).toBe(false);
    expect(valve.refusal?.row).toMatch(/^IL-/);
    expect(valve.refusal?.remedy.length).toBeGreaterThan(10);
  });
});

describe('the classroom', () => {
  const HIDDEN = [
    /"truth"/,
    /"teacher"/,
    /"acting"/,
    /Lost"/,
    /vehicleRefrigerantKg/,
    /"score"/,
    /"faultKinds"/,
    /"vehicle"/,
  ];

  test('what a class is sent holds neither the truth nor what is wrong, as its own socket tells', async () => {
    const { panel, served } = await servePanel();
    const page = new FakePage(served.port);
    const teacher = new FakePage(served.port, {
      path: '/ws?as=teacher',
      headers: { cookie: `coldbench-${served.port}=${served.teacherToken}` },
    });
    await teacher.hears('snapshot');
    const heard: string[] = [];
    page.socket.on('message', (data) => heard.push(String(data)));
    await teacher.says({ type: 'choose', id: 'shut-coupler' });
    await teacher.says({ type: 'fault', fault: 'compressor-weak', on: true, shown: false });
    const told = await teacher.shows((snapshot) => (snapshot.teacher?.faults.length ?? 0) > 0);
    expect(told.teacher?.truth.vehicleRefrigerantKg).toBeDefined();
    heard.length = 0;
    page.heard.length = 0;
    await page.shows(({ chosen }) => chosen === 'shut-coupler');
    const all = heard.join('\n');
    expect(all).toContain('"type":"snapshot"');
    for (const hidden of HIDDEN) expect(all).not.toMatch(hidden);
    for (const fault of FAULT_NAMES) expect(all).not.toContain(`"fault":"${fault}"`);
    // A twin that shows that this test can fail.
    expect(JSON.stringify(panel.snapshot('teacher'))).toMatch(/"truth".*compressor-weak/);
    await teacher.says({ type: 'fault', fault: 'compressor-weak', on: true, shown: true });
    await page.shows(({ faults }) => faults.some(({ fault }) => fault === 'compressor-weak'));
    await served.close();
  });

  test('faults and what is revealed are for the teacher alone, and so is time while a teacher is there', () => {
    const { panel, teacher, says } = virtual();
    expect(says({ type: 'fault', fault: 'fan-stopped', on: true, shown: true })).toMatch(/teacher/);
    expect(says({ type: 'reveal', on: true })).toMatch(/teacher/);
    panel.come(teacher);
    expect(says({ type: 'time', running: false, speed: 1 })).toMatch(/teacher/);
    expect(says({ type: 'reveal', on: true }, teacher)).toBeUndefined();
    expect(panel.snapshot('class').score).toBeDefined();
    expect(panel.snapshot('class').vehicle!.liquidKg).toBeGreaterThan(0.1);
  });

  test('a fault that the teacher switches strikes, and is gone when it is switched off', () => {
    const { panel, teacher, says, beat } = virtual(1);
    panel.come(teacher);
    says({ type: 'say', what: 'by-hand-begun' });
    says({ type: 'fault', fault: 'tank-sensor-open', on: true, shown: true }, teacher);
    beat(2000);
    beat(2000);
    expect(panel.snapshot('class').progress.figures.tankPa).toBeUndefined();
    says({ type: 'fault', fault: 'tank-sensor-open', on: false, shown: true }, teacher);
    beat(2000);
    beat(2000);
    expect(panel.snapshot('class').progress.figures.tankPa).toBeGreaterThan(1e5);
  });

  test('time stands still when it is told to, and goes on by single scans', () => {
    const { panel, says, beat } = virtual(1);
    says({ type: 'start' });
    says({ type: 'time', running: false, speed: 1 });
    const before = panel.bench.nowMs;
    beat(1000);
    expect(panel.bench.nowMs).toBe(before);
    says({ type: 'step' });
    says({ type: 'step' });
    expect(panel.bench.nowMs).toBe(before + 200);
  });
});

test('a trip of the work by hand is reset before anything else begins: it is not forgotten by a job', () => {
  const { panel, teacher, says, beat } = virtual(1);
  panel.come(teacher);
  const stop = (on: boolean) => says({ type: 'fault', fault: 'emergency-stop', on, shown: true }, teacher);
  says({ type: 'say', what: 'by-hand-begun' });
  stop(true);
  for (let beats = 0; beats < 5; beats += 1) beat();
  const { trip, phase } = panel.snapshot('class');
  expect([trip?.reason, phase]).toEqual(['emergency-stop', 'ready']);
  expect(says({ type: 'start' })).toMatch(/emergency-stop.*reset the trip first/);
  says({ type: 'say', what: 'reset' });
  expect(panel.snapshot('class').trip?.reason).toBe('emergency-stop');
  stop(false);
  says({ type: 'say', what: 'reset' });
  says({ type: 'say', what: 'reset' });
  expect(panel.snapshot('class').trip).toBeUndefined();
  expect(says({ type: 'start' })).toBeUndefined();
});
