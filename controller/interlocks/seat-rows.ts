// The interlocks for what passes although every valve is shut.
import { OUTPUTS } from '../signals.ts';
import { type Interlock, interlock, NOTHING, trip } from './interlock.ts';

export const SEAT_ROWS: readonly Interlock[] = [
  interlock({
    id: 'IL-40',
    hazard:
      'A shut valve leaks through: with every valve shut, pressure comes into the manifold from the tank through the charge valve, or from a hose',
    remedy:
      "The hose valves are shut behind it and hold what passes off the vehicle. Close the couplers and shut the tank's liquid valve by hand, so that nothing more can pass; then reset the trip. Clean or change the charge valve before the machine charges again.",
    acts: OUTPUTS,
    memory: ['seats'],
    judge: ({ memory }) => (memory.seats === 'leaks' ? trip('valve-leaks-through') : NOTHING),
  }),
  interlock({
    id: 'IL-41',
    hazard:
      'The tank loses mass though no valve leads out of it: its charge valve leaks through or stands open, or refrigerant escapes',
    remedy:
      "The hose valves are shut as well and hold what passes off the vehicle. Close the couplers and shut the tank's liquid valve by hand, and look for a leak at the tank; then reset the trip.",
    acts: OUTPUTS,
    memory: ['restMass'],
    judge: ({ memory }) => (memory.restMass === 'falling' ? trip('tank-loses-mass') : NOTHING),
  }),
  interlock({
    id: 'IL-46',
    hazard:
      'The closed manifold, alone or with a hose, comes to the pressure of the room by itself: the vacuum valve stands open, or an empty bottle of oil or dye through its valve, or the hose, and vents whatever is let in',
    remedy:
      "The hose valves are shut and hold vehicle and hoses off it. Close the couplers and shut the tank's liquid valve by hand. Look for a loose hose; clean or change the valve; begin anew after that: in this job nothing is let into the manifold any more.",
    acts: OUTPUTS,
    memory: ['vent'],
    judge: ({ memory }) => (memory.vent === 'open' ? trip('manifold-open-to-room') : NOTHING),
  }),
  interlock({
    id: 'IL-42',
    hazard:
      'The compressor draws and nothing arrives in the tank: its valve is shut by hand or the filter is blocked, and the discharge pressure runs away',
    remedy:
      "Open the tank's vapour valve fully and check the filter. If both are right, what arrives escapes again: air the room and look for the leak. Then reset the trip.",
    acts: OUTPUTS,
    memory: ['delivery'],
    judge: ({ memory }) => (memory.delivery === 'blocked' ? trip('delivery-blocked') : NOTHING),
  }),
];
