// What a scenario may ask for one day and may not ask for yet: refused by name, never accepted and ignored.
import { FITTED } from './fitted.ts';
import type { AnyFile } from './schema.ts';

/** The first thing asked for that is not built, or undefined. */
export function notBuilt({ equipment }: AnyFile): string | undefined {
  const absent = equipment.fitted?.find((output) => !FITTED.includes(output));
  if (absent !== undefined)
    return `equipment.fitted: ${absent} is not built yet; choose from ${FITTED.join(', ')}`;
  return undefined;
}
