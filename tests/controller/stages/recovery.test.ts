// Identify, settle, recover and rest: what they look at and where they lead.

import { describe, expect, test } from 'vitest';
import type { Equipment } from '../../../controller/equipment.ts';
import type { Identification, OperatorEvent } from '../../../controller/operator.ts';
import { jobResult } from '../../../controller/result.ts';
import { type ControllerState, openJob, scan } from '../../../controller/scan.ts';
import { SAFE_COMMANDS, VALVES } from '../../../controller/signals.ts';
import { resumeStage } from '../../../controller/stages/index.ts';
import { enterRecover } from '../../../controller/stages/recover.ts';
import type { Ticket } from '../../../controller/ticket.ts';
import { newPlant, type Plant, run } from '../support/bench.ts';
import { EQUIPMENT, planFor, R1234YF } from '../support/machine.ts';
import { readingsAt, type Values } from '../support/readings.ts';

const open = (ticket: Partial<Ticket> = {}): ControllerState => openJob(planFor(ticket), EQUIPMENT, 0);
const codes = (state: ControllerState): string[] => jobResult(state).notices.map(({ code }) => code);
const visits = (state: ControllerState): string[] =>
  jobResult(state).stages.map(({ stage, result }) => `${stage}:${result}`);

describe('Identify', () => {
  const asked = () => scan(open(), readingsAt(100), 100, []).state;
  const answered = (refrigerant: string, purityPercent: number, state = asked()) =>
    scan(state, readingsAt(200), 200, [{ type: 'identified', result: { refrigerant, purityPercent } }]);

  test('an answer that comes before the question is no answer', () => {
    expect(asked().prompt?.id).toBe('identify-refrigerant');
    expect(answered('R-134a', 99, open()).state.stage?.stage).toBe('identify');
  });

  test('98 % of the right refrigerant passes', () => {
    expect(answered('R-134a', 98).state.stage?.stage).toBe('settle');
  });

  for (const [refrigerant, purity] of [
    ['R-134a', 97.9],
    ['R-1234yf', 100],
    ['R-134a', Number.NaN],
    ['R-134a', 980],
  ] as const) {
    test(`${refrigerant} at ${purity} % does NOT pass: the job stops with every output off`, () => {
      const { state, commands, notices } = answered(refrigerant, purity);
      expect(jobResult(state).outcome).toBe('stopped');
      expect(commands).toEqual(SAFE_COMMANDS);
      expect(notices.map(({ code }) => code)).toEqual(['refrigerant-refused']);
    });
  }
});

