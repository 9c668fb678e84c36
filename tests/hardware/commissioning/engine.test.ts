// How the lines are led through: order, what each needs, back and skip, a hindered drive, and what is kept.
import { describe, expect, it } from 'vitest';
import { readRecord } from '../../../app/rig/equipment-file.ts';
import { OUTPUTS } from '../../../controller/signals.ts';
import {
  type Answer,
  beginSession,
  type Session,
  type Step,
  step,
} from '../../../hardware/commissioning/engine.ts';
import { standingOf } from '../../../hardware/commissioning/judge.ts';
import type { Seen } from '../../../hardware/commissioning/line.ts';
import { lineOf } from '../../../hardware/commissioning/lines/index.ts';
import type { EquipmentRecord, LineId } from '../../../hardware/commissioning/record.ts';
import { seenWith } from './support.ts';

const DAY_MS = 86_400_000;
const PASSED = readRecord('tests/app/rig/equipment.json');
const NOW_MS = Date.parse(PASSED['leak-test']!.date);
const NOW = PASSED['leak-test']!.date;

const begun = (record: EquipmentRecord, only?: LineId): Session =>
  beginSession({
    record,
    refrigerants: ['R-134a'],
    nowMs: NOW_MS,
    ...(only === undefined ? {} : { only }),
  });

const STEP_MS = 100;

/** A session that is stepped from where it was, ten times a second. */
class Stepped {
  session: Session;
  nowMs = 0;
  last: Step | undefined;
  readonly said: string[] = [];

  constructor(session: Session) {
    this.session = session;
  }

  step(answer?: Answer, seen: Seen = seenWith({}, {}, this.nowMs)): Step {
    this.last = step(this.session, { seen, nowMs: this.nowMs, date: NOW, answer });
    this.session = this.last.session;
    this.said.push(...this.last.says.map(({ kind, line, text }) => `${line} ${kind}: ${text}`));
    this.nowMs += STEP_MS;
    return this.last;
  }

  /** Steps until something is asked, and answers it. */
  answer(answer: Answer): Step {
    for (let i = 0; i < 500 && this.last?.ask === undefined; i++) this.step();
    return this.step(answer);
  }

  get asks(): string | undefined {
    for (let i = 0; i < 500 && this.last?.ask === undefined && this.last?.done !== true; i++) this.step();
    return this.last?.ask?.id;
  }
}

const without = (...lines: readonly LineId[]): EquipmentRecord =>
  Object.fromEntries(Object.entries(PASSED).filter(([id]) => !lines.includes(id as LineId)));

describe('what is still to be done', () => {
  it('is every line in order for a new machine, what stops it first, and never the optional line', () => {
    const { todo } = begun({});
    expect(todo.slice(0, 4)).toEqual(['facts', 'emergency-stop', 'link-loss', 'high-pressure']);
    expect(todo).toHaveLength(13);
    expect(todo).not.toContain('in-flight');
  });

  it('is what is missing, failed or expired, and nothing when all stands', () => {
    expect(begun(PASSED).todo).toEqual([]);
    expect(begun(without('volumes')).todo).toEqual(['volumes']);
    const failed = { ...PASSED, scale: { ...PASSED.scale!, verdict: 'failed' as const } };
    expect(begun(failed).todo).toEqual(['scale']);
    const later = beginSession({ record: PASSED, refrigerants: [], nowMs: NOW_MS + 31 * DAY_MS });
    expect(later.todo).toEqual(['leak-test']);
  });

  it('is only the line that was asked for, though it stands', () => {
    expect(begun(PASSED, 'scale').todo).toEqual(['scale']);
  });

  it('goes on after a break at the beginning of the line that was under way', () => {
    const first = new Stepped(begun(without('temperatures')));
    expect(first.asks).toBe('temperatures.rested');
    first.step('');
    expect(first.asks).toBe('temperatures.error');
    const again = new Stepped(begun(first.session.record));
    expect(again.asks).toBe('temperatures.rested');
  });
});

