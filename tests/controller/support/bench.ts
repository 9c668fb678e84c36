// A scripted plant, just good enough to carry a job from end to end: no physics is judged with it.
import type { OperatorEvent, Prompt } from '../../../controller/operator.ts';
import { progress } from '../../../controller/progress.ts';
import { type ControllerState, type ScanResult, scan } from '../../../controller/scan.ts';
import type { Command, Commands, Readings } from '../../../controller/signals.ts';
import { SAFE_COMMANDS } from '../../../controller/signals.ts';
import { EQUIPMENT } from './machine.ts';
import { readingsAt, type Values } from './readings.ts';

const SCAN_MS = 100;
const SATURATION_PA = 571_710;
/** Below this mass the vehicle holds vapour alone. */
const VAPOUR_KG = 0.07;
/** Of the separator's gas in a second, as its displacement has it: 0.24 L/s, filled to 0.76, out of 0.4 L. */
const DRAWN_PER_S = 0.46;
const RECOVERY_KG_PER_S = 0.006;
const CHARGE_KG_PER_S = 0.015;
const BACK_KG_PER_S = 0.02;
/** What the controller predicts for hoses at the tank's own pressure: the script has no physics to differ by. */
const HOSE_KG = 0.0657;
/** Below this the hoses hold vapour alone. */
const HOSE_VAPOUR_KG = 0.003;
/** Vapour of R-134a in a separator of 0.4 L at room temperature. */
const SEPARATOR_KG_PER_PA = 0.4e-3 / (81.5 * 293);
const DRAIN_M3_PER_S = 4e-6;
const GAS_KG_PER_S = 0.0024;
const OIL_M3_PER_S = 6.6e-6;
/** Air through an empty oil line into the evacuated vehicle. */
const AIR_PA_PER_S = 4_000;
const RUNNING_HIGH_PA = 1_050_000;
const RUNNING_LOW_PA = 280_000;
const ENGINE_S = 15;

export type Plant = {
  nowMs: number;
  vehicleKg: number;
  hoseKg: number;
  tankKg: number;
  airPa: number;
  coupled: boolean;
  /** Pressure that keeps coming back: a leak, Pa/s. */
  leakPaPerS: number;
  /** The manifold alone, and what comes into it through a valve that should be shut, Pa/s. */
  manifoldPa: number;
  seatPaPerS: number;
  /** What was commanded last. */
  commands: Commands;
  /** Ends of running countdowns. */
  offAtMs: { [output: string]: number };
  separatorKg: number;
  separatorOilM3: number;
  catchBottleM3: number;
  ventedKg: number;
  oilBottleM3: number;
  vehicleOilM3: number;
  dyeBottleM3: number;
  vehicleDyeM3: number;
  engine: boolean;
  /** How far the sides have parted, 0 to 1. */
  apart: number;
  highCouplerShut: boolean;
  /** The coupler passes whatever the operator says. */
  highCouplerStuck: boolean;
  highHosePa: number;
  /** What a search with a detector says. */
  detected: boolean;
};

export const newPlant = (over: Partial<Plant> = {}): Plant => ({
  nowMs: 0,
  vehicleKg: 0.5,
  hoseKg: 0.0001,
  tankKg: 8,
  airPa: 0,
  coupled: false,
  leakPaPerS: 0,
  manifoldPa: 40_000,
  seatPaPerS: 0,
  commands: SAFE_COMMANDS,
  offAtMs: {},
  separatorKg: 40_000 * SEPARATOR_KG_PER_PA,
  separatorOilM3: 0,
  catchBottleM3: 0,
  ventedKg: 0,
  oilBottleM3: 250e-6,
  vehicleOilM3: 0,
  dyeBottleM3: 50e-6,
  vehicleDyeM3: 0,
  engine: false,
  apart: 0,
  highCouplerShut: false,
  highCouplerStuck: false,
  highHosePa: 60_000,
  detected: false,
  ...over,
});

const restPa = (plant: Plant): number =>
  Math.min(SATURATION_PA, (plant.vehicleKg / VAPOUR_KG) * SATURATION_PA) + plant.airPa;
const sidePa = (plant: Plant, runningPa: number): number =>
  restPa(plant) + plant.apart * (runningPa - restPa(plant));
const separatorPa = (plant: Plant): number => plant.separatorKg / SEPARATOR_KG_PER_PA;

/** Seconds of this scan for which an output is really on, its countdown counted. */
function openS(plant: Plant, output: keyof Commands, { on, offAfterMs }: Command): number {
  if (!on) {
    delete plant.offAtMs[output];
    return 0;
  }
  const startMs = plant.nowMs - SCAN_MS;
  const offAtMs = Math.min(
    plant.offAtMs[output] ?? Number.POSITIVE_INFINITY,
    offAfterMs === undefined ? Number.POSITIVE_INFINITY : startMs + offAfterMs,
  );
  plant.offAtMs[output] = offAtMs;
  return Math.min(Math.max((offAtMs - startMs) / 1000, 0), SCAN_MS / 1000);
}

