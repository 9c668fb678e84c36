import { describe, expect, test } from 'vitest';
import { readingsOf, type SeenLine } from '../../hardware/fitted.ts';
import { boardLine, unframed } from '../../hardware/protocol.ts';
import {
  CONVERTER_V_PER_COUNT,
  pressureFromChip,
  pressureFromConverter,
  SUPPLY_V,
  temperatureFromChip,
  temperatureFromConverter,
  vacuumFromConverter,
  voltsOfPressure,
  voltsOfTemperature,
  voltsOfVacuum,
} from '../../hardware/sensors.ts';
import { SENSORS } from './fitted-sensors.ts';
import { seenText } from './told-board.ts';

const chip = (volts: number) => ({
  sum: 10 * Math.min(1023, Math.floor((volts / SUPPLY_V) * 1024)),
  band: 'inside' as const,
});
const counts = (volts: number): number => Math.round(volts / CONVERTER_V_PER_COUNT);
const valueIn = (sensed: { ok: boolean; value?: number }): number => (sensed.ok ? sensed.value! : Number.NaN);

describe('what a wire says', () => {
  test('a ratiometric transmitter gives 0.5 V at the lower and 4.5 V at the upper end of its span', () => {
    expect(voltsOfPressure(SENSORS.lowSide, -100_000)).toBeCloseTo(0.5, 12);
    expect(voltsOfPressure(SENSORS.lowSide, 900_000)).toBeCloseTo(4.5, 12);
  });

  test('what was put on the wire is read from it within half a step of the converter', () => {
    const halfChipStepPa = (3_000_000 / 4) * (SUPPLY_V / 1024 / 2);
    const halfCountPa = (160_000 / 4) * (CONVERTER_V_PER_COUNT / 2);
    for (let share = 0; share <= 1; share += 0.01) {
      const highPa = 3_000_000 * share;
      const readPa = valueIn(
        pressureFromChip(SENSORS.highSide, chip(voltsOfPressure(SENSORS.highSide, highPa))),
      );
      expect(Math.abs(readPa - highPa)).toBeLessThanOrEqual(halfChipStepPa * 1.001);
      const manifoldPa = 160_000 * share;
      const absolutePa = valueIn(
        pressureFromConverter(SENSORS.manifold, counts(voltsOfPressure(SENSORS.manifold, manifoldPa))),
      );
      expect(Math.abs(absolutePa - manifoldPa)).toBeLessThanOrEqual(halfCountPa * 1.001);
    }
  });

  test('what a comparison with a reference found is applied to both ends', () => {
    const sensor = { ...SENSORS.manifold, gain: 1.01, offsetPa: -300 };
    expect(valueIn(pressureFromConverter(sensor, counts(4.5)))).toBeCloseTo(160_000 * 1.01 - 300, -1);
    expect(valueIn(pressureFromConverter(sensor, counts(voltsOfPressure(sensor, 100_000))))).toBeCloseTo(
      100_000,
      -1,
    );
  });

  test('a thermistor at 25 °C halves the supply, and its beta is that of its definition between 25 and 85 °C', () => {
    const ntc = SENSORS.ambientTemperature;
    expect(voltsOfTemperature(ntc, 298.15)).toBeCloseTo(SUPPLY_V / 2, 12);
    const volts = voltsOfTemperature(ntc, 358.15);
    const ohmsAt85C = (ntc.pullUpOhms * volts) / (SUPPLY_V - volts);
    expect(Math.log(ntc.ohmsAt25C / ohmsAt85C) / (1 / 298.15 - 1 / 358.15)).toBeCloseTo(ntc.betaK, 6);
  });

  test('a temperature is read within 0.2 K on the chip and 0.01 K on the converter between −10 and 60 °C', () => {
    for (let temperatureK = 263; temperatureK <= 333; temperatureK++) {
      const volts = voltsOfTemperature(SENSORS.tankTemperature, temperatureK);
      expect(
        Math.abs(valueIn(temperatureFromChip(SENSORS.tankTemperature, chip(volts))) - temperatureK),
      ).toBeLessThan(0.2);
      expect(
        Math.abs(valueIn(temperatureFromConverter(SENSORS.tankTemperature, counts(volts))) - temperatureK),
      ).toBeLessThan(0.01);
    }
  });

  test('a thermal vacuum sensor with a logarithmic output is read over its range and nowhere else', () => {
    const sensor = { voltsAt1Pa: 1, voltsPerDecade: 1, fromPa: 1, toPa: 2_500 };
    for (const pressurePa of [1.5, 20, 500, 2_400])
      expect(valueIn(vacuumFromConverter(sensor, counts(voltsOfVacuum(sensor, pressurePa))))).toBeCloseTo(
        pressurePa,
        -Math.log10(pressurePa / 500),
      );
    for (const volts of [0.5, 4.6])
      expect(vacuumFromConverter(sensor, counts(volts))).toEqual({ ok: false, reason: 'out-of-range' });
  });
});