describe('what a line needs', () => {
  it('holds it up, and leaves the record as it was', () => {
    const stepped = new Stepped(begun(without('volumes'), 'leak-test'));
    stepped.step();
    expect(stepped.said).toEqual(['leak-test held-up: needs the line volumes first']);
    expect(stepped.session.record['leak-test']).toBe(PASSED['leak-test']);
    expect(stepped.last?.done).toBe(true);
  });

  it('is that the emergency stop stands today for whatever drives more than one valve', () => {
    for (const id of [
      'click-test',
      'atmosphere',
      'second-point',
      'dead-time',
      'volumes',
      'leak-test',
      'in-flight',
    ] as const)
      expect(lineOf(id).needs).toEqual(
        expect.arrayContaining(['facts', 'emergency-stop', 'link-loss', 'high-pressure']),
      );
  });

  it('waits for a board, and has nothing on meanwhile', () => {
    const stepped = new Stepped(begun(without('link-loss')));
    const alone = stepped.step(undefined, seenWith({}, { linked: false }));
    expect(alone.ask).toBeUndefined();
    expect(stepped.session.under).toBeUndefined();
    stepped.step();
    expect(stepped.said).toEqual(['link-loss begins: Loss of the line']);
  });
});

describe('the word that the machine is empty', () => {
  it('is asked for once, before the first line that drives, and not by one that does not', () => {
    const driving = new Stepped(begun(without('link-loss', 'high-pressure')));
    expect(driving.asks).toBe('machine-empty');
    expect(new Stepped(begun(without('temperatures'))).asks).toBe('temperatures.rested');
  });

  it('refused, holds the line up and has nothing on', () => {
    const stepped = new Stepped(begun(without('link-loss')));
    stepped.answer('no');
    expect(stepped.said.at(-1)).toMatch(
      /^link-loss held-up: the machine is not empty: recover its refrigerant/,
    );
    expect(stepped.session.record['link-loss']).toBeUndefined();
  });
});

describe('back and skip', () => {
  it('go to the question before, and to the line after', () => {
    const stepped = new Stepped(begun(without('temperatures', 'scale')));
    stepped.answer('');
    stepped.answer('0.2');
    expect(stepped.asks).toBe('temperatures.tank');
    stepped.step({ go: 'back' });
    expect(stepped.asks).toBe('temperatures.error');
    stepped.step({ go: 'back' });
    expect(stepped.asks).toBe('temperatures.rested');
    stepped.step({ go: 'back' });
    expect(stepped.asks).toBe('temperatures.rested');
    stepped.step({ go: 'skip' });
    expect(stepped.asks).toBe('scale.masses');
    expect(stepped.session.record.temperatures).toBeUndefined();
  });

  it('do not ask again whether the machine is empty', () => {
    const stepped = new Stepped(begun(without('dead-time')));
    stepped.answer('yes');
    expect(stepped.asks).toBe('dead-time.open');
    stepped.step({ go: 'back' });
    expect(stepped.asks).toBe('dead-time.open');
  });
});

describe('a drive that is hindered', () => {
  const pumping = (): Stepped => {
    const stepped = new Stepped(begun(without('dead-time')));
    stepped.answer('yes');
    stepped.answer('');
    return stepped;
  };
  const runFor = (stepped: Stepped, ms: number, seen: () => Seen): void => {
    for (const endMs = stepped.nowMs + ms; stepped.nowMs < endMs && stepped.last?.done !== true; )
      stepped.step(undefined, seen());
  };

  it('drives while nothing hinders it', () => {
    const stepped = pumping();
    runFor(stepped, 1_000, () => seenWith({}, {}, stepped.nowMs));
    expect(stepped.last?.commands.vacuumPump).toEqual({ on: true, offAfterMs: expect.any(Number) });
  });

  it.each([
    [
      'a pressure that rises',
      () => seenWith({ tankPressurePa: 300_000 }),
      /the tank sensor shows 3.00 bar absolute/,
    ],
    [
      'a sensor that fails',
      () => seenWith({ lowSidePressurePa: undefined }),
      /the low-side sensor has no reading/,
    ],
    ['a pressed emergency stop', () => seenWith({ emergencyStop: true }), /emergency stop is pressed/],
    ['a lost line', () => seenWith({}, { linked: false }), /line to the board is lost/],
  ])(
    'fails at %s, at once and with everything off: nothing comes on again when it goes away',
    (_, seen, why) => {
      const stepped = pumping();
      runFor(stepped, 1_000, () => seenWith({}, {}, stepped.nowMs));
      stepped.step(undefined, seen());
      expect(stepped.session.record['dead-time']).toMatchObject({
        verdict: 'failed',
        why: expect.stringMatching(why),
      });
      expect(OUTPUTS.filter((output) => stepped.last?.commands[output].on)).toEqual([]);
      stepped.step();
      expect(OUTPUTS.filter((output) => stepped.last?.commands[output].on)).toEqual([]);
    },
  );

  it('fails after half a second of a board that has tripped, and not before: it needs a moment to arm', () => {
    const tripped = () => seenWith({}, { state: 'tripped', trip: 'watchdog' });
    const stepped = pumping();
    runFor(stepped, 400, tripped);
    expect(stepped.session.record['dead-time']).toBeUndefined();
    runFor(stepped, 800, tripped);
    expect(stepped.session.record['dead-time']?.why).toMatch(/tripped: watchdog/);
  });
});

