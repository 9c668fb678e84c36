// Wordings of the notices of a recovery: what the vehicle stands at when it comes, and how it is drawn down.
import type { Wording } from './notice.ts';

export const RECOVERY_WORDINGS = {
  'sides-differ': {
    severity: 'advice',
    text: 'High and low side still differ by {difference} kPa at rest. The machine goes on with both sides open.',
    remedy: 'Check both couplers. If they are open, suspect a blocked expansion device or a pressure sensor.',
  },
  'sides-swapped': {
    severity: 'warning',
    text: 'The valve of the high side opened alone for a moment. The low-side sensor answered by {low} kPa, the high-side one by {high} kPa: their plugs, or the wires of the two hose valves, are exchanged. The job stopped with every valve shut, before anything was recovered.',
    remedy:
      'Exchange the plugs of the two pressure sensors, check the wires of the two hose valves, then start the job again.',
  },
  'pressure-above-saturation': {
    severity: 'warning',
    text: 'The vehicle stands {excess} kPa above saturation at ambient temperature. A hot engine bay does this, and so do air or another refrigerant. The machine goes on because the identifier result was accepted.',
    remedy: 'If the vehicle is cold, stop the job and identify the refrigerant again.',
  },
  'vehicle-empty': {
    severity: 'advice',
    text: 'The vehicle stands at {pressure} kPa absolute, no more than the atmosphere: there is nothing to recover. The machine skipped recovery, which would only have drawn in air.',
    remedy: 'Expect a leak. Find it before the vehicle is charged.',
  },
  'empty-yet-sampled': {
    severity: 'warning',
    text: 'The hoses show no pressure, and yet a sample of the refrigerant was taken at the vehicle. Its couplers may be closed, or not on their ports: then the vehicle is as full as before, and nothing of what follows reaches it.',
    remedy: 'Open both couplers. If a side sensor then shows pressure, stop the job and start it again.',
  },
  'vehicle-too-cold': {
    severity: 'warning',
    text: 'It is so cold, or the temperature so uncertain, that a full vehicle has no more pressure than an empty one. The job stopped with every valve shut: evacuating a full vehicle would vent it.',
    remedy: 'Bring the vehicle into a warmer room and let it stand, or mend the temperature sensors.',
  },
  'vehicle-pressurised': {
    severity: 'warning',
    text: 'The vehicle stands at {pressure} kPa absolute, and evacuation would vent its refrigerant. The job stopped with every valve shut.',
    remedy: 'Run the service whole or recover first.',
  },
  'pressure-unknown': {
    severity: 'warning',
    text: 'No sensor says what pressure the vehicle has. The job stopped with every valve shut.',
    remedy: 'Mend the manifold pressure sensor and the side sensors.',
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
    text: '{what} after {cycles} cycles and {minutes} min.{why} The machine does not evacuate, because the pump would vent what is left; it clears the {hoses} and ends the job.',
    remedy: '{first}Warm the vehicle and start the service again.',
  },
  'air-drawn-in': {
    severity: 'warning',
    text: 'The tank stands {excess} kPa further above the vapour pressure of its refrigerant than before the recovery, and the vehicle rises again after every draw: air is coming in with what is drawn, and counts as recovered. The machine draws no more, clears the {hoses} and ends the job.',
    remedy:
      'Look for a hole in the vehicle or a hose that is off or leaks. Let the tank rest and have its air let off before it charges a vehicle.',
  },
  'compressor-worn': {
    severity: 'advice',
    text: 'By the scale the recovery compressor brings {share} % of its displacement: its valves are worn. Draws take the longer, and what the condenser keeps is reckoned with that share.',
    remedy: "Have the compressor's valve plate looked at before the next vehicle.",
  },
  'suction-slackened': {
    severity: 'advice',
    text: 'At {pressure} kPa absolute the suction fell from one second to the next by less than half as fast as before, though the compressor ran on: its valves may be giving way. The draw goes on, and half of what it brings from here on is in doubt.',
    remedy:
      'Watch how long the next recovery takes, and have the valve plate looked at if it takes longer than usual.',
  },
  'recovery-stagnant': {
    severity: 'advice',
    text: 'The suction pressure stays at {pressure} kPa absolute though the compressor runs and nothing arrives in the tank. The machine stopped drawing and looks at the pressure at rest.',
    remedy:
      'Check for an open fitting, a shut tank valve or a blocked filter. A worn compressor does this too.',
  },
} as const satisfies { readonly [code: string]: Wording };