describe('a wire that is broken or shorted is told, never read', () => {
  test.each([
    [
      'a transmitter below its band',
      pressureFromChip(SENSORS.tank, { sum: 100, band: 'below' }),
      'open-circuit',
    ],
    [
      'a transmitter above its band',
      pressureFromChip(SENSORS.tank, { sum: 10_200, band: 'above' }),
      'short-circuit',
    ],
    [
      'a thermistor above its band',
      temperatureFromChip(SENSORS.tankTemperature, { sum: 10_200, band: 'above' }),
      'open-circuit',
    ],
    [
      'a thermistor below its band',
      temperatureFromChip(SENSORS.tankTemperature, { sum: 9, band: 'below' }),
      'short-circuit',
    ],
    ['an absolute sensor with 0.1 V', pressureFromConverter(SENSORS.manifold, counts(0.1)), 'open-circuit'],
    ['an absolute sensor with 4.6 V', pressureFromConverter(SENSORS.manifold, counts(4.6)), 'out-of-range'],
    ['an absolute sensor with 4.9 V', pressureFromConverter(SENSORS.manifold, counts(4.9)), 'short-circuit'],
    ['a converter at its rail', pressureFromConverter(SENSORS.manifold, 32_767), 'short-circuit'],
    [
      'a vent thermistor with 4.9 V',
      temperatureFromConverter(SENSORS.tankTemperature, counts(4.9)),
      'open-circuit',
    ],
    [
      'a vent thermistor with 0.1 V',
      temperatureFromConverter(SENSORS.tankTemperature, counts(0.1)),
      'short-circuit',
    ],
  ])('%s', (_, sensed, reason) => {
    expect(sensed).toEqual({ ok: false, reason });
  });
});

describe('a SEEN line as readings', () => {
  const line = (fields: Parameters<typeof seenText>[0]): SeenLine => {
    const got = unframed(seenText(fields).trimEnd());
    return boardLine(got.ok ? got.payload : '') as SeenLine;
  };
  const timeMsOf = (boardMs: number): number => boardMs + 1_000;

  test('gauge pressures become absolute by the typed barometer, or by the one that is fitted', () => {
    const gauge = line({ an: '1024,1024,1024,5120,5120', cv: '10000,x,x,16000' });
    const typed = readingsOf(gauge, SENSORS, timeMsOf);
    const fitted = readingsOf(
      gauge,
      { ...SENSORS, barometer: { fromPa: 0, toPa: 120_000, gain: 1, offsetPa: 0 } },
      timeMsOf,
    );
    expect(typed.tankPressurePa).toMatchObject({ ok: true });
    const barometerPa = fitted.barometerPa.ok ? fitted.barometerPa.value : 0;
    expect(barometerPa).toBeCloseTo(75_000, -2);
    expect(typed.barometerPa).toEqual({ ok: false, reason: 'not-fitted' });
    const value = (reading: { ok: boolean; value?: number }) => reading.value!;
    expect(value(typed.tankPressurePa) - value(fitted.tankPressurePa)).toBeCloseTo(98_000 - barometerPa, 6);
  });

  test('each carries the host’s time of its own sample: half a turn of the converter ago, the scale as it says', () => {
    const readings = readingsOf(line({ t: 5_000, br: '1234,80' }), SENSORS, timeMsOf);
    expect(readings.highSidePressurePa).toMatchObject({ atMs: 6_000 });
    expect(readings.manifoldPressurePa).toMatchObject({ atMs: 5_986 });
    expect(readings.scaleCounts).toEqual({ ok: true, value: 1_234, atMs: 5_920 });
  });

  test('what the board has not read yet, and what is not fitted, is said to be so', () => {
    const readings = readingsOf(line({ br: 'x', cv: 'x,x,x,x' }), SENSORS, timeMsOf);
    expect(readings.scaleCounts).toEqual({ ok: false, reason: 'not-read-yet' });
    expect(readings.manifoldPressurePa).toEqual({ ok: false, reason: 'not-read-yet' });
    expect(readings.ventTemperatureK).toEqual({ ok: false, reason: 'not-fitted' });
    expect(readings.gasAlarm).toEqual({ ok: false, reason: 'not-fitted' });
  });

  test('every switch has its own bit', () => {
    for (const [bit, name] of ['emergencyStop', 'highPressureSwitch', 'gasAlarm', 'fanFlow'].entries()) {
      const readings = readingsOf(line({ sw: 1 << bit }), { ...SENSORS, gasAlarm: true }, timeMsOf);
      for (const other of ['emergencyStop', 'highPressureSwitch', 'gasAlarm', 'fanFlow'] as const)
        expect(readings[other]).toMatchObject({ ok: true, value: other === name });
    }
  });
});
