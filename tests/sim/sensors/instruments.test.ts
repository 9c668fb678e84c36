// Thermometers: the clamp-on probe of the tank is late, the vent's is optional.
import { expect, test } from 'vitest';
import { CLAMP_ON_LAG_S } from '../../../sim/sensors/instruments.ts';
import { Kit, known, mean, ROOM_K, rms } from './kit.ts';

test('the clamp-on probe is 63 % of the way one time constant after a step of the wall', () => {
  const kit = new Kit({}, (plant) => {
    plant.machine.tank.wallK = 283.15;
  });
  expect(known(kit.after(30).tankTemperatureK)).toBeCloseTo(283.15, 0);
  kit.plant.machine.tank.wallK = 303.15;
  const late = known(kit.after(CLAMP_ON_LAG_S).tankTemperatureK);
  expect((late - 283.15) / 20).toBeCloseTo(1 - Math.exp(-1), 1);
  expect(known(kit.after(8 * CLAMP_ON_LAG_S).tankTemperatureK)).toBeCloseTo(303.15, 0);
});

test('behind a wall that warms steadily the probe lags by the rise of one time constant', () => {
  const kit = new Kit({}, (plant) => {
    plant.machine.tank.wallK = ROOM_K;
  });
  // A 200 W heater brings a full tank up by about half a kelvin a minute.
  const perSample = 0.5 / 600;
  for (let i = 0; i < 6000; i++) {
    kit.plant.machine.tank.wallK += perSample;
    kit.sample();
  }
  const lag = Array.from({ length: 600 }, () => {
    kit.plant.machine.tank.wallK += perSample;
    return kit.plant.machine.tank.wallK - known(kit.sample().tankTemperatureK);
  });
  expect(mean(lag)).toBeCloseTo(0.5, 1);
});

test('a vent thermometer is not fitted unless the build says so; then it reads, with its own offset', () => {
  expect(new Kit().sample().ventTemperatureK).toEqual({ ok: false, reason: 'not-fitted' });
  const kit = new Kit({ build: { ventThermometerFitted: true, ventTemperatureOffsetK: 0.4 } });
  const read = Array.from({ length: 200 }, () => known(kit.sample().ventTemperatureK));
  expect(mean(read)).toBeCloseTo(ROOM_K + 0.4, 1);
  expect(rms(read)).toBeLessThan(0.2);
});

test('fitting a vent thermometer changes no other reading', () => {
  const [without, fitted] = [new Kit(), new Kit({ build: { ventThermometerFitted: true } })];
  for (let i = 0; i < 50; i++) {
    const { ventTemperatureK: _, ...others } = fitted.sample();
    expect(without.sample()).toMatchObject(others);
  }
});

test('each thermometer is off by its own offset', () => {
  const kit = new Kit({ build: { tankTemperatureOffsetK: 1.5, ambientTemperatureOffsetK: -0.7 } });
  const { tankTemperatureK, ambientTemperatureK } = kit.sample();
  expect(known(tankTemperatureK) - ROOM_K).toBeCloseTo(1.5, 0);
  expect(known(ambientTemperatureK) - ROOM_K).toBeCloseTo(-0.7, 0);
});
