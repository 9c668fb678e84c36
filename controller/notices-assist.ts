// Wordings of the notices around warming: a vehicle before its recovery, a tank whose pressure alone does not finish a charge.
import type { Wording } from './notice.ts';

export const ASSIST_WORDINGS = {
  'warm-up-cut-short': {
    severity: 'warning',
    text: 'While the engine warms the vehicle its high side has come to {pressure} kPa absolute, near its limit. The machine recovers once the engine stands still.',
    remedy:
      "Stop the engine now, and confirm that it stands still. Check the vehicle's condenser and its fan before it runs again.",
  },
  'warm-up-in-vain': {
    severity: 'advice',
    text: '{minutes} min after the engine was asked for the sides have not parted: if it runs by now, its compressor does not turn and warms nothing. The machine recovers once the engine stands still.',
    remedy:
      'If the engine has run for some minutes, stop it and confirm that it stands still. Check that the air conditioning was switched on, then clutch, fuse and pressure switch.',
  },
  'warm-up-enough': {
    severity: 'advice',
    text: 'The engine has warmed the vehicle for {minutes} min. The machine recovers once it stands still.',
    remedy: 'Stop the engine now, and confirm that it stands still.',
  },
  'charge-will-stall': {
    severity: 'advice',
    text: 'By its pressure alone the tank will bring about {grams} g of {charge} g into this vehicle: the tank stands at {tank} °C by its pressure, the vehicle at {vehicle} °C. The machine charges what runs in by itself and then looks for help.',
    remedy: "Warm the tank room, or cool the vehicle's condenser with a fan.",
  },
  'tank-heated-first': {
    severity: 'advice',
    text: 'By its pressure alone the tank would bring about {grams} g of {charge} g into this vehicle: the tank stands at {tank} °C by its pressure, the vehicle at {vehicle} °C. The machine warms the tank before it charges, with every valve shut.',
    remedy: "Nothing to do. A fan before the vehicle's condenser shortens the wait.",
  },
  'charge-waits-heating': {
    severity: 'information',
    text: 'The flow has ended at {charged} g because the vehicle is as high as the tank. The machine shut every valve and warms the tank; then it goes on to the same target.',
    remedy: "Nothing to do. A fan before the vehicle's condenser shortens the wait.",
  },
  'charge-waits-cooling': {
    severity: 'advice',
    text: 'The flow has ended at {charged} g because the vehicle is as high as the tank. The machine shut every valve, so that nothing runs back, and waits for the vehicle to cool; then it goes on to the same target.',
    remedy: "Put a fan before the vehicle's condenser, and let the engine bay cool.",
  },
  'charge-waits-engine': {
    severity: 'advice',
    text: 'The flow has ended at {charged} g and nothing else helps: the machine proves its valves shut, asks for the engine, and lets its low side suck the rest in, a gram or two at a time out of the closed manifold.',
    remedy: 'Nothing to do until the machine asks.',
  },
  'engine-help-in-vain': {
    severity: 'warning',
    text: 'The running engine does not suck the rest of the charge in: its compressor does not turn, or too little comes. The machine shut every valve.',
    remedy: 'Check that the air conditioning is switched on, then clutch, fuse and pressure switch.',
  },
  'engine-help-cut-short': {
    severity: 'warning',
    text: "While the engine sucked the charge in, the vehicle's high side came to its limit. The machine shut every valve.",
    remedy: "Stop the engine. Check the vehicle's condenser and its fan.",
  },
  'tank-heater-no-effect': {
    severity: 'warning',
    text: 'The tank heater has been on for {minutes} min and the pressure of the tank has not risen. The machine switched it off.',
    remedy: 'Check the heater, its thermostat and its fuse.',
  },
} as const satisfies { readonly [code: string]: Wording };
