import { describe, expect, test } from 'vitest';
import { armLine, type BoardTrip, setLine } from '../../hardware/protocol.ts';
import { Host } from './host.ts';
import { hung, linkLost, switchOpened } from './proof/off-times.ts';

const LINK_LOST_MS = 250;
const SWITCH_MS = 5;
const HANG_MS = 150;

const closed = { emergencyStop: true, highPressureSwitch: true, gasAlarm: true, fanFlow: true };

/** A firmware that waits 255 ms instead of 240: for arming, for renewing, and in what it says of itself. */
function patient(words: Uint16Array): void {
  const LOADS_240 = 0xef00;
  let patched = 0;
  for (const [at, word] of words.entries())
    if ((word & 0xff0f) === LOADS_240) {
      words[at] = word | 0x000f;
      patched++;
    }
  if (patched !== 3) throw new Error(`${patched} places load 240`);
}

describe('the line falls silent', () => {
  test('everything is off, and the fan free, at most 250 ms after the last whole line: 300 of 300', () => {
    const times = linkLost(300);
    expect(times.filter((ms) => ms <= LINK_LOST_MS)).toHaveLength(300);
    // No sooner than the protocol promises, either.
    expect(Math.min(...times)).toBeGreaterThanOrEqual(239);
  });

  test('the check can fail: a board that waits 255 ms is found out', () => {
    const times = linkLost(20, { patch: patient });
    expect(times.filter((ms) => ms <= LINK_LOST_MS)).toHaveLength(0);
  });

  test('lines that keep coming keep the outputs on, and nothing flickers', () => {
    const host = new Host();
    host.drive(0x1e03);
    host.edges.length = 0;
    host.hold(0x1e03, 2000);
    expect(host.edges).toEqual([]);
    expect(host.board.outputs()).toBe(0x1e03);
  });
});

describe('a switch opens', () => {
  test.each([
    ['emergencyStop', 'emergency-stop'],
    ['highPressureSwitch', 'high-pressure'],
  ] as const)('%s: everything is off within 5 ms at 50 random moments', (contact, trip) => {
    const { times, trips } = switchOpened(contact, 50);
    expect(Math.max(...times)).toBeLessThanOrEqual(SWITCH_MS);
    expect(trips).toEqual([trip]);
  });

  test('a line that is being obeyed at that very moment turns nothing on again', () => {
    const host = new Host();
    host.hello();
    // The tick falls into every part of the obeying of a line, in steps of one microsecond.
    for (let step = 0; step < 1000; step++) {
      host.arm();
      host.set(0x1e03);
      host.board.advanceTo(Math.ceil(host.board.timeMs) + 2 + step * 0.001);
      host.set(0x1e03);
      host.board.setInputs({ closed: { ...closed, emergencyStop: false } });
      host.wait(4);
      if (host.board.outputs() !== 0) expect.fail(`on in step ${step}`);
      host.board.setInputs({ closed });
    }
  });

  test('the check can fail: a gas alarm drops nothing by itself', () => {
    const { times, trips } = switchOpened('gasAlarm', 3);
    expect(Math.min(...times)).toBe(Number.POSITIVE_INFINITY);
    expect(trips).toEqual(['none']);
  });
});

describe('the program hangs', () => {
  test.each(['main loop', 'timer', 'everything'] as const)('%s: off within 150 ms', (what) => {
    expect(Math.max(...hung(what, 20))).toBeLessThanOrEqual(HANG_MS);
  });

  test('the check can fail: a program that runs leaves its outputs on so long', () => {
    expect(Math.min(...hung('nothing', 3))).toBe(Number.POSITIVE_INFINITY);
  });

  test('the board comes back with the trip watchdog, in no session, and says so', () => {
    const host = new Host();
    host.drive(0x0003);
    host.board.hang('main loop');
    host.wait(200);
    expect(host.last('BOOT').cause).toBe('watchdog');
    expect(host.board.watchdogResets).toBe(1);
    expect(host.ask().seen).toMatchObject({ state: 'idle', trip: 'watchdog', word: 0 });
    host.hello();
    expect(host.ask().seen).toMatchObject({ state: 'tripped', trip: 'watchdog' });
  });
});

