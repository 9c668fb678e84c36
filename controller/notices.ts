// Every notice the machine can give: what happened, what the machine did, what to do. One table.
import { HOOKUP_WORDS, type Hookup } from './hookup.ts';
import type { Notice, Wording } from './notice.ts';
import { ASSIST_WORDINGS } from './notices-assist.ts';
import { BY_HAND_WORDINGS } from './notices-by-hand.ts';
import { FILL_WORDINGS } from './notices-fill.ts';
import { IDENTIFY_WORDINGS } from './notices-identify.ts';
import { LEAK_CHECK_WORDINGS } from './notices-leak-check.ts';
import { ENGINE_WORDINGS, OIL_WORDINGS } from './notices-oil-engine.ts';
import { PURGE_WORDINGS } from './notices-purge.ts';
import { REPAIR_WORDINGS } from './notices-repair.ts';

const WORDINGS = {
  ...FILL_WORDINGS,
  ...IDENTIFY_WORDINGS,
  ...PURGE_WORDINGS,
  'sides-differ': {
    severity: 'advice',
    text: 'High and low side still differ by {difference} kPa at rest. The machine goes on with both sides open.',
    remedy: 'Check both couplers. If they are open, suspect a blocked expansion device or a pressure sensor.',
  },
  'pressure-above-saturation': {
    severity: 'warning',
    text: 'The vehicle stands {excess} kPa above saturation at ambient temperature. A hot engine bay does this, and so do air or another refrigerant. The machine goes on because the identifier result was accepted.',
    remedy: 'If the vehicle is cold, stop the job and identify the refrigerant again.',
  },
  'vehicle-empty': {
    severity: 'advice',
    text: 'The vehicle stands at {pressure} kPa, no more than the atmosphere: there is nothing to recover. The machine skipped recovery, which would only have drawn in air.',
    remedy: 'Expect a leak. Find it before the vehicle is charged.',
  },
  'vehicle-too-cold': {
    severity: 'warning',
    text: 'It is so cold, or the temperature so uncertain, that a full vehicle has no more pressure than an empty one. The job stopped with every valve shut: evacuating a full vehicle would vent it.',
    remedy: 'Bring the vehicle into a warmer room and let it stand, or mend the temperature sensors.',
  },
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
  'vehicle-pressurised': {
    severity: 'warning',
    text: 'The vehicle stands at {pressure} kPa, and evacuation would vent its refrigerant. The job stopped with every valve shut.',
    remedy: 'Run the service whole or recover first.',
  },
  'pressure-unknown': {
    severity: 'warning',
    text: 'No sensor says what pressure the vehicle has. The job stopped with every valve shut.',
    remedy: 'Mend the manifold pressure sensor and the side sensors.',
  },
  'pressure-came-back': {
    severity: 'warning',
    text: 'Pressure came into the evacuated vehicle during the hold, more than any leak from outside could bring. The job stopped with every valve shut.',
    remedy:
      'Suspect a charge valve that leaks or an engine that was started. Recover before you evacuate again.',
  },
  'scale-lost': {
    severity: 'warning',
    text: 'The scale did not come to rest within {minutes} min. The machine shut every valve: without the scale no gram can be booked.',
    remedy: 'Keep people and hoses off the scale, check its cable, then start a new job.',
  },
  'machine-leaks': {
    severity: 'warning',
    text: 'With its hose valves shut the manifold alone rose by {rise} kPa within {seconds} s: what comes in comes through the machine, not through the vehicle. The job stopped with every valve shut.',
    remedy:
      "Suspect the charge valve first: shut the tank's liquid valve by hand and see whether the manifold then stays where it is. Clean or change the valve before you go on.",
  },
  'restarted-on-rise': {
    severity: 'information',
    text: 'The pressure rose by {rise} kPa in {seconds} s of rest: cold liquid is still boiling. Recovery starts again.',
    remedy: 'Nothing to do.',
  },
  'restarted-on-vapour': {
    severity: 'information',
    text: 'The pressure rose by {rise} kPa in {seconds} s of rest although the last draw brought next to nothing: oil is probably giving off what it holds. Recovery starts again.',
    remedy: 'Nothing to do.',
  },
  'liquid-trapped': {
    severity: 'advice',
    text: 'Liquid is trapped in the vehicle and has cooled itself; it comes out only as fast as heat flows in. The machine goes on in cycles of drawing and resting.',
    remedy: 'Warm the accumulator or receiver with warm air, and switch the cabin blower on.{also}',
  },
  'liquid-left': {
    severity: 'warning',
    text: 'Refrigerant is still left after {cycles} cycles and {minutes} min. The machine does not evacuate, because the pump would vent it; it clears the {hoses} and ends the job.',
    remedy: 'Warm the vehicle and start the service again.',
  },
  'air-drawn-in': {
    severity: 'warning',
    text: 'The tank stands {excess} kPa further above the vapour pressure of its refrigerant than before the recovery, and the vehicle rises again after every draw: air is coming in with what is drawn, and counts as recovered. The machine draws no more, clears the {hoses} and ends the job.',
    remedy:
      'Look for a hole in the vehicle or a hose that is off or leaks. Let the tank rest and have its air let off before it charges a vehicle.',
  },
  'recovery-stagnant': {
    severity: 'advice',
    text: 'The suction pressure stays at {pressure} kPa though the compressor runs and nothing arrives in the tank. The machine stopped drawing and looks at the pressure at rest.',
    remedy:
      'Check for an open fitting, a shut tank valve or a blocked filter. A worn compressor does this too.',
  },
  'pump-cannot-open': {
    severity: 'warning',
    text: 'The pressure before the vacuum pump stays at {pressure} kPa, above what the pump may be opened to. The job stopped with every valve shut.',
    remedy: 'Recover the refrigerant that is left, or mend the manifold pressure sensor.',
  },
  'rough-vacuum-failed': {
    severity: 'warning',
    text: 'After {seconds} s of pumping the pressure is still {pressure} kPa. Something is open, or liquid refrigerant is still boiling. The job stopped: pumping on would draw in wet air or vent refrigerant.',
    remedy: 'Check couplers, hoses and service ports for a gross leak; if they are sound, recover again.',
  },
  'vacuum-not-reached': {
    severity: 'warning',
    text: 'After {minutes} min the pressure is {pressure} Pa and the target of {target} Pa is not reached. The job stopped with every valve shut.',
    remedy: 'Check for a leak, for moisture in the system and for tired pump oil.',
  },
  'water-boils': {
    severity: 'advice',
    text: 'The pressure has stood at {pressure} Pa for some minutes: water boils in the system, and what boils fast freezes; a gross leak does the same. The machine pumps on for the usual time, then the hold tells which it is.',
    remedy:
      'Warm the vehicle, the evaporator above all. Where ice has formed, let it melt and pump gently; open the gas ballast of the pump.',
  },
  'hold-outgassed': {
    severity: 'advice',
    text: 'In the hold the pressure rose towards {plateau} Pa and slowed down: oil or moisture is giving off gas, this is not a leak. The machine evacuates again.',
    remedy: 'Warm the vehicle to speed this up.',
  },
  'hold-water': {
    severity: 'advice',
    text: 'In the hold the pressure rose towards {plateau} Pa as water does: moisture is left in the system, this is not a leak. The machine evacuates again.',
    remedy: 'Warm the vehicle, the evaporator above all, and open the gas ballast of the pump.',
  },
  'hold-ice': {
    severity: 'advice',
    text: 'In the hold the pressure went to {plateau} Pa, the vapour pressure of ice: water has frozen in the system and leaves it by and by only. The machine evacuates again.',
    remedy: 'Warm the vehicle above freezing before the pump goes on, and pump gently while the ice melts.',
  },
  'hold-outgassing-accepted': {
    severity: 'information',
    text: 'In the hold the pressure still rose by {slope} Pa/s, as oil does that gives off what it holds: too little to do harm. The machine goes on; a leak below {limit} kg a year could hide in this.',
    remedy:
      'Nothing to do. If the vehicle has lost charge, look for the leak with a detector once it is charged.',
  },
  'hold-outgassing-persists': {
    severity: 'warning',
    text: 'After {evacuations} evacuations the system still gives off gas (towards {plateau} Pa). The machine does not pump any longer and goes on.',
    remedy:
      'Expect moisture: change the receiver-drier, and sweep with dry nitrogen before the next evacuation.',
  },
  'leak-suspected': {
    severity: 'advice',
    text: 'In the hold the pressure rose in a straight line by {slope} Pa/s. The machine evacuates again and looks a second time before it calls this a leak.',
    remedy: 'Check {couplers} meanwhile.',
  },
  'vacuum-lost': {
    severity: 'warning',
    text: 'The vacuum is gone: within the hold the pressure came to {plateau} Pa, that of the air outside as nearly as this sensor tells. The machine does not charge.',
    remedy:
      'Look for a hole, an open port or a coupler that is not seated; mend it, then evacuate and charge.',
  },
  'leak-found': {
    severity: 'warning',
    text: 'Two holds agree on a straight rise of {slope} Pa/s, about {rate} kg of refrigerant a year. The machine does not charge.',
    remedy: 'Find and mend the leak, then evacuate and charge.',
  },
  'hold-blind': {
    severity: 'warning',
    text: 'The hold saw nothing: no vacuum sensor gave a reading. The machine goes on; nobody knows whether the vehicle is tight.',
    remedy:
      'Mend the sensor before the next job. Look for leaks with a detector once the vehicle is charged.',
  },
  'hold-inconclusive': {
    severity: 'warning',
    text: 'The hold could not tell tight from leaking: {reason}. The machine goes on; leaks below {limit} kg a year would not have been seen in any case.',
    remedy: 'Look for leaks with a detector once the vehicle is charged.',
  },
  'charge-stalled-warm': {
    severity: 'advice',
    text: 'The charge stalls at {charged} g: tank and vehicle are at the same pressure because the vehicle is warmer. The valve stays open for a while, for the vehicle may condense what it has.',
    remedy: 'Warm the tank room or cool the condenser with a fan.',
  },
  'charge-stalled-supply': {
    severity: 'advice',
    text: "The charge stalls at {charged} g and the hose stands far below the tank's pressure: nothing comes out of the tank.",
    remedy: "Open the tank's liquid valve; check the charge valve and its filter.",
  },
  'charge-stalled-dip-tube': {
    severity: 'advice',
    text: 'The charge has slowed to a trickle at {charged} g, and by weight and temperature the tank has only {liquid} kg of liquid left: its dip tube is probably uncovered and draws vapour. The machine takes what still flows, and gives up after {minutes} min without any.',
    remedy:
      "Put in a fuller tank of the same refrigerant, or fill this one from a cylinder, and check the tank's tare. If it surely holds more, cool the vehicle's condenser with a fan.",
  },
  'charge-stalled-coupler': {
    severity: 'warning',
    text: "After {charged} g the vehicle's pressure has not answered: the hose is full and its coupler is shut. The machine shut the charge valve and recovers the hose.",
    remedy: 'Open {chargingCoupler} fully and start evacuate-and-charge again.',
  },
  'charge-stalled': {
    severity: 'advice',
    text: 'The charge stalls at {charged} g for a reason that the sensors do not show. The valve stays open for up to {minutes} min.',
    remedy: "Check the tank's valve, {chargingCoupler} and the scale.",
  },
  'charge-fell-short': {
    severity: 'warning',
    text: 'The charge ended at {charged} g of {target} g. The machine recovers the {hoses} and ends the job as stopped.',
    remedy: 'Remove the cause, recover the vehicle and charge it again by weight.',
  },
  'scale-disturbed': {
    severity: 'advice',
    text: 'The scale was moved or touched while charging. The valve is shut until the reading has been quiet for five seconds; nothing was booked.',
    remedy: 'Keep hands, hoses and tools off the machine while it charges.',
  },
  'couplers-open': {
    severity: 'warning',
    text: 'The pressure does not fall while the {hoses} should be drawn down: {stillOpen}. The machine stopped drawing; what came out is counted.',
    remedy: 'Close {couplers} and confirm again.',
  },
  'hoses-not-recovered': {
    severity: 'warning',
    text: 'After {draws} draws there are still {pressure} kPa in the {hoses}: not safe to disconnect. The job stopped with every valve shut.',
    remedy:
      'Close {couplers}, then recover the {hoses} with a new job before disconnecting. Wear goggles and gloves.',
  },
  'hoses-safe': {
    severity: 'information',
    text: 'Safe to disconnect: the {hoses} stayed below 0.3 bar above the atmosphere.',
    remedy: '{takeOff}',
  },
  'hoses-not-safe': {
    severity: 'warning',
    text: 'NOT safe to disconnect any longer: pressure has come back, {pressure} kPa stand in a hose. The machine keeps every valve shut.',
    remedy:
      'Do not take anything off. Close {couplers}, then recover the {hoses} with a new job. Wear goggles and gloves.',
  },
  'net-charge-off': {
    severity: 'warning',
    text: 'By the weight of what came back from the {hoses} the vehicle holds {net} g, {difference} g {direction} its nominal charge.',
    remedy: 'Decide whether the vehicle can stay as it is. To correct it, recover and charge again.',
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

export type NoticeCode = keyof typeof WORDINGS;

export type NoticeDraft = {
  readonly code: NoticeCode;
  readonly with?: { readonly [name: string]: string };
};

/** Nothing to tell, as in nearly every scan: who compares with this need not look inside. */
export const NO_NOTICES: readonly never[] = [];

export function noticeOf({ code, with: figures = {} }: NoticeDraft, atMs: number, hookup: Hookup): Notice {
  const { severity, text, remedy } = WORDINGS[code];
  const words: { readonly [name: string]: string } = HOOKUP_WORDS[hookup];
  const fill = (wording: string): string =>
    wording.replace(/\{(\w+)\}/g, (_, name: string) => figures[name] ?? words[name] ?? 'unknown');
  return { code, severity, text: fill(text), remedy: fill(remedy), atMs };
}
