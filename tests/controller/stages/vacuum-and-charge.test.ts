// Evacuate, hold, charge and recover-hoses: what they look at and where they lead.
import { describe, expect, test } from 'vitest';
import { leakKgPerYear } from '../../../controller/estimates/leak.ts';
import { jobResult } from '../../../controller/result.ts';
import { type ControllerState, openJob } from '../../../controller/scan.ts';
import type { Ticket } from '../../../controller/ticket.ts';
import { newPlant, type Plant, run } from '../support/bench.ts';
import { EQUIPMENT, planFor, R134A } from '../support/machine.ts';
import type { Values } from '../support/readings.ts';

const open = (ticket: Partial<Ticket> = {}): ControllerState =>
  openJob(planFor({ service: 'evacuate-and-charge', ...ticket }), EQUIPMENT, 0);
const empty = (over: Partial<Plant> = {}): Plant => newPlant({ vehicleKg: 0, airPa: 101_000, ...over });
const codes = (state: ControllerState): string[] => jobResult(state).notices.map(({ code }) => code);
const stages = (state: ControllerState): string[] => jobResult(state).stages.map(({ stage }) => stage);

describe('Evacuate', () => {
  test('the vacuum valve opens at the earliest three seconds after the pump, with the vehicle already joined', () => {
    let pumpAtMs: number | undefined;
    let checked = false;
    run(open(), {
      plant: empty(),
      watch: ({ commands, nowMs }) => {
        if (commands.vacuumPump.on) pumpAtMs ??= nowMs;
        if (commands.vacuumValve.on && !checked) {
          checked = true;
          expect(nowMs - pumpAtMs!).toBeGreaterThanOrEqual(3_000);
          expect(commands.highSideValve.on).toBe(true);
        }
        return checked;
      },
    });
    expect(checked).toBe(true);
  });

  test('pumps at least fifteen minutes unopened and thirty opened', () => {
    for (const [opened, least] of [
      [false, 15],
      [true, 30],
    ] as const) {
      const { evacuation } = jobResult(run(open({ opened }), { plant: empty() }));
      expect(evacuation!.minutes).toBeGreaterThanOrEqual(least);
      expect(evacuation!.lowestPa).toBeLessThan(30);
    }
  });

  /** The vacuum at the vehicle stands at this reading while the pump draws, and in the hold. */
  const standing = (vehicleVacuumPa: number, ambientTemperatureK = 293.15) =>
    run(open({ opened: true }), {
      plant: empty(),
      readings: (_, { stage }) =>
        stage?.stage === 'evacuate' || stage?.stage === 'hold'
          ? { vehicleVacuumPa, manifoldPressurePa: vehicleVacuumPa / 2, ambientTemperatureK }
          : {},
    });

  test('an opened system is pumped for the common time unless its vacuum shows that it is dry', () => {
    expect(jobResult(standing(20)).evacuation!.minutes).toBeCloseTo(30, 0);
    expect(jobResult(standing(150)).evacuation!.minutes).toBeCloseTo(45, 0);
  });

  test('a vacuum that does not reach its level goes to the hold after the common time, which finds out why', () => {
    const state = standing(600);
    expect(jobResult(state).evacuation!.minutes).toBeCloseTo(45, 0);
    expect(stages(state)).toContain('hold');
  });

  test('a pressure that stands where ice does is told as boiling water while there is time to warm the vehicle', () => {
    const state = standing(850, 281.15);
    const told = jobResult(state).notices.find(({ code }) => code === 'water-boils')!;
    expect(told.atMs).toBeLessThan(10 * 60_000);
    expect(codes(state).filter((code) => code === 'water-boils')).toHaveLength(1);
    expect(codes(standing(200, 281.15))).not.toContain('water-boils');
  });

  test('something open is found by the rough vacuum within two minutes of pumping', () => {
    const state = run(open(), {
      plant: empty(),
      readings: ({ commands }) => (commands.vacuumValve.on ? { manifoldPressurePa: 60_000 } : {}),
    });
    expect(jobResult(state).outcome).toBe('stopped');
    expect(codes(state)).toContain('rough-vacuum-failed');
    const visit = jobResult(state).stages.find(({ stage }) => stage === 'evacuate')!;
    expect(visit.endedAtMs! - visit.startedAtMs).toBeLessThan(120_000);
  });

  test('an open-circuit pressure sensor is unknown, NOT a deep vacuum', () => {
    const state = run(open(), {
      plant: empty(),
      readings: (_, { stage }) =>
        stage?.stage === 'evacuate'
          ? {
              manifoldPressurePa: { ok: false, reason: 'open-circuit' },
              vehicleVacuumPa: { ok: false, reason: 'open-circuit' },
            }
          : {},
    });
    expect(jobResult(state).outcome).toBe('stopped');
    expect(stages(state)).not.toContain('hold');
  });
});

