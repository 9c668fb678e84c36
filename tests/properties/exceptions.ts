// What no command can prevent, or no sensor shows in time: by name, with the reason and the bound that still holds.
import { OUTPUTS, type Output } from '../../controller/signals.ts';
import type { FaultName } from '../../sim/faults.ts';
import type { Disturbance } from './disturbance.ts';
import type { Found, Harm } from './harm.ts';

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

/** The most that can come out of the vehicle, or out of the tank, within three minutes. */
const VEHICLE_KG = 3;
/** A hot vehicle. */
const HIGH_PA = 2_500_000;

const EXCEPTIONS: readonly Exception[] = [
  fault('relay-welded', {
    harms: { 'on-in-the-end': OUTPUTS.length },
    why: 'A welded contact obeys no command.',
    still: 'Every other output goes off; emergency stop and mains cut this one too.',
  }),
  fault('fan-stopped', {
    harms: { 'fan-still-in-the-end': 1 },
    why: 'A fan that is stuck turns for no command.',
    still: 'Every output is off. With a refrigerant that burns nothing starts without moving air.',
  }),
  welded('fanStop', {
    harms: { 'fan-still-in-the-end': 1 },
    why: 'A welded contact obeys no command.',
    still: 'Emergency stop and mains let go of it, and then the fan turns.',
  }),
  fault('vacuum-valve-stuck-open', {
    harms: {
      'pump-on-pressure': HIGH_PA,
      'vented-through-pump': VEHICLE_KG,
      'exhausted-out-of-turn': VEHICLE_KG,
      'air-compressed': 0.04,
    },
    why: 'No sensor tells where the valve stands, and no command shuts it.',
    still:
      'What is lost is what hose or charge valve let into the manifold: with all of them shut, its own gas.',
  }),
  welded('vacuumValve', {
    harms: {
      'pump-on-pressure': HIGH_PA,
      'vented-through-pump': VEHICLE_KG,
      'exhausted-out-of-turn': VEHICLE_KG,
      'air-compressed': 0.04,
    },
    why: 'As a valve that is stuck open.',
    still: 'As there; emergency stop and mains shut it.',
  }),
  welded('airPurgeValve', {
    harms: { 'vented-in-purge': 0.2 },
    why: 'The tank blows off through it whatever is commanded.',
    still: 'Its seat passes some 0.8 g/s; emergency stop and mains shut it.',
  }),
  ...(['separatorDrainValve', 'oilValve', 'dyeValve'] as const).map((output) =>
    welded(output, {
      harms: { 'vented-through-drain': 0.3 },
      why: 'The line stands open to whatever comes into separator or manifold.',
      still: 'Emergency stop and mains shut it.',
    }),
  ),
  welded('chargeValve', {
    harms: { overcharged: 3 },
    why: 'The tank runs out through a valve that was told to shut.',
    still: '',
  }),
  fault('charge-valve-leaks', {
    harms: { overcharged: 3, 'vented-through-drain': 5e-4, 'vented-through-pump': 0.06 },
    why: 'The seat lets liquid through while every command is right.',
    still: '',
  }),
  fault('drain-float-stuck', {
    harms: { 'vented-through-drain': 1.5e-3 },
    why: 'Nothing shows that oil has given way to gas in the drain.',
    still: 'The drain opens in short pulses, and only with hoses, pump and tank shut off.',
  }),
  fault('tank-valve-shut', {
    harms: { 'liquid-trapped': HIGH_PA },
    why: 'The condenser has no way out but the check valve to the tank.',
    still: 'The pressure switch stops the compressor at 25 bar, and the controller before that.',
  }),
  {
    name: 'worked by hand',
    strikes: ({ byHand }) => byHand,
    harms: { overcharged: 3 },
    why: '',
    still: '',
  },
  {
    name: 'engine started in a charge',
    strikes: (drawn) =>
      hasFault(drawn, 'engine-started-early') ||
      drawn.acts.some((act) => 'hand' in act && act.hand === 'start-engine'),
    harms: { overcharged: 0.55 },
    why: '',
    still: '',
  },
];

/** An output that stays on is owed to its own contact alone. */
const isOwed = ({ harm, what }: Found, drawn: Disturbance): boolean =>
  harm !== 'on-in-the-end' ||
  (what ?? '').split(',').every((output) => hasFault(drawn, 'relay-welded', output as Output));

/** What no exception covers, or what goes beyond the bounds of those that strike. */
export function unexcused(found: readonly Found[], drawn: Disturbance): readonly Found[] {
  const striking = EXCEPTIONS.filter(({ strikes }) => strikes(drawn));
  return found.filter((one) => {
    const bounds = striking.flatMap(({ harms }) => harms[one.harm] ?? []);
    return bounds.length === 0 || one.worst > Math.max(...bounds) || !isOwed(one, drawn);
  });
}