/** One scan's worth of time under the commands. */
function move(plant: Plant, commands: Commands): void {
  const dtS = SCAN_MS / 1000;
  plant.nowMs += SCAN_MS;
  const open = commands.highSideValve.on || commands.lowSideValve.on;
  if (commands.compressor.on && commands.recoveryValve.on) {
    const brief = commands.highSideValve.on && commands.highSideValve.offAfterMs !== undefined;
    if (brief) passBack(plant, openS(plant, 'highSideValve', commands.highSideValve));
    else openS(plant, 'highSideValve', commands.highSideValve);
    recover(plant, open && !brief, dtS);
  }
  if (commands.vacuumPump.on && commands.vacuumValve.on && open) {
    plant.vehicleKg *= 1 - 0.3 * dtS;
    plant.airPa *= 1 - 0.3 * dtS;
    plant.airPa = Math.max(plant.airPa, 20);
  }
  plant.airPa += plant.leakPaPerS * dtS;
  charge(plant, commands);
  drain(plant, openS(plant, 'separatorDrainValve', commands.separatorDrainValve));
  draw(plant, 'oilBottleM3', 'vehicleOilM3', openS(plant, 'oilValve', commands.oilValve));
  draw(plant, 'dyeBottleM3', 'vehicleDyeM3', openS(plant, 'dyeValve', commands.dyeValve));
  runEngine(plant, commands, dtS);
}

/** A brief opening: what the hoses hold goes first, then the vehicle's vapour, both on to the separator. */
function passBack(plant: Plant, durationS: number): void {
  const source = plant.hoseKg > HOSE_VAPOUR_KG ? 'hoseKg' : 'vehicleKg';
  const moved = Math.min(plant[source], BACK_KG_PER_S * durationS);
  plant[source] -= moved;
  plant.separatorKg += moved;
}

function recover(plant: Plant, open: boolean, dtS: number): void {
  if (!open) {
    const moved = Math.min(DRAWN_PER_S * dtS, 1) * plant.separatorKg;
    plant.separatorKg -= moved;
    plant.tankKg += moved;
    return;
  }
  const source = plant.coupled ? 'vehicleKg' : 'hoseKg';
  const share = Math.min(1, plant[source] / (plant.coupled ? VAPOUR_KG : HOSE_KG / 20));
  const moved = Math.min(plant[source], RECOVERY_KG_PER_S * share * dtS);
  plant[source] -= moved;
  plant.tankKg += moved;
}

function charge(plant: Plant, commands: Commands): void {
  const moved = CHARGE_KG_PER_S * openS(plant, 'chargeValve', commands.chargeValve);
  if (moved === 0) return;
  plant.tankKg -= moved;
  if (!commands.highSideValve.on) {
    plant.separatorKg += moved;
    return;
  }
  const toHose = Math.min(moved, HOSE_KG - Math.min(plant.hoseKg, HOSE_KG));
  plant.hoseKg += toHose;
  plant.vehicleKg += moved - toHose;
}

function drain(plant: Plant, durationS: number): void {
  const oilM3 = Math.min(plant.separatorOilM3, DRAIN_M3_PER_S * durationS);
  plant.separatorOilM3 -= oilM3;
  plant.catchBottleM3 += oilM3;
  const gasKg = GAS_KG_PER_S * (durationS - oilM3 / DRAIN_M3_PER_S);
  plant.separatorKg -= gasKg;
  plant.ventedKg += gasKg;
}

/** The film on the walls counts as in the vehicle. */
function draw(
  plant: Plant,
  bottle: 'oilBottleM3' | 'dyeBottleM3',
  vehicle: 'vehicleOilM3' | 'vehicleDyeM3',
  durationS: number,
): void {
  const drawnM3 = Math.min(plant[bottle], OIL_M3_PER_S * durationS);
  plant[bottle] -= drawnM3;
  plant[vehicle] += drawnM3;
  plant.airPa += AIR_PA_PER_S * (durationS - drawnM3 / OIL_M3_PER_S);
}

/** The sides part while the engine runs; the high hose follows its side, its coupler or the low side. */
function runEngine(plant: Plant, { highSideValve, lowSideValve }: Commands, dtS: number): void {
  plant.apart += ((plant.engine ? 1 : 0) - plant.apart) * Math.min(dtS / ENGINE_S, 1);
  const passes = plant.coupled && (!plant.highCouplerShut || plant.highCouplerStuck);
  if (passes) plant.highHosePa = sidePa(plant, RUNNING_HIGH_PA);
  else if (plant.coupled && highSideValve.on && lowSideValve.on) {
    const lowPa = sidePa(plant, RUNNING_LOW_PA);
    plant.highHosePa += (lowPa - plant.highHosePa) * Math.min(dtS, 1);
    const moved = (plant.hoseKg - HOSE_VAPOUR_KG / 2) * Math.min(dtS, 1);
    plant.hoseKg -= moved;
    plant.vehicleKg += moved;
  }
}

