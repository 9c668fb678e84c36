import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { Link } from '../../hardware/link.ts';
import { framed } from '../../hardware/protocol.ts';
import { boardText, bootText, bytesOf, seenText } from './told-board.ts';

function openLink(nowMs = 0): { link: Link; said: string[] } {
  const said: string[] = [];
  const link = new Link({ send: (text) => said.push(text.trimEnd()), nowMs });
  return { link, said };
}

function readyLink(): { link: Link; said: string[] } {
  const opened = openLink();
  opened.link.received(bytesOf(bootText()), 10);
  opened.link.received(bytesOf(boardText(7)), 20);
  expect(opened.link.state).toBe('ready');
  opened.said.length = 0;
  return opened;
}

describe('the handshake', () => {
  test('a board that says that it has started is asked at once', () => {
    const { link, said } = openLink();
    expect(link.state).toBe('booting');
    link.received(bytesOf(bootText()), 10);
    expect(link.state).toBe('handshaking');
    expect(said).toEqual(['HELLO 01*999<']);
    link.received(bytesOf(boardText(7)), 12);
    expect(link.state).toBe('ready');
    expect(link.board?.session).toBe(7);
  });

  test('a board that says nothing is asked after it has had time to start, and asked again', () => {
    const { link, said } = openLink();
    link.tick(2_400);
    expect(said).toEqual([]);
    for (let ms = 2_500; ms < 3_400; ms += 50) link.tick(ms);
    expect(said).toHaveLength(3);
    link.received(bytesOf(boardText()), 3_400);
    expect(link.state).toBe('ready');
  });

  test('nobody there: the link is lost, with what to look at', () => {
    const { link } = openLink();
    for (let ms = 0; ms < 6_000; ms += 50) link.tick(ms);
    expect(link.state).toBe('lost');
    expect(link.problem).toMatch(/right port.*power.*coldbench\.hex/);
  });

  test('a board of another version is refused, naming both and the remedy', () => {
    const { link, said } = openLink();
    link.received(bytesOf(bootText() + boardText(0, 2)), 10);
    expect(link.state).toBe('lost');
    expect(link.problem).toMatch(/version 2 .*version 1; flash/);
    said.length = 0;
    expect(link.arm(20)).toBe(false);
    expect(link.set(1, [], 20)).toBe(false);
    expect(said).toEqual([]);
  });

  test.each([
    ['fewer outputs', 9, 240],
    ['more outputs', 16, 240],
    ['outputs that stay on for longer than the protocol promises', 13, 251],
    ['outputs that drop between two commands', 13, 149],
  ])('a board with %s is refused, with the remedy, and never told anything', (_, outputs, expireMs) => {
    const { link, said } = openLink();
    link.received(bytesOf(bootText() + boardText(3, 1, outputs, expireMs)), 10);
    expect(link.state).toBe('lost');
    expect(link.problem).toMatch(/^the board .*; flash hardware\/firmware\/coldbench\.hex$/);
    said.length = 0;
    expect([link.arm(20), link.set(1, [], 20)]).toEqual([false, false]);
    expect(said).toEqual([]);
  });

  test('nothing is written before the board has given a session', () => {
    const { link, said } = openLink();
    expect(link.arm(0)).toBe(false);
    expect(link.set(0, [], 0)).toBe(false);
    link.received(bytesOf(bootText()), 10);
    expect(link.set(0, [], 11)).toBe(false);
    expect(said).toEqual(['HELLO 01*999<']);
  });
});

