// Whatever is wished from scan to scan: valves that move as the simulator's do never join what must stay apart.
import { expect, test } from 'vitest';
import { noteCommands, openMemory } from '../../../controller/interlocks/memory.ts';
import { permit } from '../../../controller/interlocks/permit.ts';
import { recall } from '../../../controller/interlocks/remembered.ts';
import { type Commands, commandsOf, OFF, ON, OUTPUTS, type Output } from '../../../controller/signals.ts';
import { drawBuild } from '../../../sim/build.ts';
import { ActiveFaults } from '../../../sim/faults.ts';
import { Actuators } from '../../../sim/plant/actuators.ts';
import { PROFILES } from '../../../sim/profiles.ts';
import { Random } from '../../../sim/random.ts';
import { CALM_BANDS } from '../support/calm.ts';

const FITTED = Object.fromEntries(OUTPUTS.map((output) => [output, 'fitted'])) as {
  [O in Output]: 'fitted';
};
const WISHED: readonly Output[] = [
  'highSideValve',
  'lowSideValve',
  'recoveryValve',
  'vacuumValve',
  'chargeValve',
  'oilValve',
  'dyeValve',
  'separatorDrainValve',
];
/** From the hazards: tank liquid, pump, vehicle, recovery path, bottle and room. */
const APART: readonly (readonly [Output, Output])[] = [
  ['vacuumValve', 'chargeValve'],
  ['vacuumValve', 'recoveryValve'],
  ['chargeValve', 'recoveryValve'],
  ['chargeValve', 'lowSideValve'],
  ['separatorDrainValve', 'highSideValve'],
  ['separatorDrainValve', 'lowSideValve'],
  ['separatorDrainValve', 'vacuumValve'],
  ['separatorDrainValve', 'chargeValve'],
  ['oilValve', 'vacuumValve'],
  ['oilValve', 'recoveryValve'],
  ['oilValve', 'lowSideValve'],
  ['dyeValve', 'vacuumValve'],
  ['dyeValve', 'recoveryValve'],
  ['dyeValve', 'lowSideValve'],
  ['dyeValve', 'oilValve'],
  ['dyeValve', 'separatorDrainValve'],
];
const WITH_ENGINE: readonly (readonly [Output, Output])[] = [...APART, ['chargeValve', 'highSideValve']];

const SCANS = 6_000;
const LOOK_MS = 10;

/** Pairs that really stood open together, and what was open at all. */
function walk(deadTimeMs: number, engine: 'off' | 'running', heedSeats: boolean) {
  const chance = new Random(7, `wishes ${deadTimeMs} ${engine}`);
  const build = { ...drawBuild(PROFILES.hobby, 7, {}), valveDeadTimeMs: deadTimeMs };
  const actuators = new Actuators(build, new Random(7, 'valves'), new ActiveFaults());
  const met = new Set<string>();
  const opened = new Set<Output>();
  const pairs = engine === 'running' ? WITH_ENGINE : APART;
  let memory = openMemory(0);
  let wanted: Commands = commandsOf(() => OFF);
  for (let nowMs = 1_000; nowMs < 1_000 + 100 * SCANS; nowMs += 100) {
    if (chance.uniform() < 0.5) {
      const wishes = new Set(WISHED.filter(() => chance.uniform() < 0.3));
      const pulse = { on: true, offAfterMs: 100 };
      const charge = chance.uniform() < 0.5 ? pulse : ON;
      wanted = commandsOf((output) =>
        output === 'vacuumPump' ? ON : wishes.has(output) ? (output === 'chargeValve' ? charge : ON) : OFF,
      );
    }
    const manifold = chance.uniform() < 0.3 ? ('vacuum' as const) : ('low' as const);
    const remembered = {
      ...recall(memory, nowMs, 0),
      engine,
      clock: 'steady' as const,
      manifoldHolds: 'no-liquid' as const,
    };
    const shut = { highSeat: 'shut', lowSeat: 'shut', chargeSeat: 'shut', vacuumSeat: 'shut' } as const;
    const blind = {
      ...remembered,
      ...shut,
      recoverySeat: 'shut',
      drainSeat: 'shut',
      oilSeat: 'shut',
      dyeSeat: 'shut',
    } as const;
    const { permitted } = permit(wanted, { ...CALM_BANDS, manifold }, heedSeats ? remembered : blind, FITTED);
    memory = noteCommands(memory, permitted, undefined, nowMs);
    actuators.command(permitted, nowMs);
    for (let atMs = nowMs; atMs < nowMs + 100; atMs += LOOK_MS) {
      actuators.advance(atMs);
      for (const output of WISHED) if (actuators.isOn(output)) opened.add(output);
      for (const [one, other] of pairs)
        if (actuators.isOn(one) && actuators.isOn(other)) met.add(`${one} and ${other}`);
    }
  }
  return { met: [...met], opened };
}

test.each([
  [60, 'off'],
  [155, 'off'],
  [60, 'running'],
  [155, 'running'],
] as const)('with dead times of %d ms, engine %s', (deadTimeMs, engine) => {
  const { met, opened } = walk(deadTimeMs, engine, true);
  expect(met).toEqual([]);
  if (engine === 'off') expect([...opened].sort()).toEqual([...WISHED].sort());
  else expect(opened.has('chargeValve')).toBe(true);
});

test('the walk would find it: where nobody minds that valves take time, some meet', () => {
  expect(walk(80, 'off', false).met).toContain('vacuumValve and recoveryValve');
});
