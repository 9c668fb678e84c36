// Code entry: the command line on the real terminal.
import { campaign } from './cli/campaign.ts';
import { chart } from './cli/chart.ts';
import { commission } from './cli/commission.ts';
import { compare } from './cli/compare.ts';
import { dispatch } from './cli/dispatch.ts';
import { emulate } from './cli/emulate.ts';
import { exportCommand } from './cli/export.ts';
import { faults } from './cli/faults.ts';
import { hand } from './cli/hand.ts';
import { job } from './cli/job.ts';
import { merge } from './cli/merge.ts';
import { panel } from './cli/panel.ts';
import { ports } from './cli/ports.ts';
import { properties } from './cli/properties.ts';
import { records } from './cli/records.ts';
import { replay } from './cli/replay.ts';
import { resume } from './cli/resume.ts';
import { run } from './cli/run.ts';
import { sequence } from './cli/sequence.ts';
import { processTerminal } from './cli/terminal.ts';

process.exitCode = await dispatch(
  [
    run,
    replay,
    campaign,
    merge,
    compare,
    exportCommand,
    resume,
    records,
    hand,
    faults,
    properties,
    chart,
    sequence,
    job,
    commission,
    emulate,
    ports,
    panel,
  ],
  process.argv.slice(2),
  processTerminal(),
);
