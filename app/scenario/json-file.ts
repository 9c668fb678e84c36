// A JSON file that a person wrote, read with one clear line for whatever is wrong with it.
import { readFileSync } from 'node:fs';
import { InputError } from '../cli/command.ts';
import { JsonError, parseJson } from './json.ts';

const problemText = (code: string | undefined, what: string, message: string): string => {
  if (code === 'ENOENT') {
    const instead = what === 'scenario' ? ', or none for the demo job' : '';
    return `there is no such file; give the path of a ${what}${instead}`;
  }
  if (code === 'EISDIR') return `is a directory; give the path of a ${what} file`;
  if (code === 'EACCES') return 'may not be read; change its permissions or give another file';
  return message;
};

const STANDARD_INPUT = '-';
/** Not `process.stdin.fd`: who asks for that makes it a stream, which does not wait. */
const STANDARD_INPUT_FD = 0;

/**
 * @param path of the file; `-` is standard input.
 * @param what the file is, and `least` what it has at least.
 * @throws InputError when the file is missing, unreadable, empty or not JSON.
 */
export function jsonFile(path: string, what: string, least: string): unknown {
  let text: string;
  try {
    text = readFileSync(path === STANDARD_INPUT ? STANDARD_INPUT_FD : path, 'utf8');
  } catch (error) {
    const { code, message } = error as NodeJS.ErrnoException;
    throw new InputError(`${path}: ${problemText(code, what, message)}`);
  }
  if (text.trim() === '') throw new InputError(`${path}: the file is empty; a ${what} has at least ${least}`);
  try {
    return parseJson(text);
  } catch (error) {
    if (error instanceof JsonError) throw new InputError(`${path}: ${error.message}`);
    throw error;
  }
}
