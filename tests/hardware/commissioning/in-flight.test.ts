// The line that works with refrigerant: weighed pulses into an evacuated vessel, against what the simulator lets pass.
import { describe, expect, it } from 'vitest';
import { readRecord } from '../../../app/rig/equipment-file.ts';
import { numberIn, numbersIn } from '../../../hardware/commissioning/record.ts';
import { createBench } from '../../../sim/bench.ts';
import { specOf, tablesOf } from '../../sim/hand.ts';
import { BenchBoard } from './bench-board.ts';
import { walk } from './walk.ts';

const PASSED = readRecord('tests/app/rig/equipment.json');

function weighedPulses({ lateMs = 0, seed = 4 } = {}) {
  const vehicle = { chargeKg: 1e-5, volumeM3: 12e-3 };
  const bench = createBench(specOf({ seed, vehicle }), tablesOf('R-134a'));
  bench.operate('connect-hoses');
  const board = new BenchBoard(bench);
  board.faults.chargeShutsLateMs = lateMs;
  const startKg = bench.truth().tankRefrigerantKg;
  const { record } = walk({
    board,
    hands: { 'in-flight.ready': '', 'in-flight.shut': '' },
    record: PASSED,
    only: 'in-flight',
  });
  return { line: record['in-flight']!, leftKg: startKg - bench.truth().tankRefrigerantKg };
}

describe('the in-flight line', () => {
  const { line, leftKg } = weighedPulses();

  it('weighs what leaves the tank, pulse by pulse', () => {
    const passed = numbersIn(line.figures, 'passedKg');
    const sumKg = passed.reduce((sum, one) => sum + one, 0);
    // The hose pulls at the platform with up to a few grams once it is under pressure; every pulse after it has the same.
    expect(Math.abs(sumKg - leftKg)).toBeLessThan(0.01);
    expect(line.verdict).toBe('passed');
  });

  it('finds next to nothing in flight where a valve is as late to shut as to open', () => {
    const inFlightKg = numberIn(line.figures, 'inFlightKg');
    expect(Math.abs(inFlightKg)).toBeLessThan(3 * numberIn(line.figures, 'inFlightSdKg') + 0.0005);
  });

  it('finds the grams of a valve that shuts a tenth of a second late', () => {
    const { figures } = weighedPulses({ lateMs: 100 }).line;
    const flowKgPerS = numberIn(figures, 'flowKgPerS');
    const sdKg = numberIn(figures, 'inFlightSdKg');
    expect(Math.abs(numberIn(figures, 'inFlightKg') - 0.1 * flowKgPerS)).toBeLessThan(3 * sdKg + 0.0005);
  });

  it('names the push on the scale, not the flow, where somebody leans on it between two pulses', () => {
    const { verdict, why } = weighedPulses({ seed: 15 }).line;
    expect(verdict).toBe('failed');
    expect(why).toMatch(/inFlightSdKg.*nothing touches the scale/);
  });
});
