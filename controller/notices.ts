// Every notice the machine can give: what happened, what the machine did, what to do. The files notices-*.ts have them by
// the part of the job; here is what belongs to the tank or to any part.
import { HOOKUP_WORDS, type Hookup } from './hookup.ts';
import type { Notice, Wording } from './notice.ts';
import { ASSIST_WORDINGS } from './notices-assist.ts';
import { BY_HAND_WORDINGS } from './notices-by-hand.ts';
import { CHARGE_WORDINGS } from './notices-charge.ts';
import { FILL_WORDINGS } from './notices-fill.ts';
import { HOSES_WORDINGS } from './notices-hoses.ts';
import { IDENTIFY_WORDINGS } from './notices-identify.ts';
import { LEAK_CHECK_WORDINGS } from './notices-leak-check.ts';
import { ENGINE_WORDINGS, OIL_WORDINGS } from './notices-oil-engine.ts';
import { PURGE_WORDINGS } from './notices-purge.ts';
import { RECOVERY_WORDINGS } from './notices-recovery.ts';
import { REPAIR_WORDINGS } from './notices-repair.ts';
import { VACUUM_WORDINGS } from './notices-vacuum.ts';

export const NOTICE_WORDINGS = {
  ...FILL_WORDINGS,
  ...IDENTIFY_WORDINGS,
  ...PURGE_WORDINGS,
  ...RECOVERY_WORDINGS,
  ...VACUUM_WORDINGS,
  ...CHARGE_WORDINGS,
  ...HOSES_WORDINGS,
  'tank-too-full': {
    severity: 'warning',
    text: 'The tank holds {net} kg of at most {limit} kg, and this service needs room for {needed} kg. No valve has opened.',
    remedy: 'Change to a tank with room, or empty this one.',
  },
  'tank-too-empty': {
    severity: 'warning',
    text: 'The tank holds {net} kg, {liquid} kg of it liquid when it is as warm as the charge will find it. The charge takes {charge} kg, and {reserve} kg of liquid must keep the dip tube covered: {missing} kg are missing. No valve has opened.',
    remedy: 'Put in a fuller tank of the same refrigerant, or fill this one from a cylinder.',
  },
  'air-in-tank': {
    severity: 'warning',
    text: 'The tank stands {excess} kPa above saturation, sensor errors allowed for: there is air in it, which would go into the vehicle. No valve has opened.',
    remedy:
      'Let the tank rest overnight, then purge its air by the rules that hold where you are, or change the tank.',
  },
  'tank-below-saturation': {
    severity: 'warning',
    text: 'The tank stands {shortage} kPa below the vapour pressure of {refrigerant} at its temperature, sensor errors allowed for: it holds another refrigerant, or no liquid. No valve has opened.',
    remedy:
      "Read the label of the tank, have a sample of it identified, and check the tank's pressure sensor and thermometer. Nothing is charged from a tank that is not known.",
  },
  'tank-exchanged': {
    severity: 'warning',
    text: 'The tank weighs {net} kg net, and the last job left {last} kg in it: {moved} kg {direction}, which no scale drifts. It is another tank, with another tare or another refrigerant, or something lies on the platform. No valve has opened.',
    remedy:
      'Take off the platform what is not the tank. If it is another tank, read its label: tell the machine its refrigerant, its water capacity and its empty mass, and no longer what the last job left.',
  },
  'scale-lost': {
    severity: 'warning',
    text: 'The scale did not come to rest within {minutes} min. The machine shut every valve: without the scale no gram can be booked.',
    remedy: 'Keep people and hoses off the scale, check its cable, then start a new job.',
  },
  'rig-silent': {
    severity: 'warning',
    text: 'For {seconds} s nothing has been heard of the machine: the line to its board is cut, or the board stands. A board that hears nothing shuts every valve and stops every drive but the fan by itself. Nothing is commanded until it is heard again.',
    remedy:
      'Check the cable and the supply of the board. What happened meanwhile is weighed once it is back.',
  },
  'sides-disagree': {
    severity: 'warning',
    text: 'The high side shows {high} kPa absolute and the low side {low} kPa absolute, though both hoses are joined and nothing flows, or leapt there at once with both shut: a side sensor is stuck, the plugs of the two are exchanged, or a hose is shut off. The machine goes on, and states every mass with the doubt of the force that the hoses put on the scale.',
    remedy:
      'Check that both couplers are open. Compare each side with a gauge on its service port; exchange the plugs or the sensor that is wrong.',
  },
  'scale-drifts': {
    severity: 'warning',
    text: 'With nothing flowing the scale runs away by {rate} g a minute, more than warmth and creep make. The machine goes on, and states every mass with the doubt that this makes of the time between its weighings.',
    remedy:
      'Look for what touches the platform or pulls at it, shield the scale from sun and draught, and check its cable and cell. Wipe a tank that is colder than the room: dew gathers on it and dries off again. If the stated doubt is too large, recover the vehicle and charge it again with a scale that stands still.',
  },
  'machine-leaks': {
    severity: 'warning',
    text: 'With its hose valves shut the manifold alone rose by {rise} kPa within {seconds} s: what comes in comes through the machine, not through the vehicle. The job stopped with every valve shut.',
    remedy:
      "Suspect the charge valve first: shut the tank's liquid valve by hand and see whether the manifold then stays where it is. Clean or change the valve before you go on.",
  },
  'held-by-interlock': {
    severity: 'advice',
    text: 'The interlock {row} holds back {outputs}: {because}. The machine waits for it to clear.',
    remedy: '{remedy}',
  },
  'held-by-unknown': {
    severity: 'advice',
    text: 'The interlock {row} holds back {outputs}: {because}. The machine waits for the reading.',
    remedy: '{remedy}',
  },
  'timed-out': {
    severity: 'warning',
    text: 'The step {stage} took longer than {minutes} min. The machine went to its safe state.',
    remedy: 'See the notices before this one for the cause.',
  },
  'wait-timed-out': {
    severity: 'warning',
    text: 'Nobody answered for {minutes} min. The job ended with every valve shut.',
    remedy: 'Start a new job when someone is there.',
  },
  aborted: {
    severity: 'warning',
    text: 'The operator aborted the job in {stage}. Every valve is shut and every drive is off.',
    remedy: 'There may still be refrigerant in the {hoses}: recover it before disconnecting.',
  },
  tripped: {
    severity: 'trip',
    text: 'Interlock {row} tripped: {reason}. {hazard}. Every valve is shut and every drive is off until the trip is reset.',
    remedy:
      '{remedy} Once the trip is reset, a job can be resumed or aborted; work by hand has to be begun anew.',
  },
  'reset-refused': {
    severity: 'advice',
    text: 'The trip {reason} was not reset: its cause is still there.',
    remedy: 'Remove the cause first.',
  },
  ...ASSIST_WORDINGS,
  ...OIL_WORDINGS,
  ...LEAK_CHECK_WORDINGS,
  ...ENGINE_WORDINGS,
  ...REPAIR_WORDINGS,
  ...BY_HAND_WORDINGS,
} as const satisfies { readonly [code: string]: Wording };

export type NoticeCode = keyof typeof NOTICE_WORDINGS;

export type NoticeDraft = {
  readonly code: NoticeCode;
  readonly with?: { readonly [name: string]: string };
};

/** Nothing to tell, as in nearly every scan: who compares with this need not look inside. */
export const NO_NOTICES: readonly never[] = [];

export function noticeOf({ code, with: figures = {} }: NoticeDraft, atMs: number, hookup: Hookup): Notice {
  const { severity, text, remedy } = NOTICE_WORDINGS[code];
  const words: { readonly [name: string]: string } = HOOKUP_WORDS[hookup];
  const fill = (wording: string): string =>
    wording.replace(/\{(\w+)\}/g, (_, name: string) => figures[name] ?? words[name] ?? 'unknown');
  return { code, severity, text: fill(text), remedy: fill(remedy), atMs };
}
