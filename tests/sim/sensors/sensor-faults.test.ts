// What goes wrong with sensors: on, off again, and nothing else changed.
import { describe, expect, test } from 'vitest';
import type { Readings } from '../../../controller/signals.ts';
import { drawBuild } from '../../../sim/build.ts';
import type { Fault } from '../../../sim/faults.ts';
import { PROFILES, SPANS } from '../../../sim/profiles.ts';
import { Kit, known } from './kit.ts';

const HIGH_PA = 900_000;
const LOW_PA = 500_000;
const BUILD = drawBuild(PROFILES.good, 1);

/** Two benches with the same seed, of which one goes wrong for a while. */
class Pair {
  readonly #well = Pair.#kit();
  readonly #ill = Pair.#kit();

  static #kit(): Kit {
    const kit = new Kit({ build: BUILD }, ({ machine }) => {
      machine.highHose.pressurePa = HIGH_PA;
      machine.lowHose.pressurePa = LOW_PA;
    });
    kit.after(10);
    return kit;
  }

  switch(fault: Fault, on: boolean): void {
    this.#ill.faults.switch(fault, on);
  }

  /** Every reading but those named is the same in both. */
  sample(...struck: readonly (keyof Readings)[]): { well: Readings; ill: Readings } {
    const well = this.#well.sample();
    const ill = this.#ill.sample();
    for (const name of Object.keys(well) as (keyof Readings)[]) {
      if (!struck.includes(name)) expect(ill[name], name).toEqual(well[name]);
    }
    return { well, ill };
  }

  /** Samples on end, each compared. */
  run(samples: number, ...struck: readonly (keyof Readings)[]): { well: Readings; ill: Readings }[] {
    return Array.from({ length: samples }, () => this.sample(...struck));
  }
}

const countsOf = ({ scaleCounts }: Readings): number => known(scaleCounts);
const gramsBetween = ({ well, ill }: { well: Readings; ill: Readings }): number =>
  (countsOf(ill) - countsOf(well)) / 100;

describe.each([
  ['low-sensor-open', 'lowSidePressurePa', 'open-circuit'],
  ['high-sensor-short', 'highSidePressurePa', 'short-circuit'],
  ['tank-sensor-open', 'tankPressurePa', 'open-circuit'],
  ['manifold-sensor-open', 'manifoldPressurePa', 'open-circuit'],
  ['tank-temperature-open', 'tankTemperatureK', 'open-circuit'],
  ['scale-open', 'scaleCounts', 'open-circuit'],
] as const)('%s', (fault, sensor, reason) => {
  test(`${sensor} has no value and says ${reason}; repaired it reads on as if nothing had been`, () => {
    const pair = new Pair();
    pair.switch({ fault }, true);
    for (const { ill } of pair.run(50, sensor)) expect(ill[sensor]).toEqual({ ok: false, reason });
    pair.switch({ fault }, false);
    pair.run(50);
  });

  test('under full vacuum as well: unknown, never a deep vacuum', () => {
    const kit = new Kit({}, (plant) => plant.fillHoses(0));
    expect(kit.sample()[sensor].ok).toBe(true);
    kit.faults.switch({ fault }, true);
    expect(kit.sample()[sensor]).toEqual({ ok: false, reason });
  });
});

test('a blocked port keeps the high side where it was; freed it reads on, and no other sensor noticed', () => {
  const pair = new Pair();
  const last = pair.sample().well.highSidePressurePa;
  pair.switch({ fault: 'high-sensor-stuck' }, true);
  for (const { ill } of pair.run(50, 'highSidePressurePa'))
    expect(known(ill.highSidePressurePa)).toBe(known(last));
  pair.switch({ fault: 'high-sensor-stuck' }, false);
  pair.run(50);
});

