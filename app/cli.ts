// Code entry: the command line on the real terminal.
import { chart } from './cli/chart.ts';
import { commission } from './cli/commission.ts';
import { dispatch } from './cli/dispatch.ts';
import { faults } from './cli/faults.ts';
import { hand } from './cli/hand.ts';
import { properties } from './cli/properties.ts';
import { run } from './cli/run.ts';
import { processTerminal } from './cli/terminal.ts';

process.exitCode = await dispatch(
  [run, hand, faults, properties, chart, commission],
  process.argv.slice(2),
  processTerminal(),
);
