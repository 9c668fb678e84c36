// Repair: entered by a sure reading only, safe for as long as it takes, and left only for a vehicle without pressure.
import { describe, expect, test } from 'vitest';
import { lossOf } from '../../../controller/estimates/abnormal-loss.ts';
import type { OperatorEvent } from '../../../controller/operator.ts';
import { planJob } from '../../../controller/plan.ts';
import { progress } from '../../../controller/progress.ts';
import { jobResult } from '../../../controller/result.ts';
import { type ControllerState, openJob } from '../../../controller/scan.ts';
import { OUTPUTS, SAFE_COMMANDS } from '../../../controller/signals.ts';
import { minimumMs } from '../../../controller/stages/evacuate.ts';
import type { Ticket } from '../../../controller/ticket.ts';
import { newPlant, type Plant, type RunOptions, run } from '../support/bench.ts';
import { EQUIPMENT, planFor, R134A, TICKET } from '../support/machine.ts';

const open = (ticket: Partial<Ticket> = {}): ControllerState =>
  openJob(planFor({ repair: true, ...ticket }), EQUIPMENT, 0);
const codes = (state: ControllerState): string[] => jobResult(state).notices.map(({ code }) => code);
const visits = (state: ControllerState): string[] => jobResult(state).stages.map(({ stage }) => stage);
const inRepair = ({ stage }: ControllerState): boolean => stage?.stage === 'repair';

type Mischief = Omit<RunOptions, 'plant'> & {
  /** Done to the plant once, when the question to mend has stood for ten seconds. */
  readonly happens?: (plant: Plant) => void;
  readonly plant?: Plant;
  readonly ticket?: Partial<Ticket>;
  /** To the end of the job; left out: until the evacuation begins. */
  readonly whole?: true;
};

/** A job whose operator does not say that it is mended before a minute is over. */
function mended({ happens, ticket, whole, plant = newPlant(), ...options }: Mischief = {}) {
  const prompts: string[] = [];
  const unsafe: string[] = [];
  let askedAtMs: number | undefined;
  const ended = run(open(ticket), {
    plant,
    ...options,
    answers: false,
    events: (now, state): readonly OperatorEvent[] => {
      const { prompt } = progress(state, now.nowMs);
      if (prompt === undefined) return options.events?.(now, state) ?? [];
      if (prompt.id === 'repair-vehicle') {
        askedAtMs ??= now.nowMs;
        if (now.nowMs < askedAtMs + 60_000) return options.events?.(now, state) ?? [];
      }
      return answerTo(prompt.id, now);
    },
    watch: (seen, now) => {
      const { prompt } = seen.state;
      if (prompt !== undefined && prompts.at(-1) !== prompt.id) prompts.push(prompt.id);
      if (inRepair(seen.state) && prompt !== undefined)
        unsafe.push(...OUTPUTS.filter((output) => seen.commands[output].on));
      if (askedAtMs !== undefined && now.nowMs === askedAtMs + 10_000) happens?.(now);
      const left = whole !== true && seen.state.stage?.stage === 'evacuate';
      return options.watch?.(seen, now) === true || left;
    },
  });
  return { ended, prompts, unsafe, plant };
}

function answerTo(prompt: string, plant: Plant): readonly OperatorEvent[] {
  if (prompt === 'identify-refrigerant')
    return [{ type: 'identified', result: { refrigerant: 'R-134a', purityPercent: 99.9 } }];
  if (prompt === 'connect-hoses') plant.coupled = true;
  if (prompt === 'close-couplers') plant.coupled = false;
  return [{ type: 'confirmed', prompt } as OperatorEvent];
}

