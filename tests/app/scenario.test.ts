import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, expect, test } from 'vitest';
import { InputError } from '../../app/cli/command.ts';
import { readScenario, toScenario } from '../../app/scenario/scenario.ts';

const TICKET = { refrigerant: 'R-134a', nominalChargeG: 600 };
const VEHICLE = { chargeG: 500 };
const minimal = { ticket: TICKET, vehicle: VEHICLE };

const folder = mkdtempSync(path.join(tmpdir(), 'coldbench-scenario-'));
afterAll(() => rmSync(folder, { recursive: true }));

function refusal(attempt: () => unknown): string {
  try {
    attempt();
  } catch (error) {
    expect(error).toBeInstanceOf(InputError);
    const { message } = error as InputError;
    expect(message).not.toContain('\n');
    return message;
  }
  throw new Error('it was accepted');
}

const refused = (scenario: unknown): string => refusal(() => toScenario(scenario, 'x.json'));

const WRONG: readonly [string, unknown, readonly string[]][] = [
  ['an unknown key at the top', { ...minimal, wether: {} }, ['wether', 'did you mean weather?']],
  [
    'a misspelt key, before the gap it leaves',
    { ticket: { refrigerant: 'R-134a', nominalCharge: 600 }, vehicle: VEHICLE },
    ['ticket.nominalCharge', 'did you mean nominalChargeG?'],
  ],
  [
    'a key of the other services where the tank is filled',
    { ticket: { ...TICKET, service: 'fill-tank' } },
    ['ticket.nominalChargeG does not belong to the service fill-tank; take it out'],
  ],
  [
    'a vehicle where the tank is filled',
    { ticket: { refrigerant: 'R-134a', service: 'fill-tank' }, vehicle: VEHICLE },
    ['vehicle does not belong to the service fill-tank; take it out'],
  ],
  [
    'a misspelt key in the equipment',
    { ...minimal, equipment: { profil: 'good' } },
    ['equipment.profil', 'profile'],
  ],
  [
    'a misspelt key in the build',
    { ...minimal, build: { scaleNoise: 0.1 } },
    ['build.scaleNoise', 'scaleNoiseKg'],
  ],
  [
    'kelvin for celsius',
    { ...minimal, vehicle: { chargeG: 500, temperatureC: 290 } },
    ['vehicle.temperatureC', 'kelvin', '16.85'],
  ],
  [
    'fahrenheit for celsius',
    { ...minimal, weather: { ambientC: 68 } },
    ['weather.ambientC', 'Fahrenheit', '20'],
  ],
  [
    'millilitres for litres',
    { ...minimal, vehicle: { chargeG: 500, volumeL: 2500 } },
    ['vehicle.volumeL', 'millilitres', '2.5'],
  ],
  [
    'kilograms for grams',
    { ...minimal, ticket: { ...TICKET, nominalChargeG: 0.6 } },
    ['ticket.nominalChargeG', 'kilograms', '600'],
  ],
  [
    'pounds or kilograms for grams, of which nobody but the label tells',
    { ...minimal, ticket: { ...minimal.ticket, nominalChargeG: 1.5 } },
    ['kilograms: write 1500', 'pounds: write 680.39'],
  ],
  [
    'ounces for grams',
    { ...minimal, ticket: { ...minimal.ticket, nominalChargeG: 24 } },
    ['ounces: write 680.39'],
  ],
  [
    'a name that turns the rest of its line around',
    { ...minimal, name: 'a \u202ecar' },
    ['name', 'one line of text'],
  ],
  ['a name of two lines', { ...minimal, name: 'a\u2028car' }, ['name', 'one line of text']],
  ['grams for kilograms', { ...minimal, tank: { contentKg: 9000 } }, ['tank.contentKg', 'grams', '9']],
  [
    'hectopascal',
    { ...minimal, weather: { barometerPa: 1013 } },
    ['weather.barometerPa', 'hectopascal', '101300'],
  ],
  ['per cent', { ...minimal, weather: { relativeHumidity: 50 } }, ['weather.relativeHumidity', '0.5']],
  ['a negative mass', { ...minimal, vehicle: { chargeG: -5 } }, ['vehicle.chargeG', '-5', 'negative']],
  [
    'text for a number',
    { ...minimal, vehicle: { chargeG: '500 g' } },
    ['vehicle.chargeG', 'number in g', '500 g'],
  ],
  ['a number beyond all numbers', JSON.parse('{"ticket":{},"vehicle":{"chargeG":1e999}}'), ['more problem']],
  [
    'a refrigerant that is not there',
    { ...minimal, ticket: { ...TICKET, refrigerant: 'R-22' } },
    ['R-22', 'R-134a'],
  ],
  [
    'two refrigerants',
    {
      ...minimal,
      vehicle: { ...VEHICLE, refrigerant: 'R-134a' },
      tank: { refrigerant: 'R-1234yf' },
    },
    ['vehicle.refrigerant', 'tank.refrigerant', 'not built'],
  ],
  ['no ticket', { vehicle: VEHICLE }, ['ticket', 'missing']],
  ['no vehicle', { ticket: TICKET }, ['vehicle', 'missing']],
  ['null for an object', { ...minimal, weather: null }, ['weather', 'object']],
  ['a list for the scenario', [], ['must be one JSON object']],
  ['three ports', { ...minimal, ticket: { ...TICKET, ports: 3 } }, ['ticket.ports', '1 or 2']],
  ['an unknown service', { ...minimal, ticket: { ...TICKET, service: 'hole' } }, ['ticket.service', 'whole']],
  ['an unknown profile', { ...minimal, equipment: 'perfect' }, ['equipment.profile', 'hobby', 'perfect']],
  ['a broken seed', { ...minimal, seed: 1.5 }, ['seed', 'whole number']],
  ['a name over two lines', { ...minimal, name: 'a\nb' }, ['name', 'one line']],
];