describe('Hold', () => {
  test('the valve shuts before the pump stops', () => {
    let valveOffMs: number | undefined;
    let pumpOffMs: number | undefined;
    run(open(), {
      plant: empty(),
      watch: ({ commands, state, nowMs }) => {
        if (state.stage?.stage !== 'hold') return valveOffMs !== undefined;
        if (!commands.vacuumValve.on) valveOffMs ??= nowMs;
        if (!commands.vacuumPump.on) pumpOffMs ??= nowMs;
        return pumpOffMs !== undefined;
      },
    });
    expect(pumpOffMs! - valveOffMs!).toBeGreaterThanOrEqual(1_000);
  });

  const rising = (perHold: readonly number[], shape: (t: number, rate: number) => number) => {
    let hold = -1;
    let inside = false;
    let fromMs = 0;
    return (plant: Plant, { stage }: ControllerState): Values => {
      if (stage?.stage !== 'hold') {
        inside = false;
        return {};
      }
      if (!inside) {
        inside = true;
        hold += 1;
        fromMs = plant.nowMs;
      }
      const t = (plant.nowMs - fromMs) / 1000;
      const flicker = 0.5 * Math.sin(plant.nowMs * 0.9);
      const pressurePa = 100 + shape(t, perHold[Math.min(hold, perHold.length - 1)]!) + flicker;
      return {
        vehicleVacuumPa: pressurePa < 2_500 ? pressurePa : { ok: false, reason: 'out-of-range' },
        manifoldPressurePa: pressurePa,
      };
    };
  };

  test('a leak is called after two holds that agree, and nothing is charged', () => {
    for (const slope of [4, 1]) {
      const state = run(open(), { plant: empty(), readings: rising([slope], (t, rate) => rate * t) });
      expect(stages(state)).toEqual(['settle', 'evacuate', 'hold', 'evacuate', 'hold']);
      expect(codes(state)).toEqual(['leak-suspected', 'leak-found']);
      expect(jobResult(state)).toMatchObject({ outcome: 'stopped', hold: { verdict: 'leak' } });
      expect(jobResult(state).hold!.slopePaPerS).toBeCloseTo(slope, 1);
    }
  });

  test('a sensor too coarse to see whether the rise tires needs a third hold', () => {
    const straight = rising([1.2], (t, rate) => rate * t);
    let flicker = 0;
    const state = run(open(), {
      plant: empty(),
      readings: (plant, now) => {
        const { manifoldPressurePa } = straight(plant, now);
        flicker = (flicker * 1_103 + 12_345) % 10_007;
        return typeof manifoldPressurePa === 'number'
          ? {
              vehicleVacuumPa: { ok: false, reason: 'not-fitted' },
              manifoldPressurePa: manifoldPressurePa + 300 * (flicker / 10_007 - 0.5),
            }
          : { vehicleVacuumPa: { ok: false, reason: 'not-fitted' } };
      },
    });
    expect(codes(state)).toEqual(['leak-suspected', 'leak-suspected', 'leak-found']);
  });

  test('a slope that tires by 8 % from hold to hold, as deep oil does, ends with the second hold and is NOT a leak', () => {
    const state = run(open(), { plant: empty(), readings: rising([1, 0.92, 0.85], (t, rate) => rate * t) });
    expect(codes(state)).not.toContain('leak-found');
    expect(stages(state).filter((stage) => stage === 'hold')).toHaveLength(2);
    expect(stages(state)).toContain('charge');
    // A leak as large as that slope could hide in it: the record must not claim to have seen a smaller one.
    const { slopePaPerS, detectionLimitKgPerYear } = jobResult(state).hold!;
    const { highVolumeM3, lowVolumeM3, manifoldVolumeM3 } = EQUIPMENT.hoses;
    const volumeM3 = 2.5e-3 + highVolumeM3 + lowVolumeM3 + manifoldVolumeM3;
    expect(slopePaPerS).toBeGreaterThan(0.8);
    expect(detectionLimitKgPerYear).toBeGreaterThan(leakKgPerYear(slopePaPerS, volumeM3, R134A));
  });

  test('a slope that falls from hold to hold is NOT called a leak', () => {
    const state = run(open(), { plant: empty(), readings: rising([1, 0.2, 0.01], (t, rate) => rate * t) });
    expect(codes(state)).not.toContain('leak-found');
    expect(stages(state)).toContain('charge');
  });

  test('outgassing goes back to evacuation, three times at most, then on with a warning', () => {
    const state = run(open(), {
      plant: empty(),
      readings: rising([3_000], (t, rate) => rate * (1 - Math.exp(-t / 80))),
    });
    expect(stages(state).filter((stage) => stage === 'evacuate')).toHaveLength(3);
    expect(codes(state)).toEqual(expect.arrayContaining(['hold-outgassed', 'hold-outgassing-persists']));
    expect(jobResult(state).hold!.verdict).toBe('outgassing');
  });

  test('without a vacuum sensor the verdict is inconclusive, and that is said', () => {
    const none = { ok: false, reason: 'open-circuit' } as const;
    const state = run(open(), {
      plant: empty(),
      readings: (_, { stage }) =>
        stage?.stage === 'hold' ? { manifoldPressurePa: none, vehicleVacuumPa: none } : {},
    });
    expect(jobResult(state).stages.find(({ stage }) => stage === 'hold')!.result).toBe('inconclusive');
    expect(codes(state)).toContain('hold-blind');
    // Nothing was seen, so no limit is claimed.
    expect(state.accounts.hold).toBeUndefined();
  });
});

