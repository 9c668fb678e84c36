// Charges in frost and in great heat come out as they do in a mild room, or the vehicle is told to be short of them.
import { expect, test } from 'vitest';
import { runScenario } from './run-scenario.ts';

const job = (ambientC: number, equipment: string, nominalChargeG: number, ticket: object, seed: number) =>
  runScenario({
    seed,
    weather: { ambientC },
    ticket: {
      service: 'whole',
      refrigerant: 'R-134a',
      nominalChargeG,
      oil: { kind: 'PAG' },
      engine: 'can-run',
      ...ticket,
    },
    tank: { contentKg: 8 },
    equipment: { profile: equipment },
    vehicle: { chargeG: 0.7 * nominalChargeG, volumeL: 1 + nominalChargeG / 400, oilG: 80 },
  });

// A manifold that is drawn empty starves the compressor: what was given too much stayed in the vehicle, 59 g of it.
test('at -5 °C what was given too much is drawn back, on a machine with sluggish valves too', async () => {
  const { outcome, truth, notices } = await job(-5, 'hobby', 300, { leakCheck: true }, 527);
  expect(outcome).toBe('completed');
  expect(Math.abs(truth.vehicleRefrigerantG - 300)).toBeLessThan(10);
  expect(notices.map(({ code }) => code)).not.toContain('net-charge-off');
});

// The low side of a vehicle at rest stands above the span of its sensor: no engine may start, and the hoses kept 37 to 74 g.
test.each(['good', 'hobby'])(
  'at 45 °C what the engine does not suck in is made good (%s)',
  async (equipment) => {
    const { outcome, truth, notices } = await job(45, equipment, 600, {}, 518);
    expect(outcome).toBe('completed');
    expect(notices.map(({ code }) => code)).toContain('sides-not-seen');
    expect(Math.abs(truth.vehicleRefrigerantG - 600)).toBeLessThan(10);
  },
);