describe('how long there is nothing to do', () => {
  it('is told down to the end of the line: run-up, evacuating, shutting off, a minute, a look, ten minutes, a look', () => {
    const stepped = new Stepped(begun(without('leak-test')));
    stepped.answer('yes');
    expect(stepped.asks).toBe('leak-test.shut');
    expect(stepped.last?.leftMs).toBeUndefined();
    stepped.answer('');
    const first = stepped.step();
    const allMs = 3_000 + 300_000 + 1_000 + 60_000 + 7_000 + 600_000 + 7_000;
    expect(first.leftMs).toBe(allMs - STEP_MS);
    for (let i = 0; i < 100; i++) stepped.step();
    // Each move ends, and the next begins, in the first step at or after its time.
    const lateMs = stepped.last!.leftMs! - (first.leftMs! - 100 * STEP_MS);
    expect(lateMs).toBeGreaterThanOrEqual(0);
    expect(lateMs).toBeLessThanOrEqual(STEP_MS);
  });

  it('is told to the next question, and not of what waits for a person', () => {
    const stepped = new Stepped(begun(without('temperatures', 'alarms')));
    stepped.step();
    for (let i = 0; i < 5; i++) expect(stepped.step(undefined, seenWith()).leftMs).toBeUndefined();
    stepped.step({ go: 'skip' });
    stepped.answer('');
    stepped.answer('0.2');
    stepped.answer('20');
    expect(stepped.step().leftMs).toBe(5_000 - STEP_MS);
  });
});

describe('what stands in a record', () => {
  const line = lineOf('scale');
  const scale = PASSED.scale!;
  const at = (ms: number, changes = {}) =>
    standingOf(line, { ...PASSED, scale: { ...scale, ...changes } }, ms).is;

  it('stands for its days and no longer, whatever longer time was written into it', () => {
    const doneMs = Date.parse(scale.date);
    expect(at(doneMs + 59 * DAY_MS)).toBe('standing');
    expect(at(doneMs + 61 * DAY_MS)).toBe('expired');
    expect(at(doneMs + 61 * DAY_MS, { validDays: 9_999 })).toBe('expired');
    expect(at(doneMs + 11 * DAY_MS, { validDays: 10 })).toBe('expired');
  });

  it('is worth nothing with a date ahead, without a figure, or with one out of its tolerance', () => {
    expect(at(Date.parse(scale.date) - 3 * DAY_MS)).toBe('failed');
    const { zeroCounts: _, ...figures } = scale.figures;
    expect(at(NOW_MS, { figures })).toBe('failed');
    expect(at(NOW_MS, { figures: { ...scale.figures, repeatabilityKg: 0.004 } })).toBe('failed');
    expect(at(NOW_MS)).toBe('standing');
  });

  it('falls with the facts that it was measured by', () => {
    const stepped = new Stepped(begun(PASSED, 'facts'));
    const other: { readonly [id: string]: string } = { manifoldToPa: '2.5 bar' };
    const facts = PASSED.facts!.figures;
    for (let id = stepped.asks; id !== undefined; id = stepped.asks) {
      const fact = facts[id];
      const text = fact === true ? 'yes' : Array.isArray(fact) ? fact.join(', ') : String(fact);
      stepped.step(other[id] ?? siText(id, text));
      if (stepped.last?.done === true) break;
    }
    expect(Object.keys(stepped.session.record).sort()).toEqual([
      'emergency-stop',
      'facts',
      'high-pressure',
      'link-loss',
    ]);
  });
});

/** A figure of the record, typed with the unit that it has there. */
function siText(id: string, text: string): string {
  if (id.endsWith('Pa') && !id.startsWith('oil')) return `${text} Pa`;
  if (id.endsWith('FlowM3PerSPa')) return String(Number(text) / 1e-11);
  if (id.endsWith('M3PerS')) return String(Number(text) * 1000);
  if (id.endsWith('M3')) return `${Number(text) * 1e6} mL`;
  if (id === 'tankTemperatureLimitK') return `${text} K`;
  if (id === 'scaleDriftKgPerK') return String(Number(text) * 1000);
  return id.endsWith('Ms') ? `${text} ms` : text;
}
