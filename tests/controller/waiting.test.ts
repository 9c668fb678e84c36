// What the machine says it waits for: never nothing, and what is in the way first.
import { describe, expect, test } from 'vitest';
import { promptOf } from '../../controller/prompts.ts';
import { SAFE_COMMANDS } from '../../controller/signals.ts';
import { enterAddOil } from '../../controller/stages/add-oil.ts';
import { enterCharge } from '../../controller/stages/charge.ts';
import type { StageData } from '../../controller/stages/data.ts';
import { enterStage } from '../../controller/stages/index.ts';
import { enterLeakCheck } from '../../controller/stages/leak-check.ts';
import { enterRecover } from '../../controller/stages/recover.ts';
import { enterRecoverHoses } from '../../controller/stages/recover-hoses.ts';
import { enterRest } from '../../controller/stages/rest.ts';
import { STAGES } from '../../controller/stages.ts';
import { waitingFor } from '../../controller/waiting.ts';
import { type Moment, momentOf } from './support/moment.ts';
import { none } from './support/readings.ts';

const waits = (moment: Moment, nowMs = 0): string => waitingFor(momentOf(moment), nowMs);
/** A stage at another of its steps. */
const at = (stage: StageData, step: string): StageData => ({ ...stage, step }) as StageData;

describe('What stands in the way of a job', () => {
  const { chart } = momentOf();
  const TRIP = { row: 'IL-24', reason: 'gas-alarm', atMs: 0 };
  const halted = (value: 'paused' | 'tripped' | 'completed' | 'stopped' | 'idle', more: Moment = {}) =>
    waits({ ...more, state: { chart: { ...chart, value }, ...more.state } });

  test('is named before the stage that stands behind it', () => {
    expect(halted('paused')).toBe('the operator to resume');
    expect(halted('completed')).toBe('nothing: the job is completed');
    expect(halted('stopped')).toBe('nothing: the job was stopped');
    expect(halted('idle')).toBe('a job, or an operator who works it by hand');
  });

  test('is a trip by its reason, whatever the chart says, and a chart that tripped though none is known', () => {
    expect(halted('tripped', { memory: { trip: TRIP } })).toBe('a reset of the trip "gas-alarm"');
    expect(halted('completed', { memory: { trip: TRIP } })).toBe('a reset of the trip "gas-alarm"');
    expect(halted('tripped')).toBe('a reset of the trip "unknown"');
  });

  test("is the operator's wish by hand", () => {
    const byHand = { sinceMs: 0, wishes: [], wanted: SAFE_COMMANDS, fallen: [], next: [] };
    expect(halted('idle', { state: { byHand } })).toBe("the operator's next wish");
  });

  test('is the question that stands, in its own words', () => {
    const prompt = promptOf('stop-engine', 0, 'two-ports');
    expect(waits({ state: { prompt } })).toBe(`the operator: ${prompt.text}`);
  });

  test('is the first scan where no stage has begun', () =>
    expect(waits({ state: { stage: undefined } })).toBe('the first scan'));
});

