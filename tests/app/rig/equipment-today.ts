// The equipment file of the tests as if its rig had been commissioned this morning, for programs that go by today's date.
import { readFileSync, writeFileSync } from 'node:fs';

const KEPT = new URL('./equipment.json', import.meta.url);

/** @param lacking lines that have not been done. */
export function writeEquipmentOfToday(file: string, lacking: readonly string[] = []): void {
  const kept = JSON.parse(readFileSync(KEPT, 'utf8')) as { lines: Record<string, { date: string }> };
  for (const line of lacking) delete kept.lines[line];
  for (const line of Object.values(kept.lines)) line.date = new Date().toISOString();
  writeFileSync(file, JSON.stringify(kept));
}
