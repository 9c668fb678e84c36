import { describe, expect, test } from 'vitest';
import { boardLine, LONGEST_LINE, unframed } from '../../hardware/protocol.ts';
import { Host } from './host.ts';

/** A host whose board has had time to see new inputs through. */
function seeing(inputs: Parameters<Host['board']['setInputs']>[0]) {
  const host = new Host();
  host.board.setInputs(inputs);
  host.wait(120);
  return host.ask().seen;
}

const closed = { emergencyStop: true, highPressureSwitch: true, gasAlarm: true, fanFlow: true };

describe('what the board sees', () => {
  test('its analog inputs: ten conversions of ten bits each, summed', () => {
    const volts = [0.5, 2.25, 4.5, 2.5, 3.3];
    const { analog } = seeing({ analogVolts: volts });
    // Ideal converter, ATmega328P data sheet: counts = volts / 5 * 1024.
    expect(analog).toEqual(
      volts.map((each) => ({ sum: 10 * Math.floor((each / 5) * 1024), band: 'inside' })),
    );
  });

  test.each([
    ['a broken wire at a transducer', 0, 0, 'below'],
    ['a transducer just below its band', 1, 0.24, 'below'],
    ['a transducer just inside', 1, 0.26, 'inside'],
    ['a transducer just inside, above', 2, 4.74, 'inside'],
    ['a transducer shorted to the supply', 2, 5, 'above'],
    ['a thermistor shorted', 3, 0, 'below'],
    ['a thermistor just inside', 3, 0.21, 'inside'],
    ['a thermistor just below', 3, 0.19, 'below'],
    ['a thermistor whose wire is broken', 4, 5, 'above'],
    ['a thermistor just inside, above', 4, 4.79, 'inside'],
  ] as const)('%s is marked', (_, input, volts, band) => {
    const analogVolts = [1, 1, 1, 2.5, 2.5];
    analogVolts[input] = volts;
    const { analog } = seeing({ analogVolts });
    expect(analog[input]!.band).toBe(band);
    expect(analog.filter((each, at) => at !== input && each.band !== 'inside')).toEqual([]);
  });

  test('the bridge: a reading grows old, is forgotten before its age wraps, and a new one is taken', () => {
    const host = new Host();
    host.board.setInputs({ bridgeCounts: 4711 });
    host.wait(60);
    host.board.setInputs({ bridgeCounts: undefined });
    host.wait(65_000);
    const { bridge } = host.ask().seen;
    expect(bridge?.counts).toBe(4711);
    expect(bridge?.ageMs).toBeGreaterThan(64_900);
    host.wait(700);
    expect(host.ask().seen.bridge).toBeUndefined();
    host.board.setInputs({ bridgeCounts: -3 });
    host.wait(60);
    expect(host.ask().seen.bridge?.counts).toBe(-3);
  });

  test('the 16-bit converter: 187.5 microvolts a count, each input its own', () => {
    const volts = [0.000_187_5, 1.5, 4.0, 6.2];
    expect(seeing({ converterVolts: volts }).converter).toEqual([1, 8000, 21_333, 32_767]);
    expect(seeing({ converterVolts: [-0.001, 0, 0, 0] }).converter).toEqual([-5, 0, 0, 0]);
  });

  test('a converter that is missing, or comes back', () => {
    const host = new Host();
    host.wait(100);
    host.board.setInputs({ converterVolts: undefined });
    host.wait(60);
    expect(host.ask().seen.converter).toEqual([undefined, undefined, undefined, undefined]);
    host.board.setInputs({ converterVolts: [1.5, 1.5, 1.5, 1.5] });
    host.wait(60);
    expect(host.ask().seen.converter).toEqual([8000, 8000, 8000, 8000]);
  });

  test.each([0, 1, -1, 1_304_211, 8_388_607, -8_388_608])('the bridge at %i counts', (bridgeCounts) => {
    const { bridge } = seeing({ bridgeCounts });
    expect(bridge!.counts).toBe(bridgeCounts);
    expect(bridge!.ageMs).toBeLessThanOrEqual(13);
  });

  test('a bridge that is missing from the start has no reading; one that falls silent has an old one', () => {
    const host = new Host();
    host.wait(100);
    host.board.setInputs({ bridgeCounts: undefined });
    host.wait(500);
    expect(host.ask().seen.bridge!.ageMs).toBeGreaterThan(490);
    expect(host.board.bridgeSwitchedOff).toBe(0);

    const none = new Host();
    none.board.setInputs({ bridgeCounts: undefined });
    none.board.reset('pin');
    none.wait(100);
    expect(none.ask().seen.bridge).toBeUndefined();
  });

  test.each([
    ['nothing is amiss', closed, 8],
    ['the emergency stop is pressed', { ...closed, emergencyStop: false }, 9],
    ['the pressure is too high', { ...closed, highPressureSwitch: false }, 10],
    ['there is gas', { ...closed, gasAlarm: false }, 12],
    ['no air moves', { ...closed, fanFlow: false }, 0],
    [
      'every wire is broken',
      { emergencyStop: false, highPressureSwitch: false, gasAlarm: false, fanFlow: false },
      7,
    ],
  ])('switches: %s', (_, contacts, digit) => {
    expect(seeing({ closed: contacts }).switches).toBe(digit);
  });

  test('what the outputs have is read back, the fan stop from its pin', () => {
    const host = new Host();
    host.drive(0x1e03);
    expect(host.ask().seen.word).toBe(0x1e03);
    host.wait(300);
    expect(host.ask().seen.word).toBe(0);
  });
});

