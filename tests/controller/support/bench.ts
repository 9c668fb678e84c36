// A scripted plant, just good enough to carry a job from end to end: no physics is judged with it.
import type { OperatorEvent, Prompt } from '../../../controller/operator.ts';
import { progress } from '../../../controller/progress.ts';
import { type ControllerState, type ScanResult, scan } from '../../../controller/scan.ts';
import type { Commands, Readings } from '../../../controller/signals.ts';
import { SAFE_COMMANDS } from '../../../controller/signals.ts';
import { EQUIPMENT } from './machine.ts';
import { readingsAt, type Values } from './readings.ts';

const SCAN_MS = 100;
const SATURATION_PA = 571_710;
/** Below this mass the vehicle holds vapour alone. */
const VAPOUR_KG = 0.07;
const RECOVERY_KG_PER_S = 0.006;
const CHARGE_KG_PER_S = 0.015;
/** What the controller predicts for hoses at the tank's own pressure: the script has no physics to differ by. */
const HOSE_KG = 0.0657;
/** Below this the hoses hold vapour alone. */
const HOSE_VAPOUR_KG = 0.003;

export type Plant = {
  nowMs: number;
  vehicleKg: number;
  hoseKg: number;
  tankKg: number;
  airPa: number;
  coupled: boolean;
  /** Pressure that keeps coming back: a leak, Pa/s. */
  leakPaPerS: number;
  /** What was commanded last. */
  commands: Commands;
  /** End of a running countdown of the charge valve. */
  chargeOffAtMs: number;
};

export const newPlant = (over: Partial<Plant> = {}): Plant => ({
  nowMs: 0,
  vehicleKg: 0.5,
  hoseKg: 0.0001,
  tankKg: 8,
  airPa: 0,
  coupled: false,
  leakPaPerS: 0,
  commands: SAFE_COMMANDS,
  chargeOffAtMs: Number.POSITIVE_INFINITY,
  ...over,
});

const vehiclePa = (plant: Plant): number =>
  Math.min(SATURATION_PA, (plant.vehicleKg / VAPOUR_KG) * SATURATION_PA) + plant.airPa;

/** One scan's worth of time under the commands. */
function move(plant: Plant, commands: Commands): void {
  const dtS = SCAN_MS / 1000;
  plant.nowMs += SCAN_MS;
  const open = commands.highSideValve.on || commands.lowSideValve.on;
  if (commands.compressor.on && commands.recoveryValve.on && open) {
    const source = plant.coupled ? 'vehicleKg' : 'hoseKg';
    const share = Math.min(1, plant[source] / (plant.coupled ? VAPOUR_KG : HOSE_KG / 20));
    const moved = Math.min(plant[source], RECOVERY_KG_PER_S * share * dtS);
    plant[source] -= moved;
    plant.tankKg += moved;
  }
  if (commands.vacuumPump.on && commands.vacuumValve.on && open) {
    plant.vehicleKg *= 1 - 0.3 * dtS;
    plant.airPa *= 1 - 0.3 * dtS;
    plant.airPa = Math.max(plant.airPa, 20);
  }
  plant.airPa += plant.leakPaPerS * dtS;
  charge(plant, commands, open, dtS);
}

function charge(plant: Plant, commands: Commands, open: boolean, dtS: number): void {
  const { on, offAfterMs } = commands.chargeValve;
  if (!on) {
    plant.chargeOffAtMs = Number.POSITIVE_INFINITY;
    return;
  }
  const startMs = plant.nowMs - SCAN_MS;
  if (offAfterMs !== undefined) plant.chargeOffAtMs = Math.min(plant.chargeOffAtMs, startMs + offAfterMs);
  const openS = Math.min(Math.max((plant.chargeOffAtMs - startMs) / 1000, 0), dtS);
  if (!open || openS === 0) return;
  const moved = CHARGE_KG_PER_S * openS;
  plant.tankKg -= moved;
  const toHose = Math.min(moved, HOSE_KG - Math.min(plant.hoseKg, HOSE_KG));
  plant.hoseKg += toHose;
  plant.vehicleKg += moved - toHose;
}

/** Noise without chance: small, fast and never twice the same. */
const flicker = (nowMs: number): number => 40 * Math.sin(nowMs * 0.7) + 15 * Math.sin(nowMs * 0.13);

export function readPlant(plant: Plant, over: Values = {}): Readings {
  const { nowMs } = plant;
  const joined = plant.coupled
    ? vehiclePa(plant)
    : Math.max(40_000, Math.min(plant.hoseKg / HOSE_VAPOUR_KG, 1) * SATURATION_PA);
  const { countsPerKg, zeroCounts } = EQUIPMENT.scale;
  return readingsAt(nowMs, {
    highSidePressurePa: joined,
    lowSidePressurePa: joined,
    manifoldPressurePa: joined > 160_000 ? { ok: false, reason: 'out-of-range' } : joined,
    vehicleVacuumPa: joined < 2_500 ? joined : { ok: false, reason: 'out-of-range' },
    scaleCounts: Math.round(zeroCounts + plant.tankKg * countsPerKg + flicker(nowMs)),
    ...over,
  });
}

/** What a willing operator does and says. */
function answer(prompt: Prompt, plant: Plant): OperatorEvent {
  if (prompt.id === 'identify-refrigerant') {
    return { type: 'identified', result: { refrigerant: 'R-134a', purityPercent: 99.9 } };
  }
  plant.coupled = prompt.id === 'connect-hoses';
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
