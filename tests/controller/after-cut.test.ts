// After a power cut: what is said of the grams from the journal and one weighing, and what must come next.

import { describe, expect, test } from 'vitest';
import { reopened, standAfterCut } from '../../controller/after-cut.ts';
import type { Weighing } from '../../controller/estimates/masses.ts';
import { openMemory } from '../../controller/interlocks/memory.ts';
import { type ControllerState, openJob, scan } from '../../controller/scan.ts';
import { SAFE_COMMANDS } from '../../controller/signals.ts';
import { newPlant, readPlant, run } from './support/bench.ts';
import { EQUIPMENT, planFor } from './support/machine.ts';
import { weighingOf } from './support/weighings.ts';

const OPEN = openJob(planFor(), EQUIPMENT, 0);
/** The state when the power fails: at the first scan that satisfies this. */
function journalWhen(
  cut: (state: ControllerState) => boolean,
  start: ControllerState = OPEN,
): ControllerState {
  let journal: ControllerState | undefined;
  run(start, {
    plant: newPlant(),
    watch: ({ state }) => {
      if (!cut(state)) return undefined;
      journal ??= state;
      return true;
    },
  });
  return journal!;
}
const inStage = (stage: string) => journalWhen((state) => state.stage?.stage === stage);

const weighing = (tankKg: number, over: Partial<Weighing> = {}): Weighing =>
  weighingOf(tankKg, { atMs: 4_000_000, ...over });
/** The tank as last weighed, and so much more since. */
const later = ({ accounts }: ControllerState, moreKg: number): Weighing => {
  const before = accounts.weighedBeforeCharge ?? accounts.weighedFirst!;
  return { ...before, counts: before.counts + moreKg * EQUIPMENT.scale.countsPerKg };
};

describe('What must come next', () => {
  test.each([
    ['identify', 'begin-anew'],
    ['recover', 'recover-again'],
    ['rest', 'recover-again'],
    ['evacuate', 'evacuate-again'],
    ['hold', 'evacuate-again'],
  ])('after a cut in %s: %s', (stage, next) => {
    expect(standAfterCut(inStage(stage), weighing(8)).next).toBe(next);
  });

  test('once a charge has begun the hoses are drawn back first, and once the net charge is booked nothing', () => {
    const charging = journalWhen(({ accounts }) => accounts.weighedBeforeCharge !== undefined);
    expect(standAfterCut(charging, later(charging, 0)).next).toBe('draw-hoses-back');
    const booked = journalWhen(({ accounts }) => accounts.netChargeKg !== undefined);
    expect(standAfterCut(booked, later(booked, 0)).next).toBe('nothing');
  });

  test('an engine that ran may run still: the machine that starts again does not take it for off', () => {
    const journal = inStage('hold');
    const running = {
      ...journal,
      memory: {
        ...journal.memory,
        engineWatch: { ...journal.memory.engineWatch, engine: 'running' as const },
      },
    };
    expect(standAfterCut(running, later(running, 0)).engineMayRun).toBe(true);
    expect(standAfterCut(journal, later(journal, 0)).engineMayRun).toBe(false);
    const { state } = scan(reopened(running, 5_000_000), readPlant(newPlant()), 5_000_000, []);
    expect(state.memory.engineWatch.engine).toBe('running');
  });

  test('neither a trip nor what was let off with the air is forgotten, and nothing is commanded', () => {
    const memory = {
      ...openMemory(0),
      purgedMs: 29_000,
      trip: { row: 'IL-24', reason: 'gas-alarm', atMs: 0 },
    };
    const state = reopened({ ...OPEN, memory }, 60_000);
    expect(state.memory).toMatchObject({ purgedMs: 29_000, trip: { reason: 'gas-alarm' } });
    expect(scan(state, readPlant(newPlant()), 60_000, []).commands).toEqual(SAFE_COMMANDS);
  });
});

