// Every reason for which a ticket is refused: up to where it is none, and in words that help.
import { describe, expect, test } from 'vitest';
import { ROOM_K } from '../../controller/constants.ts';
import type { Equipment } from '../../controller/equipment.ts';
import { reserveNetKg } from '../../controller/estimates/tank-liquid.ts';
import type { Blocker } from '../../controller/notice.ts';
import { planJob } from '../../controller/plan.ts';
import type { Ticket } from '../../controller/ticket.ts';
import { EQUIPMENT, OIL_EQUIPMENT, R134A, R1234YF, TICKET } from './support/machine.ts';

const refusals = (
  ticket: Partial<Ticket>,
  equipment: Equipment = EQUIPMENT,
  curve = R134A,
): readonly Blocker[] => {
  const planned = planJob({ ...TICKET, ...ticket }, equipment, curve);
  return planned.ok ? [] : planned.blockers;
};
const codes = (ticket: Partial<Ticket>, equipment?: Equipment): string[] =>
  refusals(ticket, equipment).map(({ code }) => code);
/** Of the only reason there is. */
function words(...asked: Parameters<typeof refusals>): string {
  const blockers = refusals(...asked);
  expect(blockers).toHaveLength(1);
  return `${blockers[0]!.text} → ${blockers[0]!.remedy}`;
}
const POE = { oil: { kind: 'POE', addM3: 0 } } as const;
const ELECTRIC = { electricCompressor: true, ...POE } as const;
const FILL = { service: 'fill-tank', nominalChargeKg: 0 } as const;

describe('A figure that is none is asked for by its name', () => {
  const { tank, scale, hoses, pressure, compressor, vacuumPump } = OIL_EQUIPMENT;
  const nan = Number.NaN;
  const WITHOUT: readonly (readonly [string, Partial<Equipment>])[] = [
    ['the tank capacity', { tank: { ...tank, waterCapacityM3: nan } }],
    ['the tank fill limit', { tank: { ...tank, fillLimitKg: nan } }],
    ['the tank reserve', { tank: { ...tank, reserveKg: nan } }],
    ['the scale factor', { scale: { ...scale, countsPerKg: nan } }],
    ['the scale noise', { scale: { ...scale, noiseKg: nan } }],
    ['the high-side hose volume', { hoses: { ...hoses, highVolumeM3: nan } }],
    ['the low-side hose volume', { hoses: { ...hoses, lowVolumeM3: nan } }],
    ['the manifold volume', { hoses: { ...hoses, manifoldVolumeM3: nan } }],
    ['the manifold sensor span', { pressure: { ...pressure, manifoldSpanPa: nan } }],
    ['the tank sensor span', { pressure: { ...pressure, tankSpanPa: nan } }],
    ['the high-pressure cut-out', { compressor: { ...compressor, cutOutPa: nan } }],
    ["the compressor's displacement", { compressor: { ...compressor, sweptM3PerS: nan } }],
    ["the condenser's volume", { compressor: { ...compressor, condenserM3: nan } }],
    ["the separator's volume", { separatorM3: nan }],
    ['the pump opening limit', { vacuumPump: { ...vacuumPump, openLimitPa: nan } }],
    ['the flow of oil', { oil: { ...OIL_EQUIPMENT.oil!, flowM3PerSPa: nan } }],
    ['the flow of dye', { dye: { ...OIL_EQUIPMENT.dye!, flowM3PerSPa: nan } }],
  ];

  test.each(WITHOUT)('%s', (name, without) =>
    expect(refusals({}, { ...OIL_EQUIPMENT, ...without })).toEqual([
      {
        code: 'figure-missing',
        text: `No usable figure for ${name}.`,
        remedy: `Give ${name} as a positive number.`,
      },
    ]),
  );

  test('the nominal charge, but NOT of a tank that is filled', () => {
    expect(words({ nominalChargeKg: 0 })).toContain('No usable figure for the nominal charge.');
    expect(refusals(FILL)).toEqual([]);
  });

  test('saturation data, by the refrigerant', () => {
    const blockers = refusals({}, EQUIPMENT, { ...R134A, temperatureK: [] });
    expect(blockers[0]).toMatchObject({ code: 'curve-missing', text: 'No saturation data for R-134a.' });
    expect(blockers[0]!.remedy).toMatch(/at least two temperatures/);
  });
});

