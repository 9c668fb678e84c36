// Whole jobs with a repair: every gram of what the opened vehicle loses is booked, and no law is charged against.
import { describe, expect, test } from 'vitest';
import { clockMs, fluidOnce, PACING } from '../../app/bench/whole-jobs.ts';
import { prepare } from '../../app/run/prepare.ts';
import { printedRecord } from '../../app/run/printed.ts';
import { runSession } from '../../app/run/session.ts';
import { toScenario } from '../../app/scenario/scenario.ts';
import { unitsFor } from '../../app/units.ts';
import { runScenario } from './run-scenario.ts';

const LEAKING = {
  seed: 4,
  ticket: { refrigerant: 'R-134a', nominalChargeG: 600, repair: true },
  vehicle: { chargeG: 0, oilG: 150, holeMm: 0.3 },
  tank: { contentKg: 8 },
  repair: { hours: 1 },
};
type Job = Awaited<ReturnType<typeof runScenario>>;

const codes = (job: Job) => job.notices.map(({ code }) => code);
const stages = (job: Job) => job.stages.map(({ stage }) => stage);

/** The places of the truth, and their sum against what there was. */
function addsUp({ truth }: Job): void {
  const places =
    truth.vehicleRefrigerantG +
    truth.hoseRefrigerantG +
    truth.machineRefrigerantG +
    truth.tankRefrigerantG +
    truth.pumpExhaustG +
    truth.leakedG +
    truth.purgedG +
    truth.spilledG +
    truth.ventedG;
  expect(places - truth.initialG).toBeCloseTo(truth.massDriftG, 3);
  expect(Math.abs(truth.massDriftG)).toBeLessThan(1e-3);
}

describe('A repair that the ticket asks for', () => {
  test('mends a hole through which the job would never hold a vacuum, and the vehicle ends with its charge', async () => {
    const job = await runScenario(LEAKING);
    expect(job.outcome).toBe('completed');
    expect(Math.abs(job.truth.vehicleRefrigerantG - 600)).toBeLessThan(8);
    expect(job.evacuation!.minutes).toBeGreaterThan(29.9);
    expect(job.repair).toMatchObject({ why: 'asked' });
    const visit = job.stages.find(({ stage }) => stage === 'repair')!;
    expect(visit.endedAtS! - visit.startedAtS).toBeGreaterThan(3600);
    addsUp(job);
  });

  test('that does NOT find the leak leaves a vehicle that is not charged', async () => {
    const job = await runScenario({ ...LEAKING, repair: { hours: 1, stopsLeak: false } });
    expect(job.outcome).toBe('stopped');
    expect(stages(job)).toContain('repair');
    expect(stages(job)).not.toContain('charge');
    addsUp(job);
  });

  test('opens the vehicle to the weather: what was left in it counts as leaked, and never as vented by the machine', async () => {
    const tight = { ...LEAKING, vehicle: { chargeG: 450, oilG: 150 } };
    const job = await runScenario(tight);
    expect(job.outcome).toBe('completed');
    expect(job.truth.leakedG).toBeGreaterThan(2);
    expect(job.truth.leakedG).toBeLessThan(20);
    expect(job.truth.ventedG).toBe(0);
    expect(job.truth.pumpExhaustG).toBeLessThan(3);
    expect(Math.abs(job.masses.netChargeG! - job.truth.vehicleRefrigerantG)).toBeLessThan(
      1.5 * job.masses.uncertaintyG!,
    );
    addsUp(job);
  });

  test('of a cold vehicle whose liquid comes back is put off, and nobody opens it under pressure', async () => {
    const job = await runScenario({
      ...LEAKING,
      weather: { ambientC: 10 },
      vehicle: { chargeG: 600, oilG: 150, accumulatorHeatCapacityJPerK: 300 },
      operator: { delayS: 1800 },
    });
    addsUp(job);
    const visits = job.stages.filter(({ stage }) => stage === 'repair');
    // Either the recovery gave up and said why, or the vehicle was mended with next to nothing in it.
    if (visits.length === 0) expect(codes(job)).toContain('liquid-left');
    expect(job.truth.leakedG).toBeLessThan(25);
  });
});

describe('In the European Union', () => {
  const EU = {
    ...LEAKING,
    ticket: { ...LEAKING.ticket, repair: false, jurisdiction: 'eu' },
    vehicle: { chargeG: 400, oilG: 150, leakGPerYear: 100 },
  };

  test('a vehicle that lacks a third is mended, unasked, before it is refilled, and the record says by which law', async () => {
    const session = prepare(toScenario(EU, 'the scenario'), 'the scenario', fluidOnce, clockMs);
    const facts = await runSession(session, { observers: [], pacing: PACING });
    expect(facts.outcome).toBe('completed');
    expect(facts.result!.repair).toMatchObject({ why: 'abnormal-loss' });
    const page = printedRecord(
      session.scenario,
      facts,
      session.equipment,
      unitsFor('si', 101_325),
    ).replaceAll(/\s+/g, ' ');
    expect(page).toContain('demanded by an abnormal loss');
    expect(page).toContain('Directive 2006/40/EC, Article 6(3)');
    expect(page).toContain('this machine is approved by nobody');
    expect(page).not.toMatch(/(approved|compliant|certified) (machine|equipment) /);
  });

  test('one whose age explains the loss is NOT, and the record still lists the rules', async () => {
    const job = await runScenario({ ...EU, ticket: { ...EU.ticket, vehicleAgeYears: 5 } });
    expect(job.outcome).toBe('completed');
    expect(job.repair).toBeUndefined();
    expect(job.stages.find(({ stage }) => stage === 'repair')).toMatchObject({ result: 'no-abnormal-loss' });
    expect(job.jurisdiction.where).toBe('eu');
    expect(job.jurisdiction.rules.map(({ id }) => id)).toContain('no-refill-before-repair');
    expect(job.jurisdiction.rules.every(({ source }) => source !== '')).toBe(true);
  });

  test('an empty vehicle is refused before anything moves when nobody stands for its repair', async () => {
    const empty = {
      ...EU,
      ticket: { ...EU.ticket, service: 'evacuate-and-charge' },
      vehicle: { chargeG: 0 },
      repair: undefined,
    };
    const job = await runScenario(empty);
    expect(job.outcome).toBe('refused');
    expect(job.blockers.map(({ code }) => code)).toEqual(['repair-not-stated']);
    const stated = await runScenario({ ...empty, ticket: { ...empty.ticket, repaired: true } });
    expect(stated.outcome).toBe('completed');
    expect(stages(stated)).not.toContain('repair');
  });
});

describe('A scenario', () => {
  const said = (ticket: object) => () =>
    toScenario({ ...LEAKING, ticket: { refrigerant: 'R-134a', nominalChargeG: 600, ...ticket } }, 'x.json');

  test('that says what a repair does where there can be none is refused, never ignored', () => {
    expect(said({})).toThrow('x.json: repair: nothing is mended in this job');
    expect(said({ jurisdiction: 'eu', repaired: true })).toThrow('nothing is mended');
    expect(said({ jurisdiction: 'eu' })).not.toThrow();
    expect(said({ repair: true })).not.toThrow();
  });
});
