// Add oil scan by scan: how long each valve opens, what is taken for air, and what the record says went in.

import { describe, expect, test } from 'vitest';
import type { Equipment } from '../../../controller/equipment.ts';
import { drawnM3, enterAddOil, stepAddOil } from '../../../controller/stages/add-oil.ts';
import type { AddOilData } from '../../../controller/stages/data-vacuum.ts';
import type { Accounts } from '../../../controller/state.ts';
import type { Ticket } from '../../../controller/ticket.ts';
import { OIL_EQUIPMENT } from '../support/machine.ts';
import { entered, type Given, NOW_MS, says, shown } from '../support/stage-input.ts';
import { codesOf, onOf } from '../support/weighings.ts';

const ML = 1e-6;
type Asked = { readonly oilMl?: number; readonly dyeMl?: number };
const asks = ({ oilMl = 0, dyeMl = 0 }: Asked): Partial<Ticket> => ({
  oil: { kind: 'PAG', addM3: oilMl * ML },
  dye: { addM3: dyeMl * ML, approved: false },
});
type More = Partial<AddOilData>;
const stepped = (step: AddOilData['step'], waitedMs: number, more: More, asked: Asked, given: Given = {}) =>
  stepAddOil(
    { ...enterAddOil(NOW_MS - waitedMs), step, ...more },
    shown({ equipment: OIL_EQUIPMENT, ticket: asks(asked), ...given }),
  );
const volumes = ({ oil, dye }: Pick<Accounts, 'oil' | 'dye'>): (number | undefined)[] =>
  [oil, dye].map(({ injectedM3 }) => injectedM3 && Math.round(injectedM3 / (ML / 1_000)) / 1_000);

/** 100 kPa below the standard atmosphere, where the machine's bottles give 6.6 mL a second. */
const VACUUM: Given = { seen: { manifoldPa: 1_325 } };

describe('What is drawn in next', () => {
  const read = (asked: Asked, accounts: Partial<Accounts> = {}, more: More = {}, given: Given = {}) =>
    stepped('read', 0, more, asked, { ...given, accounts });

  test('is the oil first, then the dye, half a millilitre at least', () => {
    expect(read({ oilMl: 15, dyeMl: 8 }).data).toMatchObject({
      step: 'open',
      liquid: 'oil',
      stepSinceMs: NOW_MS,
    });
    expect(read({ oilMl: 0.5 }).data).toMatchObject({ step: 'open', liquid: 'oil' });
    expect(read({ oilMl: 0.49, dyeMl: 8 }).data).toMatchObject({ step: 'open', liquid: 'dye' });
    expect(read({ dyeMl: 8 }, {}, { givenM3: 15 * ML, filled: true }).data).toMatchObject({
      givenM3: 0,
      filled: false,
    });
    expect(read({ oilMl: 0.49 })).toMatchObject({ event: 'oil-added', result: 'nothing-to-add' });
  });

  test('counts what was drained, and NOT what is in already', () => {
    const oil = { emptied: 0, drainedAtMs: 1, drainedM3: 10 * ML };
    expect(read({}, { oil }).data.step).toBe('open');
    expect(read({ oilMl: 5 }, { oil: { ...oil, injectedM3: 15 * ML } }).result).toBe('nothing-to-add');
  });

  test('waits for the catch bottle, and for its foam', () => {
    const drained = (minutes: number, given: Given = {}) =>
      read({ oilMl: 15 }, { oil: { emptied: 0, drainedAtMs: NOW_MS - minutes * 60_000 } }, {}, given);
    expect(drained(9).data.step).toBe('read');
    expect(drained(9).prompt).toBeUndefined();
    expect(drained(10)).toMatchObject({ prompt: 'read-catch-bottle', data: { step: 'read' } });
    const reading = drained(10, entered(70 * ML));
    expect(reading.data.step).toBe('read');
    expect(reading.accounts?.oil.drainedM3).toBe(70 * ML);
    expect(codesOf(reading)).toEqual(['oil-flooding']);
    expect(codesOf(drained(10, entered(-1)))).toEqual(['entry-refused']);
  });

  test('needs no catch bottle where no oil is drawn in', () => {
    const undrained = {
      ...OIL_EQUIPMENT,
      fitted: OIL_EQUIPMENT.fitted.filter((name) => name !== 'oilValve'),
    };
    const oil = { emptied: 0, drainedAtMs: NOW_MS };
    expect(read({ dyeMl: 8 }, { oil }, {}, { equipment: undrained }).data).toMatchObject({
      step: 'open',
      liquid: 'dye',
    });
  });

  test('out of a bottle that ran dry is asked for once, by its name', () => {
    const dry = { oil: { emptied: 1 } };
    expect(read({ oilMl: 15 }, dry)).toMatchObject({ prompt: 'fill-oil-bottle', data: { step: 'read' } });
    expect(read({ oilMl: 15 }, dry, {}, says('fill-oil-bottle')).data).toMatchObject({
      step: 'open',
      filled: true,
    });
    expect(read({ oilMl: 15 }, dry, {}, says('fill-dye-bottle')).data.step).toBe('read');
    expect(read({ oilMl: 15 }, dry, { filled: true }).data.step).toBe('open');
    expect(read({ dyeMl: 8 }, { dye: { emptied: 1 } }, { filled: true })).toMatchObject({
      prompt: 'fill-dye-bottle',
    });
  });

  test('is left out where a bottle ran dry twice, and what is missing is told', () => {
    const twice = { oil: { emptied: 2 } };
    expect(read({ oilMl: 15, dyeMl: 8 }, twice).data).toMatchObject({ step: 'open', liquid: 'dye' });
    const none = read({ oilMl: 15 }, twice);
    expect(none).toMatchObject({
      event: 'oil-not-added',
      notices: [{ code: 'oil-not-replaced', with: expect.objectContaining({ missing: '15', kind: 'PAG' }) }],
    });
    expect(none.result).toBeUndefined();
  });
});

