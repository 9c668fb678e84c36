// What is told of air in the tank and of letting it off.
import type { Wording } from './notice.ts';

export const PURGE_WORDINGS = {
  'air-found': {
    severity: 'advice',
    text: 'The rested tank stands {excess} kPa ± {doubt} kPa above saturation: some {air} g of air. The machine asks before it lets anything off, {most} g at most, refrigerant and air together.',
    remedy: 'Agree or decline. Air in the tank goes into the next vehicle and raises its pressures.',
  },
  'air-purged': {
    severity: 'information',
    text: 'The tank has come down to {excess} kPa above saturation, no more than its sensors are off. {vented} g were let off, refrigerant and air together, and stand in the ledger.',
    remedy: 'Keep the record: local rules may count what is vented.',
  },
  'air-left': {
    severity: 'advice',
    text: 'The tank still stands {excess} kPa above saturation after {vented} g were let off, refrigerant and air together: more is not vented in one session.',
    remedy:
      'Let the tank rest overnight, when the air gathers under its top, and purge again; or change the tank. Keep the record of what was vented.',
  },
  'air-not-judged': {
    severity: 'advice',
    text: 'The tank stands {excess} kPa above saturation, but it is colder than 18 °C or not at the temperature of the room: that says nothing of air. Nothing was let off.',
    remedy: 'Let the tank stand overnight in a warmer room, away from sun and heater, and look again.',
  },
  'air-unseen': {
    severity: 'advice',
    text: 'Nobody knows whether there is air in the tank: its {sensor} gives no value. Nothing was let off.',
    remedy:
      'Mend the sensor. Until then compare the gauge of the rested tank with the saturation table by hand.',
  },
  'air-perhaps': {
    severity: 'advice',
    text: 'The tank stands {excess} kPa above saturation, sensor errors allowed for: air, or a tank that was filled or warmed not long ago. Nobody has said that it has rested, so nothing is let off.',
    remedy:
      'Let the tank rest overnight, tell the machine for how long it has rested, and have its air let off before the next charge.',
  },
} as const satisfies { readonly [code: string]: Wording };