describe('An identifier result', () => {
  const CYLINDER: Equipment = {
    ...EQUIPMENT,
    fitted: [...EQUIPMENT.fitted, 'separatorDrainValve'],
    tank: { ...EQUIPMENT.tank, contaminated: true },
  };
  const told = (event: OperatorEvent, equipment = EQUIPMENT, ticket: Partial<Ticket> = {}) => {
    const job = openJob(planFor(ticket, equipment), equipment, 0);
    return scan(scan(job, readingsAt(100), 100, []).state, readingsAt(200), 200, [event]).state;
  };
  const reading = (over: Partial<Identification> = {}): OperatorEvent => ({
    type: 'identified',
    result: { refrigerant: 'R-134a', purityPercent: 99.9, ...over },
  });
  const override = (why: 'no-pressure' | 'identified-elsewhere', reason = 'it is empty'): OperatorEvent => ({
    type: 'identification-overridden',
    why,
    reason,
  });

  test.each([
    ['hydrocarbons', { hydrocarbonPercent: 2 }, 'hydrocarbons-refused'],
    ['hydrocarbons that are no number', { hydrocarbonPercent: Number.NaN }, 'hydrocarbons-refused'],
    ['much air', { airPercent: 10 }, 'air-refused'],
    ['another refrigerant', { refrigerant: 'R-12' }, 'refrigerant-refused'],
  ])('with %s is refused by name, before a valve opens', (_, over, code) => {
    const state = told(reading(over));
    expect(jobResult(state).outcome).toBe('stopped');
    expect(codes(state)).toEqual([code]);
    expect(jobResult(state).identification).toBeUndefined();
  });

  test('with a little of both is NOT refused, and the air is told', () => {
    const state = told(reading({ hydrocarbonPercent: 1.9, airPercent: 1.5 }));
    expect(state.stage?.stage).toBe('settle');
    expect(codes(state)).toEqual(['air-in-vehicle']);
    expect(jobResult(state).identification).toMatchObject({ verdict: 'accepted', airPercent: 1.5 });
    expect(codes(told(reading({ airPercent: 0.9 })))).toEqual([]);
  });

  test('that fails is taken where a labelled cylinder stands on the scale, for a recovery alone', () => {
    const state = told(reading({ purityPercent: 60 }), CYLINDER, { service: 'recover' });
    expect(state.stage?.stage).toBe('settle');
    expect(codes(state)).toEqual(['recovers-contaminated']);
    expect(state.plan.stages).toEqual(['identify', 'settle', 'recover', 'rest', 'recover-hoses']);
    const burning = told(reading({ hydrocarbonPercent: 30 }), CYLINDER, { service: 'recover' });
    expect(codes(burning)).toEqual(['hydrocarbons-refused']);
  });

  test('is overridden by a reason only: a vehicle without pressure, or one identified elsewhere that does not burn', () => {
    const state = told(override('no-pressure'));
    expect(state.stage?.stage).toBe('settle');
    expect(jobResult(state).identification).toEqual({
      verdict: 'overridden',
      why: 'no-pressure',
      reason: 'it is empty',
    });
    expect(told(override('identified-elsewhere')).stage?.stage).toBe('settle');
    for (const reason of ['', '  '])
      expect(codes(told(override('no-pressure', reason)))).toEqual(['override-refused']);
  });

  test('of a refrigerant that burns is NOT overridden by a word from elsewhere', () => {
    const equipment = { ...EQUIPMENT, tank: { ...EQUIPMENT.tank, refrigerant: 'R-1234yf' } };
    const open = openJob(planFor({ refrigerant: 'R-1234yf' }, equipment, R1234YF), equipment, 0);
    const burning = (why: 'no-pressure' | 'identified-elsewhere') =>
      codes(scan(scan(open, readingsAt(100), 100, []).state, readingsAt(200), 200, [override(why)]).state);
    expect(burning('identified-elsewhere')).toEqual(['override-refused']);
    expect(burning('no-pressure')).toEqual(['identification-overridden']);
  });

  test('that was skipped for want of pressure does NOT carry a vehicle that has some', () => {
    const state = (vehicleKg: number) =>
      run(open(), {
        plant: newPlant({ vehicleKg, airPa: vehicleKg > 0 ? 0 : 100_000 }),
        answers: false,
        untilMs: 300_000,
        events: (plant, { prompt }) => {
          if (prompt?.id === 'identify-refrigerant') return [override('no-pressure')];
          if (prompt?.id !== 'connect-hoses') return [];
          plant.coupled = true;
          return [{ type: 'confirmed', prompt: prompt.id }];
        },
      });
    expect(codes(state(0.5))).toEqual(['identification-overridden', 'vehicle-not-identified']);
    expect(jobResult(state(0.5)).outcome).toBe('stopped');
    expect(codes(state(0))).toEqual(['identification-overridden', 'vehicle-empty']);
  });
});

