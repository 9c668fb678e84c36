// The statechart as SCXML (W3C recommendation of 1 September 2015), with the data model of ECMAScript.
import { STAGES, type Stage } from '../../controller/stages.ts';
import { type ChartEdge, EDGES, EDGES_OF_ALL, STATES } from './chart-edges.ts';

const escaped = (text: string): string =>
  text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;').replaceAll('"', '&quot;');

const isStage = (key: string): boolean => STAGES.some((stage) => stage === key);

function transition({ event, condition, to, sets }: ChartEdge): string[] {
  const cond = condition === '' ? '' : ` cond="${escaped(condition)}"`;
  const open = `<transition event="${event}"${cond} target="${to}"`;
  if (sets.length === 0) return [`${open}/>`];
  return [`${open}>`, ...sets.map((field) => `  <assign location="${field}" expr="true"/>`), '</transition>'];
}

const indented = (lines: readonly string[]): string[] => lines.map((line) => `  ${line}`);

function state(key: string): string[] {
  const left = `<onexit><assign location="interrupted" expr="'${key}'"/></onexit>`;
  const out = EDGES.filter(({ from }) => from === key).flatMap(transition);
  return [`<state id="${key}">`, ...indented([...(isStage(key) ? [left] : []), ...out]), '</state>'];
}

/**
 * A machine of one job, from its first stage to one of two ends.
 * @param stages those of the plan, in their order: the first is where the job begins.
 */
export function scxml(stages: readonly [Stage, ...Stage[]] = STAGES): string {
  const list = stages.map((stage) => `'${stage}'`).join(', ');
  const inside = STATES.filter(({ ends }) => !ends).flatMap(({ key }) => state(key));
  const ends = STATES.filter(({ ends }) => ends).map(({ key }) => `<final id="${key}"/>`);
  return [
    '<?xml version="1.0" encoding="UTF-8"?>',
    '<!-- The sequence of Coldbench. Events are what a stage answers with, or what operator and trip do; deadlines and',
    '     outputs are not part of it. Stages of the plan stand in the data: a job with others has another list. -->',
    '<scxml xmlns="http://www.w3.org/2005/07/scxml" version="1.0" datamodel="ecmascript" name="service" initial="job">',
    '  <datamodel>',
    `    <data id="stages" expr="[${list}]"/>`,
    '    <data id="interrupted" expr="null"/>',
    '    <data id="spoiled" expr="false"/>',
    '    <data id="givingBack" expr="false"/>',
    '    <data id="engineTried" expr="false"/>',
    '  </datamodel>',
    `  <state id="job" initial="${stages[0]}">`,
    ...indented(indented([...EDGES_OF_ALL.flatMap(transition), ...inside])),
    '  </state>',
    ...indented(ends),
    '</scxml>',
    '',
  ].join('\n');
}
