// Somebody knocks against the machine just as its cold coil bursts into a tank that is warmer than the room.
import { expect, test } from 'vitest';
import { runScenario } from './run-scenario.ts';

test('who knocks against it as the cold coil bursts into the tank takes nothing off what was recovered', async () => {
  const { outcome, masses, truth } = await runScenario({
    seed: 5163,
    weather: { ambientC: 15 },
    ticket: { refrigerant: 'R-134a', nominalChargeG: 700, service: 'recover', engine: 'cannot-run' },
    tank: { contentKg: 8, temperatureC: 35, restedH: 4 },
    vehicle: { chargeG: 700, volumeL: 2.9, oilG: 120, expansionDevice: 'expansion-valve' },
    // Fourteen seconds after the compressor has started: 80 g come in the six seconds of this.
    faults: [{ fault: 'scale-leaned-on', stage: 'recover', afterS: 84, forS: 0.6, size: 0.9 }],
  });
  expect(outcome).toBe('completed');
  const errorG = masses!.recoveredG! - (700 - truth.vehicleRefrigerantG);
  expect(Math.abs(errorG)).toBeLessThan(masses!.recoveredUncertaintyG!);
  expect(masses!.recoveredUncertaintyG).toBeLessThan(15);
});
