// When a suction is called air: how long, how steady and how near the barometer it must have stood.
import { describe, expect, test } from 'vitest';
import { see } from '../../../controller/estimates/seen.ts';
import { openAirWatch, suctionOf, watchAir } from '../../../controller/interlocks/air-watch.ts';
import { EQUIPMENT } from '../support/machine.ts';
import { readingsAt } from '../support/readings.ts';

const START_MS = 500_000;

/** When it is called air, ms after the start. */
function airAfterMs(
  at: (ms: number) => number | undefined,
  barometerPa: number | undefined = 101_325,
  dense: (ms: number) => boolean = () => false,
): number | undefined {
  const calm = { ...see(readingsAt(0), EQUIPMENT, 0), barometerPa };
  let watch = openAirWatch();
  for (let ms = 0; ms <= 150_000; ms += 100) {
    watch = watchAir(watch, { ...calm, manifoldPa: at(ms) }, dense(ms), START_MS + ms);
    if (suctionOf(watch, START_MS + ms) === 'steady-at-barometer') return ms;
  }
  return undefined;
}

describe('A suction', () => {
  test('that stands at the barometer is air after a minute', () => {
    expect(airAfterMs(() => 101_000)).toBe(60_000);
    expect(suctionOf(openAirWatch(), START_MS)).toBe('clear');
  });

  test('may wander by 5 mbar and is air still; by more it counts anew', () => {
    const wanders = (spanPa: number) => (ms: number) => 101_000 + (ms === 20_000 ? spanPa : 0);
    expect(airAfterMs(wanders(500))).toBe(60_000);
    expect(airAfterMs(wanders(-500))).toBe(60_000);
    expect(airAfterMs(wanders(501))).toBe(80_100);
    expect(airAfterMs(wanders(-501))).toBe(80_100);
  });

  test('that creeps slowly past the barometer is NOT air', () => {
    expect(airAfterMs((ms) => 98_000 + ms / 20)).toBeUndefined();
    expect(airAfterMs((ms) => 105_000 - ms / 20)).toBeUndefined();
  });

  test('that was not read for a moment, or flowed as only refrigerant can, counts anew', () => {
    expect(airAfterMs((ms) => (ms === 20_000 ? undefined : 101_000))).toBe(80_100);
    expect(
      airAfterMs(
        () => 101_000,
        101_325,
        (ms) => ms === 20_000,
      ),
    ).toBe(80_100);
  });

  test('is compared with the barometer of the place, and without one with all the weather there is', () => {
    expect(airAfterMs(() => 76_000, 75_000)).toBe(60_000);
    expect(airAfterMs(() => 101_000, 75_000)).toBeUndefined();
    const bare = { ...see(readingsAt(0), EQUIPMENT, 0), barometerPa: undefined };
    const watch = watchAir(openAirWatch(), { ...bare, manifoldPa: 76_000 }, false, START_MS);
    expect(suctionOf(watch, START_MS + 60_000)).toBe('steady-at-barometer');
  });
});
