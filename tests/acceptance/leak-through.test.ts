// Whole jobs with a charge valve that leaks 0.05 g/s: isolated and named wherever it begins, and never suspected without cause.
import { describe, expect, test } from 'vitest';
import { VALVES } from '../../controller/signals.ts';
import { runScenario } from './run-scenario.ts';

const EMPTY = {
  seed: 4,
  weather: { ambientC: 20 },
  ticket: { refrigerant: 'R-134a', nominalChargeG: 600, service: 'evacuate-and-charge' },
  vehicle: { chargeG: 0 },
  tank: { contentKg: 8 },
};
const LEAK = { fault: 'charge-valve-leaks', size: 0.05 };
/** What is told before it is proven. */
const DOUBTED = 'charge-valve-doubted';
/** Codes that put it down to the machine. */
const NAMED = ['tripped', 'machine-leaks'];
/** What accuses the vehicle, or leaves the hoses as a riddle. */
const MISLED = [
  'leak-found',
  'leak-suspected',
  'vacuum-lost',
  'pressure-came-back',
  'vehicle-pressurised',
  'vacuum-not-reached',
  'rough-vacuum-failed',
  'hoses-not-recovered',
];

type Job = Awaited<ReturnType<typeof runScenario>>;
const codes = (job: Job): string[] => job.notices.map(({ code }) => code);

/**
 * The job, when it was alarmed, when every valve had shut for good before that, when the charge valve had, and whether a
 * valve opened after.
 */
async function watched(file: object) {
  let alarmedAtS: number | undefined;
  let openAtS = 0;
  let lastShutAtS = 0;
  let chargedAtS = 0;
  let toldAtS: number | undefined;
  let hoseOpenedAfter = false;
  let openedAfter = false;
  const job = await runScenario(file, [
    ({ nowMs, commands, notices }) => {
      const open = VALVES.some((valve) => commands[valve].on);
      if (notices.some(({ code }) => NAMED.includes(code))) {
        alarmedAtS ??= nowMs / 1000;
        lastShutAtS = openAtS;
      }
      if (open) openAtS = nowMs / 1000;
      if (commands.chargeValve.on) chargedAtS = nowMs / 1000;
      if (notices.some(({ code }) => code === DOUBTED || NAMED.includes(code))) toldAtS ??= nowMs / 1000;
      if (toldAtS !== undefined && (commands.highSideValve.on || commands.lowSideValve.on))
        hoseOpenedAfter = true;
      if (alarmedAtS !== undefined && open) openedAfter = true;
    },
  ]);
  return { job, alarmedAtS, lastShutAtS, chargedAtS, toldAtS, openedAfter, hoseOpenedAfter };
}

