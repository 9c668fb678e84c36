// The hold, one scan at a time: isolating, sampling, and which way it ends.

import { describe, expect, test } from 'vitest';
import type { Seen } from '../../../controller/estimates/seen.ts';
import type { HoldData } from '../../../controller/stages/data-vacuum.ts';
import { enterHold, stepHold, watchMs } from '../../../controller/stages/hold.ts';
import type { Given } from '../support/stage-input.ts';
import { inputOf } from '../support/unseen-input.ts';
import { onOf } from '../support/weighings.ts';

const JOINED = ['highSideValve', 'lowSideValve'];

function stepped(data: HoldData, nowMs: number, given: Given = {}) {
  const step = stepHold(data, inputOf({ nowMs, ...given }));
  return { ...step, on: onOf(step.wanted), told: step.notices?.[0] };
}

/** A sample a second of a pressure that rises by so much in each; it flickers by a step, as that of a sensor does. */
const rising = (seconds: number, paPerS: number, fromPa = 300): number[] =>
  Array.from({ length: seconds }, (_, s) => fromPa + paPerS * s + (s % 2 === 0 ? 1 : -1));

/** One scan before a sample is due, `seconds` into the watch. */
const watching = (seconds: number, over: Partial<HoldData> = {}): HoldData => ({
  ...enterHold(0),
  step: 'watch',
  stepSinceMs: 0,
  sampledAtMs: 1000 * (seconds - 1),
  lastSeenMs: 1000 * seconds - 100,
  ...over,
});
const atS = (seconds: number, over: Partial<HoldData>, given: Given = { seen: { manifoldPa: 300 } }) =>
  stepped(watching(seconds, over), 1000 * seconds, given);

describe('Before anything is watched', () => {
  test('the pump runs on for two seconds behind its shut valve, or its oil is sucked back', () => {
    expect(stepped(enterHold(0), 1_999).on).toEqual([...JOINED, 'vacuumPump']);
    const off = stepped(enterHold(0), 2_000);
    expect(off.data.stage).toBe('hold');
    expect(off.on).toEqual(JOINED);
    expect(off.data).toMatchObject({ step: 'equalise', stepSinceMs: 2_000 });
    expect(stepped(enterHold(0), 0, { ticket: { ports: 1 } }).on).toEqual(['highSideValve', 'vacuumPump']);
  });

  test('the pressure evens out along the hoses for a minute', () => {
    const equalising: HoldData = { ...enterHold(0), step: 'equalise', stepSinceMs: 2_000, manifoldPa: [7] };
    const before = stepped(equalising, 61_999);
    expect(before.data).toBe(equalising);
    expect(before.on).toEqual(JOINED);
    const begun = stepped(equalising, 62_000);
    expect(begun.on).toEqual(JOINED);
    expect(begun.data).toMatchObject({
      step: 'watch',
      stepSinceMs: 62_000,
      sampledAtMs: 62_000,
      lastSeenMs: 62_000,
      manifoldPa: [],
      extended: false,
    });
  });

  test('a thermal sensor counts only where it reads from the beginning on', () => {
    const equalising: HoldData = { ...enterHold(0), step: 'equalise' };
    expect(stepped(equalising, 60_000, { seen: { vehicleVacuumPa: 200 } }).data.thermalPa).toEqual([]);
    expect(stepped(equalising, 60_000).data.thermalPa).toBeUndefined();
  });
});

describe('Ten readings make a sample', () => {
  /** Scans at these moments, of these pressures; the watch has begun at 0. */
  const sampledOver = (...scans: (readonly [ms: number, seen: Partial<Seen>])[]): HoldData =>
    scans.reduce((data, [ms, seen]) => stepped(data, ms, { seen }).data, watching(1, { thermalPa: [] }));

  test('which is their mean, of each sensor', () => {
    const { thermalPa, manifoldPa, sums } = sampledOver(
      [400, { manifoldPa: 100, vehicleVacuumPa: 210 }],
      [700, { manifoldPa: 110, vehicleVacuumPa: 220 }],
      [1_000, { manifoldPa: 150, vehicleVacuumPa: 290 }],
    );
    expect(manifoldPa).toEqual([120]);
    expect(thermalPa).toEqual([240]);
    expect(sums).toMatchObject({ scans: 0, manifoldPa: 0, manifoldReadings: 0, thermalPa: 0 });
  });

  test('a second after the last one, however late the scan comes', () => {
    const early = sampledOver([999, { manifoldPa: 100 }]);
    expect(early).toMatchObject({ manifoldPa: [], sampledAtMs: 0 });
    expect(early.sums).toMatchObject({ scans: 1, manifoldPa: 100, manifoldReadings: 1 });
    expect(sampledOver([1_050, { manifoldPa: 100 }])).toMatchObject({
      manifoldPa: [100],
      sampledAtMs: 1_000,
    });
  });

  test('a manifold sensor may miss some of them, or a second', () => {
    expect(sampledOver([500, {}], [1_000, { manifoldPa: 100 }]).manifoldPa).toEqual([100]);
    expect(sampledOver([500, {}], [1_000, {}]).manifoldPa).toEqual([]);
  });

  test('a thermal sensor that misses one has left its range and does NOT come back', () => {
    const gone = sampledOver([500, { vehicleVacuumPa: 240 }], [1_000, {}]);
    expect(gone.thermalPa).toBeUndefined();
    const back = stepped(gone, 1_500, { seen: { vehicleVacuumPa: 240 } }).data;
    expect(back.thermalPa).toBeUndefined();
    expect(back.sums.thermalReadings).toBe(0);
  });

  test('after those before', () => {
    const both = sampledOver(
      [1_000, { manifoldPa: 100, vehicleVacuumPa: 200 }],
      [2_000, { manifoldPa: 110, vehicleVacuumPa: 201 }],
    );
    expect(both).toMatchObject({ manifoldPa: [100, 110], thermalPa: [200, 201] });
  });
});