describe('the pace of telemetry', () => {
  test('SEEN comes every 50 ms once there is a session, LOST every second, and none is missing', () => {
    const host = new Host();
    expect(host.of('SEEN')).toEqual([]);
    host.hello();
    host.arm();
    host.hold(0x0403, 4000);
    const seen = host.of('SEEN');
    expect(seen.length).toBeGreaterThanOrEqual(79);
    for (const [at, line] of seen.slice(1).entries()) {
      expect(line.count).toBe(seen[at]!.count + 1);
      // Where LOST is due at the same moment, SEEN may wait a few milliseconds for its turn.
      expect(Math.abs(line.timeMs - seen[at]!.timeMs - 50)).toBeLessThanOrEqual(8);
    }
    expect(host.of('LOST').length).toBeGreaterThanOrEqual(4);
    expect(host.last('LOST')).toMatchObject({ overrun: 0, overflow: 0, unsent: 0, crc: 0, form: 0 });
  });

  test('a greeting in another version is answered, and begins nothing', () => {
    const host = new Host();
    host.hello();
    host.arm();
    host.set(1);
    host.wait(3);
    host.send('HELLO 02*:9??\n');
    host.wait(1);
    expect(host.board.outputs()).toBe(0);
    host.wait(20);
    expect(host.last('BOARD')).toMatchObject({ protocol: 1, session: 0 });
    host.arrived.length = 0;
    host.wait(300);
    expect(host.of('SEEN')).toEqual([]);
  });

  test('every line is whole, no longer than the protocol allows, even with the longest of everything', () => {
    const host = new Host();
    let text = '';
    host.board.onSend((byte) => {
      text += String.fromCharCode(byte);
    });
    host.board.setInputs({
      analogVolts: [5, 5, 5, 5, 5],
      converterVolts: [-6.144, -6.144, -6.144, -6.144],
      bridgeCounts: -8_388_608,
    });
    host.drive(0x1fff);
    host.board.setInputs({ closed: { ...closed, emergencyStop: false } });
    host.hold(0, 1200);
    const lines = text.split('\n').slice(0, -1);
    expect(lines.length).toBeGreaterThan(20);
    for (const line of lines) {
      const got = unframed(line);
      expect(got.ok && boardLine(got.payload)).toBeTruthy();
      expect(line.length).toBeLessThanOrEqual(LONGEST_LINE);
    }
  });

  test('the same calls have the same outcome to the microsecond', () => {
    const run = () => {
      const host = new Host();
      host.drive(0x0403);
      host.hold(0x0001, 300);
      return host.arrived.map(({ line, timeMs }) => [line, timeMs]);
    };
    expect(run()).toEqual(run());
  });
});