describe('Charge', () => {
  test('ends within two grams of what it aimed at, the last grams in pulses', () => {
    let pulses = 0;
    let aimKg = 0;
    let last = 0;
    let givenKg: number | undefined;
    const plant = empty();
    const fullKg = plant.tankKg;
    run(open(), {
      plant,
      watch: ({ state: now }) => {
        if (now.stage?.stage === 'charge') {
          pulses = Math.max(pulses, now.stage.pulses);
          last = now.stage.pulses;
          if (now.stage.step === 'blow-down') givenKg ??= fullKg - plant.tankKg;
          if (givenKg === undefined) aimKg = now.stage.targetKg;
        }
        return undefined;
      },
    });
    expect(pulses).toBeGreaterThan(3);
    expect(last).toBe(pulses);
    expect(Math.abs(givenKg! - aimKg)).toBeLessThan(0.0025);
  });

  test('hoses that no engine sucks dry are drawn back until the vehicle has its charge and they hold vapour', () => {
    const plant = empty();
    let overKg = 0;
    const state = run(open(), {
      plant,
      watch: ({ state: now }) => {
        if (now.stage?.stage === 'charge') overKg = Math.max(overKg, plant.vehicleKg - 0.6);
        return undefined;
      },
    });
    expect(overKg).toBeGreaterThan(0.01);
    expect(Math.abs(plant.vehicleKg - 0.6)).toBeLessThan(0.007);
    const { netChargeKg, uncertaintyKg } = jobResult(state).masses;
    expect(Math.abs(netChargeKg! - plant.vehicleKg)).toBeLessThan(uncertaintyKg!);
  });

  test('a shut coupler is found by the vehicle that does not answer, and no more than a hose full is given', () => {
    const plant = empty();
    const state = run(open(), {
      plant,
      readings: (now, { stage }) => {
        if (stage?.stage !== 'charge' && stage?.stage !== 'recover-hoses') return {};
        const full = now.tankKg <= 8 - 0.07;
        if (full && now.commands.chargeValve.on) {
          now.tankKg = 8 - 0.07;
        }
        return stage.stage === 'charge' ? { highSidePressurePa: 570_000, lowSidePressurePa: 1_000 } : {};
      },
    });
    expect(codes(state)).toEqual(expect.arrayContaining(['charge-stalled-coupler', 'charge-fell-short']));
    expect(jobResult(state).outcome).toBe('stopped');
    expect(jobResult(state).masses.chargedKg).toBeLessThan(0.12);
  });

  test('a stall between equal pressures is told as a warm vehicle, and given up in the end', () => {
    const plant = empty();
    const state = run(open(), {
      plant,
      readings: (now, { stage }) => {
        if (stage?.stage !== 'charge') return {};
        if (now.tankKg < 8 - 0.3) now.tankKg = 8 - 0.3;
        return { highSidePressurePa: 571_000, lowSidePressurePa: 570_000 };
      },
    });
    expect(codes(state)).toEqual(expect.arrayContaining(['charge-stalled-warm', 'charge-fell-short']));
    expect(jobResult(state).outcome).toBe('stopped');
  });

  test('a hose far below the tank is told as a shut supply', () => {
    const plant = empty();
    const state = run(open(), {
      plant,
      readings: (now, { stage }) => {
        if (stage?.stage !== 'charge') return {};
        if (now.tankKg < 8 - 0.3) now.tankKg = 8 - 0.3;
        return { highSidePressurePa: 300_000, lowSidePressurePa: 300_000 };
      },
    });
    expect(codes(state)).toContain('charge-stalled-supply');
  });

  test('someone leaning on the machine shuts the valve and is not counted', () => {
    const plant = empty();
    let leaning = 0;
    const state = run(open(), {
      plant,
      readings: (now, { stage }) => {
        const charging = stage?.stage === 'charge' && stage.step === 'full' && now.tankKg < 7.8;
        if (charging && leaning === 0) leaning = now.nowMs;
        if (leaning === 0 || now.nowMs - leaning > 8_000) return {};
        return { scaleCounts: Math.round(1_300_000 + (now.tankKg + 3) * 1e5 + 40 * Math.sin(now.nowMs)) };
      },
      watch: ({ commands, nowMs }) => {
        if (leaning !== 0 && nowMs - leaning > 1_000 && nowMs - leaning < 8_000)
          expect(commands.chargeValve.on).toBe(false);
        return undefined;
      },
    });
    expect(codes(state)).toContain('scale-disturbed');
    expect(Math.abs(plant.vehicleKg - 0.6)).toBeLessThan(0.01);
  });

  test('a scale that keeps moving ends the charge rather than guesses', () => {
    const plant = empty();
    const state = run(open(), {
      plant,
      readings: (now, { stage }) => {
        if (stage?.stage !== 'charge' || stage.step === 'weigh') return {};
        const leaning = Math.floor(now.nowMs / 12_000) % 2 === 0;
        return leaning
          ? { scaleCounts: Math.round(1_300_000 + (now.tankKg + 0.5) * 1e5 + 40 * Math.sin(now.nowMs)) }
          : {};
      },
    });
    expect(jobResult(state).outcome).toBe('stopped');
    expect(plant.vehicleKg).toBeLessThan(0.6 + 0.015);
  });
});