describe('a link that is ready', () => {
  test('numbers rise with every line, in the session of the board', () => {
    const { link, said } = readyLink();
    link.arm(100);
    link.set(0x3, [{ bit: 1, ms: 150 }], 200);
    link.set(0x3, [], 300);
    expect(said.map((line) => line.slice(0, 17))).toEqual([
      'ARM 0007 00000001',
      'SET 0007 00000002',
      'SET 0007 00000003',
    ]);
  });

  test('a command is said once more between two scans, and no more after that', () => {
    const { link, said } = readyLink();
    link.set(0x3, [], 100);
    for (let ms = 110; ms <= 380; ms += 10) link.tick(ms);
    expect(said).toHaveLength(2);
    expect(said[1]).toContain('SET 0007 00000002 0003 FFFC');
  });

  test('it is lost when the board has said nothing for 0.4 s, and not before', () => {
    const { link } = readyLink();
    link.received(bytesOf(seenText({ t: 100 })), 1_000);
    link.tick(1_390);
    expect(link.state).toBe('ready');
    link.tick(1_410);
    expect(link.state).toBe('lost');
    expect(link.problem).toMatch(/silent/);
    expect(link.set(1, [], 1_420)).toBe(false);
  });

  test('a board that starts anew by itself is a fault, told with its cause', () => {
    const { link } = readyLink();
    link.received(bytesOf(bootText('brown-out')), 100);
    expect(link.state).toBe('lost');
    expect(link.problem).toContain('brown-out');
  });

  test('an ARM on its way counts as armed until the board has answered otherwise', () => {
    const { link } = readyLink();
    expect(link.armed).toBe(false);
    link.arm(100);
    expect(link.armed).toBe(true);
    link.received(bytesOf(seenText({ obeyed: 0, state: 'tripped', trip: 'watchdog' })), 120);
    expect(link.armed).toBe(true);
    link.received(bytesOf(seenText({ obeyed: 1, state: 'armed' })), 170);
    expect(link.armed).toBe(true);
    link.received(bytesOf(seenText({ obeyed: 5, state: 'tripped', trip: 'emergency-stop' })), 220);
    expect(link.armed).toBe(false);
  });

  test('an ARM that was lost or refused is not believed for long', () => {
    const { link } = readyLink();
    link.arm(100);
    link.received(bytesOf(seenText({ obeyed: 0 })), 300);
    expect(link.armed).toBe(false);
  });

  test('the time of a reading is the host’s: the quickest of the last lines says how the clocks stand', () => {
    const { link } = readyLink();
    for (const [t, nowMs] of [
      [1_000, 51_030],
      [1_050, 51_054],
      [1_100, 51_180],
    ] as const)
      link.received(bytesOf(seenText({ t })), nowMs);
    expect(link.timeMsOf(1_100)).toBe(51_104);
  });

  test('the clock of a board that is half a per cent slow is followed, and its wrap is no jump', () => {
    const { link } = readyLink();
    let nowMs = 0;
    for (let line = 0; line < 12_000; line++) {
      nowMs = 100 + line * 50;
      const t = (2 ** 32 - 100_000 + Math.round(line * 49.75)) % 2 ** 32;
      link.received(bytesOf(seenText({ t })), nowMs);
      const off = nowMs - link.timeMsOf(t);
      if (off < 0 || off > 60) expect.fail(`${off} ms after ${line} lines`);
    }
    expect(nowMs).toBeGreaterThan(590_000);
  });
});

describe('what gets lost is counted, each kind by itself', () => {
  test('on this side', () => {
    const { link } = readyLink();
    link.received(bytesOf(`${'x'.repeat(300)}\n`), 30);
    link.received(bytesOf('no frame\n'), 30);
    link.received(bytesOf(seenText({}).replace('SEEN', 'SEEM')), 30);
    link.received(bytesOf(framed('NEWS from=tomorrow')), 30);
    link.received(bytesOf(seenText({ count: 0xfffe }) + seenText({ count: 2 })), 30);
    expect(link.losses).toMatchObject({ long: 1, form: 1, crc: 1, unknown: 1, missed: 3 });
  });

  test('on the board’s, from the first line that tells of them, over the wrap of its counters', () => {
    const { link } = readyLink();
    const lost = (crc: number): string =>
      framed(
        `LOST overrun=0 framing=0 overflow=0 long=0 crc=${crc} form=0 session=0 replay=0 refused=2 unsent=0`,
      );
    link.received(bytesOf(lost(65_530)), 30);
    link.received(bytesOf(lost(4)), 40);
    expect(link.losses.board).toMatchObject({ crc: 10, refused: 0, overrun: 0 });
  });
});

test('whatever bytes come, nothing is thrown, nothing believed that was not framed, and memory stays bounded', () => {
  const { link } = readyLink();
  const part = fc.oneof(
    fc.uint8Array({ maxLength: 400 }),
    fc.constantFrom(seenText({}), boardText(9), 'SEEN ', '*', '\r\n').map(bytesOf),
    fc.tuple(fc.constant(seenText({})), fc.nat(60), fc.nat(255)).map(([text, at, byte]) => {
      const bytes = Uint8Array.from(bytesOf(text));
      bytes[at] = byte;
      return bytes;
    }),
  );
  fc.assert(
    fc.property(fc.array(part, { maxLength: 30 }), (parts) => {
      for (const bytes of parts) link.received(bytes, 50);
      return link.state === 'ready' && (link.seen === undefined || link.seen.converter[0] === 10_000);
    }),
    { seed: 10, numRuns: 500 },
  );
});
