// Wordings of the notices around oil, dye and the running engine.
import type { Wording } from './notice.ts';

export const OIL_WORDINGS = {
  'oil-drained': {
    severity: 'information',
    text: 'The oil separator was drained into the catch bottle. The foam must settle for ten minutes before it is read; the machine asks for the reading later.',
    remedy: 'Do not empty the catch bottle before it has been read.',
  },
  'separator-dry': {
    severity: 'information',
    text: 'The drain of the oil separator was opened and nothing but gas came, or nothing at all: it is empty, and what came out of the vehicle brought no oil with it.',
    remedy:
      'Nothing to do. Where several jobs on end bring no oil, see that the drain valve opens and that its line is free.',
  },
  'oil-not-drained': {
    severity: 'advice',
    text: 'The oil separator could not be brought above the atmosphere, or no sensor showed that it was. Its drain stayed shut: it would have sucked air in. The job goes on.',
    remedy:
      'Check the charge valve, the recovery valve and the manifold sensor, and drain the separator after the job.',
  },
  'recovery-valve-open': {
    severity: 'warning',
    text: 'The recovery valve does not shut: what was let into the closed manifold went straight on into the separator. The vehicle has been recovered; nothing is pumped out or charged, for the separator would give its refrigerant to the pump and take the charge. The job ends as stopped.',
    remedy:
      'Clean or change the recovery valve, and look whether its relay has welded. Then begin a new job.',
  },
  'hose-valve-open': {
    severity: 'warning',
    text: 'The {side} hose valve does not shut: what was let into the closed manifold came up in its hose at once, and went on into the vehicle, from which it was taken back. The vehicle has been recovered; nothing is pumped out or charged, for the machine could not shut itself off from the vehicle. The job ends as stopped.',
    remedy:
      'Clean or change that valve, and look whether its relay has welded. Then begin a new job. The oil separator has not been drained to its end.',
  },
  'oil-left-in-separator': {
    severity: 'advice',
    text: 'After several pulses oil was still coming out of the separator, or its pressure was lost. The machine shut the drain and goes on.',
    remedy: 'Expect more oil in the separator than in the catch bottle; drain it again after the job.',
  },
  'oil-flooding': {
    severity: 'warning',
    text: '{drained} mL of oil came out with the refrigerant, far more than the usual 0 to 30 mL: the recovery drew liquid with its oil out of the vehicle.',
    remedy: "Check the vehicle's oil level by its maker's figures; it may have been overfilled before.",
  },
  'entry-refused': {
    severity: 'advice',
    text: '{entered} mL cannot be: the catch bottle holds 0 to {most} mL. Nothing was taken down and the machine asks again.',
    remedy: 'Read the bottle again and enter millilitres.',
  },
  'oil-bottle-empty': {
    severity: 'warning',
    text: 'The pressure jumped while oil was drawn in: the bottle of new oil is empty, or nobody could see, and air came in. The valve was shut after about {given} mL and the vehicle is evacuated again.',
    remedy: 'Fill the bottle of new oil.',
  },
  'oil-not-replaced': {
    severity: 'warning',
    text: '{missing} mL of oil are missing in the vehicle: {why}.',
    remedy:
      '{first} add them by hand: {kind} as the ticket says, or whatever the maker of the vehicle names.',
  },
  'dye-bottle-empty': {
    severity: 'warning',
    text: 'The pressure jumped while dye was drawn in: its bottle is empty, or nobody could see, and air came in. The valve was shut after about {given} mL and the vehicle is evacuated again.',
    remedy: 'Fill the bottle of dye.',
  },
  'dye-not-added': {
    severity: 'warning',
    text: '{missing} mL of dye are missing in the vehicle: this machine did not add them.',
    remedy:
      'Check the bottle, its valve and the manifold pressure sensor. Leave the dye out, or inject it by hand into the low side of the running vehicle.',
  },
} as const satisfies { readonly [code: string]: Wording };

