// The file a trace goes to, and what must not be overwritten by it.
import { realpathSync } from 'node:fs';
import { InputError } from './command.ts';
import { TextFile } from './text-file.ts';

/** Whether two paths lead to one file that is there. */
export function isSameFile(one: string, other: string): boolean {
  try {
    return realpathSync(one) === realpathSync(other);
  } catch {
    return false;
  }
}

/** @throws InputError when nothing can be written there, or when it is the scenario itself. */
export function openTrace(path: string, scenarioPath: string | undefined): TextFile {
  if (scenarioPath !== undefined && isSameFile(path, scenarioPath))
    throw new InputError(`--trace ${path} would overwrite the scenario; give another file`);
  return new TextFile(path, { what: `the trace to ${path}`, other: '--trace another file' });
}