describe('The high side opened for a dose', () => {
  const open = (waitedMs: number, more: More = {}, asked: Asked = { oilMl: 15 }, given: Given = {}) =>
    stepped('open', waitedMs, more, asked, { ...VACUUM, ...given });
  const slower = (times: number): Equipment => ({
    ...OIL_EQUIPMENT,
    oil: { ...OIL_EQUIPMENT.oil!, flowM3PerSPa: OIL_EQUIPMENT.oil!.flowM3PerSPa / times },
  });

  test('shows the vacuum for two seconds before the bottle is opened', () => {
    expect(onOf(open(1_999).wanted)).toEqual(['highSideValve']);
    expect(open(1_999).data.step).toBe('open');
    expect(onOf(open(2_000).wanted)).toEqual(['highSideValve', 'oilValve']);
    expect(open(2_000).data).toMatchObject({ step: 'dose', fromPa: 1_325, stepSinceMs: NOW_MS });
  });

  test('takes as long as flow and film ask: 17 mL at 6.6 mL/s, and a minute at most', () => {
    const { data, wanted } = open(2_000);
    expect(data.doseMs).toBeCloseTo(2_575.76, 2);
    expect(data.flowM3PerS / ML).toBeCloseTo(6.6, 9);
    expect(wanted.oilValve.offAfterMs).toBe(2_576);
    expect(wanted.highSideValve.offAfterMs).toBeUndefined();
    const lasts = (given: Given, more: More = {}, asked: Asked = { oilMl: 15 }) =>
      open(2_000, more, asked, given).data.doseMs;
    expect(lasts({ equipment: slower(10) })).toBeCloseTo(25_757.6, 1);
    expect(lasts({ equipment: slower(100) })).toBe(60_000);
    // No film where the line is wet: of this visit, of one before, of the other liquid.
    expect(lasts({}, { givenM3: 8.4 * ML })).toBeCloseTo(1_000, 6);
    expect(lasts({ accounts: { oil: { emptied: 0, injectedM3: 8.4 * ML } } })).toBeCloseTo(1_000, 6);
    expect(lasts({ accounts: { dye: { emptied: 0, injectedM3: 8 * ML } } }, {}, { oilMl: 6.6 })).toBeCloseTo(
      1_000,
      6,
    );
    expect(lasts({ accounts: { oil: { emptied: 0, injectedM3: 0 } } })).toBeCloseTo(2_575.76, 2);
  });

  test('opens the valve of the dye for the dye', () => {
    const dye = open(2_000, { liquid: 'dye' }, { dyeMl: 8 });
    expect(onOf(dye.wanted)).toEqual(['highSideValve', 'dyeValve']);
    expect(dye.wanted.dyeValve.offAfterMs).toBe(1_515);
  });

  test('waits for a vacuum below 10 kPa, and gives up after 15 seconds', () => {
    const at = (waitedMs: number, manifoldPa: number | undefined, more: More = {}) =>
      open(waitedMs, more, { oilMl: 15 }, { seen: { manifoldPa } });
    expect(at(2_000, 10_000).data.step).toBe('dose');
    expect(at(14_999, 10_001).data.step).toBe('open');
    expect(onOf(at(14_999, 10_001).wanted)).toEqual(['highSideValve']);
    expect(at(14_999, undefined).event).toBeUndefined();
    for (const given of [at(15_000, 10_001), at(15_000, undefined)]) {
      expect(given).toMatchObject({ event: 'oil-not-added', notices: [{ with: { missing: '15' } }] });
      expect(onOf(given.wanted)).toEqual([]);
      expect(volumes(given.accounts!)).toEqual([undefined, undefined]);
    }
    // What has gone in by then is booked.
    expect(volumes(at(15_000, undefined, { givenM3: 5 * ML }).accounts!)).toEqual([5, undefined]);
  });

  test('draws nothing of what is in already, nor out of a bottle of which nothing is known', () => {
    const full = open(0, { givenM3: 14.6 * ML });
    expect(full.data).toMatchObject({ step: 'run-in', stepSinceMs: NOW_MS });
    expect(onOf(full.wanted)).toEqual(['highSideValve']);
    const { dye: _, ...bottleless } = OIL_EQUIPMENT;
    const none = open(2_000, { liquid: 'dye' }, { oilMl: 15 }, { equipment: bottleless });
    expect(none.event).toBe('oil-not-added');
  });
});