describe('exchanged plugs of high and low side', () => {
  const swapped = { fault: 'sensors-swapped' } as const;
  const sides = ['highSidePressurePa', 'lowSidePressurePa'] as const;

  test('each input sees the other transducer’s volts on its own scale, until they are put right', () => {
    const pair = new Pair();
    pair.switch(swapped, true);
    const { well, ill } = pair.run(20, ...sides).at(-1)!;
    const barometer = known(well.barometerPa);
    // Volts: 0.5 + 4·share of span; the low side's span begins at −1 bar, the high side's at 0.
    const lowShare = (LOW_PA - barometer + 1e5) / SPANS.lowSidePa;
    const highShare = (HIGH_PA - barometer) / SPANS.highSidePa;
    expect(known(ill.highSidePressurePa) / (lowShare * SPANS.highSidePa + barometer)).toBeCloseTo(1, 1);
    expect(known(ill.lowSidePressurePa) / (highShare * SPANS.lowSidePa - 1e5 + barometer)).toBeCloseTo(1, 1);
    pair.switch(swapped, false);
    pair.run(20);
  });

  test('a pulse on the high side moves the low reading and leaves the high one, which is how it is found', () => {
    const kit = new Kit({}, (plant) => plant.fillHoses(200_000));
    kit.faults.switch(swapped, true);
    const before = kit.sample();
    kit.plant.machine.highHose.pressurePa = 500_000;
    const after = kit.sample();
    const change = (side: (typeof sides)[number]) => known(after[side]) - known(before[side]);
    expect(change('lowSidePressurePa')).toBeGreaterThan(80_000);
    expect(Math.abs(change('highSidePressurePa'))).toBeLessThan(5_000);
  });

  test('a broken wire goes with its transducer to the other input', () => {
    const kit = new Kit();
    kit.faults.switch(swapped, true);
    kit.faults.switch({ fault: 'low-sensor-open' }, true);
    const { highSidePressurePa, lowSidePressurePa } = kit.sample();
    expect(highSidePressurePa).toEqual({ ok: false, reason: 'open-circuit' });
    expect(lowSidePressurePa.ok).toBe(true);
  });
});

describe('the scale', () => {
  test('leaned on by 3 kg it carries 3 kg more; let go, it is back within what has crept', () => {
    const pair = new Pair();
    pair.switch({ fault: 'scale-leaned-on' }, true);
    for (const samples of pair.run(80, 'scaleCounts')) expect(gramsBetween(samples) / 3000).toBeCloseTo(1, 2);
    pair.switch({ fault: 'scale-leaned-on' }, false);
    // 3 kg for 8 s of a creep of 0.04 % with 600 s: 16 mg, and half a count of rounding.
    for (const samples of pair.run(80, 'scaleCounts'))
      expect(Math.abs(gramsBetween(samples))).toBeLessThan(0.03);
  });

  test('pulled up by 5 kg it carries less', () => {
    const pair = new Pair();
    pair.switch({ fault: 'scale-leaned-on', size: -5 }, true);
    expect(gramsBetween(pair.sample('scaleCounts')) / -5000).toBeCloseTo(1, 2);
  });

  test('with another tank on it, it is off by the difference of the empty masses for good', () => {
    const pair = new Pair();
    pair.switch({ fault: 'wrong-tank', size: 0.8 }, true);
    for (const samples of pair.run(600, 'scaleCounts')) {
      expect(gramsBetween(samples)).toBeGreaterThan(799);
      expect(gramsBetween(samples)).toBeLessThan(802);
    }
    pair.switch({ fault: 'wrong-tank', size: 0.8 }, false);
    expect(Math.abs(gramsBetween(pair.sample('scaleCounts')))).toBeLessThan(0.3);
  });

  test('stuck it repeats its last sample with a fresh time; freed it is where it would have been', () => {
    const pair = new Pair();
    const last = countsOf(pair.sample().well);
    pair.switch({ fault: 'scale-stuck' }, true);
    for (const { well, ill } of pair.run(100, 'scaleCounts')) {
      expect(countsOf(ill)).toBe(last);
      expect(ill.scaleCounts).toHaveProperty('atMs', well.scaleCounts.ok ? well.scaleCounts.atMs : undefined);
    }
    pair.switch({ fault: 'scale-stuck' }, false);
    pair.run(100);
  });

  test('spurious samples come as often as asked, and the samples between them are untouched', () => {
    const pair = new Pair();
    pair.switch({ fault: 'scale-spikes', size: 0.1 }, true);
    const spikes = pair.run(4000, 'scaleCounts').filter((samples) => gramsBetween(samples) !== 0);
    expect(spikes.length).toBeGreaterThan(340);
    expect(spikes.length).toBeLessThan(460);
    expect(Math.max(...spikes.map((samples) => Math.abs(gramsBetween(samples))))).toBeGreaterThan(1000);
    pair.switch({ fault: 'scale-spikes', size: 0.1 }, false);
    pair.run(100);
  });
});

test('the flow switch tells when the fan stands still, and when it turns again', () => {
  const pair = new Pair();
  pair.switch({ fault: 'fan-stopped' }, true);
  expect(known(pair.sample('fanFlow').ill.fanFlow)).toBe(false);
  pair.switch({ fault: 'fan-stopped' }, false);
  expect(known(pair.sample().ill.fanFlow)).toBe(true);
});

test('faults of others change no reading of a plant that stands still', () => {
  const pair = new Pair();
  for (const fault of [
    'tank-valve-shut',
    'coupler-shut',
    'compressor-weak',
    'oil-bottle-empty',
    'dye-bottle-empty',
  ] as const)
    pair.switch({ fault }, true);
  pair.run(20);
});
