// One turn of the controller: how a job opens, what is told in which order, and what a fault of its own leaves behind.
import { describe, expect, test } from 'vitest';
import { reasonOf } from '../../controller/interlocks/reason.ts';
import { NO_NOTICES } from '../../controller/notices.ts';
import type { OperatorEvent } from '../../controller/operator.ts';
import { openJob, scan } from '../../controller/scan.ts';
import { OUTPUTS, SAFE_COMMANDS } from '../../controller/signals.ts';
import { enterIdentify } from '../../controller/stages/identify.ts';
import { want } from '../../controller/stages/stage.ts';
import type { ControllerState } from '../../controller/state.ts';
import { idle, standing, wished, withWishes, working } from './support/by-hand.ts';
import { EQUIPMENT, planFor } from './support/machine.ts';
import { judgedOf, type Moment, momentOf } from './support/moment.ts';
import { none, readingsAt, type Values } from './support/readings.ts';

const turn = (
  state: ControllerState,
  nowMs: number,
  values: Values = {},
  events: readonly OperatorEvent[] = [],
) => scan(state, readingsAt(nowMs, values), nowMs, events);
const codes = ({ notices }: Pick<ReturnType<typeof scan>, 'notices'>) => notices.map(({ code }) => code);

describe('A job that opens', () => {
  const open = () => openJob(planFor(), EQUIPMENT, 500);

  test('stands at its first stage, with nothing known and nothing told', () => {
    const opened = open();
    expect(opened).toMatchObject({
      chart: { value: 'identify' },
      stage: enterIdentify(500),
      visits: [{ stage: 'identify', startedAtMs: 500 }],
      notices: [],
      ledger: [],
      handJournal: [],
      estimates: { path: 'shut', pathChangedAtMs: 500, cellWarmerK: 0 },
    });
    expect(opened.accounts.hoseForce).toEqual({ kgPerPa: 0, sdKgPerPa: EQUIPMENT.scale.hoseForceKgPerPaSd });
  });

  test('knows which outputs are fitted', () => {
    const opened = open();
    for (const output of OUTPUTS)
      expect(opened.fitting[output]).toBe(EQUIPMENT.fitted.includes(output) ? 'fitted' : 'not-fitted');
  });

  test('without a stage is a machine that is idle', () =>
    expect(idle()).toMatchObject({ chart: { value: 'idle' }, stage: undefined, visits: [] }));
});

