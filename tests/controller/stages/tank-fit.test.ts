// Whether the tank on the scale suits the job: every reason at its limit and just beyond, with the figures that are told.
import { describe, expect, test } from 'vitest';
import type { Equipment } from '../../../controller/equipment.ts';
import { reserveNetKg } from '../../../controller/estimates/tank-liquid.ts';
import { tankUnfit } from '../../../controller/stages/tank-fit.ts';
import type { Ticket } from '../../../controller/ticket.ts';
import { type Given, scanOf } from '../support/charging.ts';
import { EQUIPMENT, R134A } from '../support/machine.ts';

type Scene = {
  readonly ticket: Partial<Ticket>;
  readonly tank?: Partial<Equipment['tank']>;
  readonly seen?: Given['seen'];
};

/** At rest and sound, at 20 °C: whatever a test finds unfit is of its own making. */
function unfit(netKg: number, { ticket, tank, seen }: Scene) {
  const equipment = { ...EQUIPMENT, tank: { ...EQUIPMENT.tank, ...tank } };
  return tankUnfit(scanOf({ ticket, equipment, seen: { ...seen } }), netKg);
}
const codes = (netKg: number, scene: Scene) => unfit(netKg, scene).map(({ code }) => code);

describe('A tank to recover into', () => {
  const ticket = { service: 'recover' } as const;

  test('has room for the charge and a kilogram more', () => {
    expect(codes(17.28 - 1.6001, { ticket })).toEqual([]);
    expect(unfit(17.28 - 1.5999, { ticket })).toEqual([
      { code: 'tank-too-full', with: { net: '15.68', limit: '17.28', needed: '1.60' } },
    ]);
  });

  test('fits where there is just as much', () => {
    const exact = { ticket: { ...ticket, nominalChargeKg: 0.5 }, tank: { fillLimitKg: 10 } };
    expect(codes(8.5, exact)).toEqual([]);
    expect(codes(8.5001, exact)).toEqual(['tank-too-full']);
  });

  test('needs no room for the charge of a vehicle that is only searched', () => {
    expect(codes(17.28 - 1.0001, { ticket: { service: 'leak-check' } })).toEqual([]);
    expect(codes(17.28 - 0.9999, { ticket: { service: 'leak-check' } })).toEqual(['tank-too-full']);
  });

  test('may be as empty as it likes', () => expect(codes(0, { ticket })).toEqual([]));
});

describe('A tank to charge from', () => {
  const ticket = { service: 'evacuate-and-charge' } as const;
  /** It warms by 3 K before the charge begins: a reserve of liquid at 23 °C, the charge, and what hoses keep of it. */
  const LEAST_KG = reserveNetKg(EQUIPMENT.tank, 296.15, R134A) + 0.6 + 0.0627 + 0.003;

  test('holds the charge and its reserve of liquid, as warm as it will be by then', () => {
    expect(codes(LEAST_KG + 0.001, { ticket })).toEqual([]);
    const [short] = unfit(LEAST_KG - 0.001, { ticket });
    expect(short!.code).toBe('tank-too-empty');
    expect(short!.with).toMatchObject({ charge: '0.67', reserve: '1.00', missing: '0.00' });
    expect(unfit(1.5, { ticket })[0]!.with).toMatchObject({ net: '1.50', missing: '0.80', liquid: '0.86' });
  });

  test('in a warmer room becomes as warm as that, and in a colder one stays as warm as it is', () => {
    const warm = reserveNetKg(EQUIPMENT.tank, 306.15, R134A) - reserveNetKg(EQUIPMENT.tank, 296.15, R134A);
    expect(warm).toBeGreaterThan(0.1);
    expect(codes(LEAST_KG + warm - 0.05, { ticket, seen: { ambientK: 303.15 } })).toEqual(['tank-too-empty']);
    expect(codes(LEAST_KG + 0.02, { ticket, seen: { ambientK: 293.15 } })).toEqual([]);
    expect(codes(LEAST_KG + 0.02, { ticket, seen: { ambientK: undefined } })).toEqual([]);
  });

  test('without a thermometer is reckoned as hot as it may be', () => {
    const seen = { tankTemperatureK: undefined };
    const hot = reserveNetKg(EQUIPMENT.tank, undefined, R134A) - reserveNetKg(EQUIPMENT.tank, 296.15, R134A);
    expect(codes(LEAST_KG + hot - 0.05, { ticket, seen })).toEqual(['tank-too-empty']);
    expect(codes(LEAST_KG + hot + 0.05, { ticket, seen })).toEqual([]);
    // 45 °C, 57 kg/m³ of vapour: the tank holds 1.2 kg of it, and so much less liquid.
    expect(unfit(1.5, { ticket, seen })[0]!.with).toMatchObject({ liquid: expect.stringMatching(/^0\.2/) });
  });

  test('needs no more than a search takes where nothing else is charged', () => {
    const least = reserveNetKg(EQUIPMENT.tank, 296.15, R134A) + 0.078;
    expect(codes(least + 0.001, { ticket: { service: 'leak-check' } })).toEqual([]);
    expect(codes(least - 0.001, { ticket: { service: 'leak-check' } })).toEqual(['tank-too-empty']);
  });
});