describe('Settle', () => {
  test('nothing opens before the operator has confirmed the hoses', () => {
    run(open(), {
      answers: false,
      untilMs: 60_000,
      events: ({ nowMs }) =>
        nowMs === 100 ? [{ type: 'identified', result: { refrigerant: 'R-134a', purityPercent: 99 } }] : [],
      watch: ({ commands }) => {
        expect(commands).toEqual(SAFE_COMMANDS);
        return undefined;
      },
    });
  });

  test('air or another refrigerant above saturation is told', () => {
    const hot = run(open(), { readings: () => ({ ambientTemperatureK: 283.15 }), untilMs: 120_000 });
    expect(codes(hot)).toContain('pressure-above-saturation');
  });

  test('sides that stay apart are told after a minute, and NOT before', () => {
    const apart = (untilMs: number): string[] =>
      codes(
        run(open(), {
          untilMs,
          readings: ({ coupled }) =>
            coupled ? { highSidePressurePa: 571_000, lowSidePressurePa: 450_000 } : {},
        }),
      );
    expect(apart(60_000)).not.toContain('sides-differ');
    expect(apart(120_000)).toContain('sides-differ');
  });

  /** When the vehicle was connected, and when the recovery began. */
  const times = (options: Parameters<typeof run>[1]) => {
    let connectedMs = 0;
    let begunMs = 0;
    run(open(), {
      untilMs: 150_000,
      watch: ({ state }, { nowMs, coupled }) => {
        if (!coupled) connectedMs = nowMs;
        if (state.stage?.stage === 'recover') begunMs ||= nowMs;
        return undefined;
      },
      ...options,
    });
    return { connectedMs, begunMs };
  };

  test('waits for a compressor that has just been switched on, so that the recovery begins with its draw', () => {
    const { begunMs } = times({});
    expect(begunMs).toBeGreaterThan(EQUIPMENT.compressor.minimumOffMs - 15_000);
    expect(begunMs).toBeLessThan(EQUIPMENT.compressor.minimumOffMs + 2_000);
  });

  test('does NOT wait where the operator took as long', () => {
    const late = EQUIPMENT.compressor.minimumOffMs;
    const { connectedMs, begunMs } = times({
      answers: false,
      untilMs: late + 60_000,
      events: (plant, { prompt }) => {
        if (prompt === undefined || plant.nowMs < late) return [];
        if (prompt.id === 'identify-refrigerant')
          return [{ type: 'identified', result: { refrigerant: 'R-134a', purityPercent: 99 } }];
        if (prompt.id === 'connect-hoses') plant.coupled = true;
        return prompt.id === 'connect-hoses' ? [{ type: 'confirmed', prompt: prompt.id }] : [];
      },
    });
    expect(begunMs - connectedMs).toBeLessThan(20_000);
  });

  test('learns the force of the hoses on the scale when they fill', () => {
    const force = 1.5e-8;
    const state = run(open(), {
      untilMs: 125_000,
      readings: (plant) => {
        const gaugePa = plant.coupled ? 571_710 - 101_325 : 60_000 - 101_325;
        const flicker = 40 * Math.sin(plant.nowMs * 0.7);
        return {
          scaleCounts: Math.round(2_100_000 + force * gaugePa * 1e5 + flicker),
          ...(plant.coupled ? {} : {}),
        };
      },
    });
    expect(Math.abs(state.accounts.hoseForce.kgPerPa / force - 1)).toBeLessThan(0.15);
    expect(state.accounts.hoseForce.sdKgPerPa).toBeLessThan(EQUIPMENT.scale.hoseForceKgPerPaSd / 5);
  });

  test('a scale that never rests stops the job', () => {
    const lost = run(open(), {
      readings: ({ nowMs }) => ({ scaleCounts: 2_100_000 + 300_000 * Math.sin(nowMs) }),
    });
    expect(visits(lost)).toEqual(['identify:refrigerant-accepted', 'settle:scale-lost']);
    expect(codes(lost)).toContain('scale-lost');
  });
});

/** Cold liquid that gives a part of itself in every run and boils up again at rest. */
function coldVehicle(yields: readonly number[]) {
  let cycle = -1;
  let left = 0;
  let restFromMs = 0;
  let resting = true;
  return (plant: Plant, { stage }: ControllerState): Values => {
    if (stage?.stage === 'recover' && stage.step === 'draw' && resting) {
      cycle += 1;
      left = yields[cycle] ?? 0;
      resting = false;
    }
    if (stage?.stage === 'rest' && !resting) {
      restFromMs = plant.nowMs;
      resting = true;
    }
    if (stage?.stage !== 'recover' && stage?.stage !== 'rest') return {};
    if (stage.stage === 'recover') {
      const moved = plant.commands.compressor.on ? Math.min(left, 0.0006) : 0;
      left -= moved;
      plant.vehicleKg = 0;
      plant.tankKg += moved;
      return {
        // Where nothing more arrives, the compressor finds next to nothing to draw.
        manifoldPressurePa: left > 0 ? 90_000 : 30_000,
        lowSidePressurePa: 90_000,
        highSidePressurePa: 90_000,
      };
    }
    const more = cycle + 1 < yields.length;
    const risen = Math.min((plant.nowMs - restFromMs) / 1000, 300) * (more ? 120 : 2);
    return { manifoldPressurePa: 56_000 + risen, lowSidePressurePa: 56_000, highSidePressurePa: 56_000 };
  };
}

