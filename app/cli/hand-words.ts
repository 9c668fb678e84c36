// Work by hand in words: the status, what came of a wish, and why something would be refused.

import { saturatedK } from '../../controller/estimates/saturation.ts';
import { because, type Reason } from '../../controller/interlocks/reason.ts';
import { progress } from '../../controller/progress.ts';
import type { ControllerState } from '../../controller/state.ts';
import type { HandEntry } from '../../controller/wishes.ts';
import { clock, type Units } from '../units.ts';

/** With the saturation temperature beside it: where liquid is, it has about this temperature. */
function pressureText(pressurePa: number | undefined, state: ControllerState, units: Units): string {
  if (pressurePa === undefined) return 'not read';
  const temperatureK = saturatedK(pressurePa, state.plan.curve);
  const saturated = temperatureK === undefined ? '' : ` (sat. ${units.temperature(temperatureK)})`;
  return `${units.pressure(pressurePa)}${saturated}`;
}

function manifoldText({ seen }: ControllerState, units: Units): string {
  if (seen?.manifoldOverSpan === true) return 'above its span';
  return seen?.manifoldPa === undefined ? 'not read' : units.pressure(seen.manifoldPa);
}

/** @param startKg what the scale showed at the start, for those who count what has moved. */
function scaleText(netKg: number | undefined, startKg: number | undefined, units: Units): string {
  if (netKg === undefined) return 'not read';
  if (startKg === undefined) return units.content(netKg);
  const moved = units.charge(netKg - startKg);
  return `${units.content(netKg)} (${moved.startsWith('-') ? '' : '+'}${moved} since the start)`;
}

function onTexts({ byHand }: ControllerState, powered: boolean): readonly string[] {
  if (!powered) return ['no power: everything is off'];
  if (byHand === undefined) return ["not by hand: 'reset' lifts a trip, 'begin' takes the machine over"];
  if (byHand.wishes.length === 0) return ['nothing on'];
  return byHand.wishes.map(({ output, untilMs }) => `${output} on until ${clock(untilMs)}`);
}

/** The figures one by one, for whoever has to break the line. */
export function statusParts(
  state: ControllerState,
  nowMs: number,
  startKg: number | undefined,
  units: Units,
  powered: boolean,
): readonly string[] {
  const { figures } = progress(state, nowMs);
  const temperature = (temperatureK: number | undefined) =>
    temperatureK === undefined ? 'not read' : units.temperature(temperatureK);
  return [
    `high ${pressureText(figures.highSidePa, state, units)}`,
    `low ${pressureText(figures.lowSidePa, state, units)}`,
    `manifold ${manifoldText(state, units)}`,
    `tank ${pressureText(figures.tankPa, state, units)} at ${temperature(figures.tankTemperatureK)}`,
    `air ${temperature(state.seen?.ambientK)}`,
    `scale ${scaleText(figures.tankNetKg, startKg, units)}`,
    ...onTexts(state, powered),
  ];
}

/** As many parts in a line as fit. */
export function inLines(parts: readonly string[], width: number, between = ' | '): readonly string[] {
  const lines: string[] = [];
  for (const part of parts) {
    const joined = lines.length === 0 ? part : `${lines.at(-1)}${between}${part}`;
    if (lines.length === 0 || joined.length > width) lines.push(part);
    else lines[lines.length - 1] = joined;
  }
  return lines;
}

/** What a notice does not tell already. */
export function entryText({ deed, output, result }: HandEntry, state: ControllerState): string | undefined {
  if (deed === 'all-off') return 'everything is off';
  if (deed === 'on' && result === 'permitted') {
    const wish = state.byHand?.wishes.find((one) => one.output === output);
    if (wish === undefined) return `${output} permitted`;
    return `${output} on until ${clock(wish.untilMs)}${wish.timed ? '' : ', unless it is wished again'}`;
  }
  if (deed === 'off' && result === 'done') return `${output} off`;
  if (deed === 'off' && result === 'expired') return `${output} off: its time is up`;
  return undefined;
}

export function whyText(output: string, on: boolean, reasons: readonly Reason[]): string {
  if (reasons.length === 0) return on ? `${output} is on and permitted` : `${output} would be permitted now`;
  const list = reasons.map((reason) => `${reason.row}: ${because(reason)} → ${reason.remedy}`);
  return `${output} would be refused now\n${list.map((text) => `            ${text}`).join('\n')}`;
}
