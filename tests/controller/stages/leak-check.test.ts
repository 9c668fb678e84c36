// The pressurised leak check on a scripted plant: what it lets in, what it asks, and where each answer leads.
import { describe, expect, test } from 'vitest';
import { type Look, watched } from '../../../controller/estimates/pressure-watch.ts';
import { jobResult } from '../../../controller/result.ts';
import { type ControllerState, openJob } from '../../../controller/scan.ts';
import { SAFE_COMMANDS } from '../../../controller/signals.ts';
import type { Ticket } from '../../../controller/ticket.ts';
import { newPlant, type Plant, type RunOptions, run } from '../support/bench.ts';
import { EQUIPMENT, planFor, R134A } from '../support/machine.ts';
import { none } from '../support/readings.ts';

/** A kilogram: the scripted hose alone keeps half of the partial charge of a small car. */
const open = (ticket: Partial<Ticket> = {}): ControllerState =>
  openJob(planFor({ nominalChargeKg: 1, leakCheck: true, ...ticket }), EQUIPMENT, 0);
const codes = (state: ControllerState): string[] => jobResult(state).notices.map(({ code }) => code);
const visited = (state: ControllerState): string[] => jobResult(state).stages.map(({ stage }) => stage);
const empty = (over: Partial<Plant> = {}): Plant => newPlant({ vehicleKg: 0, airPa: 101_000, ...over });
const LOST = none('open-circuit');

/** A run that also says how much left the tank at most, and whether anything moved while the search was on. */
function watchedRun(state: ControllerState, plant: Plant, options: RunOptions = {}) {
  const seen = { fellTo: plant.tankKg, movedInSearch: false };
  const ended = run(state, {
    ...options,
    plant,
    watch: (now, at) => {
      const { stage, prompt } = now.state;
      if (stage?.stage === 'leak-check' || stage?.stage === 'charge')
        seen.fellTo = Math.min(seen.fellTo, at.tankKg);
      if (prompt?.id === 'search-leak' && now.commands !== SAFE_COMMANDS) seen.movedInSearch = true;
      return options.watch?.(now, at);
    },
  });
  return { ended, ...seen };
}

describe('A search that finds nothing', () => {
  test('goes on to a charge that counts what is in the vehicle already', () => {
    const plant = newPlant();
    const { ended, movedInSearch } = watchedRun(open(), plant);
    expect(jobResult(ended).outcome).toBe('completed');
    expect(visited(ended)).toEqual(expect.arrayContaining(['leak-check', 'charge']));
    expect(Math.abs(plant.vehicleKg - 1)).toBeLessThan(0.006);
    expect(movedInSearch).toBe(false);
    expect(jobResult(ended).leakCheck).toMatchObject({ found: false });
  });

  test('lets in 10 to 15 per cent of the nominal charge, and the ledger has both parts', () => {
    const { leakCheck, masses, ledger } = jobResult(run(open()));
    expect(leakCheck!.admittedKg).toBeGreaterThanOrEqual(0.1);
    expect(leakCheck!.admittedKg).toBeLessThanOrEqual(0.15);
    const parts = ledger.filter(({ movement }) => movement === 'tank-to-vehicle');
    expect(parts).toHaveLength(2);
    expect(parts.reduce((sum, { massKg }) => sum + massKg, 0)).toBeCloseTo(masses.chargedKg!, 6);
  });

  test('states the charge no less surely than a job without it, though someone leans on the machine meanwhile', () => {
    const without = jobResult(run(open({ leakCheck: false }))).masses;
    /** From the partial charge on, for as long as the vehicle settles, and for good. */
    const leaning: RunOptions['readings'] = (plant, { stage, accounts }) =>
      accounts.chargedKg !== undefined && (stage?.stage !== 'leak-check' || stage.step !== 'admit')
        ? { scaleCounts: Math.round(1_300_000 + (plant.tankKg + 0.6) * 100_000 + 40 * Math.sin(plant.nowMs)) }
        : {};
    const plant = newPlant();
    const ended = run(open(), { plant, readings: leaning });
    const { masses } = jobResult(ended);
    expect(masses.uncertaintyKg).toBeLessThan(without.uncertaintyKg! + 0.001);
    expect(Math.abs(masses.netChargeKg! - plant.vehicleKg)).toBeLessThan(0.006);
  });
});

