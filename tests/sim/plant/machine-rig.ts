// A plant worked by hand, with its nodes in view.
import { ON, type Output, SAFE_COMMANDS } from '../../../controller/signals.ts';
import { ActiveFaults, type FaultName } from '../../../sim/faults.ts';
import type { Node } from '../../../sim/network/node.ts';
import { STEP_RULE, type StepRule } from '../../../sim/network/step-rule.ts';
import { Plant } from '../../../sim/plant/plant.ts';
import { type SpecChoices, specOf, tablesOf } from '../hand.ts';

/** Internal steps so many times shorter, and held to so much smaller errors. */
function finerRule(times: number): StepRule {
  const { longestS, shortestS, swingS, quietS, rejectAbove, growBelow } = STEP_RULE;
  return {
    ...STEP_RULE,
    longestS: longestS / times,
    shortestS: shortestS / times,
    swingS: swingS / times,
    quietS: quietS / times,
    rejectAbove: rejectAbove / times,
    growBelow: growBelow / times,
  };
}

export class MachineRig {
  readonly faults = new ActiveFaults();
  readonly plant: Plant;

  constructor(choices: SpecChoices & { contentKg?: number; airKg?: number } = {}, finer = 1) {
    const spec = specOf(choices);
    const { contentKg = spec.tank.contentKg, airKg = 0 } = choices;
    this.plant = new Plant(
      { ...spec, tank: { ...spec.tank, contentKg, airKg } },
      tablesOf(spec.vehicle.refrigerant),
      this.faults,
      finerRule(finer),
    );
  }

  /** Of the vehicle and of the machine. */
  get nodes(): readonly Node[] {
    return [...this.plant.vehicle.nodes, ...this.plant.machine.nodes];
  }

  get machine() {
    return this.plant.machine;
  }

  get services() {
    return this.plant.services;
  }

  /** Holds outputs on, calling `look` each tenth of a second. */
  hold(outputs: readonly Output[], seconds: number, look?: () => void): this {
    this.plant.command({
      ...SAFE_COMMANDS,
      ...Object.fromEntries(outputs.map((output) => [output, ON])),
    });
    const endMs = this.plant.nowMs + Math.round(seconds * 1000);
    while (this.plant.nowMs < endMs) {
      this.plant.advanceTo(Math.min(endMs, this.plant.nowMs + 100));
      look?.();
    }
    return this;
  }

  fault(fault: FaultName, choices: { size?: number; output?: Output; on?: boolean } = {}): this {
    const { on = true, ...more } = choices;
    this.faults.switch({ fault, ...more }, on);
    return this;
  }

  connect(): this {
    this.plant.operate('connect-hoses');
    return this;
  }
}
