// Machines that run shake the scale; at ten samples a second their tones fold down to below 5 Hz.
import { describe, expect, test } from 'vitest';
import { PROFILES } from '../../../sim/profiles.ts';
import { Random } from '../../../sim/random.ts';
import { COMPRESSOR_HZ, PUMP_HZ, Vibration } from '../../../sim/sensors/vibration.ts';
import { Kit, known, mean, rms } from './kit.ts';

const PERIOD_S = 0.1;
const AMPLITUDE_KG = 0.001;

const shaken = (compressor: boolean, pump: boolean, count: number, seed = 1) => {
  const vibration = new Vibration(AMPLITUDE_KG, PERIOD_S, new Random(seed, 'vibration'));
  return Array.from({ length: count }, () => vibration.sample(compressor, pump));
};

/** Amplitude at a frequency, by Fourier's sum. */
function amplitudeAt(hertz: number, values: readonly number[]): number {
  let [re, im] = [0, 0];
  for (const [i, value] of values.entries()) {
    re += value * Math.cos(2 * Math.PI * hertz * i * PERIOD_S);
    im += value * Math.sin(2 * Math.PI * hertz * i * PERIOD_S);
  }
  return (2 * Math.hypot(re, im)) / values.length;
}

/** The strongest line of the spectrum, to a hundredth of a hertz. */
function strongestHz(values: readonly number[]): number {
  const lines = Array.from({ length: 501 }, (_, i) => i / 100);
  return lines.reduce((best, hertz) =>
    amplitudeAt(hertz, values) > amplitudeAt(best, values) ? hertz : best,
  );
}

/** Where a tone appears when it is sampled ten times a second. */
const folded = (hertz: number) => Math.abs(hertz - 10 * Math.round(hertz / 10));

describe('vibration', () => {
  test.each([
    ['compressor', COMPRESSOR_HZ, true, false],
    ['vacuum pump', PUMP_HZ, false, true],
  ] as const)(
    'the %s at %d Hz appears where sampling theory folds it, give or take its slip',
    (_, hertz, compressor, pump) => {
      for (let seed = 1; seed <= 4; seed++) {
        const seen = strongestHz(shaken(compressor, pump, 1200, seed));
        expect(Math.abs(seen - folded(hertz))).toBeLessThan(4 * 0.005 * hertz);
      }
    },
  );

  test('the amplitude is the stated one', () => {
    expect(rms(shaken(false, true, 6000)) / (AMPLITUDE_KG / Math.SQRT2)).toBeCloseTo(1, 1);
    expect(rms(shaken(true, false, 6000)) / (AMPLITUDE_KG * Math.hypot(1, 0.3)) / Math.SQRT1_2).toBeCloseTo(
      1,
      1,
    );
  });

  test.each(['good', 'hobby'] as const)(
    'the %s profile shakes within 1 to 5 g, and only while a machine runs',
    (name) => {
      const { vibrationKg } = PROFILES[name].scale;
      expect(vibrationKg).toBeGreaterThanOrEqual(0.001);
      expect(vibrationKg).toBeLessThanOrEqual(0.005);
      const kit = new Kit({ build: { scaleVibrationKg: vibrationKg } });
      const weighed = (seconds: number) =>
        Array.from({ length: seconds * 10 }, () => known(kit.sample().scaleCounts));
      const resting = weighed(60);
      expect(rms(resting)).toBe(0);
      kit.plant.on.add('vacuumPump');
      const running = weighed(60);
      expect(rms(running) / 100_000 / (vibrationKg / Math.SQRT2)).toBeCloseTo(1, 1);
      expect(mean(running) - mean(resting)).toBeLessThan(2);
      kit.plant.on.clear();
      expect(rms(weighed(60))).toBe(0);
    },
  );

  test('a compressor cut by its pressure switch shakes nothing', () => {
    const kit = new Kit({ build: { scaleVibrationKg: 0.005 } });
    kit.plant.on.add('compressor');
    kit.plant.highPressureSwitch = true;
    const counts = Array.from({ length: 100 }, () => known(kit.sample().scaleCounts));
    expect(rms(counts)).toBe(0);
  });
});
