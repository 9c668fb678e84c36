// The lines between host and board: how each is written and read. docs/protocol.md says what they mean.
import type { Output } from '../controller/signals.ts';
import { crc16 } from './crc.ts';

/** Both sides must speak the same. */
export const PROTOCOL_VERSION = 1;
export const BAUD = 250_000;

/** Bit of each output in a command word. The wire's own order: it does not follow anybody else's list. */
export const OUTPUT_BITS = [
  'highSideValve',
  'lowSideValve',
  'recoveryValve',
  'vacuumValve',
  'chargeValve',
  'oilValve',
  'dyeValve',
  'separatorDrainValve',
  'airPurgeValve',
  'compressor',
  'vacuumPump',
  'tankHeater',
  'fanStop',
] as const satisfies readonly Output[];

/** Longest countdown that a line can carry, 4.6 h. */
export const LONGEST_COUNTDOWN_MS = 0xff_ffff;
/** Longest line either side takes, without its end. */
export const LONGEST_LINE = 200;

/** The board counts time in 32 bits of milliseconds, and lines in 16. */
export const BOARD_CLOCK_WRAPS_MS = 2 ** 32;
export const LINE_COUNT_WRAPS = 2 ** 16;
export const LOSS_COUNT_WRAPS = 2 ** 16;

/** Inputs of the chip's own converter, in the order of a SEEN line. */
export const ANALOG_INPUTS = [
  'highSide',
  'lowSide',
  'tank',
  'tankTemperature',
  'ambientTemperature',
] as const;
export type AnalogInput = (typeof ANALOG_INPUTS)[number];
/** Inputs of the 16-bit converter, in the order of a SEEN line. */
export const CONVERTER_INPUTS = ['manifold', 'vehicleVacuum', 'ventTemperature', 'barometer'] as const;
export type ConverterInput = (typeof CONVERTER_INPUTS)[number];
/** Bits of the switch digit. */
export const SWITCH_BITS = ['emergencyStop', 'highPressureSwitch', 'gasAlarm', 'fanFlow'] as const;

export const BOARD_STATES = ['idle', 'ready', 'armed', 'tripped'] as const;
export type BoardState = (typeof BOARD_STATES)[number];
/** Why the board dropped its outputs; the first reason is kept until it is armed again. */
export const BOARD_TRIPS = [
  'none',
  'link-lost',
  'emergency-stop',
  'high-pressure',
  'output-chain',
  'watchdog',
] as const;
export type BoardTrip = (typeof BOARD_TRIPS)[number];
export const BOOT_CAUSES = ['power', 'reset-pin', 'brown-out', 'watchdog', 'unknown'] as const;
export type BootCause = (typeof BOOT_CAUSES)[number];

/** Every way in which the board can lose a line, each counted by itself. */
export const BOARD_LOSSES = [
  'overrun',
  'framing',
  'overflow',
  'long',
  'crc',
  'form',
  'session',
  'replay',
  'refused',
  'unsent',
] as const;
export type BoardLosses = { readonly [K in (typeof BOARD_LOSSES)[number]]: number };

/** An input of ten bits, summed over ten conversions, and whether it lies beyond its plausible band. */
export type AnalogSum = { readonly sum: number; readonly band: 'inside' | 'below' | 'above' };

export type BoardLine =
  | { readonly kind: 'BOOT'; readonly cause: BootCause; readonly firmware: string }
  | {
      readonly kind: 'BOARD';
      readonly protocol: number;
      readonly firmware: string;
      readonly session: number;
      readonly outputs: number;
      readonly expireMs: number;
    }
  | {
      readonly kind: 'SEEN';
      readonly count: number;
      readonly timeMs: number;
      readonly state: BoardState;
      readonly trip: BoardTrip;
      /** Sequence number of the last command or arm line that was obeyed. */
      readonly obeyed: number;
      /** What the outputs really are, read back from the end of the register chain; `fanStop` from its pin. */
      readonly word: number;
      readonly switches: number;
      readonly analog: readonly AnalogSum[];
      /** Two's complement of 16 bits; undefined where the converter does not answer. */
      readonly converter: readonly (number | undefined)[];
      /** Signed counts and how long ago they were taken; undefined when the bridge has given none. */
      readonly bridge: { readonly counts: number; readonly ageMs: number } | undefined;
    }
  | ({ readonly kind: 'LOST' } & BoardLosses);

