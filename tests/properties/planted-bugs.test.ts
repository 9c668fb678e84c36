// Bugs planted in the sequence: whatever it wishes, wherever it leads, and whatever it ignores, the plant comes to no harm.
import { afterEach, beforeAll, describe, expect, test, vi } from 'vitest';
import { limitsOf, Watch } from '../../app/bench/harm.ts';
import { SCAN_MS } from '../../app/run/loop.ts';
import type { ChartState } from '../../controller/chart-state.ts';
import { type Commands, commandsOf, ON, OUTPUTS } from '../../controller/signals.ts';
import type { StageData } from '../../controller/stages/data.ts';
import type { StageStep } from '../../controller/stages/stage.ts';
import { STAGES } from '../../controller/stages.ts';
import { Random } from '../../sim/random.ts';
import { FORBIDDEN } from '../controller/interlocks/proof/forbidden.ts';
import { type Moment, SteppedJob } from './job.ts';
import { type JobName, startsOf } from './starts.ts';

const bug = vi.hoisted(() => ({
  step: undefined as ((right: StageStep<StageData>) => StageStep<StageData>) | undefined,
  follow: undefined as ((chart: ChartState, event: string, right: ChartState) => ChartState) | undefined,
}));

vi.mock('../../controller/stages/index.ts', async (original) => {
  const real = await original<typeof import('../../controller/stages/index.ts')>();
  const stepStage: typeof real.stepStage = (...given) => {
    const right = real.stepStage(...given);
    return bug.step === undefined ? right : bug.step(right);
  };
  return { ...real, stepStage };
});
vi.mock('../../controller/statechart.ts', async (original) => {
  const real = await original<typeof import('../../controller/statechart.ts')>();
  const follow: typeof real.follow = (chart, event) => {
    const right = real.follow(chart, event);
    return bug.follow === undefined ? right : bug.follow(chart, event, right);
  };
  return { ...real, follow };
});

const ALL_ON = commandsOf(() => ON);
const JOBS: readonly (readonly ['good' | 'hobby', JobName])[] = [
  ['good', 'drawn back'],
  ['hobby', 'sucked dry'],
  ['good', 'A2L drawn back'],
  ['hobby', 'nearly full'],
];
const LASTS_MS = 180_000;

/** Which forbidden combinations a permitted word is, by what the guard saw. */
function forbiddenIn(commands: Commands, job: SteppedJob): readonly string[] {
  const { judged, fitting } = job.loop.state;
  if (judged === undefined) return [];
  const { on, offAfterMs } = commands.chargeValve;
  const words = Object.fromEntries(OUTPUTS.map((output) => [output, commands[output].on]));
  const chargePulse = on && offAfterMs !== undefined && offAfterMs <= 100;
  const point = {
    on: { ...words, chargePulse } as never,
    bands: judged.bands,
    memory: judged.remembered,
    fitting,
  };
  return FORBIDDEN.filter((forbidden) => forbidden.is(point)).map(({ name }) => name);
}

/**
 * A sequence that never ends its charge is ended by the last interlock: nominal charge, the high side's hose and manifold full
 * of liquid, the tolerance of a charge, and what hoses may press on the scale.
 */
const OVERFILLED_KG = { good: 0.18, hobby: 0.225 } as const;
/** Once something was drawn back, condenser and separator may keep that much of it, which the scale counts as given. */
const DRAWN_KEPT_KG = 0.205;

/** Goes on from a moment with the bug at work; what the plant suffered and what was commanded that may not be. */
function sufferedFrom(profile: 'good' | 'hobby', name: JobName, moment: Moment, lastsMs: number) {
  const { session } = startsOf(profile, name);
  const job = SteppedJob.at(session, moment);
  const { bench, equipment, scenario } = session;
  const { nominalChargeKg } = scenario.ticket;
  const { tankKg } = limitsOf(profile, equipment.tank.fillLimitKg, nominalChargeKg);
  const aboveKg = OVERFILLED_KG[profile];
  const limits = { tankKg, nominalKg: nominalChargeKg, aboveKg, beforeDrawBackKg: aboveKg + DRAWN_KEPT_KG };
  const watch = new Watch(limits, bench.inspect());
  const commanded = new Set<string>();
  let worked = 0;
  for (let ranMs = 0; ranMs < lastsMs; ranMs += SCAN_MS) {
    const { commands } = job.step();
    for (const forbidden of forbiddenIn(commands, job)) commanded.add(forbidden);
    if (OUTPUTS.some((output) => commands[output].on)) worked += 1;
    watch.look(bench.inspect(), job.loop.state);
  }
  return { found: watch.found, commanded: [...commanded], worked, job };
}

/** A few moments of each job, spread over it. */
const momentsOf = (profile: 'good' | 'hobby', name: JobName, count: number): readonly Moment[] => {
  const { moments } = startsOf(profile, name);
  return Array.from(
    { length: count },
    (_, at) => moments[Math.floor(((at + 0.5) * moments.length) / count)]!,
  );
};

afterEach(() => {
  bug.step = undefined;
  bug.follow = undefined;
});

