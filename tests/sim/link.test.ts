// What the rig's board does by itself when the line or the mains fail.
import { describe, expect, test } from 'vitest';
import { fluidData, prepare } from '../../app/run/prepare.ts';
import { toScenario } from '../../app/scenario/scenario.ts';
import { type Commands, ON, type Output, SAFE_COMMANDS } from '../../controller/signals.ts';
import { ActiveFaults } from '../../sim/faults.ts';
import { Link } from '../../sim/link.ts';

const fluid = fluidData('R-134a');
const scenario = toScenario(
  { ticket: { refrigerant: 'R-134a', nominalChargeG: 600 }, vehicle: { chargeG: 500 } },
  'the test',
);
const bench = () =>
  prepare(
    scenario,
    'the test',
    () => fluid,
    () => 0,
  ).bench;

const commands = (...outputs: readonly Output[]): Commands => ({
  ...SAFE_COMMANDS,
  ...Object.fromEntries(outputs.map((output) => [output, ON])),
});
const PUMPING = commands('vacuumPump', 'vacuumValve', 'highSideValve', 'lowSideValve', 'fanStop');

/** A bench that has been pumping at its hoses for half a second, with most of them still to come. */
function pumping() {
  const rig = bench();
  rig.apply(PUMPING);
  rig.advanceTo(500);
  return rig;
}

const exhausted = (rig: ReturnType<typeof bench>): number => rig.truth().pumpExhaustKg;

/** A switched fault cuts one step of the network in two. */
const ROUNDING_KG = 1e-8;

/** The largest difference of any place's mass. */
function difference(one: ReturnType<typeof bench>, other: ReturnType<typeof bench>): number {
  const masses = Object.values(other.truth());
  return Math.max(...Object.values(one.truth()).map((massKg, index) => Math.abs(massKg - masses[index]!)));
}

describe('a cut line', () => {
  test('freezes the readings, and they are the last ones', () => {
    const rig = pumping();
    const last = rig.readings();
    rig.switchFault({ fault: 'link-lost' }, true);
    rig.advanceTo(9000);
    expect(rig.readings()).toBe(last);
    rig.switchFault({ fault: 'link-lost' }, false);
    rig.advanceTo(9100);
    expect(rig.readings().scaleCounts).toMatchObject({ ok: true, atMs: 9100 });
  });

  test('lets no command pass', () => {
    const [told, untold] = [bench(), bench()];
    for (const rig of [told, untold]) rig.switchFault({ fault: 'link-lost' }, true);
    told.apply(PUMPING);
    for (const rig of [told, untold]) rig.advanceTo(3000);
    expect(told.truth()).toEqual(untold.truth());
  });

  test('drops every output 250 ms later, and the fan runs again', () => {
    const [cut, commanded, uncut] = [pumping(), pumping(), pumping()];
    cut.switchFault({ fault: 'link-lost' }, true);
    for (const rig of [cut, commanded, uncut]) rig.advanceTo(750);
    commanded.apply(SAFE_COMMANDS);
    for (const rig of [cut, commanded, uncut]) rig.advanceTo(6000);
    expect(difference(cut, commanded)).toBeLessThan(ROUNDING_KG);
    expect(exhausted(cut)).toBeLessThan(exhausted(uncut) - 1e-6);
    cut.switchFault({ fault: 'link-lost' }, false);
    cut.advanceTo(6100);
    expect(cut.readings().fanFlow).toMatchObject({ ok: true, value: true });
  });

  test('a gap that a command ends within 250 ms drops nothing', () => {
    const [cut, uncut] = [pumping(), pumping()];
    cut.switchFault({ fault: 'link-lost' }, true);
    cut.advanceTo(600);
    cut.switchFault({ fault: 'link-lost' }, false);
    cut.advanceTo(700);
    cut.apply(PUMPING);
    for (const rig of [cut, uncut]) rig.advanceTo(6000);
    expect(difference(cut, uncut)).toBeLessThan(ROUNDING_KG);
  });

  test('after a drop the board obeys only once every output has been commanded off', () => {
    const pumpedBy = (...words: readonly Commands[]): number => {
      const rig = pumping();
      rig.switchFault({ fault: 'link-lost' }, true);
      rig.advanceTo(3000);
      rig.switchFault({ fault: 'link-lost' }, false);
      for (const word of words) {
        rig.apply(word);
        rig.advanceTo(rig.nowMs() + 1000);
      }
      return exhausted(rig) - exhaustedAtDrop;
    };
    const rig = pumping();
    rig.switchFault({ fault: 'link-lost' }, true);
    rig.advanceTo(8000);
    const exhaustedAtDrop = exhausted(rig);
    expect(pumpedBy(PUMPING, commands('vacuumPump'), PUMPING)).toBeCloseTo(0, 9);
    expect(pumpedBy(PUMPING, SAFE_COMMANDS, PUMPING)).toBeGreaterThan(1e-6);
  });
});

describe('a mains failure', () => {
  test('drops every output at once', () => {
    const [dark, commanded] = [pumping(), pumping()];
    dark.switchFault({ fault: 'power-lost' }, true);
    commanded.apply({ ...SAFE_COMMANDS, fanStop: ON });
    for (const rig of [dark, commanded]) rig.advanceTo(8000);
    expect(difference(dark, commanded)).toBeLessThan(ROUNDING_KG);
  });

  test('stops the fan as well', () => {
    const rig = bench();
    rig.switchFault({ fault: 'power-lost' }, true);
    rig.advanceTo(5000);
    rig.switchFault({ fault: 'power-lost' }, false);
    rig.advanceTo(5100);
    expect(rig.readings().fanFlow).toMatchObject({ ok: true, value: true });
  });
});

test('a word that turns nothing on re-arms, one that turns anything on does NOT', () => {
  const faults = new ActiveFaults();
  const link = new Link(faults);
  expect(link.receive(PUMPING)).toBe(true);
  link.dropped();
  expect(link.receive(PUMPING)).toBe(false);
  expect(link.receive(SAFE_COMMANDS)).toBe(true);
  expect(link.receive(PUMPING)).toBe(true);
});
