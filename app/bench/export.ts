// A recording in formats that other programs read: who writes one, and how a file comes into being whole or not at all.
import { renameSync, rmSync } from 'node:fs';
import type { Recording } from './read-recording.ts';
import type { Opening, RecordedScan } from './recording.ts';

/** Takes every scan and writes a file of its own. */
export interface Export {
  take(scan: RecordedScan): void;
  /** Everything has been taken: the file is whole. */
  end(): void;
  /** Leaves it as it stands, after trouble. */
  drop(): void;
}

/** Begins a file at a path. */
export type ExportTo = (path: string, opening: Opening) => Export;

export type Exported = { readonly scans: number; readonly lastedMs: number };

/**
 * Writes all files in one pass. Each grows beside its place and takes it at the end, so that trouble leaves what was there.
 * @throws InputError for a recording that cannot be understood, or a place that cannot be written.
 */
export async function exportRecording(
  recording: Recording,
  files: readonly { readonly path: string; readonly to: ExportTo }[],
): Promise<Exported> {
  const partOf = (path: string): string => `${path}.part`;
  const begun: Export[] = [];
  let scans = 0;
  let lastMs = recording.opening.atMs;
  try {
    for (const { path, to } of files) begun.push(to(partOf(path), recording.opening));
    for await (const scan of recording.scans()) {
      for (const each of begun) each.take(scan);
      scans += 1;
      lastMs = scan.nowMs;
    }
    for (const each of begun) each.end();
    for (const { path } of files) renameSync(partOf(path), path);
  } catch (error) {
    for (const each of begun) each.drop();
    for (const { path } of files) rmSync(partOf(path), { force: true });
    throw error;
  }
  return { scans, lastedMs: lastMs - recording.opening.atMs };
}