describe('A dose', () => {
  const DOSE = { flowM3PerS: 6.6 * ML, doseMs: 2_000, fromPa: 1_000 };
  const dosed = (openMs: number, manifoldPa: number | undefined, more: More = {}, given: Given = {}) =>
    stepped(
      'dose',
      openMs,
      { ...DOSE, ...more },
      { oilMl: 15, dyeMl: 8 },
      { ...given, seen: { manifoldPa } },
    );

  test('counts as long as its valve was open, and no longer than the rig let it', () => {
    const data = { ...enterAddOil(0), ...DOSE };
    expect(drawnM3(data, 1_000) / ML).toBeCloseTo(6.6, 9);
    expect(drawnM3(data, 9_000) / ML).toBeCloseTo(13.2, 9);
  });

  test('goes on until its valve has surely shut, 0.3 s later, and then runs in without its film', () => {
    expect(onOf(dosed(2_299, 1_000).wanted)).toEqual(['highSideValve', 'oilValve']);
    expect(dosed(2_299, 1_000).wanted.oilValve.offAfterMs).toBe(2_000);
    const done = dosed(2_300, 1_000);
    expect(done.data).toMatchObject({ step: 'run-in', doseMs: 0, stepSinceMs: NOW_MS });
    expect(done.data.givenM3 / ML).toBeCloseTo(11.2, 9);
    expect(onOf(done.wanted)).toEqual(['highSideValve']);
    expect(dosed(2_300, 1_000, { givenM3: ML }).data.givenM3 / ML).toBeCloseTo(14.2, 9);
    // Less than the film is nothing, and never less than nothing.
    expect(dosed(2_300, 1_000, { doseMs: 200 }).data.givenM3).toBe(0);
    expect(dosed(2_299, 1_000, { liquid: 'dye' }).wanted.dyeValve.offAfterMs).toBe(2_000);
  });

  test('is air where the pressure rises by 3 mbar a second and 2 mbar, after 0.3 s', () => {
    expect(dosed(299, 90_000).event).toBeUndefined();
    expect(dosed(300, 1_291).event).toBe('air-drawn-in');
    expect(dosed(300, 1_290).event).toBeUndefined();
    expect(dosed(1_000, 1_501).event).toBe('air-drawn-in');
    expect(dosed(1_000, 1_500).event).toBeUndefined();
    expect(dosed(300, undefined).event).toBe('air-drawn-in');
    expect(onOf(dosed(300, undefined).wanted)).toEqual([]);
  });

  test('that ended in air is as old as its proof, and the bottle counts as empty', () => {
    const air = dosed(1_300, 90_000);
    expect(air.notices).toEqual([{ code: 'oil-bottle-empty', with: { given: '5' } }]);
    expect(volumes(air.accounts!)).toEqual([4.6, undefined]);
    expect(air.accounts!.oil.emptied).toBe(1);
    // 5 % of 4.6 mL, half a millilitre of film, and 0.3 s of the flow.
    expect(air.accounts!.oil.injectedUncertaintyM3! / ML).toBeCloseTo(2 * Math.hypot(0.23, 0.5, 1.98), 6);
    const none = dosed(300, 90_000);
    expect(volumes(none.accounts!)).toEqual([0, undefined]);
    expect(codesOf(dosed(1_300, 90_000, { liquid: 'dye' }))).toEqual(['dye-bottle-empty']);
  });
});

