// What no command can prevent, or no sensor shows in time: by name, with the reason and the bound that still holds.

import type { Found, Harm } from '../../app/bench/harm.ts';
import { OUTPUTS, type Output } from '../../controller/signals.ts';
import type { FaultName } from '../../sim/faults.ts';
import type { Disturbance } from './disturbance.ts';

export type Exception = {
  readonly name: string;
  readonly strikes: (drawn: Disturbance) => boolean;
  /** What may come of it, and the most of each within a run: kg, Pa, or a count. */
  readonly harms: { readonly [H in Harm]?: number };
  readonly why: string;
  readonly still: string;
};

const hasFault = ({ faults }: Disturbance, name: FaultName, output?: Output): boolean =>
  faults.some(({ fault }) => fault.fault === name && (output === undefined || fault.output === output));

type Rest = Pick<Exception, 'harms' | 'why' | 'still'>;
const fault = (name: FaultName, rest: Rest): Exception => ({
  name,
  strikes: (drawn) => hasFault(drawn, name),
  ...rest,
});
const welded = (output: Output, rest: Rest): Exception => ({
  name: `relay-welded ${output}`,
  strikes: (drawn) => hasFault(drawn, 'relay-welded', output),
  ...rest,
});

/** What a way to the open passes within three minutes when it leads from a hose or from the tank. */
const POURED_KG = 2;
/** A hot vehicle, and the pressure switch of the machine. */
const HIGH_PA = 2_500_000;
/** At 50 g/s until the tank is seen to pour, and what hoses and manifold hold by then. */
const OVERFILLED_KG = 0.6;

const OPEN_PUMP: Exception['harms'] = {
  'pump-on-pressure': HIGH_PA,
  'vented-through-pump': POURED_KG,
  'exhausted-out-of-turn': POURED_KG,
  'air-compressed': 0.04,
};

export const EXCEPTIONS: readonly Exception[] = [
  fault('relay-welded', {
    harms: { 'on-in-the-end': OUTPUTS.length },
    why: 'A welded contact obeys no command.',
    still: 'Every other output goes off; emergency stop and mains cut this one too.',
  }),
  fault('fan-stopped', {
    harms: { 'fan-still-in-the-end': 1 },
    why: 'A fan that is stuck turns for no command.',
    still: 'Every output is off; with a refrigerant that burns nothing starts without moving air.',
  }),
  welded('fanStop', {
    harms: { 'fan-still-in-the-end': 1 },
    why: 'A welded contact obeys no command.',
    still: 'Emergency stop and mains let go of it, and then the fan turns.',
  }),
  fault('vacuum-valve-stuck-open', {
    harms: OPEN_PUMP,
    why: 'No sensor tells where the valve stands while a hose valve or the charge valve is open, and no command shuts it: manifold and room are joined through the pump.',
    still:
      'Only what an open hose valve or charge valve lets into the manifold is lost: 8 g/s of liquid where a cylinder feeds it. Within seconds of the last of them shutting the manifold shows it, and nothing is let in any more.',
  }),
  welded('vacuumValve', {
    harms: OPEN_PUMP,
    why: 'As a valve that is stuck open.',
    still: 'As there; emergency stop and mains shut it.',
  }),
  welded('airPurgeValve', {
    harms: { 'vented-in-purge': 0.25 },
    why: 'The tank blows off through it whatever is commanded.',
    still: 'Its seat passes some 0.8 to 1.3 g/s; emergency stop and mains shut it.',
  }),
  ...(['separatorDrainValve', 'oilValve', 'dyeValve'] as const).map((output) =>
    welded(output, {
      harms: { 'vented-through-drain': 0.6 },
      why: 'The line stands open to whatever comes into separator or manifold, and no sensor tells.',
      still: 'Only what an open hose valve lets in is lost; emergency stop and mains shut it.',
    }),
  ),
  welded('chargeValve', {
    harms: { overcharged: OVERFILLED_KG, 'vented-through-drain': 5e-4 },
    why: 'The tank runs into whatever is open to the manifold though the valve was told to shut, the oil separator in a pulse of its drain too.',
    still:
      'A steady fall of the scale trips within eight seconds, and the hose valves shut; a drain is open for a fraction of a second.',
  }),
  fault('charge-valve-leaks', {
    harms: { overcharged: OVERFILLED_KG, 'vented-through-drain': 5e-4, 'vented-through-pump': 0.06 },
    why: 'The seat lets liquid through while every command is right; below 3 g/s no scale tells it from a hand or a drift in time.',
    still:
      'From 3 g/s up the scale trips within eight seconds; less is found at the next rest with every valve shut, within a minute.',
  }),
  {
    name: 'scale-stuck',
    strikes: (drawn) =>
      hasFault(drawn, 'scale-stuck') ||
      drawn.garbage.some(({ sensor, kind }) => sensor === 'scaleCounts' && kind === 'stuck'),
    harms: { overcharged: 0.125 },
    why: 'A scale that repeats itself is known to stand still after two seconds, and until then the charge goes on.',
    still: 'Two seconds of 25 g/s, on top of what a charge may be off by.',
  },
  fault('drain-float-stuck', {
    harms: { 'vented-through-drain': 1.5e-3 },
    why: 'Nothing shows that oil has given way to gas in the drain.',
    still: 'The drain opens in short pulses, and only with hoses, pump and tank shut off.',
  }),
  fault('tank-valve-shut', {
    harms: { 'liquid-trapped': HIGH_PA },
    why: 'The condenser has no way out but the check valve to the tank, and a hand has shut the tank.',
    still: 'The pressure switch stops the compressor at 25 bar, and the controller before that.',
  }),
  {
    name: 'worked by hand',
    strikes: ({ byHand }) => byHand,
    harms: { overcharged: 0.25 },
    why: 'By hand nobody says how much is to go in, and the hoses keep more or less of what has left the tank.',
    still:
      'No more leaves the tank than the nominal charge and full hoses, and nothing for a vehicle not seen empty.',
  },
  {
    name: 'engine started in a charge',
    strikes: (drawn) =>
      hasFault(drawn, 'engine-started-early') ||
      drawn.acts.some((act) => 'hand' in act && act.hand === 'start-engine'),
    harms: { overcharged: 0.11 },
    why: 'Where the hoses are to be drawn back they are full of liquid; an engine that starts draws that into the vehicle.',
    still: 'The vehicle gets what has left the tank and no more: 40 g given on purpose, and a full hose.',
  },
];

/** An output that stays on is owed to its own contact alone. */
const isOwed = ({ harm, what }: Found, drawn: Disturbance): boolean =>
  harm !== 'on-in-the-end' ||
  (what ?? '').split(',').every((output) => hasFault(drawn, 'relay-welded', output as Output));

export const strikingOf = (drawn: Disturbance): readonly Exception[] =>
  EXCEPTIONS.filter(({ strikes }) => strikes(drawn));

/** What no exception covers, or what goes beyond the bounds of those that strike. */
export function unexcused(found: readonly Found[], drawn: Disturbance): readonly Found[] {
  const striking = strikingOf(drawn);
  return found.filter((one) => {
    const bounds = striking.flatMap(({ harms }) => harms[one.harm] ?? []);
    return bounds.length === 0 || one.worst > Math.max(...bounds) || !isOwed(one, drawn);
  });
}
