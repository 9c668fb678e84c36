// R-1234yf that leaks into the machine's cabinet: by a quarter of its lower flammable limit nothing is energised, and the fan turns.
import { describe, expect, test } from 'vitest';
import { clockMs, fluidOnce, PACING } from '../../app/bench/whole-jobs.ts';
import { prepare } from '../../app/run/prepare.ts';
import { runSession } from '../../app/run/session.ts';
import { toScenario } from '../../app/scenario/scenario.ts';
import { ENCLOSURE_M3 } from '../../sim/plant/enclosure.ts';
import { faultsScenario, jobFor } from '../accuracy/faults-scenario.ts';

/** 6.2 % by volume (Minor, Herrmann and Gravell, Process Safety Progress 29 (2010) 150–154), as mass in air of 25 °C. */
const LFL_KG_PER_M3 = 0.289;
const AFTER_S = 10;

type Stage = Parameters<typeof jobFor>[0];

async function leakIn(stage: Stage, size: number, more: { refrigerant?: string; fanStopped?: true } = {}) {
  const { refrigerant = 'R-1234yf', fanStopped } = more;
  const leak = { fault: 'cabinet-leaks', stage, afterS: AFTER_S, size };
  const fan = { fault: 'fan-stopped', stage, afterS: AFTER_S };
  const file = faultsScenario('good', jobFor(stage), fanStopped ? [leak, fan] : [leak]);
  const scenario = toScenario({ ...file, ticket: { ...file.ticket, refrigerant } }, 'the test');
  const session = prepare(scenario, 'the test', fluidOnce, clockMs);
  let energisedShare = 0;
  let mostShare = 0;
  let stillFan = 0;
  let onBefore = 0;
  const facts = await runSession(session, {
    pacing: PACING,
    observers: [
      ({ nowMs, commands, readings }) => {
        if (nowMs % 1000 !== 0) return;
        const share = session.bench.within().cabinetGasKg / ENCLOSURE_M3 / LFL_KG_PER_M3;
        const on = Object.values(commands).filter((command) => command.on).length;
        if (share === 0) onBefore = on;
        else if (on > 0) energisedShare = Math.max(energisedShare, share);
        mostShare = Math.max(mostShare, share);
        if (share > 0 && readings.fanFlow.ok && !readings.fanFlow.value) stillFan++;
      },
    ],
  });
  return { facts, energisedShare, mostShare, stillFan, onBefore };
}

const told = ({ facts }: Awaited<ReturnType<typeof leakIn>>): string =>
  facts.result!.notices.map(({ text, remedy }) => `${text} ${remedy}`).join(' ');

describe('1 g/s in the cabinet', () => {
  test.each(['recover', 'evacuate', 'hold', 'charge', 'verify'] as const)(
    'in %s: the alarm de-energises everything, the fan goes on, and the gas never comes to a quarter of its limit',
    async (stage) => {
      const leak = await leakIn(stage, 1);
      expect(leak.mostShare).toBeGreaterThan(0.1);
      expect(leak.mostShare).toBeLessThan(0.25);
      expect(leak.energisedShare).toBeLessThan(0.2);
      expect(leak.stillFan).toBe(0);
      if (stage === 'recover' || stage === 'evacuate') expect(leak.onBefore).toBeGreaterThan(0);
      expect(leak.facts.outcome).toBe('stopped');
      expect(told(leak)).toMatch(/Interlock IL-24 tripped: gas-alarm.*Leave the room, ventilate/);
      expect(leak.facts.truth.ventedKg).toBe(0);
    },
  );

  test.each([0.5, 1, 2])(
    '%d g/s with the fan at a stand: nothing is energised when it comes to a quarter',
    async (size) => {
      const leak = await leakIn('recover', size, { fanStopped: true });
      expect(leak.energisedShare).toBeLessThan(0.25);
      // Only the fan keeps the gas down: this is what the row of the fan is for.
      expect(leak.mostShare).toBeGreaterThan(0.25);
      expect(told(leak)).toMatch(/IL-2[45]/);
    },
  );

  test('of R-134a, which does not burn, trips no gas alarm; the tank that loses mass is seen all the same', async () => {
    const leak = await leakIn('rest', 1, { refrigerant: 'R-134a' });
    expect(told(leak)).not.toContain('IL-24');
    expect(told(leak)).toContain('tank-loses-mass');
  });
});

test('0.3 g/s, which the fan thins to a twentieth of the limit, does NOT trip the gas alarm', async () => {
  const leak = await leakIn('charge', 0.3);
  expect(leak.mostShare).toBeLessThan(0.1);
  expect(told(leak)).not.toContain('IL-24');
});
