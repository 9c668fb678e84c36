import { expect, test } from 'vitest';
import { InputError } from '../../app/cli/command.ts';
import { fluidData, prepare } from '../../app/run/prepare.ts';
import { equipmentFor, fillLimitKg, reserveKg } from '../../app/scenario/equipment.ts';
import { toScenario } from '../../app/scenario/scenario.ts';
import { reserveNetKg } from '../../controller/estimates/tank-liquid.ts';
import type { SaturationCurve } from '../../controller/saturation.ts';

const r134a = fluidData('R-134a');
const tank = { refrigerant: 'R-134a', contentKg: 10, waterCapacityM3: 0.0216, temperatureK: 293, airKg: 0 };

test('the saturation table holds published values', () => {
  // Tillner-Roth and Baehr, J. Phys. Chem. Ref. Data 23 (1994) 657: R-134a at 0 °C and at 20 °C.
  const { temperatureK, pressurePa, liquidDensityKgPerM3, vapourDensityKgPerM3 } = r134a.curve;
  const at = (celsius: number) =>
    temperatureK.findIndex((kelvin) => Math.abs(kelvin - 273.15 - celsius) < 1e-6);
  expect(pressurePa[at(0)]! / 1e5).toBeCloseTo(2.928, 3);
  expect(pressurePa[at(20)]! / 1e5).toBeCloseTo(5.7171, 3);
  expect(liquidDensityKgPerM3[at(20)]).toBeCloseTo(1225.3, 0);
  expect(vapourDensityKgPerM3[at(20)]).toBeCloseTo(27.78, 1);
});

test('linear interpolation of ln p over 1/T between two rows is good to 5e-6', () => {
  const { temperatureK, pressurePa } = r134a.curve;
  for (let row = 1; row < temperatureK.length - 1; row++) {
    const [x0, x1, x2] = [row - 1, row, row + 1].map((index) => 1 / temperatureK[index]!) as [
      number,
      number,
      number,
    ];
    const [y0, y1, y2] = [row - 1, row, row + 1].map((index) => Math.log(pressurePa[index]!)) as [
      number,
      number,
      number,
    ];
    const skipped = y0 + ((y2 - y0) * (x1 - x0)) / (x2 - x0);
    // Twice the step has four times the error.
    expect(Math.abs(skipped - y1) / 4).toBeLessThan(5e-6);
  }
});

test('a 21.6 L tank may hold 17.28 kg of either refrigerant: the older convention decides', () => {
  expect(fillLimitKg(0.0216, r134a.curve)).toBeCloseTo(17.28, 6);
  expect(fillLimitKg(0.0216, fluidData('R-1234yf').curve)).toBeCloseTo(17.28, 6);
});

test('a light refrigerant is limited by its liquid density, not by the older convention', () => {
  const light: SaturationCurve = {
    ...r134a.curve,
    liquidDensityKgPerM3: r134a.curve.liquidDensityKgPerM3.map((density) => density * 0.4),
  };
  // 0.8 · 1206.7 · 0.4 = 386.1 and 0.95 · 1102.3 · 0.4 = 418.9 kg/m³.
  expect(fillLimitKg(0.01, light)).toBeCloseTo(3.861, 2);
});

test('the usual tank keeps the usual kilogram at 20 °C, 0.41 kg of it liquid, and more in the heat', () => {
  const { tank: built } = equipmentFor({ profile: 'good' }, tank, r134a.curve);
  expect(built.reserveKg).toBeCloseTo(0.409, 3);
  expect(reserveNetKg(built, 293.15, r134a.curve)).toBeCloseTo(1, 9);
  // 0.409 kg of liquid, and 21.25 L of vapour of 43.4 kg/m³ over it.
  expect(reserveNetKg(built, 308.15, r134a.curve)).toBeCloseTo(1.332, 2);
});

test('a large tank, where a kilogram is vapour alone, keeps 0.4 kg of liquid', () => {
  expect(reserveKg(0.06, r134a.curve)).toBe(0.4);
});

test('no tank is drawn below the usual kilogram, however small or cold it is and whatever it holds', () => {
  for (const { curve } of [r134a, fluidData('R-1234yf')]) {
    for (let waterCapacityM3 = 0.002; waterCapacityM3 < 0.1; waterCapacityM3 *= 1.3) {
      const { tank: built } = equipmentFor({ profile: 'good' }, { ...tank, waterCapacityM3 }, curve);
      for (const temperatureK of [253.15, 283.15, 313.15, undefined]) {
        expect(reserveNetKg(built, temperatureK, curve)).toBeGreaterThan(1 - 1e-9);
      }
    }
  }
});

test('the scenario overrides the profile, key by key', () => {
  const equipment = equipmentFor(
    { profile: 'hobby', reserveKg: 2, lowHoseVolumeM3: 5e-5 },
    tank,
    r134a.curve,
  );
  expect(equipment).toMatchObject({
    name: 'hobby',
    tank: { reserveKg: 2, fillLimitKg: expect.closeTo(17.28, 6) },
    hoses: { lowVolumeM3: 5e-5, volumeRelativeSd: 0.08 },
    valveDeadTimeMs: 80,
  });
  expect(equipment.pressure).not.toHaveProperty('vehicleVacuumRelativeSd');
  expect(equipmentFor({ profile: 'good' }, tank, r134a.curve).pressure.vehicleVacuumRelativeSd).toBe(0.1);
});

test.each([
  [{ chargeG: 1300, volumeL: 1 }, {}, ['vehicle.chargeG 1300', 'vehicle.volumeL 1']],
  [
    { chargeG: 500 },
    { contentKg: 27, waterCapacityL: 21.6 },
    ['tank.contentKg 27', 'tank.waterCapacityL 21.6'],
  ],
  [{ chargeG: 500, oilG: 600 }, {}, ['vehicle.oilG 600', 'at most 485 g']],
  [{ chargeG: 500, waterG: 200 }, {}, ['vehicle.waterG 200', 'at most 125 g']],
])('what does not fit as liquid is refused, naming mass and volume: %j %j', (vehicle, tankKeys, words) => {
  const scenario = toScenario(
    { ticket: { refrigerant: 'R-134a', nominalChargeG: 600 }, vehicle, tank: tankKeys },
    'x.json',
  );
  const attempt = () =>
    prepare(
      scenario,
      'x.json',
      () => r134a,
      () => 0,
    );
  expect(attempt).toThrow(InputError);
  for (const word of words) expect(attempt).toThrow(word);
});