describe('Recover hoses', () => {
  test('they are called safe to disconnect once, and only below 0.3 bar gauge', () => {
    const plant = empty();
    let told = 0;
    const state = run(open(), {
      plant,
      watch: ({ notices }) => {
        if (!notices.some(({ code }) => code === 'hoses-safe')) return undefined;
        told += 1;
        expect(plant.hoseKg).toBeLessThan(0.001);
        return undefined;
      },
    });
    expect(told).toBe(1);
    expect(jobResult(state).notices.at(-1)!.remedy).toBe('Take both couplers off and put the caps on.');
  });

  test('a coupler that was left open is found before the vehicle is emptied, and asked for again', () => {
    const plant = empty();
    let asked = 0;
    let lastAsked = -1;
    const state = run(open(), {
      plant,
      answers: true,
      readings: (now, { prompt, stage }) => {
        if (prompt?.id === 'close-couplers' && prompt.askedAtMs !== lastAsked) {
          lastAsked = prompt.askedAtMs;
          asked += 1;
        }
        if (asked === 1 && stage?.stage === 'recover-hoses') now.coupled = true;
        return {};
      },
    });
    expect(codes(state)).toContain('couplers-open');
    expect(asked).toBe(2);
    expect(plant.vehicleKg).toBeGreaterThan(0.2);
  });

  test('a vehicle that ended up short is told with its figure', () => {
    const plant = empty();
    let shifted = false;
    const state = run(open(), {
      plant,
      readings: (now, { stage }) => {
        if (stage?.stage === 'recover-hoses' && !shifted) {
          shifted = true;
          now.hoseKg += 0.03;
          now.vehicleKg -= 0.03;
        }
        return {};
      },
    });
    const notice = jobResult(state).notices.find(({ code }) => code === 'net-charge-off');
    expect(notice?.text).toContain('below its nominal charge');
  });
});
