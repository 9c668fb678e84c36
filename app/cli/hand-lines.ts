// One line of work by hand: what it asks for, or one clear line of what is wrong with it.
import { LONGEST_WISH_MS } from '../../controller/by-hand.ts';
import { OUTPUTS, type Output } from '../../controller/signals.ts';
import type { HandAction } from '../../sim/spec.ts';
import { InputError } from './command.ts';
import { nearest, suggestion } from './nearest.ts';

export type HandLine =
  | { readonly kind: 'switch'; readonly output: Output; readonly on: boolean; readonly offAfterMs?: number }
  | { readonly kind: 'operate'; readonly action: HandAction }
  | { readonly kind: 'wait'; readonly ms: number }
  | { readonly kind: 'why'; readonly output: Output }
  | { readonly kind: 'status' | 'stop' | 'reset' | 'begin' | 'help' | 'quit' };

export const LINES_HELP = `  open OUTPUT, start OUTPUT    switch it on, if the interlocks permit; add 'for 20 min' to give it a time
  close OUTPUT, stop OUTPUT    switch it off
  stop                         switch everything off
  status                       pressures, temperatures, scale, and what is on
  why OUTPUT                   whether it would be permitted now, and which interlock says no
  wait TIME                    let time pass: 30, 250 ms, 5 min, 1 h, 1:30
  connect, disconnect          put both hoses on the vehicle and open the couplers; take them off
  close couplers               close both couplers, or 'close high coupler' for that one
  engine on, engine off        the vehicle's engine, air conditioning at its coldest
  reset                        lift a trip once its cause is gone, and begin again
  begin                        take the machine over again without a reset
  quit                         switch everything off and leave
  # ...                        a remark

Outputs: ${OUTPUTS.join(', ')}; also written 'high-side-valve', 'high valve' or 'high', and so on.
'stop fan' and 'start fan' are there too: the fan runs unless it is stopped.
`;

const VERBS: { readonly [verb: string]: boolean } = {
  open: true,
  start: true,
  on: true,
  close: false,
  shut: false,
  stop: false,
  off: false,
};
const OTHERS = ['status', 'why', 'wait', 'connect', 'disconnect', 'engine', 'reset', 'begin', 'help', 'quit'];