describe('A search that finds a leak', () => {
  test('charges nothing beyond the partial charge, and takes it back into the tank', () => {
    const plant = newPlant({ detected: true });
    const { ended, fellTo } = watchedRun(open(), plant);
    const { outcome, masses, leakCheck, recovery } = jobResult(ended);
    expect(outcome).toBe('stopped');
    expect(visited(ended)).not.toContain('charge');
    expect(visited(ended).slice(-4)).toEqual(['leak-check', 'recover', 'rest', 'recover-hoses']);
    expect(codes(ended)).toContain('search-found');
    expect(leakCheck).toMatchObject({ found: true });
    expect(plant.tankKg - fellTo).toBeGreaterThan(0.1);
    expect(plant.tankKg + plant.vehicleKg + plant.hoseKg + plant.separatorKg).toBeGreaterThan(8.48);
    expect(masses.returnedKg).toBeGreaterThan(0.05);
    expect(masses.netChargeKg).toBeUndefined();
    // What had come out of the vehicle before is told by itself.
    expect(masses.recoveredKg).toBeGreaterThan(0.47);
    expect(masses.recoveredKg).toBeLessThan(0.52);
    expect(recovery!.cycles).not.toHaveLength(0);
  });

  test('evacuates nothing any more: what is in the vehicle would go out through the pump', () => {
    let pumpedAfter = false;
    run(open(), {
      plant: newPlant({ detected: true }),
      watch: ({ state, commands }) => {
        if (state.accounts.leakCheck !== undefined && commands.vacuumValve.on) pumpedAfter = true;
        return undefined;
      },
    });
    expect(pumpedAfter).toBe(false);
  });
});

describe('The service leak-check', () => {
  test('searches a vehicle under pressure as it stands: nothing is let in, evacuated or drawn from it', () => {
    for (const detected of [false, true]) {
      const plant = newPlant({ detected });
      const { ended, fellTo } = watchedRun(open({ service: 'leak-check' }), plant, {
        watch: ({ commands }) => {
          expect(commands.chargeValve.on || commands.vacuumValve.on).toBe(false);
          return undefined;
        },
      });
      expect(jobResult(ended).outcome).toBe('completed');
      expect(visited(ended)).toEqual(['identify', 'settle', 'leak-check', 'recover-hoses']);
      expect(fellTo).toBeCloseTo(8, 6);
      expect(plant.vehicleKg).toBeCloseTo(0.5, 6);
      expect(jobResult(ended).leakCheck).toMatchObject({ found: detected });
      expect(codes(ended).includes('search-found-as-it-stood')).toBe(detected);
    }
  });

  test('takes back what it has let into an empty one, and never charges it', () => {
    for (const detected of [false, true]) {
      const plant = empty({ detected });
      const { ended } = watchedRun(open({ service: 'leak-check' }), plant);
      const { outcome, masses, leakCheck, hold } = jobResult(ended);
      expect(outcome).toBe('completed');
      expect(visited(ended)).toEqual([
        'identify',
        'settle',
        'evacuate',
        'hold',
        'leak-check',
        'recover',
        'rest',
        'recover-hoses',
      ]);
      expect(leakCheck).toMatchObject({ found: detected });
      expect(hold!.verdict).toBe('tight');
      expect(masses.recoveredKg).toBeUndefined();
      expect(plant.vehicleKg).toBeLessThan(0.02);
    }
  });
});

