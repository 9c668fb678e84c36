// The page and the drawings by which a rig is wired, held to the protocol, to the firmware and to the chip.
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { ANALOG_INPUTS, CONVERTER_INPUTS, OUTPUT_BITS } from '../../hardware/protocol.ts';

const read = (path: string): string => readFileSync(new URL(`../../${path}`, import.meta.url), 'utf8');
const PAGE = read('docs/rig.md');
const BOARD = read('docs/rig/schematic.svg');
const SUPPLY = read('docs/rig/coil-supply.svg');
const PINS = read('hardware/firmware/pins.h');

/** Pins of the 28-pin package, counted anticlockwise from the notch (data sheet of the ATmega328P, "Pin Configurations"). */
const PACKAGE =
  'PC6 PD0 PD1 PD2 PD3 PD4 VCC GND PB6 PB7 PD5 PD6 PD7 PB0 PB1 PB2 PB3 PB4 PB5 AVCC AREF GND PC0 PC1 PC2 PC3 PC4 PC5'.split(
    ' ',
  );
const PORTS = PACKAGE.filter((name) => /^P[BCD]\d$/.test(name));

/** Cells of the table under a heading, without the two lines of its head. */
const tableUnder = (page: string, heading: string): string[][] =>
  page
    .split(`## ${heading}\n`)[1]!
    .split('\n## ')[0]!
    .split('\n')
    .filter((line) => line.startsWith('|'))
    .slice(2)
    .map((line) =>
      line
        .split('|')
        .slice(1, -1)
        .map((cell) => cell.trim()),
    );

const textsOf = (drawing: string): string[] =>
  [...drawing.matchAll(/<text[^>]*>([^<]*)<\/text>/g)].map((match) => match[1]!);

/** The text that was written right after one that is, or begins with, the given word. */
function textAfter(drawing: string, word: string, step = 1): string | undefined {
  const texts = textsOf(drawing);
  const at = texts.findIndex((text) => text.split(' ')[0] === word || text === word);
  return at === -1 ? undefined : texts[at + step];
}

const inWords = (name: string): string => name.replace(/([A-Z])/g, ' $1').toLowerCase();
const plain = (text: string): string => text.toLowerCase().replaceAll('-', ' ');

/** Name of each output by its bit, in the order of the table. */
const outputsOn = (page: string): string[] =>
  tableUnder(page, 'Outputs').map(([bit, name], at) => {
    expect(Number.parseInt(bit!, 16)).toBe(at);
    return name!.replaceAll('`', '');
  });