describe('How long is watched', () => {
  test('five minutes, ten where the system was open, fifteen where that does not tell', () => {
    expect(watchMs(inputOf())).toBe(300_000);
    expect(watchMs(inputOf({ ticket: { opened: true } }))).toBe(600_000);
    const manifoldPa = rising(100, 0);
    expect(atS(299, { manifoldPa: rising(100, 0) }).event).toBeUndefined();
    expect(atS(300, { manifoldPa: rising(100, 0) }).event).toBe('held-tight');
    const opened: Given = { ticket: { opened: true }, seen: { manifoldPa: 300 } };
    expect(atS(599, { manifoldPa: rising(100, 0) }, opened).event).toBeUndefined();
    expect(atS(600, { manifoldPa: rising(100, 0) }, opened).event).toBe('held-tight');
    expect(atS(899, { manifoldPa, extended: true }).event).toBeUndefined();
    expect(atS(900, { manifoldPa, extended: true }).event).toBe('held-tight');
  });

  test('and until the sample that has been begun is full', () => {
    const half = watching(300, { manifoldPa: rising(100, 0), sampledAtMs: 299_500 });
    const { event, on, data } = stepped(half, 300_000, { seen: { manifoldPa: 300 } });
    expect(event).toBeUndefined();
    expect(on).toEqual(JOINED);
    expect(data.sums.scans).toBe(1);
  });

  test('a rise that is not understood is watched longer, once', () => {
    const first = atS(300, { manifoldPa: rising(60, 1.5) }, { seen: { manifoldPa: 390 } });
    expect(first.event).toBeUndefined();
    expect(first.on).toEqual(JOINED);
    expect(first.data).toMatchObject({ step: 'watch', extended: true });
    const late = watching(300, { stepSinceMs: 1_000, manifoldPa: rising(100, 0) });
    expect(stepped(late, 300_000, { seen: { manifoldPa: 300 } }).event).toBeUndefined();
    const blind = atS(900, { manifoldPa: [1, 2, 3], extended: true });
    expect(blind).toMatchObject({ event: 'hold-inconclusive', result: 'inconclusive' });
  });
});

describe('Before the vehicle is accused the machine is looked at', () => {
  const leaking = { manifoldPa: rising(300, 1.5), extended: true };
  const seen = { manifoldPa: 750 };

  test('where a hold looks like a leak', () => {
    const { data, on, event } = atS(900, leaking, { seen });
    expect(event).toBeUndefined();
    expect(on).toEqual([]);
    expect(data).toMatchObject({ step: 'apart', apart: { sinceMs: 900_000 } });
  });

  test('once: then the hold is concluded', () => {
    const apart = { sinceMs: 0, fromPa: 300 };
    expect(atS(900, { ...leaking, apart }, { seen }).event).toBe('leak-suspected');
  });

  test('where it is called one, by a second hold, as well', () => {
    const accounts = { evacuations: 2, suspected: 1.5 };
    expect(atS(900, leaking, { seen, accounts }).data.step).toBe('apart');
    const looked = { ...leaking, apart: { sinceMs: 0, fromPa: 300 } };
    expect(atS(900, looked, { seen, accounts }).event).toBe('leak-found');
  });

  test('NOT where it is tight', () => {
    expect(atS(300, { manifoldPa: rising(100, 0) }).data.apart).toBeUndefined();
  });

  test('and at once where the pressure comes back as only a gross leak or the tank brings it', () => {
    expect(atS(10, {}, { seen: { manifoldPa: 20_001 } }).data.step).toBe('apart');
    expect(atS(10, {}, { seen: { manifoldPa: 20_000 } }).data.step).toBe('watch');
    const apart = { sinceMs: 0, fromPa: 300 };
    expect(atS(20, { apart }, { seen: { manifoldPa: 20_001 } }).data.step).toBe('watch');
  });
});

