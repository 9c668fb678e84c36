// The interlocks around oil, dye and a running engine.
import type { Output } from '../signals.ts';
import { forbid, type Interlock, interlock, NOTHING } from './interlock.ts';

const DRAIN = forbid('separatorDrainValve');
const BOTTLES = forbid('oilValve', 'dyeValve');

/** Paths to tank, pump and bottles. */
const AWAY = [
  'recoveryValve',
  'compressor',
  'vacuumValve',
  'chargeValve',
  'oilValve',
  'dyeValve',
  'separatorDrainValve',
] as const satisfies readonly Output[];
const AWAY_BUT_CHARGE = AWAY.filter((output) => output !== 'chargeValve');
const AWAY_AND_VEHICLE = ['highSideValve', 'lowSideValve', ...AWAY] as const;

export const OIL_ROWS: readonly Interlock[] = [
  interlock({
    id: 'IL-28',
    hazard: 'Air is sucked into the separator through its drain, or nobody sees when gas follows the oil',
    remedy: 'Open the recovery valve and raise the separator above the atmosphere before its drain opens.',
    acts: ['separatorDrainValve'],
    outputs: ['recoveryValve'],
    bands: ['drainPressure'],
    judge: ({ on, bands }) => (on.recoveryValve && bands.drainPressure === 'above-ambient' ? NOTHING : DRAIN),
  }),
  interlock({
    id: 'IL-29',
    hazard: 'The drain stands open to the vehicle, the tank, the pump or a running compressor and vents them',
    remedy:
      'Shut the hose, vacuum, charge, oil and dye valves and stop the compressor before the drain opens.',
    acts: ['separatorDrainValve'],
    outputs: [
      'highSideValve',
      'lowSideValve',
      'vacuumValve',
      'chargeValve',
      'compressor',
      'oilValve',
      'dyeValve',
    ],
    judge: ({ on }) =>
      on.highSideValve ||
      on.lowSideValve ||
      on.vacuumValve ||
      on.chargeValve ||
      on.compressor ||
      on.oilValve ||
      on.dyeValve
        ? DRAIN
        : NOTHING,
  }),
  interlock({
    id: 'IL-30',
    hazard:
      'The bottle of oil or of dye is opened to pressure, which throws its content out, or to an unknown pressure',
    remedy: 'Evacuate first: oil and dye are drawn in by the vacuum.',
    acts: ['oilValve', 'dyeValve'],
    bands: ['manifold'],
    judge: ({ bands }) => (bands.manifold === 'vacuum' ? NOTHING : BOTTLES),
  }),
  interlock({
    id: 'IL-31',
    hazard:
      'Oil or dye goes into pump, tank or separator, into a dead end, or before the compressor as a slug',
    remedy: 'Open the high-side valve alone, then the valve of the bottle.',
    acts: ['oilValve', 'dyeValve'],
    outputs: ['highSideValve', 'lowSideValve', 'vacuumValve', 'recoveryValve', 'chargeValve', 'compressor'],
    judge: ({ on }) =>
      on.highSideValve &&
      !on.lowSideValve &&
      !on.vacuumValve &&
      !on.recoveryValve &&
      !on.chargeValve &&
      !on.compressor
        ? NOTHING
        : BOTTLES,
  }),
];

export const BOTTLE_ROWS: readonly Interlock[] = [
  interlock({
    id: 'IL-35',
    hazard: 'Oil of another kind goes into the vehicle; PAG conducts and ruins an electric compressor',
    remedy: "Use a machine whose bottle holds the vehicle's own oil, or add the oil by hand.",
    acts: ['oilValve'],
    bands: ['bottleOil'],
    judge: ({ bands }) => (bands.bottleOil === 'fits' ? NOTHING : forbid('oilValve')),
  }),
  interlock({
    id: 'IL-44',
    hazard: "Dye that the vehicle's maker does not allow goes into an electric compressor, and may conduct",
    remedy: "Leave the dye out, or have it in the ticket that the vehicle's maker allows this one.",
    acts: ['dyeValve'],
    bands: ['bottleDye'],
    judge: ({ bands }) => (bands.bottleDye === 'fits' ? NOTHING : forbid('dyeValve')),
  }),
  interlock({
    id: 'IL-27',
    hazard:
      'Two bottles are open at once: one runs into the other, and nobody knows how much of each has come',
    remedy: 'Draw the oil first, then the dye.',
    acts: ['oilValve', 'dyeValve'],
    outputs: ['oilValve', 'dyeValve'],
    judge: ({ on }) => (on.oilValve && on.dyeValve ? BOTTLES : NOTHING),
  }),
];

export const ENGINE_ROWS: readonly Interlock[] = [
  interlock({
    id: 'IL-32',
    hazard:
      'A running engine pushes its high side into the tank or the pump, or sucks liquid out of the tank',
    remedy: 'Stop the engine and confirm that it stands still.',
    acts: AWAY,
    outputs: ['chargeValve', 'chargePulse', 'highSideValve', 'lowSideValve'],
    memory: ['engine'],
    judge: ({ on, memory }) => {
      if (memory.engine !== 'running') return NOTHING;
      // One short pulse into the manifold, shut off from both sides: neither can push or suck through it.
      const lock = on.chargePulse && !on.highSideValve && !on.lowSideValve;
      return { forbids: lock ? AWAY_BUT_CHARGE : AWAY };
    },
  }),
  interlock({
    id: 'IL-39',
    hazard:
      'A running vehicle is fed although its suction or its high side stands at the limit, or nobody sees them',
    remedy: 'Wait until both sides have fallen, or stop the engine.',
    acts: ['chargeValve'],
    bands: ['runningSides'],
    memory: ['engine'],
    judge: ({ bands, memory }) =>
      memory.engine === 'off' || bands.runningSides === 'fit' ? NOTHING : forbid('chargeValve'),
  }),
  interlock({
    id: 'IL-33',
    hazard:
      'The engine was started though nobody was asked to: the high side rises by itself and the low side falls',
    remedy: 'Go and see. Stop the engine if it runs, and confirm that it stands still.',
    acts: AWAY_AND_VEHICLE,
    memory: ['engine'],
    judge: ({ memory }) => (memory.engine === 'suspected' ? forbid(...AWAY_AND_VEHICLE) : NOTHING),
  }),
];
