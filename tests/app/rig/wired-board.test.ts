import { expect, test } from 'vitest';
import { VirtualMachine } from './virtual-machine.ts';

test('a value that is held on a wire is read by the host, to a step of its converter, until the wire is free again', async () => {
  const far = new VirtualMachine({
    ticket: { refrigerant: 'R-134a', nominalChargeG: 400 },
    vehicle: { chargeG: 300 },
  });
  const rig = far.rig();
  const pass = async (ms: number) => {
    for (let passed = 0; passed < ms; passed += 50) {
      rig.tick();
      await far.time.sleep(50);
    }
  };
  await pass(4_000);
  const read = () => {
    const { tankPressurePa, scaleCounts } = rig.readings();
    return [tankPressurePa, scaleCounts].map((reading) => (reading.ok ? reading.value : Number.NaN));
  };
  const before = read();
  far.machine.hold('tankPressurePa', 1_500_000);
  far.machine.hold('scaleCounts', 1_800_000);
  await pass(500);
  const [tankPa, counts] = read();
  expect(Math.abs(tankPa! - 1_500_000)).toBeLessThan(2_500);
  expect(counts).toBe(1_800_000);
  far.machine.hold('tankPressurePa', undefined);
  far.machine.hold('scaleCounts', undefined);
  await pass(500);
  expect(Math.abs(read()[0]! - before[0]!)).toBeLessThan(10_000);
  expect(Math.abs(read()[1]! - before[1]!)).toBeLessThan(500);
});
