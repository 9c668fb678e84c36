// Splits a subcommand's arguments into options and positionals; anything unknown is refused with a suggestion.
import { type ParseArgsConfig, parseArgs } from 'node:util';
import { InputError } from './command.ts';
import { suggestion } from './nearest.ts';

type Options = NonNullable<ParseArgsConfig['options']>;
type Parsed = {
  /** A flag's value is the empty text. */
  readonly values: ReadonlyMap<string, string>;
  readonly positionals: readonly string[];
};

/** A number below zero is a value, for whoever asked for it to judge. */
const isLikeOption = (text = ''): boolean => text.startsWith('-') && !/^-\.?\d/.test(text);

/** @throws InputError for an unknown option, a missing value, an option given twice or too many positionals. */
export function splitArguments(args: readonly string[], options: Options, mostPositionals: number): Parsed {
  const { tokens } = parseArgs({
    args: [...args],
    options,
    strict: false,
    allowPositionals: true,
    tokens: true,
  });
  const values = new Map<string, string>();
  const positionals: string[] = [];
  for (const token of tokens) {
    if (token.kind === 'positional') positionals.push(token.value);
    if (token.kind !== 'option') continue;
    const option = options[token.name];
    if (option === undefined) {
      const known = Object.keys(options).map((name) => `--${name}`);
      throw new InputError(`there is no option ${token.rawName}; ${suggestion(token.rawName, known)}`);
    }
    if (values.has(token.name)) throw new InputError(`--${token.name} is given twice; give it once`);
    const swallowed = token.inlineValue === false && isLikeOption(token.value);
    if (option.type === 'string' && (!token.value || swallowed))
      throw new InputError(`--${token.name} needs a value; write --${token.name} VALUE`);
    if (option.type === 'boolean' && token.value !== undefined)
      throw new InputError(`--${token.name} takes no value; write it alone`);
    values.set(token.name, token.value ?? '');
  }
  if (positionals.length > mostPositionals)
    throw new InputError(`one argument too many: '${positionals[mostPositionals]}'; take it out`);
  return { values, positionals };
}