describe('after any trip no output comes on until the board is armed again', () => {
  const causes: Record<Exclude<BoardTrip, 'none'>, (host: Host) => void> = {
    'link-lost': (host) => host.wait(260),
    'emergency-stop': (host) => host.board.setInputs({ closed: { ...closed, emergencyStop: false } }),
    'high-pressure': (host) => host.board.setInputs({ closed: { ...closed, highPressureSwitch: false } }),
    'output-chain': (host) => host.board.setChainFault(0),
    watchdog: (host) => {
      host.board.hang('everything');
      host.wait(100);
      host.hello();
    },
  };

  test.each(Object.entries(causes))('%s', (trip, happens) => {
    const host = new Host();
    host.drive(0x1e03);
    happens(host);
    host.wait(10);
    expect(host.board.outputs()).toBe(0);
    host.board.setInputs({ closed });
    host.board.setChainFault(undefined);
    host.edges.length = 0;
    for (let times = 0; times < 20; times++) {
      host.set(1 << (times % 13));
      host.wait(20);
    }
    expect(host.edges).toEqual([]);
    const { seen, lost } = host.ask();
    expect(seen).toMatchObject({ state: 'tripped', trip });
    expect(lost.refused).toBe(20);
    // The twin: once it is armed, the same line is obeyed.
    host.arm();
    host.set(0x1e03);
    host.wait(3);
    expect(host.board.outputs()).toBe(0x1e03);
    expect(host.ask().seen).toMatchObject({ state: 'armed', trip: 'none' });
  });

  test('an ARM that comes in the moment of a trip does not hide its reason', () => {
    const host = new Host();
    host.drive(0x0003);
    host.wait(10);
    // Between the last byte and the obeying of it.
    host.send(armLine(host.session, ++host.number));
    host.board.setInputs({ closed: { ...closed, emergencyStop: false } });
    host.wait(3);
    expect(host.ask().seen).toMatchObject({ state: 'tripped', trip: 'emergency-stop', word: 0 });
  });

  test('the first reason is kept', () => {
    const host = new Host();
    host.drive(0x0003);
    host.board.setInputs({ closed: { ...closed, highPressureSwitch: false } });
    host.wait(5);
    host.board.setInputs({ closed: { ...closed, emergencyStop: false } });
    host.wait(300);
    expect(host.ask().seen.trip).toBe('high-pressure');
  });

  test.each([
    [
      'the emergency stop is pressed',
      (host: Host) => host.board.setInputs({ closed: { ...closed, emergencyStop: false } }),
    ],
    [
      'the pressure is too high',
      (host: Host) => host.board.setInputs({ closed: { ...closed, highPressureSwitch: false } }),
    ],
    ['the chain reads nothing but zeros', (host: Host) => host.board.setChainFault(0)],
    ['the chain reads nothing but ones', (host: Host) => host.board.setChainFault(1)],
  ])('arming is refused while %s', (_, happens) => {
    const host = new Host();
    host.hello();
    happens(host);
    host.wait(5);
    host.arm();
    expect(host.ask()).toMatchObject({ seen: { state: 'ready' }, lost: { refused: 1 } });
    host.board.setInputs({ closed });
    host.board.setChainFault(undefined);
    host.wait(5);
    host.arm();
    expect(host.ask().seen.state).toBe('armed');
  });
});