test.each(WRONG)('%s is refused in one line that names the key', (_, scenario, words) => {
  const message = refused(scenario);
  expect(message).toMatch(/^x\.json: /);
  for (const word of words) expect(message).toContain(word);
});

test('display units become SI once', () => {
  const scenario = toScenario(
    {
      ...minimal,
      weather: { ambientC: 25 },
      vehicle: { chargeG: 500, volumeL: 3, temperatureC: 10, airG: 2 },
      equipment: { profile: 'hobby', highHoseVolumeMl: 40, tankTemperatureLimitC: 40 },
      operator: { delayS: 3 },
    },
    'x.json',
  );
  expect(scenario.vehicle).toMatchObject({
    chargeKg: 0.5,
    volumeM3: 0.003,
    temperatureK: 283.15,
    airKg: 0.002,
  });
  expect(scenario.weather.ambientK).toBe(298.15);
  expect(scenario.ticket.nominalChargeKg).toBeCloseTo(0.6, 12);
  expect(scenario.equipment).toMatchObject({ profile: 'hobby', tankTemperatureLimitK: 313.15 });
  expect(scenario.equipment.highHoseVolumeM3).toBeCloseTo(40e-6, 15);
  expect(scenario.operatorDelayMs).toBe(3000);
});

test('oil and engine come through: millilitres to cubic metres, and nobody starts an engine unasked', () => {
  const oily = toScenario(
    {
      ...minimal,
      ticket: { ...TICKET, engine: 'can-run', oil: { kind: 'POE', addMl: 15 } },
      vehicle: { chargeG: 500, oilG: 120 },
      equipment: { oilFlowMlPerSPerBar: 5, oilLineFilmMl: 1 },
    },
    'x.json',
  );
  expect(oily.ticket.engine).toBe('can-run');
  expect(oily.ticket.oil.kind).toBe('POE');
  expect(oily.ticket.oil.addM3).toBeCloseTo(15e-6, 12);
  expect(oily.vehicle!.oil.kg).toBeCloseTo(0.12, 12);
  expect(oily.equipment.oilKind).toBe('POE');
  expect(oily.equipment.oilFlowM3PerSPa).toBeCloseTo(5e-11, 18);
  const plain = toScenario(minimal, 'x.json');
  expect(plain.ticket).toMatchObject({ engine: 'cannot-run', oil: { kind: 'PAG', addM3: 0 } });
});