describe('A repair that the ticket asks for', () => {
  test('stands between recovery and evacuation, with every output off while it is asked for', () => {
    const { ended, prompts, unsafe } = mended({ whole: true });
    expect(jobResult(ended).outcome).toBe('completed');
    expect(visits(ended)).toEqual([
      'identify',
      'settle',
      'recover',
      'rest',
      'repair',
      'evacuate',
      'hold',
      'charge',
      'recover-hoses',
    ]);
    expect(unsafe).toEqual([]);
    expect(prompts.filter((id) => id === 'repair-vehicle')).toHaveLength(1);
    expect(prompts.length).toBeLessThanOrEqual(6);
    expect(jobResult(ended).repair).toMatchObject({ why: 'asked' });
    expect(jobResult(ended).repair?.confirmedAtMs).toBeGreaterThan(0);
  });

  test('makes the evacuation that of an opened system; one that is not asked for does NOT', () => {
    const { accounts } = open();
    expect(minimumMs({ plan: planFor({ repair: true }), accounts })).toBe(
      minimumMs({ plan: planFor({ opened: true }), accounts }),
    );
    expect(minimumMs({ plan: planFor(), accounts })).toBeLessThan(
      minimumMs({ plan: planFor({ repair: true }), accounts }),
    );
  });

  test('between settling and evacuation where the vehicle is brought empty', () => {
    const plant = newPlant({ vehicleKg: 0, airPa: 100_000 });
    const { ended } = mended({ plant, ticket: { service: 'evacuate-and-charge' } });
    expect(visits(ended).slice(0, 3)).toEqual(['settle', 'repair', 'evacuate']);
  });

  test('counts masses from a new weighing: a tank that was changed meanwhile is told, and not booked', () => {
    const { ended, plant } = mended({
      whole: true,
      happens: (now) => {
        now.tankKg += 1.2;
      },
    });
    expect(codes(ended)).toContain('tank-moved-in-repair');
    const booked = jobResult(ended).ledger.filter(({ movement }) => movement === 'tank-to-vehicle');
    expect(booked[0]!.massKg).toBeLessThan(0.8);
    expect(Math.abs(plant.vehicleKg - 0.6)).toBeLessThan(0.01);
    expect(codes(mended().ended)).not.toContain('tank-moved-in-repair');
  });
});

describe('Nobody is told to open a vehicle', () => {
  /** The vehicle changes when the stage begins, before it is looked at. */
  function entered(change: (plant: Plant) => void, options: Mischief = {}) {
    let seen = false;
    return mended({
      ...options,
      watch: (scan, plant) => {
        if (!inRepair(scan.state)) return undefined;
        if (!seen) change(plant);
        seen = true;
        return undefined;
      },
    });
  }

  test('that stands above the atmosphere: it is recovered again first', () => {
    const { ended, prompts } = entered((plant) => {
      plant.vehicleKg = 0.2;
    });
    expect(codes(ended)).toContain('repair-put-off');
    expect(visits(ended).slice(4, 8)).toEqual(['repair', 'recover', 'rest', 'repair']);
    expect(prompts).not.toContain('recover-again');
    expect(visits(ended)).toContain('evacuate');
  });

  test('that stays above the atmosphere whatever is drawn: the job says why and ends', () => {
    const { ended, prompts } = mended({
      watch: (scan, plant) => {
        if (inRepair(scan.state)) plant.vehicleKg = 0.2;
        return undefined;
      },
    });
    expect(codes(ended)).toContain('repair-refused');
    expect(prompts).not.toContain('repair-vehicle');
    expect(jobResult(ended).outcome).toBe('stopped');
    expect(visits(ended)).not.toContain('evacuate');
  });

  test('whose pressure no sensor tells', () => {
    const { ended, prompts } = mended({
      readings: (_, state) =>
        inRepair(state)
          ? {
              manifoldPressurePa: { ok: false, reason: 'open-circuit' },
              highSidePressurePa: { ok: false, reason: 'open-circuit' },
              lowSidePressurePa: { ok: false, reason: 'open-circuit' },
            }
          : {},
    });
    expect(codes(ended)).toContain('pressure-unknown');
    expect(prompts).not.toContain('repair-vehicle');
    expect(jobResult(ended).outcome).toBe('stopped');
  });

  test('above the atmosphere of a high mountain, though by the sea it would be below', () => {
    const high = (options: Mischief) =>
      entered((plant) => {
        plant.vehicleKg = (95_000 / 571_710) * 0.07;
      }, options);
    const mountain = high({ readings: () => ({ barometerPa: 78_000 }) });
    expect(codes(mountain.ended)).toContain('repair-put-off');
    expect(codes(high({}).ended)).not.toContain('repair-put-off');
  });
});

