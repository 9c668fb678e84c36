// A vehicle with one service port: the operator has one hose in hand, and is told of one.
import { describe, expect, test } from 'vitest';
import type { ScanSeen } from '../../app/run/loop.ts';
import { runScenario } from './run-scenario.ts';

const ATMOSPHERE_PA = 101_325;

async function oneHose(
  service: string,
  refrigerant: string,
  more: { ports?: 1 | 2; chargeG: number; seed: number; equipment: string },
) {
  const { ports = 1, chargeG, seed, equipment } = more;
  const prompts = new Map<string, { text: string; evidence: string; lowPa: number; highPa: number }>();
  const atEnd = { highPa: Number.POSITIVE_INFINITY, lowPa: Number.POSITIVE_INFINITY };
  const watch = ({ progress, readings, notices }: ScanSeen): void => {
    const { prompt } = progress;
    const { lowSidePressurePa: low, highSidePressurePa: high } = readings;
    if (prompt !== undefined && low.ok && high.ok) {
      prompts.set(prompt.id, {
        text: prompt.text,
        evidence: prompt.evidence,
        lowPa: low.value,
        highPa: high.value,
      });
    }
    if (notices.some(({ code }) => code === 'hoses-safe') && low.ok && high.ok)
      [atEnd.highPa, atEnd.lowPa] = [high.value, low.value];
  };
  const job = await runScenario(
    {
      ticket: { service, refrigerant, nominalChargeG: 550, ports },
      vehicle: { chargeG, oilG: 120 },
      equipment,
      seed,
    },
    [watch],
  );
  return { job, prompts, atEnd };
}

const CASES = [
  { service: 'whole', refrigerant: 'R-1234yf', chargeG: 420, seed: 3, equipment: 'good' },
  { service: 'whole', refrigerant: 'R-134a', chargeG: 420, seed: 4, equipment: 'hobby' },
  { service: 'recover', refrigerant: 'R-134a', chargeG: 420, seed: 5, equipment: 'good' },
  { service: 'recover', refrigerant: 'R-1234yf', chargeG: 420, seed: 6, equipment: 'hobby' },
  { service: 'evacuate-and-charge', refrigerant: 'R-134a', chargeG: 0, seed: 9, equipment: 'good' },
  { service: 'evacuate-and-charge', refrigerant: 'R-1234yf', chargeG: 0, seed: 8, equipment: 'hobby' },
] as const;

describe('A vehicle with one port', () => {
  test.each(CASES)('$service with $refrigerant, $equipment: ends as with two, and right', async (c) => {
    const { job, prompts, atEnd } = await oneHose(c.service, c.refrigerant, c);
    expect(job.outcome).toBe('completed');
    const { truth, masses } = job;
    if (masses.netChargeG !== undefined) {
      expect(Math.abs(truth.vehicleRefrigerantG - 550)).toBeLessThan(20);
      expect(Math.abs(masses.netChargeG - truth.vehicleRefrigerantG)).toBeLessThan(masses.uncertaintyG! + 1);
    } else expect(truth.vehicleRefrigerantG).toBeLessThan(0.05 * 420);
    const words = [
      ...[...prompts.values()].flatMap(({ text, evidence }) => [text, evidence]),
      ...job.notices.flatMap(({ text, remedy }) => [text, remedy]),
    ];
    for (const word of words) expect(word).not.toMatch(/both couplers|both hose p|couplers|the hoses/i);
    const { lowPa, highPa } = atEnd;
    // 0.3 bar above the atmosphere, and as much again for the gauge of the profile.
    expect(highPa).toBeLessThan(ATMOSPHERE_PA + 120_000);
    expect(lowPa).toBeLessThan(ATMOSPHERE_PA + 60_000);
    expect(truth.spilledG).toBeLessThan(0.1);
  });

  test('with two ports the same job speaks of two', async () => {
    const { job, prompts } = await oneHose('recover', 'R-134a', { ...CASES[2], ports: 2 });
    expect(prompts.get('connect-hoses')!.text).toContain('both couplers');
    expect(job.notices.find(({ code }) => code === 'hoses-safe')!.remedy).toContain('both couplers');
  });
});
