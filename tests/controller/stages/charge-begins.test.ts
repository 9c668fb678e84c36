// Before a charge: the tank is weighed, what is aimed at first, and what is told before anything is given.

import { describe, expect, test } from 'vitest';
import { netMassKg } from '../../../controller/estimates/scale.ts';
import { SAFE_COMMANDS } from '../../../controller/signals.ts';
import { enterPartialCharge } from '../../../controller/stages/charge.ts';
import { chargeTargetKg } from '../../../controller/stages/charge-target.ts';
import type { ChargeData } from '../../../controller/stages/data-charge.ts';
import { type Given, scanOf, weighed, weighing } from '../support/charging.ts';
import { EQUIPMENT } from '../support/machine.ts';
import { codesOf, countsOf } from '../support/weighings.ts';

describe('Before a charge', () => {
  const begun = (data: Partial<ChargeData> = {}, given: Given = {}) =>
    weighed({ reference: undefined, targetKg: 0, ...data }, { seen: { lowSidePa: 900 }, ...given });

  test('the tank is weighed, and what is aimed at first is on the safe side: three tenths of what hoses hold', () => {
    const { data, wanted, accounts, notices } = begun();
    expect(data).toMatchObject({ step: 'look', stepSinceMs: 30_000, drawsBack: true, lowFromPa: 900 });
    expect(data.reference!.counts).toBeCloseTo(2_100_000, 6);
    const more = chargeTargetKg(scanOf(), true) - 0.6;
    expect(data.targetKg).toBeCloseTo(0.6 + 0.3 * more, 9);
    expect(accounts).toMatchObject({ targetKg: data.targetKg, keptBeforeCharge: { kg: 0 } });
    expect(accounts!.weighed).toBe(data.reference);
    expect(accounts!.weighedBeforeCharge).toBe(data.reference);
    expect(wanted).toBe(SAFE_COMMANDS);
    expect(notices).toEqual([]);
  });

  test('what the coil kept before a search stays what it was', () => {
    const kept = { kg: 0.01, sdKg: 0, pushes: 0, share: 1 };
    expect(begun({}, { accounts: { kept } }).accounts!.keptBeforeCharge).toBe(kept);
    const keptBeforeCharge = { ...kept, kg: 0.004 };
    expect(begun({}, { accounts: { kept, keptBeforeCharge } }).accounts!.keptBeforeCharge).toBe(
      keptBeforeCharge,
    );
  });

  test('a vehicle that was searched is no vacuum to look at any more', () =>
    expect(begun({}, { accounts: { weighedBeforeCharge: weighing() } }).data.step).toBe('full'));

  test('an engine that is to clear the hoses leaves nothing to draw back; one that is left alone is told', () => {
    expect(begun({}, { ticket: { engine: 'can-run' } }).data.drawsBack).toBe(false);
    const alone = begun({}, { ticket: { engine: 'can-run', ports: 1 } });
    expect(codesOf(alone)).toEqual(['engine-left-alone']);
    expect(alone.notices![0]!.with).toEqual({ reason: expect.stringContaining('one port') });
  });

  test('it is told that the vehicle is too warm', () => {
    const seen = { tankPa: 414_610, tankTemperatureK: 283.15, ambientK: 313.15, lowSidePa: 700 };
    const warm = begun({}, { seen });
    expect(codesOf(warm)).toEqual(['charge-will-stall']);
    expect(warm.data).toMatchObject({ told: ['charge-will-stall'], lowFromPa: 700, step: 'look' });
  });

  test('a search takes its share, with nothing told and nothing drawn back', () => {
    const seen = { tankPa: 414_610, tankTemperatureK: 283.15, ambientK: 313.15, lowSidePa: 700 };
    const part = begun({ part: 'partial' }, { seen });
    expect(part.data).toMatchObject({ drawsBack: false, lowFromPa: 700, step: 'look', told: [] });
    expect(part.data.targetKg).toBeCloseTo(0.078, 9);
    expect(part.notices).toEqual([]);
    expect(enterPartialCharge(7)).toMatchObject({
      stage: 'charge',
      part: 'partial',
      sinceMs: 7,
      step: 'weigh',
    });
  });

  test('what the tank has gained in a search is drift where it stands above the vehicle, and else came back', () => {
    const referenceKg = (searchedKg: number, highSidePa: number, more: Given['seen'] = {}) => {
      const [before, after] = [8.05, searchedKg].map((kg) => weighing({ counts: countsOf(kg) }));
      const accounts = { weighedBeforeCharge: before!, weighed: after! };
      const seen = { highSidePa, lowSidePa: 300_000, tankPa: 570_000, ...more };
      return netMassKg(begun({}, { accounts, seen }).data.reference!.counts, EQUIPMENT);
    };
    const sdPa = Math.hypot(EQUIPMENT.pressure.tankSdPa, EQUIPMENT.pressure.highSideSdPa);
    const below = 570_000 - 3 * sdPa;
    expect(referenceKg(7.99, below - 1)).toBeCloseTo(8.06, 6);
    expect(referenceKg(7.99, below + 1)).toBeCloseTo(8.05, 6);
    expect(referenceKg(8.01, below - 1)).toBeCloseTo(8.05, 6);
    expect(referenceKg(7.99, below - 1, { tankPa: undefined })).toBeCloseTo(8.05, 6);
    expect(referenceKg(7.99, 0, { highSidePa: undefined, lowSidePa: undefined })).toBeCloseTo(8.05, 6);
    expect(referenceKg(7.9999, 600_000)).toBeCloseTo(8.0501, 6);
  });

  test('one that goes on after a halt counts from where it counted', () => {
    const reference = weighing({ counts: 2_150_000 });
    const accounts = { weighed: weighing({ counts: 2_160_000 }) };
    const again = begun(
      { reference, drawsBack: false, lowFromPa: 44 },
      { accounts, ticket: { ports: 1, engine: 'can-run' } },
    );
    expect(again.data).toMatchObject({ step: 'full', drawsBack: false, lowFromPa: 44, reference });
    expect(again.accounts!.weighed).toBe(accounts.weighed);
    expect(again.accounts!.weighedBeforeCharge).toBe(reference);
    expect(again.notices).toEqual([]);
  });

  test('an engine of no help is stopped, and then the charge is corrected', () => {
    const accounts = { engineOfNoHelp: true };
    expect(begun({}, { accounts, engine: 'running' }).prompt).toBe('stop-engine');
    const seen = { highSidePa: 500_000, lowSidePa: 500_000 };
    expect(begun({}, { accounts, seen }).data.step).toBe('draw-manifold');
  });
});