describe('Pressure that comes back while the repair is waited for', () => {
  test('withdraws the question, offers another recovery, and the vehicle is recovered by edge', () => {
    const { ended, prompts, unsafe } = mended({
      happens: (plant) => {
        plant.vehicleKg = 0.05;
      },
    });
    expect(codes(ended)).toContain('repair-pressure-back');
    const asked = prompts.filter((id) => id === 'repair-vehicle' || id === 'recover-again');
    expect(asked).toEqual(['repair-vehicle', 'recover-again', 'repair-vehicle']);
    expect(visits(ended).slice(4, 8)).toEqual(['repair', 'recover', 'rest', 'repair']);
    expect(unsafe).toEqual([]);
    expect(visits(ended)).toContain('evacuate');
  });

  test('a little of it, or a vehicle that is opened and comes to the atmosphere, does NOT', () => {
    for (const pressurePa of [101_000, 110_000]) {
      const { ended, prompts } = mended({
        happens: (plant) => {
          plant.vehicleKg = 0;
          plant.airPa = pressurePa;
        },
        // Gone again before anybody says that it is mended.
        events: (plant) => {
          if (plant.airPa === 110_000 && plant.nowMs % 30_000 === 0) plant.airPa = 101_000;
          return [];
        },
      });
      expect(codes(ended)).not.toContain('repair-pressure-back');
      expect(prompts).not.toContain('recover-again');
    }
  });

  test('is found with a coarse gauge too, whose zero was learnt when the stage began', () => {
    const offsetPa = 60_000;
    const coarse: RunOptions['readings'] = ({ vehicleKg, airPa, coupled }) => {
      const truePa = Math.min(571_710, (vehicleKg / 0.07) * 571_710) + airPa;
      return coupled ? { highSidePressurePa: truePa + offsetPa, lowSidePressurePa: truePa + offsetPa } : {};
    };
    const back = mended({
      readings: coarse,
      happens: (plant) => (plant.vehicleKg = 0.02),
      untilMs: 3_600_000,
    });
    expect(codes(back.ended)).toContain('repair-pressure-back');
    const calm = mended({ readings: coarse, untilMs: 3_600_000 });
    expect(codes(calm.ended)).not.toContain('repair-pressure-back');
  });

  test('above saturation is gas of a leak test: it is NOT offered for recovery, and the question comes back when it is let off', () => {
    const { ended, prompts } = mended({
      happens: (plant) => {
        plant.vehicleKg = 0;
        plant.airPa = 1_000_000;
      },
      events: (plant) => {
        if (plant.airPa === 1_000_000 && plant.nowMs % 50_000 === 0) plant.airPa = 100_000;
        return [];
      },
    });
    expect(codes(ended)).toContain('repair-foreign-pressure');
    expect(prompts).not.toContain('recover-again');
    expect(visits(ended)).toContain('evacuate');
  });
});

describe('The word that it is mended', () => {
  test('is not believed while the absolute sensor finds pressure: asked again, never evacuated', () => {
    const { ended } = mended({
      happens: (plant) => {
        plant.vehicleKg = 0;
        plant.airPa = 112_000;
      },
      untilMs: 2_400_000,
    });
    expect(codes(ended)).toContain('repair-under-pressure');
    expect(visits(ended)).not.toContain('evacuate');
    expect(ended.stage?.stage).toBe('repair');
  });

  test('waits for a sensor that is blind, and goes on when it reads again', () => {
    let told = false;
    const { ended } = mended({
      readings: (_, state) => {
        told ||= codes(state).includes('repair-unproven');
        const waiting = inRepair(state) && state.stage?.stage === 'repair' && state.stage.step !== 'look';
        return waiting && !told ? { manifoldPressurePa: { ok: false, reason: 'open-circuit' } } : {};
      },
    });
    expect(codes(ended)).toContain('repair-unproven');
    expect(visits(ended)).toContain('evacuate');
  });
});

