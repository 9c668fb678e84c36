// Each line where it must fail: what the board, the machine or the operator does wrong, and the remedy that is named.
import { describe, expect, it } from 'vitest';
import { readRecord } from '../../../app/rig/equipment-file.ts';
import { lineOf } from '../../../hardware/commissioning/lines/index.ts';
import { type EquipmentRecord, type LineId, numberIn } from '../../../hardware/commissioning/record.ts';
import { type Machine, machineOf } from './simulated-machine.ts';
import { type Hands, type Told, walk } from './walk.ts';

const PASSED = readRecord('tests/app/rig/equipment.json');

type Wrong = {
  readonly machine?: (machine: Machine) => void;
  readonly hands?: Hands;
  readonly told?: Told;
  readonly record?: EquipmentRecord;
};

function resultOf(only: LineId, { machine: spoil, hands = {}, told, record = PASSED }: Wrong = {}) {
  const machine = machineOf('good', 3);
  spoil?.(machine);
  const walked = walk({
    board: machine.board,
    hands: { ...machine.hands, ...hands },
    told: told ?? machine.told,
    record,
    only,
    mostS: 4_000,
  });
  const { verdict, why = '' } = walked.record[only]!;
  return { verdict, why, said: walked.said, figures: walked.record[only]!.figures, record: walked.record };
}

const fault =
  (name: Parameters<Machine['board']['bench']['switchFault']>[0]['fault'], more = {}) =>
  ({ board }: Machine) =>
    board.bench.switchFault({ fault: name, ...more }, true);

describe('the emergency stop line', () => {
  it('passes where the board trips, and fails with a remedy where nobody presses within a minute', () => {
    expect(resultOf('emergency-stop').verdict).toBe('passed');
    const { verdict, why } = resultOf('emergency-stop', { told: [] });
    expect(verdict).toBe('failed');
    expect(why).toMatch(/did not see the emergency stop/);
    expect(why).toMatch(/wired as a break contact/);
  });

  it('fails where the board sees the button and does not trip', () => {
    const { verdict } = resultOf('emergency-stop', {
      machine: ({ board }) => {
        board.faults.obeysSwitches = false;
      },
    });
    expect(verdict).toBe('failed');
  });

  it('fails where the operator still sees something under voltage', () => {
    const { verdict, why } = resultOf('emergency-stop', { hands: { 'emergency-stop.dark': 'no' } });
    expect(verdict).toBe('failed');
    expect(why).toMatch(/keeps its supply behind a pressed emergency stop/);
  });
});

describe('the link loss line', () => {
  it('measures how long a board takes by its own clock, and fails one that holds on', () => {
    const { verdict, figures } = resultOf('link-loss');
    expect(verdict).toBe('passed');
    expect(numberIn(figures, 'darkAfterMs')).toBeLessThanOrEqual(300);
    expect(numberIn(figures, 'darkAfterMs')).toBeGreaterThanOrEqual(190);
    const held = resultOf('link-loss', {
      machine: ({ board }) => {
        board.faults.expires = false;
      },
    });
    expect(held.why).toMatch(/kept an output on although nothing was said to it/);
    expect(held.why).toMatch(/coldbench.hex/);
  });
});

describe('the high-pressure line', () => {
  it('fails where the switch is not seen', () => {
    expect(resultOf('high-pressure').verdict).toBe('passed');
    expect(resultOf('high-pressure', { told: [] }).why).toMatch(/did not see the high-pressure switch/);
  });
});

describe('the line of fan and gas alarm', () => {
  it('fails where the fan stands still, and where its switch does not change', () => {
    expect(resultOf('alarms', { machine: fault('fan-stopped') }).why).toMatch(/no air is seen at the fan/);
    expect(resultOf('alarms', { told: [] }).why).toMatch(/still sees air at the fan/);
  });

  it('tries the gas alarm where one is fitted', () => {
    const facts = PASSED.facts!;
    const record = {
      ...PASSED,
      facts: { ...facts, figures: { ...facts.figures, optionalSensors: ['barometer', 'gasAlarm'] } },
    };
    const machine = machineOf('good', 3);
    const { bench } = machine.board;
    bench.switchFault({ fault: 'gas-alarm' }, true);
    expect(resultOf('alarms', { record, machine: fault('gas-alarm') }).why).toMatch(
      /before anything has been done/,
    );
    expect(resultOf('alarms', { record }).why).toMatch(
      /has no reading|before anything|not see the gas alarm/,
    );
  });
});