describe('Recover and rest', () => {
  test('recovery restarts on rise, and ends when the pressure stays', () => {
    const state = run(open({ service: 'recover' }), { readings: coldVehicle([0.25, 0.1, 0.1]) });
    const { recovery, ledger } = jobResult(state);
    expect(ledger.map(({ massKg }) => Math.round(massKg * 1000)).filter((grams) => grams > 0)).toEqual([
      250, 100, 100,
    ]);
    // The cycles count what the coil keeps and gives as well.
    const cyclesG = recovery!.cycles.map(({ recoveredKg }) => 1000 * recoveredKg);
    for (const [i, grams] of [250, 100, 100].entries())
      expect(Math.abs(cyclesG[i]! - grams)).toBeLessThan(60);
    expect(recovery!.cycles[0]!.restRisePa).toBeGreaterThan(10_000);
    expect(codes(state)).toEqual(expect.arrayContaining(['restarted-on-rise', 'liquid-trapped']));
  });

  test('resumed before the compressor may start, everything stays shut until it is about to', () => {
    let pausedAtMs: number | undefined;
    let resumedAtMs: number | undefined;
    const opened: number[] = [];
    run(open({ service: 'recover' }), {
      events: ({ nowMs, commands }, { stage }) => {
        if (pausedAtMs === undefined && stage?.stage === 'recover' && commands.compressor.on) {
          pausedAtMs = nowMs;
          return [{ type: 'paused' }];
        }
        if (pausedAtMs !== nowMs - 10_000) return [];
        resumedAtMs = nowMs;
        return [{ type: 'resumed' }];
      },
      watch: ({ commands, nowMs }) => {
        if (resumedAtMs === undefined) return false;
        if (VALVES.some((valve) => commands[valve].on)) opened.push(nowMs - (pausedAtMs ?? nowMs));
        return commands.compressor.on;
      },
    });
    // The suction is joined for two seconds before it starts.
    expect(opened[0]).toBeGreaterThanOrEqual(EQUIPMENT.compressor.minimumOffMs - 2_000);
    expect(opened.at(-1)! - opened[0]!).toBeCloseTo(2_000, -3);
  });

  test('a pause forgets nothing of what the compressor has drawn since the last weighing', () => {
    const data = enterRecover(0);
    const drawn = { ...data, step: 'draw', count: { ...data.count, drawnKg: 0.02, shownKg: 0.003 } } as const;
    const resumed = resumeStage(drawn, 60_000, 120_000) as typeof data;
    expect(resumed.count).toMatchObject({ drawnKg: 0.02, shownKg: 0.003, atMs: 120_000 });
    // The coil has cooled meanwhile.
    expect(resumed.count.coilWarmerK).toBe(0);
  });

  test('a rest that ends the recovery lasts at least five minutes', () => {
    const { stages } = jobResult(run(open({ service: 'recover' }), { readings: coldVehicle([0.25]) }));
    const rest = stages.find(({ stage }) => stage === 'rest')!;
    expect(rest.endedAtMs! - rest.startedAtMs).toBeGreaterThanOrEqual(300_000);
  });

  test('the compressor rests its minimum time before every start', () => {
    let offSinceMs = 0;
    let wasOn = false;
    let starts = 0;
    run(open({ service: 'recover' }), {
      readings: coldVehicle([0.25, 0.1, 0.1]),
      watch: ({ commands, nowMs }) => {
        const { on } = commands.compressor;
        if (on && !wasOn) {
          starts += 1;
          expect(nowMs - offSinceMs).toBeGreaterThanOrEqual(EQUIPMENT.compressor.minimumOffMs);
        }
        if (!on && wasOn) offSinceMs = nowMs;
        wasOn = on;
        return undefined;
      },
    });
    expect(starts).toBeGreaterThanOrEqual(3);
  });

  test('liquid left after the last allowed cycle ends the job before anything is vented', () => {
    const state = run(open(), {
      readings: coldVehicle(new Array(30).fill(0.05)),
      watch: ({ commands }) => {
        expect(commands.vacuumValve.on).toBe(false);
        return undefined;
      },
    });
    const result = jobResult(state);
    expect(result.outcome).toBe('stopped');
    expect(result.recovery!.cycles.length).toBeLessThanOrEqual(8);
    expect(codes(state)).toContain('liquid-left');
    expect(result.stages.at(-1)!.stage).toBe('recover-hoses');
  });

  test('the fan rests while the tank is warmer than the room, and NOT around a flammable refrigerant', () => {
    const fanStops = (state: ControllerState): boolean => {
      let stopped = false;
      run(state, {
        untilMs: 400_000,
        readings: () => ({ ambientTemperatureK: 288.15 }),
        watch: ({ commands }) => {
          stopped ||= commands.fanStop.on;
          return undefined;
        },
      });
      return stopped;
    };
    expect(fanStops(open())).toBe(true);
    const unknown = { ...EQUIPMENT, tank: { ...EQUIPMENT.tank, refrigerant: 'R-1234yf' } };
    expect(fanStops({ ...open(), equipment: unknown })).toBe(false);
  });

  test('one port: only its own valve opens, until a capped hose that holds pressure is recovered at the end', () => {
    let opened = false;
    run(open({ ports: 1 }), {
      watch: ({ state, commands }) => {
        const { lowSidePa } = state.seen!;
        if (commands.lowSideValve.on) {
          expect(state.stage?.stage).toBe('recover-hoses');
          expect(lowSidePa).toBeGreaterThan(105_000);
          opened = true;
        }
        return undefined;
      },
    });
    expect(opened).toBe(true);
  });
});