describe('What is said of the grams', () => {
  const recovering = journalWhen(
    ({ stage, memory }) => stage?.stage === 'recover' && memory.compressorOffSinceMs === undefined,
  );

  test('is what the scale shows more than at the first weighing, with its doubt', () => {
    const { tankGainKg, uncertaintyKg, vehicle } = standAfterCut(recovering, later(recovering, 0.2));
    expect(tankGainKg).toBeCloseTo(0.2, 6);
    // An unwatched platform counts as bumped once, 2 g; k = 2.
    expect(uncertaintyKg).toBeGreaterThan(0.004);
    expect(uncertaintyKg).toBeLessThan(0.006);
    expect(vehicle).toBeUndefined();
  });

  test('leaves out what leaned on the platform before the cut', () => {
    const scale = { ...recovering.estimates.scale, offsetKg: 3, bumps: 1 };
    const leaning = { ...recovering, estimates: { ...recovering.estimates, scale } };
    expect(standAfterCut(leaning, later(leaning, 3.2)).tankGainKg).toBeCloseTo(0.2, 6);
    expect(standAfterCut(recovering, later(recovering, 3.2)).tankGainKg).toBeCloseTo(3.2, 6);
  });

  test('is nothing moved where no path to the tank has been open, unless the scale shows more than its doubt', () => {
    const before = journalWhen(({ accounts }) => accounts.weighedFirst !== undefined);
    const untouched = { tankGainKg: 0, uncertaintyKg: 0.001 };
    expect(standAfterCut(before, later(before, 0.005))).toMatchObject(untouched);
    expect(standAfterCut(before, later(before, -0.02)).tankGainKg).toBeCloseTo(-0.02, 6);
    expect(standAfterCut(recovering, later(recovering, 0.005)).tankGainKg).toBeCloseTo(0.005, 6);
    expect(
      standAfterCut({ ...before, memory: { ...before.memory, purging: true } }, later(before, -0.005)),
    ).toMatchObject({ tankGainKg: expect.closeTo(-0.005, 6) });
  });

  test('is nothing at all without a weighing on either side', () => {
    expect(standAfterCut(recovering, undefined).tankGainKg).toBeUndefined();
    expect(standAfterCut(OPEN, weighing(8))).toEqual({ next: 'begin-anew', engineMayRun: false });
  });

  test('bounds what is in the vehicle by what hoses and manifold have room for, and the condenser once it was used', () => {
    const journal = journalWhen(
      ({ stage, judged }) => stage?.stage === 'charge' && judged?.permitted.chargeValve.on === true,
    );
    const { vehicle } = standAfterCut(journal, later(journal, -0.4));
    expect(vehicle!.mostKg).toBeGreaterThan(0.4);
    expect(vehicle!.mostKg).toBeLessThan(0.415);
    const { highVolumeM3, lowVolumeM3, manifoldVolumeM3 } = EQUIPMENT.hoses;
    const roomKg = 1300 * (highVolumeM3 + lowVolumeM3 + manifoldVolumeM3);
    expect(vehicle!.leastKg).toBeLessThan(0.4 - 0.9 * roomKg);
    expect(vehicle!.leastKg).toBeGreaterThan(0.39 - roomKg);
    const drawn = { ...journal, memory: { ...journal.memory, compressorOffSinceMs: undefined } };
    expect(standAfterCut(drawn, later(drawn, -0.4)).vehicle!.leastKg).toBeLessThan(vehicle!.leastKg - 0.1);
  });

  test('is nothing at least where refrigerant went past every weighing', () => {
    const charging = journalWhen(({ accounts }) => accounts.weighedBeforeCharge !== undefined);
    const lost = { ...charging, accounts: { ...charging.accounts, lostTrack: true } };
    const { vehicle } = standAfterCut(lost, later(lost, -0.4));
    expect(standAfterCut(charging, later(charging, -0.4)).vehicle!.leastKg).toBeGreaterThan(0);
    expect(vehicle!.leastKg).toBe(0);
    expect(vehicle!.mostKg).toBeGreaterThan(0.4);
  });
});

test('a charge valve that was open at the cut counts as a path, though no scan has come after', () => {
  const journal = journalWhen(({ judged }) => judged?.permitted.chargeValve.on === true);
  expect(standAfterCut(journal, later(journal, -0.01)).tankGainKg).toBeCloseTo(-0.01, 6);
});