describe.each(['good', 'hobby'])('A charge valve that leaks 0.05 g/s (%s)', (equipment) => {
  test.each([
    { when: 'from the start', more: {} },
    { when: 'in the evacuation', more: { stage: 'evacuate', afterS: 200 } },
    { when: 'in the hold', more: { stage: 'hold', afterS: 30 } },
    { when: 'while it charges', more: { stage: 'charge', afterS: 30 } },
    { when: 'with the charge just over', more: { stage: 'recover-hoses' } },
  ])(
    '$when: alarmed within a minute of the valves shutting, everything shut and kept shut, the vehicle not accused',
    async ({ more }) => {
      const { job, alarmedAtS, lastShutAtS, openedAfter } = await watched({
        ...EMPTY,
        equipment,
        faults: [{ ...LEAK, ...more }],
      });
      expect(alarmedAtS! - lastShutAtS).toBeLessThan(60);
      expect(openedAfter).toBe(false);
      expect(job.outcome).toBe('stopped');
      for (const code of MISLED) expect(codes(job)).not.toContain(code);
      expect(job.notices.find(({ code }) => NAMED.includes(code))!.remedy).toMatch(/tank's liquid valve/);
      expect(job.truth.ventedG).toBe(0);
    },
  );

  test('with a vehicle to recover from: it is named by the end of the first cycle', async () => {
    const { job } = await watched({
      ...EMPTY,
      equipment,
      ticket: { ...EMPTY.ticket, service: 'whole' },
      vehicle: { chargeG: 450 },
      faults: [LEAK],
    });
    // By the manifold or by the scale, whichever is surer first; both name the charge valve.
    const said = job.notices.find(({ code }) => code === 'tripped')!.text;
    expect(said).toMatch(/(valve-leaks-through|tank-loses-mass).*charge valve/);
    expect(job.stages.filter(({ stage }) => stage === 'recover').length).toBeLessThanOrEqual(1);
  });

  // Between tank and charged vehicle stand 0.4 to 2 bar: the seat passes 0.02 to 0.035 g/s, and the scale shows more than
  // 0.009 (good) or 0.016 g/s (hobby) within a minute. It creeps as well, so that the drawn manifold has to prove the valve.
  const PROVEN_S = equipment === 'good' ? 130 : 260;

  test.each(
    [20, 33].flatMap((ambientC) => [
      ...[2, 5].map((seed) => ({ ambientC, seed, engine: 'cannot-run' })),
      ...[5, 8].map((seed) => ({ ambientC, seed, engine: 'can-run' })),
    ]),
  )(
    'after the charge is alarmed before a draw or the engine can hide it: $ambientC °C, seed $seed, the engine $engine',
    async ({ ambientC, seed, engine }) => {
      const { job, alarmedAtS, chargedAtS, toldAtS, openedAfter, hoseOpenedAfter } = await watched({
        ...EMPTY,
        seed,
        equipment,
        weather: { ambientC },
        ticket: { ...EMPTY.ticket, engine },
        operator: { delayS: 30 },
        faults: [{ ...LEAK, stage: 'charge', afterS: 10 * seed }],
      });
      // Noise hides what `hobby` scales show least of; the manifold shows it then. At 20 °C with an engine it hid it in 5 of 16
      // seeds until the hoses were recovered.
      if (equipment === 'good' || ambientC === 33) expect(toldAtS! - chargedAtS).toBeLessThan(60);
      expect(alarmedAtS! - chargedAtS).toBeLessThan(PROVEN_S);
      expect(hoseOpenedAfter).toBe(false);
      expect(openedAfter).toBe(false);
      const said = job.notices.find(({ code }) => code === 'tripped')!;
      expect(said.remedy).toMatch(/hose valves are shut.*tank's liquid valve/);
      for (const code of MISLED) expect(codes(job)).not.toContain(code);
    },
  );

  test('in the hold after a recovery: the scale is not blamed for it, and what was recovered stays as sure as it was', async () => {
    const job = await runScenario({
      ...EMPTY,
      equipment,
      ticket: { ...EMPTY.ticket, service: 'whole' },
      vehicle: { chargeG: 450 },
      faults: [{ ...LEAK, stage: 'hold', afterS: 20 }],
    });
    expect(codes(job)).toContain('tripped');
    expect(codes(job)).not.toContain('scale-drifts');
    expect(job.masses.recoveredUncertaintyG).toBeLessThan(20);
  });

  test('and nobody reads the manifold: the scale alone tells', async () => {
    const { job, alarmedAtS, lastShutAtS } = await watched({
      ...EMPTY,
      equipment,
      operator: { delayS: 120 },
      faults: [
        { ...LEAK, stage: 'recover-hoses' },
        { fault: 'manifold-sensor-open', stage: 'recover-hoses' },
      ],
    });
    expect(job.notices.map(({ text }) => text).join()).toContain('tank-loses-mass');
    // The weighing before the coupler's question has had them shut for ten seconds already; noise may spoil a block.
    expect(alarmedAtS! - lastShutAtS).toBeLessThan(equipment === 'hobby' ? 180 : 90);
  });
});

describe('Nothing of it is said', () => {
  const quiet = (job: Job): void => {
    for (const code of [...NAMED, DOUBTED]) expect(codes(job)).not.toContain(code);
  };
  const WEATHER = [-2, 8, 21, 33, 40];

  test.each(
    WEATHER.flatMap((ambientC, i) => [
      { ambientC, seed: 2 * i + 1 },
      { ambientC, seed: 2 * i + 2 },
    ]),
  )('in an ordinary job at $ambientC °C (seed $seed)', async ({ ambientC, seed }) => {
    const equipment = seed % 2 === 0 ? 'hobby' : 'good';
    const whole = seed % 3 === 0;
    const refrigerant = seed % 4 < 2 ? 'R-134a' : 'R-1234yf';
    const service = whole ? 'whole' : 'evacuate-and-charge';
    const engine = seed % 5 < 2 ? 'can-run' : 'cannot-run';
    quiet(
      await runScenario({
        ...EMPTY,
        seed,
        equipment,
        weather: { ambientC },
        ticket: { ...EMPTY.ticket, refrigerant, service, engine },
        vehicle: { chargeG: whole ? 450 : 0 },
        operator: { delayS: 90 },
      }),
    );
  });

  test.each([
    { what: 'a scale whose zero drifts by a gram a minute', fault: { fault: 'scale-drift', size: -1 } },
    {
      what: 'a hand on the machine',
      fault: { fault: 'scale-leaned-on', stage: 'charge', afterS: 200, forS: 20 },
    },
    { what: 'a vehicle that leaks', vehicle: { chargeG: 0, leakGPerYear: 50_000 } },
    { what: 'a vehicle with a hole', vehicle: { chargeG: 0, holeMm: 0.3 } },
  ])('with $what', async ({ fault, vehicle = EMPTY.vehicle }) => {
    quiet(
      await runScenario({
        ...EMPTY,
        vehicle,
        operator: { delayS: 90 },
        ...(fault === undefined ? {} : { faults: [fault] }),
      }),
    );
  });
});
