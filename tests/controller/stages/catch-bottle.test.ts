// The reading of the catch bottle: when it is asked, what is refused, and what is told of a flood.
import { describe, expect, test } from 'vitest';
import { readCatchBottle } from '../../../controller/stages/catch-bottle.ts';
import { entered, type Given, NOW_MS, shown } from '../support/stage-input.ts';

const ML = 1e-6;
/** Drained so many minutes ago. */
const read = (minutesAgo: number | undefined, given: Given = {}, drainedM3?: number) =>
  readCatchBottle(
    shown({
      ...given,
      accounts: {
        oil: {
          emptied: 1,
          ...(minutesAgo === undefined ? {} : { drainedAtMs: NOW_MS - minutesAgo * 60_000 }),
          ...(drainedM3 === undefined ? {} : { drainedM3 }),
        },
      },
    }),
  );

describe('The catch bottle', () => {
  test('is asked for once its foam has settled for ten minutes', () => {
    expect(read(9.999)).toEqual({ is: 'foaming' });
    expect(read(10)).toEqual({ is: 'asked', notices: [] });
    expect(read(10, { answers: [{ type: 'paused' }] })).toEqual({ is: 'asked', notices: [] });
  });

  test('is NOT asked for where nothing was drained, or once it has been read', () => {
    expect(read(undefined)).toEqual({ is: 'known' });
    expect(read(undefined, entered(10 * ML))).toEqual({ is: 'known' });
    expect(read(20, {}, 0)).toEqual({ is: 'known' });
    expect(read(20, entered(10 * ML), 5 * ML)).toEqual({ is: 'known' });
  });

  test('is read as soon as somebody enters its content, and what else is known of the oil stays', () => {
    const reading = read(1, entered(30 * ML));
    expect(reading).toMatchObject({ is: 'read', notices: [] });
    expect(reading.is === 'read' && reading.accounts.oil).toEqual({
      emptied: 1,
      drainedAtMs: NOW_MS - 60_000,
      drainedM3: 30 * ML,
    });
  });

  test('holds nothing to half a litre: what is entered beyond is refused and asked for again', () => {
    expect(read(20, entered(0)).is).toBe('read');
    expect(read(20, entered(500 * ML)).is).toBe('read');
    for (const ml of [-1, 501, Number.NaN])
      expect(read(20, entered(ml * ML))).toEqual({
        is: 'asked',
        notices: [{ code: 'entry-refused', with: { entered: String(ml), most: '500' } }],
      });
  });

  test('of more than 60 mL tells of a flood', () => {
    expect(read(20, entered(60e-6))).toMatchObject({ notices: [] });
    expect(read(20, entered(61 * ML))).toMatchObject({
      is: 'read',
      notices: [{ code: 'oil-flooding', with: { drained: '61' } }],
    });
  });
});