test('dye comes through: none unless asked for, nowhere approved unless said, and a bottle as it is typed', () => {
  const dyed = toScenario(
    {
      ...minimal,
      ticket: { ...TICKET, dyeMl: 7.5, dyeApproved: true },
      equipment: { dyeBottleMl: 20, dyeFlowMlPerSPerBar: 4 },
    },
    'x.json',
  );
  expect(dyed.ticket.dye.addM3).toBeCloseTo(7.5e-6, 12);
  expect(dyed.ticket.dye.approved).toBe(true);
  expect(dyed.equipment.dyeBottleM3).toBeCloseTo(20e-6, 12);
  expect(dyed.equipment.dyeFlowM3PerSPa).toBeCloseTo(4e-11, 18);
  expect(toScenario(minimal, 'x.json').ticket.dye).toEqual({ addM3: 0, approved: false });
  expect(refused({ ...minimal, ticket: { ...TICKET, dyeMl: 51 } })).toContain('ticket.dyeMl');
});

test('what is left out follows the ticket and the weather', () => {
  const scenario = toScenario(
    { ...minimal, ticket: { ...TICKET, refrigerant: 'r1234YF', ports: 1 }, weather: { ambientC: 31 } },
    'x.json',
  );
  expect(scenario.ticket.refrigerant).toBe('R-1234yf');
  expect(scenario.vehicle).toMatchObject({ refrigerant: 'R-1234yf', temperatureK: 304.15, ports: 1 });
  expect(scenario.tank).toMatchObject({ refrigerant: 'R-1234yf', temperatureK: 304.15 });
  expect(scenario.build).toEqual({});
});

test('a vehicle without refrigerant is full of air, unless the air is given', () => {
  const empty = toScenario(
    { ...minimal, vehicle: { chargeG: 0, volumeL: 2.5 }, weather: { ambientC: 20 } },
    'x.json',
  );
  // Dry air at 20 °C and 101325 Pa: 1.204 kg/m³ (US Standard Atmosphere, 1976).
  expect(empty.vehicle!.airKg / 0.0025).toBeCloseTo(1.204, 3);
  const given = toScenario({ ...minimal, vehicle: { chargeG: 0, airG: 1 } }, 'x.json');
  expect(given.vehicle!.airKg).toBe(0.001);
  expect(toScenario(minimal, 'x.json').vehicle!.airKg).toBe(0);
});

test('oil and free water leave less air in an open vehicle, so that it stands at the barometer', () => {
  const airKgWith = (more: object) =>
    toScenario(
      { ...minimal, vehicle: { chargeG: 0, volumeL: 2.5, ...more }, weather: { ambientC: 20 } },
      'x.json',
    ).vehicle!.airKg;
  // 97 g of oil at 0.97 kg/L leave 2.4 L; saturated steam at 20 °C has 2339 Pa (steam tables, IAPWS-95).
  expect(airKgWith({ oilG: 97 }) / airKgWith({})).toBeCloseTo(2.4 / 2.5, 6);
  expect(airKgWith({ waterG: 10 }) / airKgWith({})).toBeCloseTo((101_325 - 2339) / 101_325, 5);
});

function file(name: string, text: string): string {
  const where = path.join(folder, name);
  writeFileSync(where, text);
  return where;
}

test('a file that is not there, a directory and an empty file are refused with the remedy', () => {
  expect(refusal(() => readScenario(path.join(folder, 'none.json')))).toContain('no such file');
  expect(refusal(() => readScenario(folder))).toContain('is a directory');
  expect(refusal(() => readScenario(file('empty.json', ' \n')))).toContain('empty');
});

test.each([
  ['{"ticket": {},\n "vehicle": }', 'line 2, column 13'],
  ['{"ticket": {},}', 'line 1, column 15'],
  ["{'ticket': {}}", 'line 1, column 2'],
  ['{"ticket": {}', 'the file ends'],
  ['{} {}', 'line 1, column 4'],
  ['// no\n{}', 'line 1, column 1'],
  ['tru', 'line 1, column 1'],
])('%j is refused with the place where it stops being JSON', (text, place) => {
  expect(refusal(() => readScenario(file('broken.json', text)))).toContain(place);
});

test('a line break inside a text is found where it stands', () => {
  expect(refusal(() => readScenario(file('broken.json', '{"name": "a\nb"}')))).toContain('line 1, column 10');
});