/** Countdown of each output that has one. */
export type Countdowns = readonly { readonly bit: number; readonly ms: number }[];

const hex = (value: number, digits: number): string => value.toString(16).toUpperCase().padStart(digits, '0');

/**
 * The four characters of a check, 0x30 to 0x3F: one flipped bit of a character is one flipped bit of the check or no check
 * at all, so that what a CRC finds in bits it finds in characters. Of hexadecimal digits that is not so.
 */
const CHECK_FROM = 0x30;
const CHECK = /^[0-?]{4}$/;

const checkText = (crc: number): string =>
  String.fromCharCode(...[12, 8, 4, 0].map((shift) => CHECK_FROM + ((crc >> shift) & 0xf)));

/** The value of four characters, or undefined where they are no check. */
export function checkValue(text: string): number | undefined {
  if (!CHECK.test(text)) return undefined;
  let value = 0;
  for (let at = 0; at < text.length; at++) value = (value << 4) | (text.charCodeAt(at) - CHECK_FROM);
  return value;
}

/** A payload with its check and the end of the line. */
export const framed = (payload: string): string => `${payload}*${checkText(crc16(payload))}\n`;

export const helloLine = (): string => framed(`HELLO ${hex(PROTOCOL_VERSION, 2)}`);

export const armLine = (session: number, sequence: number): string =>
  framed(`ARM ${hex(session, 4)} ${hex(sequence, 8)} 0000 FFFF`);

/** @param countdowns in rising order of bits, each for an output that is on in `word`. */
export function setLine(
  session: number,
  sequence: number,
  word: number,
  countdowns: Countdowns = [],
): string {
  const ends = countdowns.map(({ bit, ms }) => ` ${hex(bit, 1)}:${hex(ms, 6)}`).join('');
  return framed(`SET ${hex(session, 4)} ${hex(sequence, 8)} ${hex(word, 4)} ${hex(word ^ 0xffff, 4)}${ends}`);
}

/** What became of a received line: its payload, or which loss it counts as. */
export type Unframed =
  | { readonly ok: true; readonly payload: string }
  | { readonly ok: false; readonly loss: 'form' | 'crc' };

const FRAME = /^([\x20-\x29\x2b-\x7e]+)\*([0-?]{4})$/;

export function unframed(line: string): Unframed {
  const match = FRAME.exec(line);
  if (match === null) return { ok: false, loss: 'form' };
  const [, payload, check] = match;
  return crc16(payload!) === checkValue(check!)
    ? { ok: true, payload: payload! }
    : { ok: false, loss: 'crc' };
}

const oneOf = (names: readonly string[]): string => `(${names.join('|')})`;
const FIRMWARE = '(\\d{1,3}\\.\\d{1,3}\\.\\d{1,3})';
const BOOT = new RegExp(`^BOOT cause=${oneOf(BOOT_CAUSES)} firmware=${FIRMWARE}$`);
const BOARD = new RegExp(
  `^BOARD protocol=([0-9A-F]{2}) firmware=${FIRMWARE} session=([0-9A-F]{4}) outputs=(\\d{1,2}) expire=(\\d{1,4})$`,
);
const ANALOG = '\\d{1,5}[<>]?';
const CONVERTED = '(?:-?\\d{1,5}|x)';
const SEEN = new RegExp(
  '^SEEN ([0-9A-F]{4}) t=(\\d{1,10}) ' +
    `${oneOf(BOARD_STATES)} trip=${oneOf(BOARD_TRIPS)} obeyed=([0-9A-F]{8}) out=([0-9A-F]{4}) sw=([0-9A-F]) ` +
    `an=(${ANALOG}(?:,${ANALOG}){4}) cv=(${CONVERTED}(?:,${CONVERTED}){3}) br=(?:(-?\\d{1,7}),(\\d{1,5})|x)$`,
);
const LOST = new RegExp(`^LOST ${BOARD_LOSSES.map((loss) => `${loss}=(\\d{1,5})`).join(' ')}$`);

