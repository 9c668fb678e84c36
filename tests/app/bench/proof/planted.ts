// Copies of this checkout with one line changed for the worse: what `compare` must notice.
import { cpSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { BUILT_IN_FILE } from '../../../../app/bench/built-in-plan.ts';

const ROOT = fileURLToPath(new URL('../../../../', import.meta.url));
const PARTS = ['app', 'controller', 'hardware', 'sim', 'package.json'];

const HOSES = {
  ...BUILT_IN_FILE,
  name: 'hoses that come off',
  faults: [
    {
      fault: { choice: ['hose-off', 'high-hose-off'] },
      probability: 0.5,
      stage: 'recover',
      afterS: { uniform: [20, 200] },
    },
  ],
};
/** The plans that show one or the other. */
export const PLANTED_IN = { 'built-in': BUILT_IN_FILE, 'hoses that come off': HOSES } as const;

export type Planted = {
  readonly name: string;
  readonly file: string;
  readonly from: string;
  readonly to: string;
  /** Which plan shows it, and the figure that must be named. */
  readonly plan: keyof typeof PLANTED_IN;
  readonly shows: string;
};

export const PLANTED: readonly Planted[] = [
  {
    name: '5 g more in every charge',
    file: 'controller/plan.ts',
    from: "ticket: service === 'fill-tank' ? { ...ticket, ports: 1 } : ticket,",
    to: 'ticket: { ...ticket, nominalChargeKg: ticket.nominalChargeKg + 0.005 },',
    plan: 'built-in',
    shows: 'charge-error',
  },
  {
    name: 'IL-17 lost: nothing keeps the compressor from drawing air',
    file: 'controller/interlocks/drive-rows.ts',
    from: "if (!on.compressor || (memory.suction === 'clear' && memory.arrival === 'refrigerant')) return NOTHING;",
    to: "if (memory.suction !== 'never') return NOTHING;",
    plan: 'hoses that come off',
    shows: 'harmed',
  },
  {
    name: 'a recovery that takes a tenth longer',
    file: 'controller/targets/recovery.ts',
    from: 'longMs: 5 * MINUTE_MS,',
    to: 'longMs: 8 * MINUTE_MS,',
    plan: 'built-in',
    shows: 'recovery-time',
  },
];

/**
 * Lets `use` have the folder of such a copy, with the packages of this checkout.
 * @throws Error where the line that is to be changed is not there once.
 */
export async function withPlanted<T>(
  { file, from, to }: Planted,
  use: (folder: string) => Promise<T>,
): Promise<T> {
  const folder = mkdtempSync(path.join(tmpdir(), 'coldbench-planted-'));
  try {
    for (const part of PARTS) cpSync(path.join(ROOT, part), path.join(folder, part), { recursive: true });
    symlinkSync(path.join(ROOT, 'node_modules'), path.join(folder, 'node_modules'));
    const at = path.join(folder, file);
    const pieces = readFileSync(at, 'utf8').split(from);
    if (pieces.length !== 2)
      throw new Error(`${file}: the line to change is there ${pieces.length - 1} times`);
    writeFileSync(at, pieces.join(to));
    return await use(folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