describe('the register chain', () => {
  test.each([0, 1] as const)('stuck at %i: off within 6 ms', (level) => {
    const host = new Host();
    host.drive(0x0403);
    const sinceMs = host.board.timeMs;
    host.board.setChainFault(level);
    host.wait(10);
    expect(host.changedTo(0, sinceMs) - sinceMs).toBeLessThanOrEqual(6);
  });

  test('a fault shorter than five milliseconds changes nothing', () => {
    const host = new Host();
    host.drive(0x0403);
    host.board.setChainFault(0);
    host.wait(3);
    host.board.setChainFault(undefined);
    host.wait(10);
    expect(host.board.outputs()).toBe(0x0403);
  });
});

describe('countdowns run on the chip', () => {
  test('an output goes off after its time to the millisecond, however often the line is repeated', () => {
    const host = new Host();
    host.drive(0);
    host.set(0x0013, [{ bit: 4, ms: 150 }]);
    for (let times = 0; times < 10; times++) {
      host.wait(20);
      host.set(0x0013, [{ bit: 4, ms: 150 }]);
    }
    const onMs = host.changedTo(0x0013, 0);
    expect(host.changedTo(0x0003, onMs) - onMs).toBeCloseTo(150, 1);
    expect(host.board.outputs()).toBe(0x0003);
  });

  test('a later line may shorten it and never extend it; commanded off and on it begins anew', () => {
    const host = new Host();
    host.drive(0);
    host.set(0x0001, [{ bit: 0, ms: 100 }]);
    host.wait(10);
    host.set(0x0001, [{ bit: 0, ms: 30 }]);
    host.wait(1);
    host.set(0x0001, [{ bit: 0, ms: 200 }]);
    host.wait(60);
    const onMs = host.changedTo(1, 0);
    const firstMs = host.changedTo(0, onMs) - onMs;
    expect(firstMs).toBeGreaterThan(35);
    expect(firstMs).toBeLessThan(50);
    host.set(0x0001);
    host.wait(3);
    expect(host.board.outputs()).toBe(0);
    host.set(0x0000);
    host.set(0x0001, [{ bit: 0, ms: 20 }]);
    host.wait(3);
    expect(host.board.outputs()).toBe(1);
    host.wait(30);
    expect(host.board.outputs()).toBe(0);
  });

  test('the fan stop has one too', () => {
    const host = new Host();
    host.drive(0);
    host.set(0x1000, [{ bit: 12, ms: 40 }]);
    host.wait(60);
    const onMs = host.changedTo(0x1000, 0);
    expect(host.changedTo(0, onMs) - onMs).toBeCloseTo(40, 1);
  });
});

describe('resets and power', () => {
  test.each([
    ['the reset pin', 'reset-pin', (host: Host) => host.board.reset('pin')],
    ['a brown-out', 'brown-out', (host: Host) => host.board.reset('brownOut')],
    [
      'power',
      'power',
      (host: Host) => {
        host.board.powerOff();
        host.wait(50);
        host.board.powerOn();
      },
    ],
  ] as const)('%s drops everything at once; the old session is dead', (_, cause, happens) => {
    const host = new Host();
    host.drive(0x1e03);
    const { session, number } = host;
    const sinceMs = host.board.timeMs;
    happens(host);
    expect(host.changedTo(0, sinceMs)).toBe(sinceMs);
    host.wait(60);
    expect(host.last('BOOT')).toMatchObject({ cause, firmware: '1.0.0' });
    host.send(armLine(session, number + 1));
    host.send(setLine(session, number + 2, 0x0001));
    expect(host.ask()).toMatchObject({ seen: { state: 'idle', word: 0 }, lost: { session: 2 } });
    host.hello();
    expect(host.session).toBe(session + 1);
  });

  test.each([
    [0xffff, 1],
    [0x00ff, 0x0100],
    [0xfffe, 0xffff],
  ])('the session after %i is %i', (stored, next) => {
    const eeprom = new Uint8Array(1024).fill(0xff);
    eeprom[0x10] = stored >> 8;
    eeprom[0x11] = stored & 0xff;
    const host = new Host({ eeprom });
    host.hello();
    expect(host.session).toBe(next);
  });
});