describe('A charge', () => {
  test('below 50 g or above 20 kg is a misread label', () => {
    expect(codes({ nominalChargeKg: 0.05 })).toEqual([]);
    expect(words({ nominalChargeKg: 0.04 })).toMatch(
      /^A nominal charge of 40 g is outside 50 g to 20000 g\. → Read .* label again/,
    );
    const large = { ...EQUIPMENT, tank: { ...EQUIPMENT.tank, fillLimitKg: 100 } };
    expect(codes({ nominalChargeKg: 20 }, large)).toEqual([]);
    expect(codes({ nominalChargeKg: 20.1 }, large)).toEqual(['charge-implausible']);
  });

  test('may fill the tank to its limit with what must stay in it, and NO further', () => {
    const leastKg = reserveNetKg(EQUIPMENT.tank, ROOM_K, R134A);
    const limited = (fillLimitKg: number) => ({ ...EQUIPMENT, tank: { ...EQUIPMENT.tank, fillLimitKg } });
    expect(codes({}, limited(leastKg + 0.6))).toEqual([]);
    expect(words({}, limited(leastKg + 0.5999))).toMatch(
      /^The charge and the 1\.6 kg .*\(1\.0 kg as liquid .* limit of 2\.2 kg\. → Use a larger tank/,
    );
  });
});

describe('A filling', () => {
  const fill = (fillKg?: number, cylinderKg?: number) => ({
    ...FILL,
    ...(fillKg === undefined ? {} : { fillKg }),
    ...(cylinderKg === undefined ? {} : { cylinderKg }),
  });

  test('is worth the connection from 100 g on, and keeps 250 g below the limit', () => {
    for (const kg of [0.1, 5, 17.28 - 0.25]) expect(codes(fill(kg))).toEqual([]);
    expect(codes(fill(17.04))).toEqual(['fill-implausible']);
    expect(codes(fill(Number.NaN))).toEqual(['fill-implausible']);
    expect(words(fill(0.09))).toMatch(
      /^0\.09 kg to be filled is outside 0\.1 kg to 17\.03 kg: the tank may hold 17\.3 kg, and 0\.25 kg .* → Ask for what/,
    );
  });

  test('takes no more than the cylinder holds', () => {
    expect(codes(fill(5, 5))).toEqual([]);
    expect(codes(fill(undefined, 5))).toEqual([]);
    expect(codes(fill(5.01, 5))).toEqual(['fill-above-cylinder']);
    expect(words(fill(5.01, 5))).toMatch(
      /^5\.01 kg are to be filled, and the cylinder holds 5\.00 kg\. → Ask for less/,
    );
    expect(words(fill(5, 0))).toMatch(
      /^No usable figure for the cylinder's content\. → Give its net content/,
    );
  });

  test('needs neither the low-side valve nor what charges a vehicle', () => {
    const bare: Equipment = { ...EQUIPMENT, fitted: ['highSideValve', 'recoveryValve', 'compressor'] };
    expect(codes(FILL, bare)).toEqual([]);
    expect(codes({ service: 'recover' }, bare)).toEqual(['output-not-fitted']);
    expect(words({ service: 'recover' }, bare)).toMatch(
      /^The service needs lowSideValve, which .* → Fit lowSideValve or choose/,
    );
  });
});

describe('A repair', () => {
  test('belongs between a recovery and an evacuation, and is refused by name elsewhere', () => {
    for (const service of ['whole', 'evacuate-and-charge'] as const)
      expect(codes({ repair: true, service })).toEqual([]);
    for (const service of ['recover', 'leak-check', 'fill-tank'] as const)
      expect(codes({ repair: true, service })).toEqual(['repair-out-of-place']);
    expect(words({ repair: true, service: 'recover' })).toMatch(
      /service recover evacuates nothing\. → Choose the service whole/,
    );
  });

  test('must be stated in the European Union before an empty vehicle is charged, and only there', () => {
    const empty = { service: 'evacuate-and-charge', jurisdiction: 'eu' } as const;
    expect(codes(empty)).toEqual(['repair-not-stated']);
    expect(words(empty)).toMatch(/may not be refilled .*2006\/40\/EC.* → Mend it within this job/);
    expect(codes({ ...empty, repair: true })).toEqual([]);
    expect(codes({ ...empty, repaired: true })).toEqual([]);
    expect(codes({ ...empty, jurisdiction: 'us' })).toEqual([]);
    expect(codes({ ...empty, service: 'whole' })).toEqual([]);
  });
});

test('An engine warms a vehicle before a recovery, whether a charge follows or not', () => {
  const warm = { warmUp: true, engine: 'can-run' } as const;
  for (const service of ['whole', 'recover'] as const) expect(codes({ ...warm, service })).toEqual([]);
  expect(words({ warmUp: true })).toMatch(/wants the engine to warm .* → Leave the warming out/);
});

describe('The words of a refusal', () => {
  test('name what conducts in an electric compressor, and what to read off it', () =>
    expect(words({ electricCompressor: true })).toMatch(/PAG conducts, .* → Read the kind of oil off/));

  test('name contaminated refrigerant in the tank or in the machine', () => {
    const cylinder = { ...EQUIPMENT, tank: { ...EQUIPMENT.tank, contaminated: true } };
    expect(words({ service: 'whole' }, cylinder)).toMatch(
      /labelled for contaminated refrigerant, and the service whole needs .* → Choose the service recover/,
    );
    expect(words({}, { ...EQUIPMENT, uncleaned: true })).toMatch(
      /has not been cleaned: .* → Change the filter/,
    );
  });

  test('name the refrigerant of the tank, of the ticket and of the saturation data', () => {
    const wrong = { refrigerant: 'R-1234yf' };
    expect(words(wrong, EQUIPMENT, R1234YF)).toMatch(
      /^The tank holds R-134a, the ticket asks for R-1234yf\. → Use a machine whose tank holds R-1234yf/,
    );
    expect(words({}, EQUIPMENT, R1234YF)).toMatch(
      /^The saturation data are of R-1234yf, the ticket asks for R-134a\. → Plan with the .* of R-134a/,
    );
  });
});

describe('Oil and dye', () => {
  const poe: Equipment = { ...OIL_EQUIPMENT, oil: { ...OIL_EQUIPMENT.oil!, kind: 'POE' } };
  const oil = (ml: number, kind: 'PAG' | 'POE' = 'PAG') => ({ oil: { kind, addM3: ml * 1e-6 } });
  const dye = (ml: number) => ({ dye: { addM3: ml * 1e-6, approved: false } });

  test('are refused in words that name the bottle and what the vehicle takes', () => {
    expect(words({ ...ELECTRIC, ...oil(15, 'POE') }, OIL_EQUIPMENT)).toMatch(
      /^The oil bottle holds PAG, .* conducts.* → Use a machine that holds POE alone/,
    );
    const said = refusals({ electricCompressor: true, ...oil(15) }, OIL_EQUIPMENT);
    expect(said.find(({ code }) => code === 'oil-unfit')!.remedy).toContain(
      "holds the vehicle's own oil alone",
    );
    expect(words(oil(15), poe)).toMatch(
      /^The oil bottle holds POE, the ticket asks for PAG\. → Use a machine with PAG in its bottle/,
    );
    expect(words({ ...ELECTRIC, ...dye(8) }, poe)).toMatch(
      /carries a dye may conduct: .* → Leave the dye at 0/,
    );
  });

  test('may be all that a bottle may ever give, and NO drop more', () => {
    expect(codes(oil(500), OIL_EQUIPMENT)).toEqual([]);
    expect(words(oil(501), OIL_EQUIPMENT)).toMatch(
      /^An oil allowance of 501 mL is outside 0 mL to 500 mL\. → Give the allowance/,
    );
    // Oil has wetted the line before, so that none of the dye stays in it.
    expect(codes({ ...oil(15), ...dye(50) }, OIL_EQUIPMENT)).toEqual([]);
    expect(words(dye(51), OIL_EQUIPMENT)).toMatch(
      /^A dose of dye of 51 mL is outside 0 mL to 50 mL\. → Give/,
    );
  });

  test('of which the bottle holds less are refused with both volumes, and with the film of a dry line', () => {
    const bottle = { ...OIL_EQUIPMENT, dye: { ...OIL_EQUIPMENT.dye!, bottleM3: 8e-6 } };
    const line = / and 2 mL for the walls of its line/;
    expect(words(dye(7.5), bottle)).toMatch(line);
    expect(words(dye(7.5), bottle)).toMatch(
      /^The ticket asks for 7\.5 mL of dye and .*, and its bottle holds 8 mL\. → Fill the bottle/,
    );
    expect(words({ ...oil(15), ...dye(8.5) }, bottle)).toMatch(/asks for 8\.5 mL of dye, and its bottle/);
    // Figures in millilitres do not sum exactly: less than a drop is nothing.
    const drop = { dye: { addM3: 8e-6 + 1e-9, approved: false } };
    expect(codes({ ...oil(15), ...drop }, bottle)).toEqual([]);
  });

  test('that no service adds, or no figure is known for, are refused with what to leave out', () => {
    expect(words({ service: 'recover', ...dye(8) }, OIL_EQUIPMENT)).toMatch(
      /asks for dye, but the service recover adds none: dye goes .* → Leave the dye at 0, or choose/,
    );
    const { oil: _, ...unknown } = OIL_EQUIPMENT;
    expect(codes({ ...ELECTRIC, ...oil(15, 'POE') }, unknown)).toEqual(['figure-missing']);
    expect(words(oil(15), unknown)).toMatch(
      /nothing is known .* → Measure the machine's oil flow and line film, or leave the oil allowance at 0/,
    );
  });
});
