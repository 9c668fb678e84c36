// What docs/commissioning.md says of the rehearsal, taken at its word: facts, lines of emulate, and the scenario.
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { fluidOnce } from '../../../app/bench/whole-jobs.ts';
import { emulateLine } from '../../../app/cli/emulate-lines.ts';
import { Commissioning } from '../../../app/rig/commissioning.ts';
import { emulatedParts } from '../../../app/rig/emulated.ts';
import { quickManifold } from '../../../app/rig/quick-manifold.ts';
import { prepare } from '../../../app/run/prepare.ts';
import demo from '../../../app/scenario/demo.json' with { type: 'json' };
import { toScenario } from '../../../app/scenario/scenario.ts';
import { SAFE_COMMANDS } from '../../../controller/signals.ts';
import rehearsal from '../../../docs/rehearsal.json' with { type: 'json' };
import { dataSheetSensors } from '../../../hardware/commissioning/sensors.ts';
import { machineOf } from '../../hardware/commissioning/simulated-machine.ts';

const SECTION = readFileSync(new URL('../../../docs/commissioning.md', import.meta.url), 'utf8')
  .split('## Rehearsing it\n')[1]!
  .split('\n## ')[0]!;
const ANSWERS = SECTION.split('```')[1]!.trim().split('\n');

const session = () => prepare(toScenario(rehearsal, 'the rehearsal'), 'the rehearsal', fluidOnce, () => 0);

/** The facts of the page, typed one after the other. */
function typed(answers: readonly string[]) {
  const { board } = machineOf('good', 1);
  const commissioning = new Commissioning({
    record: {},
    only: 'facts',
    refrigerants: ['R-134a', 'R-1234yf'],
    startMs: 0,
    boardWith: () => board,
    keep: () => {},
  });
  const problems: string[] = [];
  const left = [...answers];
  let asked = false;
  for (let nowMs = 0; nowMs < 100_000; nowMs += 100) {
    const answer = asked ? left.shift() : undefined;
    const { says, done, ask } = commissioning.turn(nowMs, new Date(nowMs).toISOString(), answer);
    asked = ask !== undefined;
    problems.push(...says.filter(({ kind }) => kind === 'problem').map(({ text }) => text));
    if (done) break;
  }
  return { facts: commissioning.session.record.facts, problems, left };
}

test('its facts are all that is asked, and what the emulated machine has', () => {
  const { facts, problems, left } = typed(ANSWERS);
  expect({ problems, left }).toEqual({ problems: [], left: [] });
  expect(facts?.verdict).toBe('passed');
  const { typedBarometerPa: _, ...sensors } = dataSheetSensors(facts!.figures);
  expect(emulatedParts(session()).sensors).toMatchObject(
    Object.fromEntries(Object.entries(sensors).filter(([, sensor]) => sensor !== undefined)),
  );
});

test('the check can fail: with one fact left out the facts are not passed', () => {
  expect(typed(ANSWERS.slice(0, -1)).facts?.verdict).not.toBe('passed');
});

test('every line that is to be typed in emulate is one', () => {
  const quoted = SECTION.split('| to be done')[1]!
    .split('For a job')[0]!
    .match(/`[^`]+`/g)!
    .map((text) => text.slice(1, -1));
  const lines = quoted.filter((text) => text !== 'emulate');
  expect(lines.length).toBeGreaterThan(20);
  for (const line of lines) expect(emulateLine(line), line).toBeDefined();
});

test('what is put on the wires at the second point is what the sensors of this machine say there', () => {
  const { build } = session().machine;
  const offsetsPa = { high: build.highSideOffsetPa, low: build.lowSideOffsetPa, tank: build.tankOffsetPa };
  const gauges = /shows (\d+), (\d+) and (\d+) bar/
    .exec(SECTION)!
    .slice(1)
    .map((bar) => Number(bar) * 1e5);
  const wires = [...SECTION.matchAll(/`(set (high|low|tank) [\d.]+ bar)`/g)];
  expect(wires).toHaveLength(3);
  wires.forEach(([, text, name], index) => {
    const line = emulateLine(text!);
    const saysPa = gauges[index]! + offsetsPa[name as keyof typeof offsetsPa];
    // The page writes hundredths of a bar.
    expect(line?.kind === 'set' && Math.abs(line.value! - saysPa), name).toBeLessThan(500);
  });
});

test('its machine is that of the demo, on which the job is then run', () => {
  const demonstrated = prepare(toScenario(demo, 'the demo'), 'the demo', fluidOnce, () => 0);
  expect(session().machine.build).toEqual(demonstrated.machine.build);
});

test('its machine is empty: nothing but air of the room, and a trace', () => {
  const truth = session().bench.truth();
  expect(truth.vehicleRefrigerantKg + truth.tankRefrigerantKg + truth.machineRefrigerantKg).toBeLessThan(
    0.003,
  );
  const { tankPressurePa } = session().bench.readings();
  expect(tankPressurePa.ok && Math.abs(tankPressurePa.value - 101_325)).toBeLessThan(0.03 * 2e6);
});

test('its manifold is on the wire at every moment and ends where the sensor ends: the dead time is found by it', () => {
  const { bench } = session();
  const quick = quickManifold(() => bench);
  const onWire = new Set<number>();
  const sampled = new Set<number>();
  const look = (rig: Pick<typeof bench, 'readings'>, into: Set<number>): number => {
    const { manifoldPressurePa } = rig.readings();
    if (!manifoldPressurePa.ok) throw new Error('the manifold sensor has no reading');
    into.add(manifoldPressurePa.value);
    return manifoldPressurePa.value;
  };
  quick.switchFault({ fault: 'high-hose-off' }, true);
  quick.apply({ ...SAFE_COMMANDS, highSideValve: { on: true, offAfterMs: 10_000 } });
  let apartPa = 0;
  for (let ms = 10; ms <= 400; ms += 10) {
    quick.advanceTo(ms);
    const wirePa = look(quick, onWire);
    apartPa = Math.abs(wirePa - look(bench, sampled));
  }
  expect(sampled.size).toBeLessThanOrEqual(5);
  expect(onWire.size).toBeGreaterThan(15);
  expect(apartPa).toBe(0);
});