describe('A turn', () => {
  test('leads from what is read to what is commanded, and keeps it', () => {
    const { state, commands, notices, ledgerEntries } = turn(
      working(withWishes([standing('vacuumPump')])),
      100,
    );
    expect(commands).toEqual(want('vacuumPump'));
    expect([notices, ledgerEntries]).toEqual([[], []]);
    expect(state.seen!.tankPa).toBe(571_710);
    expect(state.judged!.permitted).toEqual(commands);
  });

  test('tells in order: what was found, what was said, what tripped; and the state keeps all behind what it had', () => {
    const events = [wished('compressor')];
    const silent: Moment = {
      memory: { lastScanMs: 1_400 },
      estimates: { drift: { kgPerS: 0, from: undefined } },
    };
    const before = turn(momentOf(silent), 1_500, {}, events).notices;
    const { state, notices, commands } = turn(
      momentOf({ ...silent, state: { notices: before } }),
      1_500,
      { emergencyStop: true },
      events,
    );
    expect(codes({ notices })).toEqual(['wish-not-by-hand', 'tripped']);
    expect(state.notices).toEqual([...before, ...notices]);
    expect(notices[0]!.atMs).toBe(1_500);
    expect(commands).toBe(SAFE_COMMANDS);
  });

  test('tells what each alone has to tell: sequence, interlocks, or what fell', () => {
    expect(codes(turn(momentOf(), 100, {}, [wished('compressor')]))).toEqual(['wish-not-by-hand']);
    expect(codes(turn(momentOf(), 100, { emergencyStop: true }))).toEqual(['tripped']);
    expect(codes(turn(working(withWishes([standing('compressor')])), 100))).toEqual(['wish-fell']);
  });

  test('that has nothing to tell leaves what was told as it is', () => {
    const before = momentOf({ state: { notices: turn(momentOf(), 50, { emergencyStop: true }).notices } });
    const { state, notices } = turn(before, 100);
    expect(state.notices).toBe(before.notices);
    expect(notices).toBe(NO_NOTICES);
  });

  test('takes away for good what the interlocks take, and says so after the rest', () => {
    const state = working(withWishes([standing('highSideValve'), standing('compressor')]));
    const result = turn(state, 100, {}, [wished('oilValve')]);
    expect(codes(result)).toEqual(['wish-refused', 'wish-fell']);
    expect(result.state.byHand!.wishes.map(({ output }) => output)).toEqual(['highSideValve']);
    expect(result.commands).toEqual(want('highSideValve'));
  });

  test('at no time at all is one at the last', () =>
    expect(
      scan(momentOf({ memory: { lastScanMs: 700 } }), readingsAt(700), Number.NaN, []).state.memory,
    ).toMatchObject({
      lastScanMs: 700,
    }));

  // 12 g in five minutes at rest: 2.4 g a minute.
  const STILL: Moment = {
    memory: { lastScanMs: 419_900 },
    scale: {
      counts: 2_101_200,
      massKg: 8.012,
      slowMassKg: 8.012,
      atMs: 419_900,
      recent: [2_101_200],
      calmHosePa: -41_325,
      sameSinceMs: 419_900,
    },
    estimates: { drift: { kgPerS: 0, from: { kg: 8, atMs: 120_000 } } },
    accounts: { recoveredKg: 0.5, recoveredUncertaintyKg: 0.002, recoveredOverMs: 600_000 },
  };

  test('makes what was booked less sure once the scale is known to run away', () => {
    const { state, notices } = turn(momentOf(STILL), 420_000, { scaleCounts: 2_101_200 });
    expect(codes({ notices })).toEqual(['scale-drifts']);
    expect(notices[0]!.text).toContain('2.4 g a minute');
    expect(state.accounts.recoveredUncertaintyKg).toBeGreaterThan(0.02);
    expect(codes(turn(state, 420_100, { scaleCounts: 2_101_200 }))).toEqual([]);
  });

  test.each([
    { row: 'IL-40', drifts: false },
    { row: 'IL-41', drifts: false },
    { row: 'IL-04', drifts: true },
  ])('while a trip of $row stands, the scale is said to run away: $drifts', ({ row, drifts }) => {
    const trip = { row, reason: 'as the test says', atMs: 100_000 };
    const tripped = momentOf({ ...STILL, memory: { ...STILL.memory, trip } });
    const { state, notices } = turn(tripped, 420_000, { scaleCounts: 2_101_200 });
    expect(codes({ notices }).includes('scale-drifts')).toBe(drifts);
    expect(state.accounts.recoveredUncertaintyKg! > 0.002).toBe(drifts);
  });
});

describe('A rig that falls silent', () => {
  const NOTHING: Values = Object.fromEntries(
    Object.keys(readingsAt(0)).map((sensor) => [sensor, none('stale')]),
  );
  const silent = (lastScanMs: number, nowMs: number) =>
    codes(
      turn(momentOf({ memory: { lastScanMs }, estimates: { silentSinceMs: 1_000 } }), nowMs, NOTHING),
    ).filter((code) => code === 'rig-silent');

  test('is told after a second and a half, once', () => {
    expect(silent(2_400, 2_499)).toEqual([]);
    expect(silent(2_400, 2_500)).toEqual(['rig-silent']);
    expect(silent(2_500, 2_600)).toEqual([]);
    const { notices } = turn(
      momentOf({ memory: { lastScanMs: 2_400 }, estimates: { silentSinceMs: 1_000 } }),
      2_500,
      NOTHING,
    );
    expect(notices[0]!.text).toContain('For 1.5 s nothing');
  });

  test('that is heard again is NOT silent', () => {
    const state = momentOf({ memory: { lastScanMs: 2_400 }, estimates: { silentSinceMs: 1_000 } });
    expect(codes(turn(state, 2_500))).toEqual([]);
  });
});

