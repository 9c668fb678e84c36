// Commissioning with the real firmware in the loop: the trips are the board's own, and so are its clock and its line.
import { describe, expect, it } from 'vitest';
import { readRecord } from '../../app/rig/equipment-file.ts';
import { type EquipmentRecord, type LineId, numberIn } from '../../hardware/commissioning/record.ts';
import { EmulatedMachine } from '../hardware/commissioning/emulated-board.ts';
import { machineWith } from '../hardware/commissioning/simulated-machine.ts';
import { walk } from '../hardware/commissioning/walk.ts';

const PASSED = readRecord('tests/app/rig/equipment.json');
const FACTS = PASSED.facts!.figures;
const SURE = 3;
/** A builder in a hurry: the emulated board takes the time of this computer. */
const TAKES_MS = 150;

const lines = (...ids: readonly LineId[]): EquipmentRecord =>
  Object.fromEntries(Object.entries(PASSED).filter(([id]) => !ids.includes(id as LineId)));

function emulated(record: EquipmentRecord) {
  const machine = machineWith('good', 3, (bench) => new EmulatedMachine(bench, FACTS));
  const walked = walk({
    ...machine,
    record,
    takesMs: TAKES_MS,
    mostS: 400,
  });
  return { ...walked, build: machine.build, board: machine.board };
}

describe('commissioning a board that runs the real firmware', () => {
  it('finds emergency stop, silence and high-pressure switch as the firmware trips, each output, and the room', () => {
    const { record, said, board } = emulated(
      lines('emergency-stop', 'link-loss', 'high-pressure', 'alarms', 'click-test', 'atmosphere'),
    );
    expect(said.filter((text) => / (failed|held-up|problem): /.test(text))).toEqual([]);
    expect(record['emergency-stop']?.figures).toMatchObject({ trippedBy: 'emergency-stop', word: 0 });
    expect(record['link-loss']?.figures).toMatchObject({ trippedBy: 'link-lost', word: 0 });
    expect(numberIn(record['link-loss']!.figures, 'darkAfterMs')).toBeGreaterThanOrEqual(150);
    expect(record['high-pressure']?.figures).toMatchObject({ trippedBy: 'high-pressure' });
    const tankPa = numberIn(record.atmosphere!.figures, 'tankReadPa');
    expect(Math.abs(tankPa - numberIn(PASSED.atmosphere!.figures, 'tankReadPa'))).toBeLessThan(3_000);
    expect(board.bench.inspect().on).toEqual([]);
  });

  it('finds the dead time of a valve within what it says of it, with line, converter and telemetry between', () => {
    const { record, build } = emulated(lines('dead-time'));
    const { figures } = record['dead-time']!;
    const off = numberIn(figures, 'valveDeadTimeMs') - build.valveDeadTimeMs;
    expect(Math.abs(off)).toBeLessThan(SURE * numberIn(figures, 'deadTimeSdMs'));
  });

  it('takes a board again that a silence let go while a question stood', () => {
    const machine = machineWith('good', 3, (bench) => new EmulatedMachine(bench, FACTS));
    const { board, hands } = machine;
    const sleep = (): string => {
      board.advanceTo(board.nowMs + 2_000);
      return '';
    };
    const walked = walk({
      ...machine,
      hands: { ...hands, 'click-test.highSideValve.ready': sleep, 'click-test.lowSideValve.moved': 'no' },
      record: lines('click-test'),
      takesMs: TAKES_MS,
    });
    expect(walked.record['click-test']?.why).toMatch(/lowSideValve did not act alone/);
  });
});