describe.each(JOBS)('On a %s machine, %s', (profile, name) => {
  beforeAll(() => {
    startsOf(profile, name);
  });

  const every = (count: number, lastsMs: number, check: (moment: Moment, at: number) => void) => {
    const moments = momentsOf(profile, name, count);
    let worked = 0;
    for (const [at, moment] of moments.entries()) {
      check(moment, at);
      const suffered = sufferedFrom(profile, name, moment, lastsMs);
      const where = `${moment.state.stage?.stage} ${moment.state.stage?.step} ${JSON.stringify(suffered.found)}`;
      expect(suffered.found, where).toEqual([]);
      expect(suffered.commanded).toEqual([]);
      worked += suffered.worked;
    }
    return worked;
  };

  test('a stage that wishes every output on gets none that may not be', () => {
    bug.step = (right) => ({ ...right, wanted: ALL_ON });
    every(8, 30_000, () => undefined);
  });

  test('one that wishes something else at every scan does no harm', () => {
    const random = new Random(7, `${profile} ${name}`);
    let wanted = ALL_ON;
    let left = 0;
    bug.step = (right) => {
      if (left === 0) {
        left = 1 + Math.floor(60 * random.uniform() ** 3);
        const share = random.uniform();
        wanted = commandsOf(() => (random.uniform() < share ? ON : { on: false, offAfterMs: undefined }));
      }
      left -= 1;
      return { ...right, wanted };
    };
    expect(every(10, 60_000, () => undefined)).toBeGreaterThan(100);
  });

  test('one that never leaves what it does does no harm', () => {
    let held: StageStep<StageData> | undefined;
    bug.step = (right) => {
      held ??= right;
      const { event: _, ...stays } = held;
      return stays as StageStep<StageData>;
    };
    const worked = every(5, LASTS_MS, () => {
      held = undefined;
    });
    expect(worked).toBeGreaterThan(100);
  });

  test('a sequence that ignores a trip commands nothing after it', () => {
    bug.follow = (chart, event, right) => (event === 'tripped' ? chart : right);
    bug.step = (right) => ({ ...right, wanted: ALL_ON });
    for (const moment of momentsOf(profile, name, 6)) {
      const { session } = startsOf(profile, name);
      const job = SteppedJob.at(session, moment);
      session.bench.switchFault({ fault: 'emergency-stop' }, true);
      for (let scans = 0; scans < 5; scans += 1) job.step();
      session.bench.switchFault({ fault: 'emergency-stop' }, false);
      for (let scans = 0; scans < 50; scans += 1) {
        const { commands } = job.step();
        expect(OUTPUTS.filter((output) => commands[output].on)).toEqual([]);
      }
      expect(job.loop.state.memory.trip?.reason).toBe('emergency-stop');
      expect(session.bench.inspect().on).toEqual([]);
    }
  });

  test('a chart that leads anywhere, at any time, does no harm', () => {
    const random = new Random(11, `${profile} ${name}`);
    const visited = new Set<string>();
    bug.step = (right) =>
      random.uniform() < 0.005 ? { ...right, event: right.event ?? 'tank-filled' } : right;
    bug.follow = (_, event, right) => {
      if (event === 'tripped' || event === 'paused' || event === 'aborted') return right;
      const value = STAGES[Math.floor(random.uniform() * STAGES.length)]!;
      visited.add(value);
      return { ...right, value };
    };
    expect(every(8, LASTS_MS, () => undefined)).toBeGreaterThan(100);
    expect(visited.size).toBeGreaterThan(10);
  });

  test.each([
    'fill',
    'purge-air',
    'recover',
    'drain-oil',
    'evacuate',
    'add-oil',
    'charge',
    'clear-hoses',
  ] as const)('a chart that leads to %s from everywhere does no harm', (stage) => {
    let gone = false;
    bug.step = (right) => {
      if (gone) return right;
      gone = true;
      return { ...right, event: 'tank-filled' };
    };
    bug.follow = (_, event, right) =>
      event === 'tripped' || event === 'paused' || event === 'aborted' ? right : { ...right, value: stage };
    every(3, stage === 'charge' ? 2 * LASTS_MS : LASTS_MS, () => {
      gone = false;
    });
  });
});

describe('The bugs are bugs', () => {
  test('a stage that wishes every output on does harm where nobody guards', () => {
    const [profile, name] = JOBS[0]!;
    const { session, moments } = startsOf(profile, name);
    const moment = moments.find(({ state }) => state.stage?.stage === 'evacuate')!;
    session.bench.restore(moment.bench);
    const limits = limitsOf(
      profile,
      session.equipment.tank.fillLimitKg,
      session.scenario.ticket.nominalChargeKg,
    );
    const watch = new Watch(limits, session.bench.inspect());
    for (let nowMs = moment.nowMs; nowMs < moment.nowMs + 30_000; nowMs += SCAN_MS) {
      session.bench.apply(ALL_ON);
      session.bench.advanceTo(nowMs + SCAN_MS);
      watch.look(session.bench.inspect(), moment.state);
    }
    expect(watch.found).not.toEqual([]);
  });
});