describe('In the European Union', () => {
  const whole = (vehicleKg: number, ticket: Partial<Ticket> = {}) =>
    mended({
      plant: newPlant({ vehicleKg, airPa: vehicleKg === 0 ? 100_000 : 0 }),
      ticket: { repair: false, jurisdiction: 'eu', ...ticket },
    });

  test('a vehicle that has lost an abnormal amount is mended before it is refilled', () => {
    const { ended, prompts } = whole(0.45);
    expect(prompts).toContain('repair-vehicle');
    expect(jobResult(ended).repair).toMatchObject({ why: 'abnormal-loss' });
    const notice = jobResult(ended).notices.find(({ code }) => code === 'loss-abnormal')!;
    expect(notice.text).toContain('2006/40/EC, Article 6(3)');
    expect(notice.text).toContain('the ticket gives no age');
    expect(ended.plan.ticket.opened).toBe(false);
    expect(minimumMs({ plan: ended.plan, accounts: { ...ended.accounts, evacuations: 0 } })).toBe(
      ended.plan.evacuate.openedMs,
    );
  });

  test('and so is one that came empty', () => {
    const { ended, prompts } = whole(0);
    expect(prompts).toContain('repair-vehicle');
    expect(jobResult(ended).repair).toEqual({ why: 'came-empty', confirmedAtMs: expect.any(Number) });
  });

  test.each([
    { what: 'whose loss its age explains', vehicleKg: 0.45, ticket: { vehicleAgeYears: 4 } },
    { what: 'that has lost next to nothing', vehicleKg: 0.58, ticket: {} },
    { what: 'of which the ticket says that it is mended', vehicleKg: 0.3, ticket: { repaired: true } },
    { what: 'elsewhere', vehicleKg: 0.3, ticket: { jurisdiction: 'us' } as const },
  ])('a vehicle $what is NOT held up', ({ vehicleKg, ticket }) => {
    const { ended, prompts } = whole(vehicleKg, ticket);
    expect(prompts).not.toContain('repair-vehicle');
    expect(jobResult(ended).repair).toBeUndefined();
    expect(visits(ended)).toContain('evacuate');
  });

  const blockersOf = (ticket: Partial<Ticket>): readonly string[] => {
    const planned = planJob({ ...TICKET, ...ticket }, EQUIPMENT, R134A);
    return planned.ok ? [] : planned.blockers.map(({ code, text }) => `${code}: ${text}`);
  };

  test('an empty vehicle is charged only by a ticket that stands for its repair, and the refusal names its source', () => {
    const charge = { service: 'evacuate-and-charge', jurisdiction: 'eu' } as const;
    const refused = blockersOf(charge);
    expect(refused).toHaveLength(1);
    expect(refused[0]).toContain('repair-not-stated');
    expect(refused[0]).toContain('Directive 2006/40/EC, Article 6(3)');
    expect(blockersOf({ ...charge, repair: true })).toEqual([]);
    expect(blockersOf({ ...charge, repaired: true })).toEqual([]);
    expect(blockersOf({ ...charge, jurisdiction: 'none' })).toEqual([]);
    expect(blockersOf({ ...charge, jurisdiction: 'us' })).toEqual([]);
  });

  test('a repair in a service that evacuates nothing is refused by name', () => {
    expect(blockersOf({ service: 'recover', repair: true })[0]).toContain('repair-out-of-place');
  });
});

describe('The loss', () => {
  const judged = (vehicleAgeYears: number | undefined) =>
    lossOf(
      { ...planFor(), ticket: { ...TICKET, ...(vehicleAgeYears === undefined ? {} : { vehicleAgeYears }) } },
      { ...open().accounts, recoveredKg: 0.45, recoveredUncertaintyKg: 0.006 },
    )!;

  test('allows a tenth a year, compound, no age counting as one year and none above five', () => {
    expect(judged(undefined).allowedKg).toBeCloseTo(0.06, 12);
    expect(judged(4).allowedKg).toBeCloseTo(0.6 * (1 - 0.9 ** 4), 12);
    expect(judged(20).allowedKg).toBeCloseTo(0.6 * (1 - 0.9 ** 5), 12);
    expect(judged(0.5).allowedKg).toBeLessThan(0.06);
  });

  test('reckons with what recovery leaves, and doubts it: recovery, last fill and residue as a sum of squares', () => {
    expect(judged(1).missingKg).toBeCloseTo(0.6 - 0.45 - 0.012, 12);
    expect(judged(1).uncertaintyKg).toBeCloseTo(Math.hypot(0.006, 0.015, 0.012), 12);
  });
});

test('while it waits, the machine says what for, and how long its own part may still take', () => {
  let looked = false;
  mended({
    watch: ({ state, nowMs, commands }) => {
      if (!inRepair(state) || state.prompt === undefined) return undefined;
      const shown = progress(state, nowMs);
      expect(shown.waitingFor).toContain('Mend the vehicle');
      expect(shown.remainingMs!.high).toBeLessThan(4 * 3_600_000);
      expect(shown.remainingMs!.low).toBeGreaterThan(30 * 60_000);
      expect(commands).toEqual(SAFE_COMMANDS);
      looked = true;
      return true;
    },
  });
  expect(looked).toBe(true);
});
