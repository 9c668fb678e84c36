// Every word that the page itself says, from one file for each part. What the controller says comes with the snapshots.
import { CLASS } from './text/class.ts';
import { COMMISSIONING } from './text/commissioning.ts';
import { FRAME } from './text/frame.ts';
import { JOB } from './text/job.ts';
import { MACHINE } from './text/machine.ts';
import { RECORDS } from './text/records.ts';

export * from './text/names.ts';

export const T = { ...FRAME, ...JOB, ...MACHINE, ...CLASS, ...RECORDS, ...COMMISSIONING } as const;
