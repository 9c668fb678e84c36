// What is told of a charge that is given up without a cause seen before.
import { describe, expect, test } from 'vitest';
import type { Seen } from '../../../controller/estimates/seen.ts';
import { tellGivenUp } from '../../../controller/stages/charge-stall.ts';
import type { ChargeData } from '../../../controller/stages/data-charge.ts';
import type { StageInput } from '../../../controller/stages/stage.ts';
import { EQUIPMENT, planFor } from '../support/machine.ts';

const BAR = 100_000;
const EVEN = { tankPa: 6 * BAR, highSidePa: 6 * BAR, lowSidePa: 6 * BAR, tankTemperatureK: 293 };

function toldOf(
  seen: Partial<Seen>,
  ports: 1 | 2 = 2,
  told: readonly string[] = [],
  massKg = 8,
): readonly string[] {
  const input = {
    seen,
    plan: planFor({ ports }),
    equipment: EQUIPMENT,
    estimates: { scale: { massKg } },
  } as unknown as StageInput;
  return tellGivenUp({ told } as unknown as ChargeData, 0.3, input).notices.map(({ code }) => code);
}

describe('A charge that is given up', () => {
  test('blames nothing where everything is read and even', () => expect(toldOf(EVEN)).toEqual([]));

  test.each(['tankPa', 'highSidePa', 'lowSidePa'])('names a sensor that gives no value: %s', (name) =>
    expect(toldOf({ ...EVEN, [name]: undefined })).toEqual(['charge-stalled-blind']),
  );

  test('does NOT miss the capped low side of a vehicle with one port', () =>
    expect(toldOf({ ...EVEN, lowSidePa: undefined }, 1)).toEqual([]));

  test('names the engine where the sides are parted as only an engine parts them', () => {
    const parted = { ...EVEN, highSidePa: 9 * BAR, lowSidePa: 2 * BAR };
    expect(toldOf(parted)).toEqual(['charge-stalled-engine']);
    // A low side that never got anything is behind a shut coupler.
    expect(toldOf({ ...parted, lowSidePa: 1_000 })).toEqual([]);
    // Both hot, or the high side no higher than its tank.
    expect(toldOf({ ...parted, lowSidePa: 8.5 * BAR })).toEqual([]);
    expect(toldOf({ ...parted, tankPa: 9 * BAR })).toEqual([]);
  });

  test('names the dip tube where the tank has hardly any liquid left', () => {
    expect(toldOf(EVEN, 2, ['scale-disturbed'], 0.8)).toEqual(['charge-stalled-dip-tube']);
    expect(toldOf(EVEN, 2, ['charge-stalled-warm'], 0.8)).toEqual([]);
  });

  test('says nothing more where a cause was told before', () =>
    expect(toldOf({ ...EVEN, highSidePa: undefined }, 2, ['charge-stalled-supply'])).toEqual([]));
});