/** Noise without chance: small, fast and never twice the same. */
const flicker = (nowMs: number): number => 40 * Math.sin(nowMs * 0.7) + 15 * Math.sin(nowMs * 0.13);

/** Shut off from everything it keeps what it had, and what a valve of the machine lets in. */
function manifoldPa(plant: Plant, joinedPa: number): number {
  const { highSideValve, lowSideValve, recoveryValve, chargeValve } = plant.commands;
  const hoses = highSideValve.on || lowSideValve.on;
  if (hoses) plant.manifoldPa = joinedPa;
  else if (recoveryValve.on || chargeValve.on) plant.manifoldPa = separatorPa(plant);
  else plant.manifoldPa += (plant.seatPaPerS * SCAN_MS) / 1000;
  return plant.manifoldPa;
}

export function readPlant(plant: Plant, over: Values = {}): Readings {
  const { nowMs } = plant;
  const hosesPa = Math.max(40_000, Math.min(plant.hoseKg / HOSE_VAPOUR_KG, 1) * SATURATION_PA);
  const highPa = plant.coupled ? plant.highHosePa : hosesPa;
  const lowPa = plant.coupled ? sidePa(plant, RUNNING_LOW_PA) : hosesPa;
  const atManifoldPa = manifoldPa(plant, lowPa);
  const { countsPerKg, zeroCounts } = EQUIPMENT.scale;
  return readingsAt(nowMs, {
    highSidePressurePa: highPa,
    lowSidePressurePa: lowPa,
    manifoldPressurePa: atManifoldPa > 160_000 ? { ok: false, reason: 'out-of-range' } : atManifoldPa,
    vehicleVacuumPa: lowPa < 2_500 ? lowPa : { ok: false, reason: 'out-of-range' },
    scaleCounts: Math.round(zeroCounts + plant.tankKg * countsPerKg + flicker(nowMs)),
    ...over,
  });
}

/** What a willing operator does and says. */
export function answer(prompt: Prompt, plant: Plant): OperatorEvent {
  switch (prompt.id) {
    case 'identify-refrigerant':
      return { type: 'identified', result: { refrigerant: 'R-134a', purityPercent: 99.9 } };
    case 'read-catch-bottle':
      return { type: 'entered', prompt: prompt.id, volumeM3: plant.catchBottleM3 };
    case 'search-leak':
      return { type: 'searched', prompt: prompt.id, found: plant.detected };
    case 'start-engine':
    case 'stop-engine':
      plant.engine = prompt.id === 'start-engine';
      break;
    case 'warm-vehicle':
      plant.engine = false;
      break;
    case 'close-couplers-then-stop':
      plant.engine = false;
      plant.coupled = false;
      break;
    case 'close-high-coupler':
      plant.highCouplerShut = true;
      break;
    case 'repair-vehicle':
    case 'recover-again':
      break;
    case 'fill-oil-bottle':
      plant.oilBottleM3 = 250e-6;
      break;
    case 'fill-dye-bottle':
      plant.dyeBottleM3 = 50e-6;
      break;
    default:
      plant.coupled = prompt.id === 'connect-hoses';
  }
  return { type: 'confirmed', prompt: prompt.id };
}

export type Seen = ScanResult & { readonly nowMs: number };

export type RunOptions = {
  readonly plant?: Plant;
  /** Overrides the readings of a scan. */
  readonly readings?: (plant: Plant, state: ControllerState) => Values;
  /** Events besides the answers to prompts. */
  readonly events?: (plant: Plant, state: ControllerState) => readonly OperatorEvent[];
  readonly answers?: boolean;
  /** Sees every scan; answering true ends the run. */
  readonly watch?: (seen: Seen, plant: Plant) => boolean | undefined;
  readonly untilMs?: number;
};

const LONGEST_MS = 4 * 3_600_000;

/** Runs until the job has ended or the limit is reached. */
export function run(start: ControllerState, options: RunOptions = {}): ControllerState {
  const plant = options.plant ?? newPlant();
  let state = start;
  const untilMs = options.untilMs ?? LONGEST_MS;
  while (plant.nowMs < untilMs) {
    move(plant, plant.commands);
    const { prompt, ended } = progress(state, plant.nowMs);
    if (ended) return state;
    const events = [
      ...(prompt === undefined || options.answers === false ? [] : [answer(prompt, plant)]),
      ...(options.events?.(plant, state) ?? []),
    ];
    const result = scan(state, readPlant(plant, options.readings?.(plant, state)), plant.nowMs, events);
    state = result.state;
    plant.commands = result.commands;
    if (options.watch?.({ ...result, nowMs: plant.nowMs }, plant) === true) return state;
  }
  return state;
}
