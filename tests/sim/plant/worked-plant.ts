// The plant without its sensors, worked by hand scan by scan: for tests on what happens inside.
import { ON, type Output, SAFE_COMMANDS } from '../../../controller/signals.ts';
import { STEP_RULE } from '../../../sim/network/network.ts';
import type { Node } from '../../../sim/network/node.ts';
import { Plant } from '../../../sim/plant/plant.ts';
import { type SpecChoices, specOf, tablesOf } from '../hand.ts';

const SCAN_MS = 100;

export class WorkedPlant {
  readonly plant: Plant;
  readonly nodes: readonly Node[];

  /** `finer` makes the internal steps so many times shorter, and holds them to so much smaller errors. */
  constructor(choices: SpecChoices, finer = 1) {
    const spec = specOf(choices);
    const { longestS, shortestS, swingS, rejectAbove, growBelow } = STEP_RULE;
    this.plant = new Plant(spec, tablesOf(spec.vehicle.refrigerant), undefined, {
      ...STEP_RULE,
      longestS: longestS / finer,
      shortestS: shortestS / finer,
      swingS: swingS / finer,
      rejectAbove: rejectAbove / finer,
      growBelow: growBelow / finer,
    });
    this.nodes = [...this.plant.vehicle.nodes, ...this.plant.machine.nodes];
    this.plant.operate('connect-hoses');
  }

  /** `afterScan` is called ten times a second. */
  hold(outputs: readonly Output[], seconds: number, afterScan: () => void = () => undefined): this {
    const commands = { ...SAFE_COMMANDS, ...Object.fromEntries(outputs.map((output) => [output, ON])) };
    const endMs = this.plant.nowMs + 1000 * seconds;
    while (this.plant.nowMs < endMs) {
      this.plant.command(commands);
      this.plant.advanceTo(this.plant.nowMs + SCAN_MS);
      afterScan();
    }
    return this;
  }
}