describe('A tank to fill', () => {
  const ticket = { service: 'fill-tank' } as const;

  test('has room for what is asked for, a quarter of a kilogram below its limit', () => {
    const asked = { ticket: { ...ticket, fillKg: 2 } };
    expect(codes(17.28 - 0.25 - 2.0001, asked)).toEqual([]);
    expect(unfit(17.28 - 0.25 - 1.9999, asked)).toEqual([
      {
        code: 'tank-without-room',
        with: { net: '15.03', margin: '0.25', limit: '17.28', room: '2.00', wanted: '2.00' },
      },
    ]);
  });

  test('or just as much', () => {
    expect(codes(7.75, { ticket: { ...ticket, fillKg: 2 }, tank: { fillLimitKg: 10 } })).toEqual([]);
  });

  test('or for anything worth filling', () => {
    expect(codes(17.28 - 0.25 - 0.1001, { ticket })).toEqual([]);
    expect(codes(17.28 - 0.25 - 0.0999, { ticket })).toEqual(['tank-without-room']);
    expect(unfit(17.2, { ticket })[0]!.with).toMatchObject({ room: '0.00' });
  });
});

describe('What the tank holds', () => {
  const ticket = { service: 'recover' } as const;
  /** Gauge and thermometer: 5 kPa, and 0.3 K of a curve that rises by some 17.6 kPa/K at 20 °C. */
  const DOUBT_PA = 3 * Math.hypot(5_000, 0.3 * 17_400);

  test('is air as well where it stands beyond doubt above saturation', () => {
    const at = (overPa: number) => codes(8, { ticket, seen: { tankPa: 571_710 + overPa } });
    const limitPa = scanOf().plan.settle.tankAirPa + DOUBT_PA;
    expect(at(limitPa - 500)).toEqual([]);
    expect(at(limitPa + 500)).toEqual(['air-in-tank']);
    const [found] = unfit(8, { ticket, seen: { tankPa: 771_710 } });
    expect(found!.with).toMatchObject({ excess: expect.stringMatching(/^17\d$/) });
  });

  test('is something else, or no liquid, where it stands beyond doubt below', () => {
    const at = (underPa: number) => codes(8, { ticket, seen: { tankPa: 571_710 - underPa } });
    const limitPa = scanOf().plan.settle.tankUnderPa + DOUBT_PA;
    expect(at(limitPa - 500)).toEqual([]);
    expect(at(limitPa + 500)).toEqual(['tank-below-saturation']);
    expect(unfit(8, { ticket, seen: { tankPa: 400_000 } })[0]!.with).toMatchObject({ refrigerant: 'R-134a' });
  });

  test('is not judged of a cylinder for contaminated refrigerant', () => {
    const tank = { contaminated: true };
    const scene = { ticket: { ...ticket, refrigerant: 'R-134a' }, seen: { tankPa: 900_000 } };
    const equipment = { ...EQUIPMENT, tank: { ...EQUIPMENT.tank, ...tank } };
    const input = scanOf(scene);
    expect(tankUnfit({ ...input, equipment }, 8).map(({ code }) => code)).toEqual([]);
    expect(tankUnfit(input, 8).map(({ code }) => code)).toEqual(['air-in-tank']);
  });
});

describe('A tank that the last job left', () => {
  const ticket = { service: 'recover' } as const;
  const { tankKeepsKg, scaleWarmsK } = scanOf().plan.settle;
  const KEEPS_KG = tankKeepsKg + 3 * 0.001 * scaleWarmsK;
  const found = (netKg: number) => unfit(netKg, { ticket, tank: { lastNetKg: 8 } });

  test('is another, or something lies on it, where it has become heavier or lighter than a scale drifts', () => {
    for (const way of [1, -1]) {
      expect(found(8 + way * (KEEPS_KG - 1e-4))).toEqual([]);
      expect(found(8 + way * (KEEPS_KG + 1e-4)).map(({ code }) => code)).toEqual(['tank-exchanged']);
    }
  });

  test('is told with which way it went', () => {
    expect(found(9)[0]!.with).toEqual({ net: '9.00', last: '8.00', moved: '1.00', direction: 'more' });
    expect(found(7)[0]!.with).toEqual({ net: '7.00', last: '8.00', moved: '1.00', direction: 'less' });
  });
});