describe('A stage', () => {
  test.each(STAGES)('waits for something in words of its own: %s', (stage) =>
    expect(waits({ stage: enterStage(stage, 0) })).toMatch(/^(the|both|a|proof) [a-z' ]+/),
  );

  test.each([
    ['settle', 'apart', /^the shut manifold to show/],
    ['settle', 'pulse', /short opening of its valve/],
    ['settle', 'weigh', /come to rest for a weighing/],
    ['settle', 'weigh-connected', /come to rest for a weighing/],
    ['fill', 'draw', /boil away before the next opening/],
    ['purge-air', 'burst', /vapour with its air/],
    ['recover', 'weigh', /come to rest for a weighing/],
    ['rest', 'weigh', /come to rest for a weighing/],
    ['drain-oil', 'drain', /run into the catch bottle/],
    ['repair', 'wait', /to be let off/],
    ['evacuate', 'apart', /^the shut manifold to show/],
    ['evacuate', 'join', /pump to come up to speed/],
    ['evacuate', 'pump', /reach its level and stay flat/],
    ['hold', 'apart', /^the shut manifold to show/],
    ['hold', 'watch', /show whether it rises/],
    ['hold', 'equalise', /even out along the hoses/],
    ['verify', 'run', /become steady/],
    ['verify', 'prove', /every machine valve is shut/],
    ['clear-hoses', 'join', /suck the hoses dry/],
    ['add-oil', 'read', /foam in the catch bottle/],
    ['add-oil', 'open', /show the vacuum/],
    ['recover-hoses', 'weigh', /come to rest for a weighing/],
    ['recover-hoses', 'read-oil', /foam in the catch bottle/],
    ['recover-hoses', 'standstill', /engine stands still/],
    ['recover-hoses', 'rest', /does not come back/],
    ['recover-hoses', 'look', /^the hose pressure$/],
  ] as const)('%s at %s says so', (stage, step, words) =>
    expect(waits({ stage: at(enterStage(stage, 0), step) })).toMatch(words),
  );

  test('of oil and dye names what is drawn in', () => {
    const stage = { ...enterAddOil(0), liquid: 'dye' } as const;
    expect(waits({ stage: { ...stage, step: 'dose' } })).toBe('the dye to be drawn in');
    expect(waits({ stage: { ...stage, step: 'run-in' } })).toBe('the rest of the dye to run in');
  });
});

describe('The look at both sides', () => {
  const look = at(enterStage('settle', 0), 'look');
  const waitsFor = (compressorOffSinceMs: number, moment: Moment = {}) =>
    waits({ stage: look, memory: { compressorOffSinceMs }, ...moment }, 30_000);

  test('names the compressor only while it has to rest, and a recovery is to come', () => {
    expect(waitsFor(0)).toMatch(/^the compressor to have rested/);
    expect(waitsFor(-300_000)).toMatch(/^both sides to come to the same pressure$/);
    const charges: Moment = { ticket: { service: 'evacuate-and-charge' } };
    expect(waitsFor(0, charges)).toMatch(/^both sides/);
  });
});

describe('A recovery', () => {
  const running = { ...enterRecover(0), compressorSinceMs: 0 };

  test('waits for its compressor, then for the suction, and names a trickle by its pressure', () => {
    expect(waits({ stage: enterRecover(0) })).toMatch(/compressor to be ready/);
    expect(waits({ stage: running })).toMatch(/suction pressure to fall/);
    const trickle: Moment = { stage: { ...running, lowSinceMs: 0 } };
    expect(waits({ ...trickle, values: { manifoldPressurePa: 48_000 } })).toMatch(/trickle at 48 kPa/);
    expect(waits({ ...trickle, values: { manifoldPressurePa: none('stale') } })).toMatch(/suction pressure/);
    expect(waits({ ...trickle, state: { seen: undefined } })).toMatch(/suction pressure/);
  });

  test('rests, and tells how fast the pressure rises where it does by more than 1 kPa a minute', () => {
    const resting = (perS: number) =>
      waits({ stage: enterRest(0), estimates: { circuit: { value: 50_000, perS, atMs: 0 } } });
    expect(resting(50)).toMatch(/rises by 3 kPa a minute/);
    expect(resting(17)).toMatch(/rises by 1 kPa a minute/);
    expect(resting(16)).toMatch(/stays where it is/);
    expect(resting(-50)).toMatch(/stays where it is/);
    expect(waits({ stage: enterRest(0) })).toMatch(/stays where it is/);
  });
});

describe('A charge', () => {
  const full = { ...enterCharge(0), step: 'full' } as const;

  test('waits for its target, and of a tank that gives vapour alone for that', () => {
    expect(waits({ stage: full })).toBe('the charge to come near its target');
    const told = ['charge-stalled-dip-tube'];
    expect(waits({ stage: { ...full, told } })).toMatch(/short of liquid/);
    expect(waits({ stage: { ...full, step: 'settle', told } })).toMatch(/scale to settle/);
  });

  test('of a leak check says the same of its part, and then waits for the pressure and the scale', () => {
    const check = { ...enterLeakCheck(0), step: 'admit', admission: full } as const;
    expect(waits({ stage: check })).toBe('the charge to come near its target');
    expect(waits({ stage: { ...check, step: 'settle' } })).toMatch(/pressure in the vehicle/);
    expect(waits({ stage: { ...check, step: 'weigh' } })).toMatch(/weighing/);
    expect(waits({ stage: { ...check, admission: undefined } })).toMatch(/weighing/);
  });
});

test('The hoses wait for the compressor to have rested, and then to be drawn down', () => {
  const drawing = (compressorOffSinceMs: number | undefined, nowMs: number) =>
    waits({ stage: { ...enterRecoverHoses(0), step: 'draw' }, memory: { compressorOffSinceMs } }, nowMs);
  expect(drawing(1_000, 120_999)).toBe('the compressor to have rested');
  expect(drawing(1_000, 121_000)).toBe('the hoses to be drawn down');
  expect(drawing(undefined, 0)).toBe('the hoses to be drawn down');
});
