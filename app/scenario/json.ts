// Reads JSON and says where it stops being JSON; the language's own message has no position for short texts.

export class JsonError extends Error {
  override readonly name = 'JsonError';
}

const BLANK = /[ \t\r\n]*/y;
const STRING = /"(?:[ !#-[\]-\uffff]|\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4}))*"/y;
const SIMPLE = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?|true|false|null/y;

class Scanner {
  position = 0;
  readonly #text: string;

  constructor(text: string) {
    this.#text = text;
  }

  value(): void {
    this.blank();
    if (this.take('{')) this.members();
    else if (this.take('[')) this.list(']', () => this.value());
    else if (!this.match(STRING) && !this.match(SIMPLE)) this.expect('a value');
  }

  members(): void {
    this.list('}', () => {
      this.blank();
      if (!this.match(STRING)) this.expect('a key in double quotes');
      this.blank();
      if (!this.take(':')) this.expect("':'");
      this.value();
    });
  }

  list(end: string, item: () => void): void {
    this.blank();
    if (this.take(end)) return;
    do {
      item();
      this.blank();
    } while (this.take(','));
    if (!this.take(end)) this.expect(`',' or '${end}'`);
  }

  end(): void {
    this.blank();
    if (this.position < this.#text.length) this.expect('the end of the file');
  }

  blank(): void {
    this.match(BLANK);
  }

  take(character: string): boolean {
    if (this.#text[this.position] !== character) return false;
    this.position++;
    return true;
  }

  match(pattern: RegExp): boolean {
    pattern.lastIndex = this.position;
    if (!pattern.test(this.#text)) return false;
    this.position = pattern.lastIndex;
    return true;
  }

  expect(what: string): never {
    const before = this.#text.slice(0, this.position).split('\n');
    const found = this.#text[this.position];
    const seen = found === undefined ? 'the file ends' : `there is ${JSON.stringify(found)}`;
    const column = (before.at(-1)?.length ?? 0) + 1;
    throw new JsonError(`not JSON at line ${before.length}, column ${column}: ${seen} where ${what} must be`);
  }
}

/** @throws JsonError that names line and column. */
export function parseJson(text: string): unknown {
  const clean = text.startsWith('\ufeff') ? text.slice(1) : text;
  try {
    return JSON.parse(clean);
  } catch {
    const scanner = new Scanner(clean);
    scanner.value();
    scanner.end();
    throw new JsonError('not JSON');
  }
}