export const ENGINE_WORDINGS = {
  'engine-left-alone': {
    severity: 'advice',
    text: 'The engine is not used though it can run: {reason}. There is no performance test, and the charge is compensated for what stays in the hoses.',
    remedy: 'Nothing to do.',
  },
  'valves-not-proven': {
    severity: 'warning',
    text: 'With every valve shut the tank still gained or lost. Nobody is asked to start an engine on a valve that may be open. What the hoses hold is recovered and missing in the vehicle.',
    remedy: 'Check the valves for leaks.',
  },
  'sides-not-seen': {
    severity: 'warning',
    text: 'A side of the vehicle has no reading, and nobody is asked to start an engine that no gauge watches. There is no performance test, and the engine does not suck the hoses dry: the machine draws them back, and makes good what the vehicle is short of.',
    remedy:
      'Check the sensors of both sides. In great heat a vehicle at rest stands above the span of a low-side sensor: then there is nothing to mend.',
  },
  'high-side-too-high': {
    severity: 'warning',
    text: 'The high side climbed to {pressure} kPa absolute in the performance test. The test is over.',
    remedy: 'Switch the air conditioning off at once. Check the condenser, its fan and the charge.',
  },
  'pushed-into-tank': {
    severity: 'warning',
    text: 'With every valve shut the running engine pushed refrigerant into the tank: the high side lifts a valve backwards. The test is over.',
    remedy:
      'Switch the air conditioning off at once. Have the valves seen to. If the tank gains with the engine at a stand as well, it is the scale that drifts.',
  },
  'performance-not-measured': {
    severity: 'advice',
    text: 'The performance test gave no verdict: a pressure or the temperature of the room was not read.',
    remedy: 'Mend the sensor and repeat the test.',
  },
  'performance-as-expected': {
    severity: 'information',
    text: 'Performance test at {ambient} °C: high side {high} kPa absolute, low side {low} kPa absolute, {vent}. The pattern is the expected one.',
    remedy: 'Nothing to do.',
  },
  'performance-undercharge-or-restriction': {
    severity: 'advice',
    text: 'Performance test at {ambient} °C: high side {high} kPa absolute and low side {low} kPa absolute are both low, {vent}. This is the pattern of too little refrigerant, or of a blockage before the high-side port.',
    remedy: 'Trust the weighed charge first: look for a blocked receiver or filter, and for a leak.',
  },
  'performance-restriction': {
    severity: 'advice',
    text: 'Performance test at {ambient} °C: low side {low} kPa absolute is very low, high side {high} kPa absolute is not, {vent}. This is the pattern of a restriction before the evaporator.',
    remedy: 'Check the expansion device, its screen and the receiver-drier, and look for ice.',
  },
  'performance-weak-compressor': {
    severity: 'advice',
    text: 'Performance test at {ambient} °C: high side {high} kPa absolute is low and low side {low} kPa absolute is high, {vent}. This is the pattern of a worn or barely driven compressor.',
    remedy: "Check the compressor's clutch, belt and control valve, then the compressor.",
  },
  'performance-overcharge-air-or-airflow': {
    severity: 'advice',
    text: 'Performance test at {ambient} °C: high side {high} kPa absolute and low side {low} kPa absolute are both high, {vent}. This is the pattern of too much refrigerant, of air in the system, or of a condenser without enough air.',
    remedy: 'Trust the weighed charge first: check the condenser and its fan.',
  },
  'performance-unclear': {
    severity: 'advice',
    text: 'Performance test at {ambient} °C: high side {high} kPa absolute, low side {low} kPa absolute, {vent}. The figures fit no common pattern, and one number alone says nothing.',
    remedy:
      "See that both couplers are fully open and that no hose valve of the machine has stayed open: both falsify what the gauges show. Then compare with the vehicle maker's own figures for this weather.",
  },
  'performance-compressor-not-running': {
    severity: 'advice',
    text: 'A minute after the engine was started high side ({high} kPa absolute) and low side ({low} kPa absolute) have not parted: the compressor does not turn. There is no performance test, and the engine does not suck the hoses dry: the machine draws them back, and makes good what the vehicle is short of.',
    remedy: 'Check that the air conditioning is switched on, then clutch, fuse and pressure switch.',
  },
  'performance-too-cold-to-judge': {
    severity: 'information',
    text: 'Performance test at {ambient} °C: high side {high} kPa absolute, low side {low} kPa absolute, {vent}. Below 15 °C these figures say little.',
    remedy: 'Repeat the test in a warmer room if there is doubt.',
  },
  'high-coupler-open': {
    severity: 'warning',
    text: "The high-side hose stays at or comes back to {pressure} kPa absolute: its coupler is still open and the engine pumps through the machine. The machine's valves are shut again.",
    remedy: 'Turn the high-side coupler fully closed and confirm again.',
  },
  'hoses-not-cleared': {
    severity: 'warning',
    text: 'The hoses could not be cleared by the engine. They are recovered as they are, and what they hold is missing in the vehicle; the net charge says how much.',
    remedy:
      'Check the high-side coupler and the pressure sensors of both sides. If the net charge is too low, recover the vehicle and charge it again.',
  },
  'tank-poured': {
    severity: 'warning',
    text: 'The scale has fallen by {grams} g while the engine sucked the hoses dry, with the charge valve told to shut: it stands open or leaks, or something was taken off the platform. The job stopped with every valve shut, and what has gone into the hoses may have come into the vehicle.',
    remedy:
      "Stop the engine, close both couplers and the tank's liquid valve by hand. See that nothing was taken off the platform. If nothing was, change the charge valve, recover the vehicle and charge it again.",
  },
  'hoses-not-dry': {
    severity: 'advice',
    text: 'The hoses still give off gas after three minutes and more of sucking. The machine goes on; what is left is recovered and counted.',
    remedy: 'Nothing to do.',
  },
  'engine-perhaps-running': {
    severity: 'warning',
    text: '{minutes} min after the word that the engine stands still its sides are {apart} kPa apart, as they are while it runs. The machine keeps every valve shut and asks once more.',
    remedy: 'Go and see. If it stands still, confirm: a blocked expansion device keeps the sides apart too.',
  },
  'engine-still-running': {
    severity: 'warning',
    text: 'The machine is left to itself while the engine runs, by what was asked for, by what was confirmed or by what the pressures show.',
    remedy: 'Stop the engine before anyone touches the hoses.',
  },
} as const satisfies { readonly [code: string]: Wording };