describe('What the look at the machine says', () => {
  const apart = (over: Partial<HoldData> = {}): HoldData => ({
    ...watching(300),
    step: 'apart',
    apart: { sinceMs: 290_000, fromPa: 300 },
    ...over,
  });
  const looked = (data: HoldData, manifoldPa: number | undefined, nowMs = 300_000, given: Given = {}) =>
    stepped(data, nowMs, { seen: { manifoldPa }, ...given });

  test('takes ten seconds with everything shut', () => {
    const { on, event, data } = looked(apart(), 5_000, 299_900);
    expect(on).toEqual([]);
    expect(event).toBeUndefined();
    expect(data.step).toBe('apart');
    expect(looked(apart({ apart: undefined }), 400).data.apart).toEqual({
      sinceMs: 300_000,
      fromPa: undefined,
    });
  });

  test('a tight manifold may seem to rise by 300 Pa and four steps of its sensor', () => {
    // The sensor of this machine has steps of 3 Pa.
    expect(looked(apart(), 612).event).toBeUndefined();
    const leaks = looked(apart(), 613);
    expect(leaks).toMatchObject({ event: 'leak-found', result: 'machine-leaks', on: [] });
    expect(leaks.told).toEqual({ code: 'machine-leaks', with: { rise: '0', seconds: '10' } });
  });

  test('and by ten times what the whole vehicle rose by', () => {
    // A kilopascal in two seconds is 4,250 Pa in the eight and a half of the look.
    const steep = { manifoldPa: [300, 800, 1_300] };
    expect(looked(apart(steep), 300 + 42_500).event).toBeUndefined();
    expect(looked(apart(steep), 300 + 42_501).event).toBe('leak-found');
    expect(looked(apart({ manifoldPa: [300] }), 612).event).toBeUndefined();
  });

  test('the hold goes on where its time is not over, with a sample begun afresh', () => {
    const early = apart({ apart: { sinceMs: 100_000, fromPa: 300 }, stepSinceMs: 0 });
    const { data, on, event } = looked(early, 310, 110_000);
    expect(event).toBeUndefined();
    expect(on).toEqual(JOINED);
    expect(data).toMatchObject({ step: 'watch', sampledAtMs: 110_000, lastSeenMs: 110_000, stepSinceMs: 0 });
    expect(data.sums.scans).toBe(0);
  });

  test('and is concluded where it is: after five minutes, or fifteen of a longer one', () => {
    const since = (sinceMs: number, extended: boolean) =>
      looked(
        apart({ apart: { sinceMs, fromPa: 300 }, manifoldPa: rising(100, 0), extended }),
        300,
        sinceMs + 10_000,
      ).event;
    expect(since(299_999, false)).toBeUndefined();
    expect(since(300_000, false)).toBe('held-tight');
    expect(since(899_999, true)).toBeUndefined();
    expect(since(900_000, true)).toBe('held-tight');
  });

  test('of five minutes that began late: they count from when the watch began', () => {
    const late = apart({ stepSinceMs: 50_000, apart: { sinceMs: 349_000, fromPa: 300 } });
    expect(looked(late, 300, 359_000).data.step).toBe('watch');
  });
});

describe('When no sensor says anything any more', () => {
  const silent = (seen: Partial<Seen>, silentMs = 10_001, given: Given = {}) =>
    stepped(watching(100, { lastSeenMs: 100_000 - silentMs, thermalPa: [] }), 100_000, { ...given, seen });

  test('the hold waits ten seconds and ends without a verdict', () => {
    expect(silent({}, 10_000).event).toBeUndefined();
    const { event, result, told, on } = silent({});
    expect({ event, result }).toEqual({ event: 'hold-inconclusive', result: 'inconclusive' });
    expect(told).toEqual({ code: 'hold-blind' });
    expect(on).toEqual([]);
  });

  test('one sensor is enough', () => {
    expect(silent({ manifoldPa: 300 }).event).toBeUndefined();
    expect(silent({ vehicleVacuumPa: 300 }).event).toBeUndefined();
    expect(silent({ manifoldPa: 300 }).data.lastSeenMs).toBe(100_000);
  });

  test('and pressure that runs past the absolute sensor, or stands in a hose, has come back', () => {
    const over = silent({ manifoldOverSpan: true });
    expect(over).toMatchObject({ event: 'timed-out', result: 'pressure-came-back', on: [] });
    expect(over.told).toEqual({ code: 'pressure-came-back' });
    // Nothing to recover at 1.05 bar absolute, and 0.4 bar more (common practice).
    expect(silent({ lowSidePa: 145_001 }).result).toBe('pressure-came-back');
    expect(silent({ lowSidePa: 145_000 }).result).toBe('inconclusive');
    expect(silent({ lowSidePa: 145_001 }, 10_001, { ticket: { ports: 1 } }).result).toBe('inconclusive');
  });
});