test('Sides that stay apart though both hoses are joined are told once, with both pressures', () => {
  const joined: Moment = {
    memory: { lastScanMs: 20_900 },
    estimates: { joined: { sinceMs: 1_000, apartPa: 0 } },
    state: { judged: judgedOf('highSideValve', 'lowSideValve') },
  };
  const apart = { highSidePressurePa: 300_000, lowSidePressurePa: 100_000 };
  const { state, notices } = turn(momentOf(joined), 21_000, apart);
  expect(codes({ notices })).toEqual(['sides-disagree']);
  expect(notices[0]!.text).toMatch(/high side shows 300 kPa absolute and the low side 100 kPa/);
  const again = { ...state, judged: judgedOf('highSideValve', 'lowSideValve') };
  expect(codes(turn(again, 21_100, apart))).toEqual([]);
  expect(codes(turn(momentOf(joined), 21_000))).toEqual([]);
});

describe('A fault of the controller itself', () => {
  /** Whatever touches the scale's estimate breaks. */
  function broken(state: ControllerState, thrown: unknown = new Error('no scale')): ControllerState {
    const estimates = Object.defineProperty({ ...state.estimates }, 'scale', {
      get() {
        throw thrown;
      },
    });
    return { ...state, estimates };
  }
  const REASON = 'controller fault: no scale';

  test('switches everything off, halts the job and latches a trip that names it', () => {
    const { state, commands, notices, ledgerEntries } = turn(
      broken(momentOf({ memory: { compressorOffSinceMs: undefined } })),
      100,
    );
    expect(commands).toBe(SAFE_COMMANDS);
    expect(ledgerEntries).toEqual([]);
    expect(state).toMatchObject({
      chart: { value: 'tripped', context: { interrupted: 'identify' } },
      haltedAtMs: 100,
      prompt: undefined,
      judged: undefined,
    });
    expect(state.memory).toMatchObject({
      trip: { row: 'controller', reason: REASON, atMs: 100 },
      lastScanMs: 100,
      compressorOffSinceMs: 100,
    });
    expect(codes({ notices })).toEqual(['tripped']);
    const { hazard, remedy } = reasonOf('controller');
    for (const words of [REASON, hazard]) expect(notices[0]!.text).toContain(words);
    expect(notices[0]!.remedy).toContain(remedy);
    expect(state.notices).toEqual(notices);
  });

  test('is named whatever was thrown', () =>
    expect(turn(broken(momentOf(), 'nonsense'), 100).state.memory.trip!.reason).toBe(
      'controller fault: nonsense',
    ));

  test('under a trip that is latched leaves that one, and says nothing more', () => {
    const trip = { row: 'IL-24', reason: 'gas-alarm', atMs: 5 };
    const memory = { trip, compressorOffSinceMs: 20 };
    const told = turn(momentOf(), 50, { emergencyStop: true }).notices;
    const { state, notices } = turn(
      broken(momentOf({ memory, state: { haltedAtMs: 30, notices: told } })),
      100,
    );
    expect(state.memory).toMatchObject({ trip, compressorOffSinceMs: 20 });
    expect(state.haltedAtMs).toBe(30);
    expect(notices).toEqual([]);
    expect(state.notices).toBe(told);
  });

  test('after the end of a job leaves it ended, and what was told of it stands', () => {
    const { chart } = momentOf();
    const ended = { ...chart, value: 'completed' } as const;
    const told = turn(momentOf(), 50, { emergencyStop: true }).notices;
    const { state, notices } = turn(broken(momentOf({ state: { chart: ended, notices: told } })), 100);
    expect(state.chart).toBe(ended);
    expect(state.notices).toEqual([...told, ...notices]);
    expect(state.handJournal).toEqual([]);
  });

  test('ends the work by hand, and the journal has it', () => {
    const { state } = turn(broken(working(withWishes([standing('vacuumPump')]))), 100);
    expect(state.byHand).toBeUndefined();
    expect(state.handJournal).toEqual([
      { atMs: 100, deed: 'ended', result: 'fell', reason: reasonOf('controller') },
    ]);
  });
});
