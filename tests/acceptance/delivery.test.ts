// A tank valve shut by hand while a vehicle is recovered: no sensor stands in the discharge, and still the compressor stops in time.
import { afterEach, describe, expect, test, vi } from 'vitest';
import { Plant } from '../../sim/plant/plant.ts';
import { NOMINAL } from '../../sim/profiles.ts';
import { runScenario } from './run-scenario.ts';

const RECOVER = {
  seed: 4,
  weather: { ambientC: 20 },
  ticket: { refrigerant: 'R-134a', nominalChargeG: 600, service: 'recover' },
  vehicle: { chargeG: 600 },
  tank: { contentKg: 8 },
};

afterEach(() => {
  vi.restoreAllMocks();
});

/** The job, the highest discharge pressure, and how long the compressor ran after the fault. */
async function watched(file: object, faultAfterS = 0) {
  let peakPa = 0;
  const advance = Plant.prototype.advanceTo;
  vi.spyOn(Plant.prototype, 'advanceTo').mockImplementation(function (this: Plant, timeMs: number) {
    advance.call(this, timeMs);
    peakPa = Math.max(peakPa, this.machine.condenser.pressurePa);
  });
  let recoverAtS: number | undefined;
  let ranS = 0;
  let text = '';
  const job = await runScenario(file, [
    ({ nowMs, commands, progress, notices }) => {
      if (progress.stage === 'recover') recoverAtS ??= nowMs / 1000;
      const after = recoverAtS !== undefined && nowMs / 1000 >= recoverAtS + faultAfterS;
      if (after && commands.compressor.on && text === '') ranS += 0.1;
      text ||= notices.find(({ code }) => code === 'tripped')?.text ?? '';
    },
  ]);
  return { job, peakPa, ranS, text };
}

describe.each(['good', 'hobby'])('The valve of the tank, shut by hand (%s)', (equipment) => {
  test.each([
    { ambientC: 5, afterS: 17 },
    { ambientC: 20, afterS: 0 },
    { ambientC: 20, afterS: 150 },
    { ambientC: 38, afterS: 40 },
  ])(
    'at $ambientC °C, $afterS s after the recovery began: the compressor stops within half a minute, below 0.9 of the cut-out',
    async ({ ambientC, afterS }) => {
      const faults = [{ fault: 'tank-valve-shut', stage: 'recover', afterS }];
      const { job, peakPa, ranS, text } = await watched(
        { ...RECOVER, equipment, weather: { ambientC }, faults },
        afterS,
      );
      expect(text).toMatch(/valve is shut by hand or the filter is blocked/);
      expect(ranS).toBeLessThan(30);
      expect(peakPa).toBeLessThan(0.9 * NOMINAL.compressorCutOutPa);
      expect(job.outcome).toBe('stopped');
      expect(job.truth.ventedG).toBe(0);
    },
  );

  // Little flows by then, which the scale tells from none in minutes: as little comes up against the shut valve.
  test.each([
    { ambientC: 5, afterS: 90 },
    { ambientC: 20, afterS: 400 },
  ])(
    'at $ambientC °C, $afterS s after it began: within four minutes, below 0.4 of the cut-out',
    async ({ ambientC, afterS }) => {
      const faults = [{ fault: 'tank-valve-shut', stage: 'recover', afterS }];
      const { peakPa, ranS, text } = await watched(
        { ...RECOVER, equipment, weather: { ambientC }, faults },
        afterS,
      );
      expect(text).toMatch(/valve is shut by hand or the filter is blocked/);
      expect(ranS).toBeLessThan(240);
      expect(peakPa).toBeLessThan(0.4 * NOMINAL.compressorCutOutPa);
    },
  );

  test.each([
    { what: 'an open valve', more: {} },
    { what: 'a tank warmer than the room', more: { tank: { contentKg: 8, temperatureC: 30 } } },
    { what: 'a cold room', more: { weather: { ambientC: 3 }, tank: { contentKg: 8, temperatureC: 12 } } },
    {
      what: 'R-1234yf in the heat',
      more: { weather: { ambientC: 38 }, ticket: { ...RECOVER.ticket, refrigerant: 'R-1234yf' } },
    },
    { what: 'a worn compressor', more: { faults: [{ fault: 'compressor-weak', size: 0.5 }] } },
    { what: 'a stopped fan', more: { faults: [{ fault: 'fan-stopped', stage: 'recover', afterS: 60 }] } },
  ])('is NOT suspected with $what', async ({ more }) => {
    const { text } = await watched({ ...RECOVER, equipment, ...more });
    expect(text).not.toMatch(/arrives/);
  });
});