const fromHex = (text: string): number => Number.parseInt(text, 16);

/** What the board's own arithmetic can come to: ten conversions of ten bits, 16 bits with sign, 24 bits with sign. */
const MOST_SUMMED = 10_230;
const CONVERTED_FROM = -32_768;
const CONVERTED_TO = 32_767;
const BRIDGE_FROM = -8_388_608;
const BRIDGE_TO = 8_388_607;
const OLDEST_MS = 0xffff;

type Seen = Extract<BoardLine, { kind: 'SEEN' }>;

/** A check that fits by chance is no number of the board's: it passes once in 65,536 times. */
function canBe({ timeMs, word, analog, converter, bridge }: Seen): boolean {
  return (
    timeMs < BOARD_CLOCK_WRAPS_MS &&
    word >> OUTPUT_BITS.length === 0 &&
    analog.every(({ sum }) => sum <= MOST_SUMMED) &&
    converter.every(
      (counts) => counts === undefined || (counts >= CONVERTED_FROM && counts <= CONVERTED_TO),
    ) &&
    (bridge === undefined ||
      (bridge.counts >= BRIDGE_FROM && bridge.counts <= BRIDGE_TO && bridge.ageMs <= OLDEST_MS))
  );
}

function analogSum(text: string): AnalogSum {
  const sum = Number.parseInt(text, 10);
  if (text.endsWith('<')) return { sum, band: 'below' };
  return { sum, band: text.endsWith('>') ? 'above' : 'inside' };
}

function seenLine(fields: readonly (string | undefined)[]): BoardLine | undefined {
  const [count, timeMs, state, trip, obeyed, word, switches, analog, converter, counts, ageMs] = fields;
  const seen: Seen = {
    kind: 'SEEN',
    count: fromHex(count!),
    timeMs: Number(timeMs),
    state: state as BoardState,
    trip: trip as BoardTrip,
    obeyed: fromHex(obeyed!),
    word: fromHex(word!),
    switches: fromHex(switches!),
    analog: analog!.split(',').map(analogSum),
    converter: converter!.split(',').map((text) => (text === 'x' ? undefined : Number(text))),
    bridge: counts === undefined ? undefined : { counts: Number(counts), ageMs: Number(ageMs) },
  };
  return canBe(seen) ? seen : undefined;
}

/** A payload of the board, or undefined where it has not the form of one or a number that no board can say. */
export function boardLine(payload: string): BoardLine | undefined {
  const seen = SEEN.exec(payload);
  if (seen !== null) return seenLine(seen.slice(1));
  const lost = LOST.exec(payload);
  if (lost !== null) {
    const losses = Object.fromEntries(BOARD_LOSSES.map((loss, at) => [loss, Number(lost[at + 1])]));
    if (Object.values(losses).some((count) => count >= LOSS_COUNT_WRAPS)) return undefined;
    return { kind: 'LOST', ...(losses as BoardLosses) };
  }
  const board = BOARD.exec(payload);
  if (board !== null) {
    const [protocol, firmware, session, outputs, expireMs] = board.slice(1);
    return {
      kind: 'BOARD',
      protocol: fromHex(protocol!),
      firmware: firmware!,
      session: fromHex(session!),
      outputs: Number(outputs),
      expireMs: Number(expireMs),
    };
  }
  const boot = BOOT.exec(payload);
  if (boot !== null) return { kind: 'BOOT', cause: boot[1] as BootCause, firmware: boot[2]! };
  return undefined;
}