const kebab = (name: string): string => name.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`);

/** 'high side valve', 'high-valve' and 'high' are one thing; 'vacuum pump' is not 'vacuum valve'. */
const short = (name: string): string =>
  name
    .split('-')
    .filter((word) => word !== 'side' && word !== 'valve')
    .join('-');

/** What people also call it. */
const NICKNAMES: { readonly [name: string]: Output } = {
  pump: 'vacuumPump',
  drain: 'separatorDrainValve',
  heater: 'tankHeater',
  purge: 'airPurgeValve',
};
const NAMES: ReadonlyMap<string, Output> = new Map([
  ...OUTPUTS.flatMap((output): [string, Output][] => [
    [kebab(output), output],
    [short(kebab(output)), output],
  ]),
  ...Object.entries(NICKNAMES),
]);

function outputNamed(words: readonly string[]): Output {
  const joined = words.join('-');
  const given = joined.toLowerCase();
  const output = NAMES.get(given) ?? NAMES.get(short(given)) ?? NAMES.get(kebab(joined));
  if (output !== undefined) return output;
  const names = [...NAMES.keys()];
  const near = nearest(given, names).map((name) => kebab(NAMES.get(name)!));
  const remedy =
    near.length > 0
      ? `did you mean ${[...new Set(near)].join(' or ')}?`
      : suggestion(given, OUTPUTS.map(kebab));
  throw new InputError(`there is no output '${words.join(' ')}'; ${remedy}`);
}

const UNITS_MS: { readonly [unit: string]: number } = {
  '': 1_000,
  ms: 1,
  s: 1_000,
  sec: 1_000,
  m: 60_000,
  min: 60_000,
  h: 3_600_000,
};
const LONGEST_WAIT_MS = 24 * 3_600_000;

function durationMs(words: readonly string[], longestMs: number, tooLong: string): number {
  const text = words.join('');
  const minutes = /^(\d+):([0-5]\d)$/.exec(text);
  const plain = /^(\d+(?:\.\d+)?)([a-z]*)$/i.exec(text);
  const unitMs = UNITS_MS[plain?.[2]?.toLowerCase() ?? ''];
  const ms =
    minutes !== null
      ? 60_000 * Number(minutes[1]) + 1_000 * Number(minutes[2])
      : plain !== null && unitMs !== undefined
        ? Number(plain[1]) * unitMs
        : Number.NaN;
  if (!(ms >= 1)) {
    const given = words.join(' ');
    throw new InputError(
      `${given === '' ? 'a time is missing' : `'${given}' is no time`}; write it like 30, 250 ms, 5 min, 1 h or 1:30`,
    );
  }
  if (ms > longestMs) throw new InputError(tooLong);
  return ms;
}

function switching(on: boolean, words: readonly string[]): HandLine {
  const at = words.indexOf('for');
  const named = at < 0 ? words : words.slice(0, at);
  if (named.length === 0) throw new InputError("the output is missing; write for example 'open high valve'");
  // The fan runs by itself: what is switched on and off is its stop.
  const fan = named.join(' ') === 'fan';
  const wished = fan ? !on : on;
  const output = fan ? 'fanStop' : outputNamed(named);
  if (at < 0) return { kind: 'switch', output, on: wished };
  if (!wished) throw new InputError("only what is switched on can have a time; leave 'for' out");
  const tooLong = `no wish lasts longer than ${LONGEST_WISH_MS / 3_600_000} h; give less, and wish again later`;
  const offAfterMs = durationMs(words.slice(at + 1), LONGEST_WISH_MS, tooLong);
  return { kind: 'switch', output, on: true, offAfterMs };
}

const COUPLERS: { readonly [words: string]: HandAction } = {
  couplers: 'close-couplers',
  'both couplers': 'close-couplers',
  'high coupler': 'close-high-coupler',
};

/** What is no output of the machine but a part of the vehicle's side. */
function byPerson(on: boolean, words: readonly string[]): HandLine | undefined {
  const text = words.join(' ');
  if (text === 'engine') return { kind: 'operate', action: on ? 'start-engine' : 'stop-engine' };
  if (!/\bcouplers?$/.test(text)) return undefined;
  if (on) throw new InputError("couplers are opened with both hoses; write 'connect'");
  const action = COUPLERS[text];
  if (action === undefined) throw new InputError("write 'close couplers' or 'close high coupler'");
  return { kind: 'operate', action };
}

function withoutMore<L extends HandLine>(line: L, verb: string, rest: readonly string[]): L {
  if (rest.length > 0) throw new InputError(`'${verb}' stands alone; leave '${rest.join(' ')}' out`);
  return line;
}

function engine(rest: readonly string[]): HandLine {
  const [state, ...more] = rest;
  if (state !== 'on' && state !== 'off') throw new InputError("write 'engine on' or 'engine off'");
  const action = state === 'on' ? 'start-engine' : 'stop-engine';
  return withoutMore({ kind: 'operate', action }, `engine ${state}`, more);
}

function other(verb: string, rest: readonly string[]): HandLine {
  switch (verb) {
    case 'wait':
      return {
        kind: 'wait',
        ms: durationMs(rest, LONGEST_WAIT_MS, 'wait at most 24 h at a time; write it again for more'),
      };
    case 'why':
      if (rest.length === 0)
        throw new InputError("the output is missing; write for example 'why compressor'");
      return { kind: 'why', output: rest.join(' ') === 'fan' ? 'fanStop' : outputNamed(rest) };
    case 'engine':
      return engine(rest);
    case 'connect':
    case 'disconnect': {
      const hoses = rest.join(' ') === 'hoses' ? [] : rest;
      return withoutMore({ kind: 'operate', action: `${verb}-hoses` }, verb, hoses);
    }
    case 'exit':
      return withoutMore({ kind: 'quit' }, verb, rest);
    case 'status':
    case 'reset':
    case 'begin':
    case 'help':
    case 'quit':
      return withoutMore({ kind: verb }, verb, rest);
    default:
      throw new InputError(
        `there is no '${verb}' by hand; ${suggestion(verb, [...Object.keys(VERBS), ...OTHERS])}`,
      );
  }
}

/**
 * Nothing for an empty line or a remark.
 * @throws InputError with the remedy; nothing has moved then.
 */
export function handLine(text: string): HandLine | undefined {
  const words = text
    .replace(/#.*$/, '')
    .split(/\s+/)
    .filter((word) => word !== '');
  const [first, ...rest] = words;
  if (first === undefined) return undefined;
  const verb = first.toLowerCase();
  const on = Object.hasOwn(VERBS, verb) ? VERBS[verb] : undefined;
  if (on === undefined) return other(verb, rest);
  const all = rest.length === 1 && /^(all|everything)$/.test(rest[0]!);
  if (!on && (all || (verb === 'stop' && rest.length === 0))) return { kind: 'stop' };
  return byPerson(on, rest) ?? switching(on, rest);
}