describe('After a dose', () => {
  const RAN = { givenM3: 15 * ML, flowM3PerS: 6.6 * ML };
  const ran = (more: More = {}, asked: Asked = { oilMl: 15 }, given: Given = {}, waitedMs = 5_000) =>
    stepped('run-in', waitedMs, { ...RAN, ...more }, asked, given);

  test('the line runs in for five seconds', () => {
    expect(ran({}, {}, {}, 4_999).data.step).toBe('run-in');
    expect(onOf(ran({}, {}, {}, 4_999).wanted)).toEqual(['highSideValve']);
  });

  test('what is still due is drawn in by another opening', () => {
    const again = ran({ givenM3: 14 * ML });
    expect(again.data).toMatchObject({ step: 'open', stepSinceMs: NOW_MS });
    expect(again.accounts).toBeUndefined();
    expect(onOf(again.wanted)).toEqual(['highSideValve']);
  });

  test('it is booked with its doubt: 5 % of the flow, the film, and 30 ms of the valve', () => {
    const end = ran();
    expect(end).toMatchObject({ event: 'oil-added' });
    expect(end.result).toBeUndefined();
    expect(volumes(end.accounts!)).toEqual([15, undefined]);
    expect(end.accounts!.oil.emptied).toBe(0);
    expect(end.accounts!.oil.injectedUncertaintyM3! / ML).toBeCloseTo(2 * Math.hypot(0.75, 0.5, 0.198), 6);
  });

  test('it adds to what went in before, and the wet line keeps no film', () => {
    const before = { oil: { emptied: 1, injectedM3: 5 * ML, injectedUncertaintyM3: ML } };
    const { oil } = ran({}, { oilMl: 20 }, { accounts: before }).accounts!;
    expect(oil.injectedM3! / ML).toBeCloseTo(20, 9);
    expect(oil.injectedUncertaintyM3! / ML).toBeCloseTo(Math.hypot(1, 2 * Math.hypot(0.75, 0.198)), 6);
    expect(oil.emptied).toBe(1);
  });

  test('the dye follows, from a fresh start', () => {
    const next = ran({ filled: true, doseMs: 1 }, { oilMl: 15, dyeMl: 8 });
    expect(next.data).toMatchObject({
      step: 'read',
      stepSinceMs: NOW_MS,
      liquid: 'dye',
      filled: false,
      givenM3: 0,
      flowM3PerS: 0,
      doseMs: 0,
      fromPa: 0,
    });
    expect(next.event).toBeUndefined();
    expect(volumes(next.accounts!)).toEqual([15, undefined]);
    expect(onOf(next.wanted)).toEqual([]);
  });

  test('what nobody could draw in is told of each liquid', () => {
    const asked = { oilMl: 20, dyeMl: 8 };
    const accounts = { oil: { emptied: 2, injectedM3: 0 }, dye: { emptied: 2 } };
    const end = ran({ givenM3: 0 }, asked, { accounts }, 5_000);
    expect(end.data.step).toBe('open');
    const given = stepped('open', 15_000, RAN, asked, { accounts, seen: { manifoldPa: undefined } });
    expect(given.notices).toEqual([
      { code: 'oil-not-replaced', with: expect.objectContaining({ missing: '5', kind: 'PAG' }) },
      { code: 'dye-not-added', with: { missing: '8' } },
    ]);
  });
});
