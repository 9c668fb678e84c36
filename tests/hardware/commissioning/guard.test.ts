// The last word over what commissioning may energise: each rule, and the twin that it does not act without cause.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { OUTPUTS, type Output } from '../../../controller/signals.ts';
import { type Guarded, LONGEST_PULSE_MS, permitted } from '../../../hardware/commissioning/guard.ts';
import { LINES } from '../../../hardware/commissioning/lines/index.ts';
import { type Changes, seenWith } from './support.ts';

const PUMPING: Guarded = {
  line: { mayDrive: { vacuumPump: 60_000, vacuumValve: 60_000, highSideValve: LONGEST_PULSE_MS } },
  wishes: [
    { output: 'vacuumPump', offAfterMs: 30_000 },
    { output: 'vacuumValve', offAfterMs: 30_000 },
  ],
  fitted: OUTPUTS,
  seen: seenWith(),
  declaredEmpty: true,
  waits: false,
};

const onOf = (guarded: Guarded): readonly Output[] => {
  const { commands } = permitted(guarded);
  return OUTPUTS.filter((output) => commands[output].on);
};
const reading = (changes: Changes): Guarded => ({ ...PUMPING, seen: seenWith(changes) });

describe('what commissioning may energise', () => {
  it('permits what the line has declared, each with its countdown, and nothing else', () => {
    const { commands, refused } = permitted(PUMPING);
    expect(refused).toEqual([]);
    expect(onOf(PUMPING)).toEqual(['vacuumValve', 'vacuumPump']);
    expect(commands.vacuumPump.offAfterMs).toBe(30_000);
  });

  it('never counts down longer than the line has declared', () => {
    const wishes = [{ output: 'highSideValve', offAfterMs: 600_000 } as const];
    expect(permitted({ ...PUMPING, wishes }).commands.highSideValve.offAfterMs).toBe(LONGEST_PULSE_MS);
  });

  it('refuses an output that the line has not declared, beside one that it has', () => {
    const wishes = [...PUMPING.wishes, { output: 'compressor', offAfterMs: 100 } as const];
    expect(onOf({ ...PUMPING, wishes })).toEqual(['vacuumValve', 'vacuumPump']);
    expect(permitted({ ...PUMPING, wishes }).refused).toEqual([
      'compressor is not among the outputs of this line',
    ]);
  });

  it('refuses an output that is not fitted, and a wish without a countdown', () => {
    expect(onOf({ ...PUMPING, fitted: ['vacuumValve'] })).toEqual(['vacuumValve']);
    const wishes = [{ output: 'vacuumPump', offAfterMs: 0 } as const];
    expect(onOf({ ...PUMPING, wishes })).toEqual([]);
  });

  it('has nothing on while an answer is awaited', () => {
    expect(onOf({ ...PUMPING, waits: true })).toEqual([]);
  });

  it('has nothing on unless the operator has declared the machine empty', () => {
    expect(onOf({ ...PUMPING, declaredEmpty: false })).toEqual([]);
  });

  it.each(['highSidePressurePa', 'lowSidePressurePa', 'tankPressurePa', 'manifoldPressurePa'])(
    'has nothing on while %s is above 1.5 bar or unknown, and does not mind 1.05 bar',
    (sensor) => {
      expect(onOf(reading({ [sensor]: 150_001 }))).toEqual([]);
      expect(onOf(reading({ [sensor]: undefined }))).toEqual([]);
      expect(onOf(reading({ [sensor]: 105_000 }))).toEqual(['vacuumValve', 'vacuumPump']);
    },
  );

  it.each(['emergencyStop', 'highPressureSwitch', 'gasAlarm'])(
    'has nothing on while %s is tripped or unknown',
    (name) => {
      expect(onOf(reading({ [name]: true }))).toEqual([]);
      expect(onOf(reading({ [name]: undefined }))).toEqual([]);
      expect(onOf(reading({ [name]: false }))).toEqual(['vacuumValve', 'vacuumPump']);
    },
  );

  it('takes a gas alarm that is not fitted for none', () => {
    const seen = seenWith();
    const without = {
      ...seen,
      readings: { ...seen.readings, gasAlarm: { ok: false, reason: 'not-fitted' } as const },
    };
    expect(onOf({ ...PUMPING, seen: without })).toEqual(['vacuumValve', 'vacuumPump']);
  });

  it('has nothing on when the line to the board is lost', () => {
    expect(onOf({ ...PUMPING, seen: seenWith({}, { linked: false }) })).toEqual([]);
  });

  it('does not open the pump to more than a room, nor together with the charge valve', () => {
    expect(onOf(reading({ manifoldPressurePa: 120_000 }))).toEqual(['vacuumPump']);
    const line = { mayDrive: { ...PUMPING.line.mayDrive, chargeValve: 1_000 } };
    const wishes = [...PUMPING.wishes, { output: 'chargeValve', offAfterMs: 500 } as const];
    expect(onOf({ ...PUMPING, line, wishes })).toEqual(['chargeValve', 'vacuumPump']);
  });

  it('lets only the line that works with refrigerant drive a machine that holds some', () => {
    const full = { ...reading({ tankPressurePa: 650_000 }), declaredEmpty: false };
    expect(onOf(full)).toEqual([]);
    expect(onOf({ ...full, line: { ...full.line, withRefrigerant: true } })).toEqual([
      'vacuumValve',
      'vacuumPump',
    ]);
    expect(LINES.filter(({ withRefrigerant }) => withRefrigerant === true).map(({ id }) => id)).toEqual([
      'in-flight',
    ]);
  });

  it('permits under no readings whatever an output without a countdown, beyond its declaration, or in a wait', () => {
    const wishes = fc.array(
      fc.record({ output: fc.constantFrom(...OUTPUTS), offAfterMs: fc.integer({ min: -5, max: 5_000_000 }) }),
      { maxLength: 6 },
    );
    const pressure = fc.option(fc.integer({ min: 0, max: 400_000 }), { nil: undefined });
    const seen = fc
      .record({ highSidePressurePa: pressure, tankPressurePa: pressure, emergencyStop: fc.boolean() })
      .map((changes) => seenWith(changes));
    fc.assert(
      fc.property(
        fc.constantFrom(...LINES),
        wishes,
        seen,
        fc.boolean(),
        fc.boolean(),
        (line, wished, sees, declaredEmpty, waits) => {
          const guarded = { line, wishes: wished, fitted: OUTPUTS, seen: sees, declaredEmpty, waits };
          const { commands } = permitted(guarded);
          for (const output of onOf(guarded)) {
            const { offAfterMs = Number.POSITIVE_INFINITY } = commands[output];
            expect(waits).toBe(false);
            expect(declaredEmpty || line.withRefrigerant === true).toBe(true);
            expect(offAfterMs).toBeGreaterThan(0);
            expect(offAfterMs).toBeLessThanOrEqual(line.mayDrive[output] ?? 0);
          }
        },
      ),
      { seed: 11, numRuns: 2_000 },
    );
  });
});

describe('what the lines declare', () => {
  it('never holds compressor, charge valve or heater longer than a pulse', () => {
    for (const line of LINES)
      for (const output of ['compressor', 'chargeValve', 'tankHeater', 'oilValve', 'airPurgeValve'] as const)
        expect(line.mayDrive[output] ?? 0).toBeLessThanOrEqual(LONGEST_PULSE_MS);
  });
});
