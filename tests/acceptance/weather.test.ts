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

// Some ten grams of dew dry off while the tank is warmed: a loss through the charge valve is none of it.
test.each([
  { ambientC: 35, tankC: 15, relativeHumidity: 0.5, chargeG: 900, ports: 2, seed: 114 },
  { ambientC: 38, tankC: 10, relativeHumidity: 0.5, chargeG: 650, ports: 2, seed: 122 },
  { ambientC: 38, tankC: 15, relativeHumidity: 0.5, chargeG: 650, ports: 1, seed: 140 },
  { ambientC: 35, tankC: 20, relativeHumidity: 0.7, chargeG: 900, ports: 1, seed: 162 },
])(
  'a dewy tank of $tankC °C in a room of $ambientC °C accuses no valve while it is warmed ($ports)',
  async ({ ambientC, tankC, relativeHumidity, chargeG, ports, seed }) => {
    const { outcome, truth, notices } = await runScenario({
      seed,
      weather: { ambientC, relativeHumidity },
      ticket: {
        refrigerant: 'R-1234yf',
        nominalChargeG: chargeG,
        ports,
        service: 'evacuate-and-charge',
      },
      vehicle: { chargeG: 0, volumeL: 1.2 + chargeG / 400 },
      tank: { contentKg: 7, temperatureC: tankC },
    });
    expect(notices.map(({ code }) => code)).not.toContain('tripped');
    expect(outcome).toBe('completed');
    expect(Math.abs(truth.vehicleRefrigerantG - chargeG)).toBeLessThan(15);
  },
);