describe('the click test', () => {
  it('fails where two outputs are exchanged, where one is dead to the ear, and where the fan runs on', () => {
    const exchanged = resultOf('click-test', {
      machine: ({ board }) => {
        board.faults.exchanged = ['recoveryValve', 'vacuumValve'];
      },
    });
    expect(exchanged.why).toMatch(/does not read back recoveryValve, and nothing else, as on/);
    expect(resultOf('click-test', { hands: { 'click-test.oilValve.moved': 'n' } }).why).toMatch(
      /oilValve did not act alone/,
    );
    expect(resultOf('click-test', { machine: fault('output-dead', { output: 'fanStop' }) }).why).toMatch(
      /air is still seen at it/,
    );
  });
});

describe('the lines of the sensors', () => {
  it('fail a sensor that does not show the room', () => {
    const { verdict, why } = resultOf('atmosphere', { hands: { 'atmosphere.barometer': '1080' } });
    expect(verdict).toBe('failed');
    expect(why).toMatch(/manifoldOffShare is -0.066\d and must be -0.03 to 0.03/);
  });

  it('fail a sensor whose wire is broken', () => {
    const { why } = resultOf('atmosphere', { machine: fault('tank-sensor-open') });
    expect(why).toMatch(/the tank sensor has no reading \(open-circuit\)/);
  });

  it('fail a gain that is another than typed, and a pump that does not evacuate', () => {
    const gain = resultOf('second-point', { hands: { 'second-point.lowSide': '8 bar' } });
    expect(gain.why).toMatch(/lowSideGain is 1.17 and must be 0.97 to 1.03/);
    const pump = resultOf('second-point', { machine: fault('output-dead', { output: 'vacuumPump' }) });
    expect(pump.verdict).toBe('failed');
  });

  it('fail a thermometer that is too far off', () => {
    expect(resultOf('temperatures', { hands: { 'temperatures.ambient': '26' } }).why).toMatch(
      /ambientOffsetK is [56]/,
    );
  });
});

describe('the scale line', () => {
  it('fails a scale that stands still', () => {
    expect(resultOf('scale', { machine: fault('scale-stuck') }).why).toMatch(
      /countsPerKg is .* two signal wires/,
    );
  });

  it('fails masses that were exchanged: the line through them is none', () => {
    const machine = machineOf('good', 3);
    const { board } = machine;
    const hands: Hands = {
      'scale.load.3': () => {
        board.bench.switchFault({ fault: 'scale-leaned-on', size: 15 }, true);
        return '';
      },
    };
    const walked = walk({ ...machine, hands: { ...machine.hands, ...hands }, record: PASSED, only: 'scale' });
    expect(walked.record.scale?.why).toMatch(/repeatabilityKg is .* level the platform/);
  });

  it('wants three loads that differ', () => {
    let tried = 0;
    const walked = resultOf('scale', {
      hands: { 'scale.masses': () => (tried++ === 0 ? '5, 10' : '5, 10, 20') },
      machine: fault('scale-stuck'),
    });
    expect(walked.said.join('\n')).toMatch(/at least three loads are needed/);
    expect(tried).toBe(2);
  });
});

describe('the lines of valves, volumes and leaks', () => {
  it('fail a valve that does not open', () => {
    const { why } = resultOf('dead-time', { machine: fault('output-dead', { output: 'highSideValve' }) });
    expect(why).toMatch(/did not fill/);
  });

  it('fail volumes that were measured with a hose open to the room', () => {
    expect(resultOf('volumes', { hands: { 'volumes.shut': '' } }).verdict).toBe('failed');
  });

  it('fail a machine that leaks', () => {
    const { verdict, why } = resultOf('leak-test', {
      hands: { 'leak-test.shut': '' },
      machine: fault('high-hose-off'),
    });
    expect(verdict).toBe('failed');
    expect(why).toMatch(/firstPa|manifoldPressurePa|vacuum/);
  });
});

describe('every line', () => {
  it('names the remedy of each tolerance, its reason, and what kind of reason that is', () => {
    for (const id of Object.keys(PASSED) as LineId[])
      for (const { remedy, because, basis } of lineOf(id).tolerances) {
        expect(remedy).not.toBe('');
        expect(because).not.toBe('');
        expect(['source', 'common practice', 'estimate']).toContain(basis);
      }
  });
});
