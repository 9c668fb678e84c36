// A board that a test plays: says what it is told to say, and keeps what it hears.
import type { OpenLine } from '../../hardware/connection.ts';
import { framed } from '../../hardware/protocol.ts';

const hex = (value: number, digits: number): string => value.toString(16).toUpperCase().padStart(digits, '0');

export type SeenFields = {
  readonly count?: number;
  readonly t?: number;
  readonly state?: string;
  readonly trip?: string;
  readonly obeyed?: number;
  readonly out?: number;
  readonly sw?: number;
  readonly an?: string;
  readonly cv?: string;
  readonly br?: string;
};

export const seenText = ({
  count = 0,
  t = 0,
  state = 'ready',
  trip = 'none',
  obeyed = 0,
  out = 0,
  sw = 8,
  an = '2000,3000,4000,5000,5100',
  cv = '10000,x,x,x',
  br = '1300000,20',
}: SeenFields): string =>
  framed(
    `SEEN ${hex(count, 4)} t=${t} ${state} trip=${trip} obeyed=${hex(obeyed, 8)} out=${hex(out, 4)} sw=${hex(sw, 1)} an=${an} cv=${cv} br=${br}`,
  );

export const boardText = (session = 1, protocol = 1, outputs = 13, expireMs = 240): string =>
  framed(
    `BOARD protocol=${hex(protocol, 2)} firmware=1.0.0 session=${hex(session, 4)} outputs=${outputs} expire=${expireMs}`,
  );

export const bootText = (cause = 'power'): string => framed(`BOOT cause=${cause} firmware=1.0.0`);

export const bytesOf = (text: string): Uint8Array => Buffer.from(text, 'latin1');

/** What was opened, what was said on each line, and ways to speak and to pull the plug. */
export class ToldLines {
  readonly heard: string[][] = [];
  closed = 0;
  #speak: ((bytes: Uint8Array) => void) | undefined;
  #end: ((problem: string) => void) | undefined;

  readonly open: OpenLine = ({ heard, ended }) => {
    const said: string[] = [];
    this.heard.push(said);
    this.#speak = heard;
    this.#end = ended;
    return { send: (text) => said.push(text.trimEnd()), close: () => this.closed++ };
  };

  /** Everything said on the line that is open now. */
  get said(): readonly string[] {
    return this.heard.at(-1) ?? [];
  }

  speak(text: string): void {
    this.#speak!(bytesOf(text));
  }

  pull(problem: string): void {
    this.#end!(problem);
  }
}
