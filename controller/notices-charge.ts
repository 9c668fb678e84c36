// Wordings of the notices of a charge: where it stalls, and what it comes to.
import type { Wording } from './notice.ts';

export const CHARGE_WORDINGS = {
  'charge-stalled-warm': {
    severity: 'advice',
    text: 'The charge stalls at {charged} g: tank and vehicle are at the same pressure because the vehicle is warmer. The valve stays open for a while, for the vehicle may condense what it has.',
    remedy: 'Warm the tank room or cool the condenser with a fan.',
  },
  'charge-stalled-engine': {
    severity: 'warning',
    text: 'The charge stalls at {charged} g: the high side has risen above the tank and the low side is far below both, as under a running engine. Nothing flows until the tank stands above the vehicle again.',
    remedy:
      'See that the engine stands still and that nobody starts it. If it has not run, check the side sensors.',
  },
  'charge-stalled-blind': {
    severity: 'warning',
    text: 'The charge ends at {charged} g. A pressure of the tank or of a side has no value: nobody knows what holds it up, and the engine is not asked to help.',
    remedy:
      'Mend the sensor, recover the vehicle and charge it again by weight. In great heat a vehicle stands above the span of a low-side sensor: then let it cool instead.',
  },
  'charge-stalled-supply': {
    severity: 'advice',
    text: "The charge stalls at {charged} g and the hose does not follow the tank's pressure though the charge valve is open: nothing comes out of the tank.",
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
  'content-unknown': {
    severity: 'warning',
    text: 'A sample was taken of a vehicle that showed no pressure, and now it does not take the charge either: the hoses have probably never been joined to it. What it holds is not known, and no figure is stated.',
    remedy: 'Open both couplers and start the service again from its beginning.',
  },
  'charge-stalled': {
    severity: 'advice',
    text: 'The charge stalls at {charged} g for a reason that the sensors do not show. The valve stays open for up to {minutes} min.',
    remedy: "Check the tank's valve, {chargingCoupler}, the pressure sensors and the scale.",
  },
  'charge-valve-doubted': {
    severity: 'warning',
    text: 'With the charge valve shut the scale falls by {perMinute} g a minute: the valve leaks through, or the scale creeps. The hose valves are shut behind it; the machine draws the manifold down, which tells the one from the other.',
    remedy:
      "If the machine trips on a leaking valve, shut the tank's liquid valve by hand. If it does not, have the scale checked.",
  },
  'vacuum-gone': {
    severity: 'warning',
    text: 'Before anything was let in, the vehicle stood at {pressure} kPa absolute instead of the vacuum that was pumped: something has been opened since, leaks grossly, or the vacuum valve of the machine stands open. The job stopped with every valve shut.',
    remedy:
      'Look for an open hose, coupler, fitting or repair. If nothing is open there, clean or change the vacuum valve. Then evacuate again.',
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
  'manifold-fed': {
    severity: 'warning',
    text: '{came} g have come out of the closed manifold, which holds {most} g at most: the recovery valve, or the valve of a hose, does not shut. A part of the charge went into the oil separator or was drawn back out of the vehicle, and nobody knows how much is in there now. The job ends as stopped.',
    remedy:
      'Clean or change the valve that does not shut, and look whether its relay has welded. Then recover the vehicle and charge it again by weight.',
  },
  'charge-escapes': {
    severity: 'warning',
    text: 'With nothing open but the hose into the vehicle both its sides fall within seconds, from {highFrom} and {lowFrom} to {high} and {low} kPa absolute: what was charged escapes, through a valve of the machine that does not shut or out of the vehicle. Every valve was shut at once. Nobody knows how much is in the vehicle now, and the job ends as stopped.',
    remedy:
      'Air the room and keep sparks away from it. Stop the engine if it runs. Close the couplers; look at the vacuum valve, the valves of the bottles and the joints of the vehicle before anything is let in again.',
  },
  'net-charge-off': {
    severity: 'warning',
    text: 'By the weight of what came back from the {hoses} the vehicle holds {net} g, {difference} g {direction} its nominal charge.',
    remedy: 'Decide whether the vehicle can stay as it is. To correct it, recover and charge again.',
  },
} as const satisfies { readonly [code: string]: Wording };