describe('the pins of the page', () => {
  const rows = tableUnder(PAGE, 'Pins of the microcontroller').flatMap(([ports, pins, , , name]) =>
    ports!.split(', ').map((port, at) => ({ port, pin: pins!.split(', ')[at]!, name: name! })),
  );
  const ofPorts = rows.filter(({ port }) => PORTS.includes(port));

  test('every port pin of the chip has its place, once', () => {
    expect(ofPorts.map(({ port }) => port).sort()).toEqual([...PORTS].sort());
  });

  test('are where the package has them, on the page and in the drawing', () => {
    for (const { port, pin } of ofPorts) {
      expect(PACKAGE[Number(pin) - 1], port).toBe(port);
      // The crystal and /RESET are drawn like the others.
      expect(textAfter(BOARD, port), port).toBe(pin);
    }
  });

  test('are those that the firmware uses, by the same names', () => {
    const defined = [...PINS.matchAll(/^#define (\w+) (P[BCD]\d)\b/gm)].map((match) => match.slice(1));
    expect(defined).toHaveLength(14);
    const named = ofPorts.filter(({ name }) => name !== '–');
    expect(named.map(({ port, name }) => [name.replaceAll('`', ''), port]).sort()).toEqual(defined.sort());
  });
});

describe('the outputs of the page', () => {
  test('have the bits of the protocol', () => {
    expect(outputsOn(PAGE)).toEqual([...OUTPUT_BITS]);
  });

  test('do NOT have them once two are exchanged', () => {
    const exchanged = PAGE.replace('`oilValve`', '`x`')
      .replace('`dyeValve`', '`oilValve`')
      .replace('`x`', '`dyeValve`');
    expect(outputsOn(exchanged)).not.toEqual([...OUTPUT_BITS]);
  });

  test('come from the register pin that holds their bit, and the fan stop from the chip itself', () => {
    for (const [bit, , from] of tableUnder(PAGE, 'Outputs')) {
      const place = Number.parseInt(bit!, 16);
      expect(from, bit).toBe(place === 12 ? 'PC5' : `U${place < 8 ? 2 : 3} Q${place % 8}`);
    }
  });

  test('are drawn with bit, tag and name as on the page', () => {
    for (const [bit, name, , , drives] of tableUnder(PAGE, 'Outputs')) {
      const texts = textsOf(BOARD);
      const at = texts.indexOf(`bit ${bit}`);
      expect(drives!.split(/[ ,]/)[0], bit).toBe(texts[at + 1]);
      expect(plain(texts[at + 2]!), bit).toContain(inWords(name!.replaceAll('`', '')));
    }
  });
});

describe('the inputs in the drawing', () => {
  test('stand in the order in which the chip reads them', () => {
    const drawn = ANALOG_INPUTS.map((_, at) => textAfter(BOARD, `B${at + 1}`)!);
    for (const [at, name] of ANALOG_INPUTS.entries())
      expect(plain(drawn[at]!), name).toContain(inWords(name).replace(' temperature', ''));
    expect(drawn.map((text) => text.includes('thermistor'))).toEqual([false, false, false, true, true]);
  });

  test('stand in the order in which the 16-bit converter reads them', () => {
    const words = {
      manifold: 'manifold',
      vehicleVacuum: 'vacuum',
      ventTemperature: 'vent',
      barometer: 'barometer',
    };
    for (const [at, name] of CONVERTER_INPUTS.entries()) {
      expect(textAfter(BOARD, `AIN${at}`, 2), name).toBe(`B${at + 6}`);
      expect(textAfter(BOARD, `B${at + 6}`), name).toContain(words[name]);
    }
  });
});

describe('both drawings', () => {
  test('have a title and a description for those who cannot see them', () => {
    for (const drawing of [BOARD, SUPPLY]) {
      expect(drawing).toMatch(/aria-labelledby="title desc"/);
      expect(drawing).toMatch(/<title id="title">.+<\/title>\s*<desc id="desc">.{100,}<\/desc>/);
    }
  });

  test('show nothing that the page does not name', () => {
    const tags = [BOARD, SUPPLY].flatMap(textsOf).flatMap((text) => text.match(/\b[BFKMQSTUY]\d+\b/g) ?? []);
    expect(new Set(tags).size).toBeGreaterThan(50);
    expect([...new Set(tags)].filter((tag) => !new RegExp(`\\b${tag}\\b`).test(PAGE))).toEqual([]);
  });

  test('the fuses to be written are the same wherever they are named', () => {
    const fuses = (page: string) =>
      [...page.matchAll(/\b([lhe]fuse):w:(0x[0-9A-F]{2})/g)].map(([, name, byte]) => [name, byte]);
    expect(fuses(PAGE)).toHaveLength(3);
    expect(fuses(read('hardware/firmware/README.md'))).toEqual(fuses(PAGE));
  });

  test('what must be hard-wired stands in the supply of the coils', () => {
    const tags = tableUnder(PAGE, 'What is hard-wired').flatMap(([tag]) => tag!.split(', '));
    expect(tags).toEqual(expect.arrayContaining(['S1', 'S2', 'S3', 'K1', 'F10']));
    const drawn = textsOf(SUPPLY).join(' ');
    for (const tag of tags) expect(drawn, tag).toMatch(new RegExp(`\\b${tag}\\b`));
  });
});
