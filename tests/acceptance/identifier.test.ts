// What the identifier shows decides whose refrigerant enters the tank: whole jobs on the simulated bench.
import { describe, expect, test } from 'vitest';
import type { Observer } from '../../app/run/loop.ts';
import { runScenario } from './run-scenario.ts';

const JOB = {
  seed: 7,
  ticket: { refrigerant: 'R-134a', nominalChargeG: 600 },
  vehicle: { chargeG: 450 },
  tank: { contentKg: 8 },
};
const RECOVER = { ...JOB, ticket: { ...JOB.ticket, service: 'recover' } };
const CYLINDER = { ...RECOVER, tank: { contentKg: 2, contaminated: true } };

const codes = (job: Awaited<ReturnType<typeof runScenario>>) => job.notices.map(({ code }) => code);

describe('a contaminated vehicle', () => {
  const blend = { operator: { identifierPurityPercent: 71, identifierRefrigerant: 'R-134a' } };

  test("is refused by the machine's own tank, in which not a gram changes", async () => {
    const job = await runScenario({ ...JOB, ...blend });
    expect(job.outcome).toBe('stopped');
    expect(codes(job)).toEqual(['refrigerant-refused']);
    expect(job.notices[0]!.remedy).toMatch(/labelled cylinder for contaminated refrigerant/);
    expect(job.truth.tankRefrigerantG).toBe(8000);
    expect(job.machineNeedsCleaning).toBeUndefined();
  });

  test('is recovered into a labelled cylinder, and the machine is then said to need cleaning', async () => {
    const opened = new Set<string>();
    const watch: Observer = ({ commands }) => {
      for (const output of ['chargeValve', 'separatorDrainValve'] as const)
        if (commands[output].on) opened.add(output);
    };
    const job = await runScenario({ ...CYLINDER, ...blend }, [watch]);
    expect(job.outcome).toBe('completed');
    expect(codes(job)).toContain('recovers-contaminated');
    expect(job.truth.vehicleRefrigerantG).toBeLessThan(0.05 * 450);
    expect(job.machineNeedsCleaning).toBe(true);
    expect(opened).toEqual(new Set());
  });

  test('does NOT get into a machine that has not been cleaned since, nor out of the cylinder again', async () => {
    const dirty = await runScenario({ ...JOB, equipment: { uncleaned: true } });
    expect(dirty.blockers.map(({ code }) => code)).toEqual(['machine-not-cleaned']);
    const charged = await runScenario({ ...CYLINDER, ticket: JOB.ticket });
    expect(charged.blockers.map(({ code }) => code)).toContain('tank-contaminated');
  });

  test('with hydrocarbons is refused by both', async () => {
    for (const job of [JOB, CYLINDER]) {
      const run = await runScenario({ ...job, operator: { identifierHydrocarbonPercent: 12 } });
      expect(codes(run)).toEqual(['hydrocarbons-refused']);
      expect(run.truth.vehicleRefrigerantG).toBeCloseTo(450, 3);
    }
  });
});

describe('what the identifier of the simulated operator shows', () => {
  test('is the truth: a clean vehicle passes without a word', async () => {
    const job = await runScenario(RECOVER);
    expect(job.identification).toEqual({
      verdict: 'accepted',
      refrigerant: 'R-134a',
      purityPercent: 99.9,
      airPercent: 0,
    });
  });

  test('air in the vehicle is told, and a great deal of it refused', async () => {
    const some = await runScenario({ ...RECOVER, vehicle: { chargeG: 450, airG: 2 } });
    expect(codes(some)).toContain('air-in-vehicle');
    const much = await runScenario({ ...RECOVER, vehicle: { chargeG: 450, airG: 12 } });
    expect(codes(much)).toEqual(['air-refused']);
  });

  test('a vehicle without pressure has no sample to give, and the job says why it goes on', async () => {
    const job = await runScenario({ ...JOB, vehicle: { chargeG: 0 } });
    expect(codes(job)).toEqual(expect.arrayContaining(['identification-overridden', 'vehicle-empty']));
    expect(job.outcome).toBe('completed');
  });
});

describe('an electric compressor', () => {
  const prompts =
    (asked: string[]): Observer =>
    ({ progress }) => {
      const id = progress.prompt?.id;
      if (id !== undefined && asked.at(-1) !== id) asked.push(id);
    };

  test('has the hoses flushed before they are connected, in at most six prompts, and no engine asked for', async () => {
    const asked: string[] = [];
    const ticket = { ...JOB.ticket, electricCompressor: true, engine: 'can-run' };
    const job = await runScenario({ ...JOB, ticket }, [prompts(asked)]);
    expect(job.outcome).toBe('completed');
    expect(asked.indexOf('flush-hoses')).toBe(asked.indexOf('connect-hoses') - 1);
    expect(asked).not.toContain('start-engine');
    expect(asked.length).toBeLessThanOrEqual(6);
    expect(job.notices.find(({ code }) => code === 'engine-left-alone')!.text).toContain('electric');
  });

  test('a belt-driven one does NOT need it', async () => {
    const asked: string[] = [];
    await runScenario(JOB, [prompts(asked)]);
    expect(asked).not.toContain('flush-hoses');
  });

  test('gets nothing out of a bottle of PAG: what was drained is left to the hand', async () => {
    const opened = new Set<string>();
    const watch: Observer = ({ commands }) => {
      if (commands.oilValve.on) opened.add('oilValve');
    };
    const ticket = { ...JOB.ticket, electricCompressor: true };
    const vehicle = { chargeG: 450, oilG: 120 };
    const pag = await runScenario({ ...JOB, ticket, vehicle, equipment: { oilKind: 'PAG' } }, [watch]);
    expect(pag.outcome).toBe('completed');
    expect(opened).toEqual(new Set());
  });
});
