// The blocking questions: what is asked and what the machine will look at to believe the answer.
import type { Hookup } from './hookup.ts';
import type { Prompt, PromptId } from './operator.ts';

/** The graduated catch bottle holds half a litre. */
export const CATCH_BOTTLE_M3 = { least: 0, most: 500e-6 } as const;

type Wording = Omit<Prompt, 'id' | 'askedAtMs'>;

/** One wording for all, or one for each thing the hoses can be on; a prompt that a service never asks needs none for it. */
type Wordings =
  | Wording
  | { readonly 'two-ports': Wording; readonly 'one-port': Wording; readonly cylinder?: Wording };

const WORDINGS: { readonly [P in PromptId]: Wordings } = {
  'identify-refrigerant': {
    'two-ports': {
      text: "Take a sample at one of the vehicle's service ports with a refrigerant identifier and enter refrigerant and purity.",
      evidence:
        'The refrigerant must be the one on the ticket, at 98 % or purer, without hydrocarbons and with little air. Without pressure there is no sample: say so, and the machine will look.',
    },
    'one-port': {
      text: "Take a sample at the vehicle's service port with a refrigerant identifier and enter refrigerant and purity.",
      evidence:
        'The refrigerant must be the one on the ticket, at 98 % or purer, without hydrocarbons and with little air. Without pressure there is no sample: say so, and the machine will look.',
    },
    cylinder: {
      text: 'Take a sample from the supply cylinder with a refrigerant identifier, even if it is new and sealed, and enter refrigerant and purity.',
      evidence: "The refrigerant must be the tank's, at 98 % or purer.",
    },
  },
  'purge-air': {
    text: 'There is air in the tank. Lead the outlet of its purge valve outdoors, away from people and flames, and confirm that a little may be let off; or decline. Refrigerant goes with the air: the rules that hold where you are decide whether that may be.',
    evidence: 'The scale counts what leaves, 20 g at most, and the tank must come down towards saturation.',
  },
  'flush-hoses': {
    text: 'The vehicle has an electric compressor: oil of other vehicles in the hoses would ruin its windings. Flush both hoses, or put on a set that is kept for such vehicles, then confirm. High voltage: keep off orange cables.',
    evidence: 'No sensor sees oil: the machine takes your word, and keeps it in the record.',
  },
  'connect-hoses': {
    'two-ports': {
      text: 'Engine off. Put both couplers on the service ports and open them.',
      evidence: 'Both hose pressures must come to rest and agree with each other.',
    },
    'one-port': {
      text: 'Engine off. Put the high-side hose on the service port and open its coupler. The low-side hose stays on the machine, capped.',
      evidence:
        "The pressure of the high-side hose must come to the vehicle's and rest; the low side is not looked at.",
    },
    cylinder: {
      text: 'Put the high-side hose on the supply cylinder, stand the cylinder upside down, valve lowest, beside the machine and not on its scale, and open its valve. Nothing is ever filled into the cylinder; one that is non-refillable must never be.',
      evidence:
        "The high-side hose must come to the vapour pressure at the room's temperature: no pressure is an empty cylinder or a shut valve, more is air or another refrigerant.",
    },
  },
  'warm-vehicle': {
    text: "The machine's valves are shut. Start the engine and hold it at fast idle, 2000 rpm at most; air conditioning on, blower at its highest. The machine says when it is enough, after 14 min; then switch the air conditioning off and stop the engine. Confirm when it stands still again, not before.",
    evidence:
      'While it runs the high side must rise and the low side must fall; when it stands still both must come to the same pressure.',
  },
  'repair-vehicle': {
    'two-ports': {
      text: 'The machine stands safe and needs nobody. Mend the vehicle; if hoses come off, close their couplers first. Gas of a leak test is let off. When the vehicle is mended and closed again, both couplers on and open, confirm.',
      evidence:
        'Neither side may stand above the atmosphere; then vacuum and hold show whether it is closed.',
    },
    'one-port': {
      text: 'The machine stands safe and needs nobody. Mend the vehicle; if the hose comes off, close its coupler first. Gas of a leak test is let off. When the vehicle is mended and closed again, the coupler on and open, confirm.',
      evidence:
        'The high side may not stand above the atmosphere; then vacuum and hold show whether it is closed.',
    },
  },
  'recover-again': {
    'two-ports': {
      text: 'The vehicle stands above the atmosphere. If it has not been opened, leave it closed, both couplers on and open, and confirm: it is recovered again. If this is gas of a leak test, let it off and do not confirm.',
      evidence: 'The suction must fall, and at rest the pressure must stay down.',
    },
    'one-port': {
      text: 'The vehicle stands above the atmosphere. If it has not been opened, leave it closed, the coupler on and open, and confirm: it is recovered again. If this is gas of a leak test, let it off and do not confirm.',
      evidence: 'The suction must fall, and at rest the pressure must stay down.',
    },
  },
  'read-catch-bottle': {
    text: 'The foam has settled: read the graduated catch bottle and enter what this job has drained, in millilitres.',
    evidence: 'Between 0 and 500 mL. As much new oil is added, and the allowance of the ticket.',
    volumeM3: CATCH_BOTTLE_M3,
  },
  'fill-oil-bottle': {
    text: 'The bottle of new oil ran dry and let air in. Fill it and see that its line is full of oil.',
    evidence: 'The pressure must not jump when its valve opens.',
  },
  'fill-dye-bottle': {
    text: 'The bottle of dye ran dry and let air in. Fill it and see that its line is full of dye.',
    evidence: 'The pressure must not jump when its valve opens.',
  },
  'search-leak': {
    text: 'Every valve is shut and the vehicle is under pressure. Blower low, recirculating; search joints, hoses, service ports, condenser and the vents of the evaporator with an electronic detector at its finest setting. Enter whether it has found a leak.',
    evidence:
      'The gauges must show that the vehicle is still under pressure; what the detector says decides.',
  },
  'start-engine': {
    text: "The machine's valves are shut. Open doors and windows, start the engine and hold 1500 to 2000 rpm; air conditioning at its coldest, recirculating, blower at its highest. Confirm when it runs.",
    evidence: 'The high side must rise and the low side must fall.',
  },
  'close-high-coupler': {
    text: 'Leave the engine running. Close the high-side coupler at the vehicle and leave the hose on. Touch nothing at the low side.',
    evidence: 'The high-side hose must fall when it is opened to the low side, and must not come back.',
  },
  'close-couplers': {
    'two-ports': {
      text: 'Close both couplers at the vehicle and leave the hoses on.',
      evidence: 'The hose pressure must fall when the hoses are recovered, and must not come back.',
    },
    'one-port': {
      text: 'Close the coupler at the vehicle and leave the hose on.',
      evidence: 'The pressure of the high-side hose must fall when it is recovered, and must not come back.',
    },
    cylinder: {
      text: "Close the cylinder's valve and leave the hose on: it is full of liquid.",
      evidence: 'The pressure of the high-side hose must fall when it is recovered, and must not come back.',
    },
  },
  'close-couplers-then-stop': {
    text: 'With the engine still running, close both couplers at the vehicle and leave the hoses on. Then switch the air conditioning off and stop the engine. Confirm when it stands still.',
    evidence:
      'The machine keeps its paths to tank and pump shut until this is confirmed; then the hose pressure must fall when the hoses are recovered, and must not come back.',
  },
  'stop-engine': {
    text: 'Switch the air conditioning off and stop the engine. Confirm when it stands still.',
    evidence:
      'The machine keeps its paths to tank and pump shut until this is confirmed; then high and low side must come towards each other, where it sees both.',
  },
};

export function promptOf(id: PromptId, askedAtMs: number, hookup: Hookup): Prompt {
  const wordings = WORDINGS[id];
  const wording = 'text' in wordings ? wordings : (wordings[hookup] ?? wordings['two-ports']);
  return { id, ...wording, askedAtMs };
}
