// Where records lie unless somebody says otherwise: one file in the user's data folder.
import { homedir } from 'node:os';
import path from 'node:path';

/** XDG Base Directory Specification 0.8: `$XDG_DATA_HOME`, or `~/.local/share`; a relative path there is to be ignored. */
export function usualPlace(env: { readonly XDG_DATA_HOME?: string | undefined } = process.env): string {
  const given = env.XDG_DATA_HOME;
  const base =
    given !== undefined && path.isAbsolute(given) ? given : path.join(homedir(), '.local', 'share');
  return path.join(base, 'coldbench', 'records.db');
}