describe('What proves nothing', () => {
  test('a gauge that does not read: no answer counts, and what was let in comes back', () => {
    const plant = newPlant();
    const ended = run(open(), {
      plant,
      readings: (_, { stage }) =>
        stage?.stage === 'leak-check' && stage.step !== 'admit' ? { lowSidePressurePa: LOST } : {},
    });
    expect(codes(ended)).toContain('search-blind');
    expect(jobResult(ended).outcome).toBe('stopped');
    expect(visited(ended)).not.toContain('charge');
    expect(plant.vehicleKg).toBeLessThan(0.02);
  });

  test('a gauge that is lost for a moment does NOT end the search', () => {
    const ended = run(open(), {
      readings: ({ nowMs }, { stage }) =>
        stage?.stage === 'leak-check' && stage.step === 'settle' && nowMs - stage.stepSinceMs < 20_000
          ? { lowSidePressurePa: LOST }
          : {},
    });
    expect(jobResult(ended).outcome).toBe('completed');
  });

  test('a vehicle that shows no pressure, because its coupler is shut', () => {
    const ended = run(open(), {
      readings: (_, { stage }) =>
        stage?.stage === 'leak-check' && stage.step !== 'admit' ? { lowSidePressurePa: 5_000 } : {},
    });
    expect(codes(ended)).toContain('search-no-pressure');
    expect(visited(ended)).not.toContain('charge');
    expect(visited(ended)).toContain('recover');
  });

  test('an answer that is neither yes nor no, or to a question that does not stand', () => {
    const early = { type: 'searched', prompt: 'search-leak', found: false } as const;
    let askedMs = 0;
    const ended = run(open(), {
      plant: newPlant({ detected: 'maybe' as unknown as boolean }),
      events: (_, { prompt }) => (prompt?.id === 'search-leak' ? [] : [early]),
      watch: ({ state, nowMs }) => {
        if (state.prompt?.id !== 'search-leak') return false;
        askedMs = nowMs - state.prompt.askedAtMs;
        return askedMs > 60_000;
      },
    });
    expect(askedMs).toBeGreaterThan(60_000);
    expect(ended.stage?.stage).toBe('leak-check');
    expect(ended.accounts.leakCheck).toBeUndefined();
  });
});

test('a scale that is lost before anything was let in lets nothing in', () => {
  let opened = false;
  const ended = run(open(), {
    readings: (_, { stage }) => (stage?.stage === 'leak-check' ? { scaleCounts: LOST } : {}),
    watch: ({ commands }) => {
      opened = opened || commands.chargeValve.on;
      return undefined;
    },
  });
  expect(jobResult(ended).outcome).toBe('stopped');
  expect(codes(ended)).toContain('scale-lost');
  expect(opened).toBe(false);
});

test('a scale that is lost while it is searched does NOT keep the machine from taking back what it has let in', () => {
  const ended = run(open(), {
    plant: newPlant({ detected: true }),
    readings: (_, { stage }) =>
      stage?.stage === 'leak-check' && stage.step === 'weigh' ? { scaleCounts: LOST } : {},
  });
  expect(visited(ended)).toContain('recover-hoses');
  expect(jobResult(ended).leakCheck).toMatchObject({ found: true });
});

describe('The pressure watch', () => {
  const look = (pa: number, ambientC: number | undefined, minute: number): Look => ({
    pa,
    ambientK: ambientC === undefined ? undefined : ambientC + 273.15,
    atMs: minute * 60_000,
  });
  const said = (from: Look, to: Look | undefined) => watched(from, to, R134A, EQUIPMENT);

  test('allows vapour a fall of 0.34 % a kelvin', () => {
    const { said: word, fallPa } = said(look(400_000, 20, 0), look(400_000 * (1 - 5 * 0.00341), 15, 10));
    expect(word).toBe('steady');
    expect(Math.abs(fallPa!)).toBeLessThan(50);
  });

  test('tells a fall beyond it, and does NOT tell one that a kelvin unseen could make', () => {
    expect(said(look(400_000, 20, 0), look(390_000, 20, 10)).said).toBe('fell');
    expect(said(look(400_000, 20, 0), look(399_000, 20, 10)).said).toBe('steady');
    expect(said(look(400_000, 20, 0), look(390_000, 12.5, 10)).said).toBe('steady');
  });

  test('never judges a pressure that liquid may hold', () => {
    // R-134a at 20 °C: 571.7 kPa (Tillner-Roth and Baehr 1994).
    for (const toPa of [571_700, 500_000, 200_000])
      expect(said(look(571_700, 20, 0), look(toPa, 20, 10))).not.toHaveProperty('fallPa');
    expect(said(look(571_700, 20, 0), look(500_000, 20, 10)).said).toBe('saturated');
  });

  test('states what it could not have seen, less the longer it looked', () => {
    const limitOf = (minutes: number) =>
      said(look(400_000, 20, 0), look(400_000, 20, minutes)).limitKgPerYear!;
    expect(limitOf(10)).toBeGreaterThan(0.1);
    expect(limitOf(100)).toBeCloseTo(limitOf(10) / 10, 6);
  });

  test('without a thermometer or a gauge says that it does not know', () => {
    expect(said(look(400_000, undefined, 0), look(390_000, 20, 10)).said).toBe('unknown');
    expect(said(look(400_000, 20, 0), undefined).said).toBe('unknown');
  });
});
