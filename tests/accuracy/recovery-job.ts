// Runs one drawn recovery and tells what is left in the vehicle after half an hour, where it is, and what was said.

import { clockMs, fluidOnce, PACING } from '../../app/bench/whole-jobs.ts';
import type { Observer, ScanLoop } from '../../app/run/loop.ts';
import { prepare, type Session } from '../../app/run/prepare.ts';
import { runSession } from '../../app/run/session.ts';
import { toScenario } from '../../app/scenario/scenario.ts';
import { runningStage } from '../../controller/chart-state.ts';
import type { JobResult } from '../../controller/result.ts';
import type { Bench } from '../../sim/bench.ts';
import { ZERO_CELSIUS_K } from '../../sim/celsius.ts';
import { OIL_SHARES } from '../../sim/plant/contents.ts';
import { VOLUME_SHARES } from '../../sim/plant/vehicle.ts';
import type { ProfileName } from '../../sim/profiles.ts';
import type { Truth, TruthWithin } from '../../sim/spec.ts';
import { type Pool, recoverableKg } from './recovery-bound.ts';
import { type RecoveryFile, recoveryScenario, type Start } from './recovery-scenario.ts';

/** For the recovery, all its waits and rests included (SAE J2788, 40 CFR 82 Subpart B, App. C). */
const LIMIT_S = 1800;

/** Which machine does it to what. */
export type Kind = { readonly profile: ProfileName; readonly start: Start };

/** Grams unless the name says otherwise. `left` is after half an hour, or at the recovery's end if that came first. */
export type RecoveryRow = {
  readonly seed: number;
  readonly expansionDevice: string;
  readonly refrigerant: string;
  /** In the vehicle when the recovery began. */
  readonly held: number;
  readonly left: number;
  readonly dissolved: number;
  readonly liquid: number;
  /** Most that the heat of that time lets come. */
  readonly bound: number;
  /** When the recovery was over, with its last rest. */
  readonly minutes: number;
  readonly leftAtEnd: number;
  readonly cycles: number;
  /** Told that liquid is trapped, and to warm the vehicle. */
  readonly advised: boolean;
};

const grams = (massKg: number): number => Math.round(massKg * 1e5) / 100;

/** What happened in the truth between the beginning of a recovery, the end of its half hour, and its own end. */
type Inside = Truth & TruthWithin;

const inside = (bench: Bench): Inside => ({ ...bench.truth(), ...bench.within() });

type Course = {
  readonly before: Inside;
  readonly atLimit: Inside;
  readonly end: Inside;
  readonly minutes: number;
  readonly result: JobResult;
};

async function runRecovery(session: Session): Promise<Course | undefined> {
  const { bench } = session;
  let loop: ScanLoop | undefined;
  let before: Inside | undefined;
  let atLimit: Inside | undefined;
  let beganAtMs = 0;
  const look: Observer = ({ nowMs }) => {
    if (loop === undefined) return;
    const stage = runningStage(loop.state.chart);
    const recovering = stage === 'recover' || stage === 'rest';
    if (recovering && before === undefined) {
      before = inside(bench);
      beganAtMs = nowMs;
    }
    if (before === undefined) return;
    if (atLimit === undefined && nowMs - beganAtMs >= 1000 * LIMIT_S) atLimit = inside(bench);
    if (!recovering) loop.die();
  };
  const { result } = await runSession(session, {
    pacing: PACING,
    observers: [look],
    started: (begun) => {
      loop = begun;
    },
  });
  if (before === undefined || result === undefined) return undefined;
  const end = inside(bench);
  const minutes = (bench.nowMs() - beganAtMs) / 60_000;
  return { before, atLimit: atLimit ?? end, end, minutes, result };
}

function poolOf({ vehicle, weather, tank, ticket }: RecoveryFile, before: Inside, sweptM3PerS: number): Pool {
  return {
    vehicleKg: before.vehicleRefrigerantKg,
    vesselKg: before.vesselRefrigerantKg,
    vesselOilKg: (OIL_SHARES.vessel * vehicle.oilG) / 1000,
    outsideM3: ((1 - VOLUME_SHARES[vehicle.expansionDevice].vessel) * vehicle.volumeL) / 1000,
    outsideOilKg: ((1 - OIL_SHARES.vessel) * vehicle.oilG) / 1000,
    oil: ticket.oil.kind,
    metalJPerK: vehicle.accumulatorHeatCapacityJPerK,
    uaWPerK: vehicle.accumulatorUaWPerK,
    ambientK: weather.ambientC + ZERO_CELSIUS_K,
    tankK: tank.temperatureC + ZERO_CELSIUS_K,
    sweptM3PerS,
  };
}

export const recoveryJob = ({ profile, start }: Kind, seed: number): Promise<RecoveryRow> =>
  recoveryOf(recoveryScenario(profile, start, seed));

export async function recoveryOf(file: RecoveryFile): Promise<RecoveryRow> {
  const session = prepare(toScenario(file, file.name), file.name, fluidOnce, clockMs);
  const course = await runRecovery(session);
  if (course === undefined) throw new Error(`${file.name}: the recovery never began`);
  const { before, atLimit, end, minutes, result } = course;
  const { refrigerant } = file.ticket;
  const pool = poolOf(file, before, session.equipment.compressor.sweptM3PerS);
  return {
    seed: file.seed,
    expansionDevice: file.vehicle.expansionDevice,
    refrigerant,
    held: grams(before.vehicleRefrigerantKg),
    left: grams(atLimit.vehicleRefrigerantKg),
    dissolved: grams(atLimit.vehicleDissolvedKg),
    liquid: grams(atLimit.vehicleLiquidKg),
    bound: grams(recoverableKg(fluidOnce(refrigerant).tables, pool, LIMIT_S)),
    minutes: Math.round(10 * minutes) / 10,
    leftAtEnd: grams(end.vehicleRefrigerantKg),
    cycles: result.recovery?.cycles.length ?? 0,
    advised: result.notices.some(({ code }) => code === 'liquid-trapped'),
  };
}
