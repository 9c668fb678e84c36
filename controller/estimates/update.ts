// Brings every estimate up to this scan.

import type { Commands } from '../signals.ts';
import type { ControllerState, Estimates } from '../state.ts';
import { warmerK } from './cell-warmth.ts';
import { coilOf } from './coil-surge.ts';
import { mostInCondenserKg } from './condenser.ts';
import { watchJoined, watchLeap } from './joined.ts';
import { circuitPa, hoseGaugePa, phantomPa } from './pressures.ts';
import { updateScale } from './scale.ts';
import type { Path, ScaleState } from './scale-state.ts';
import type { Seen } from './seen.ts';
import { updateTrend } from './trend.ts';
import { watchDrift } from './zero-drift.ts';

const TREND_S = 5;
/** After the last path has shut, hoses, condenser and filters settle for a while (estimate). */
const SETTLES_MS = 3_000;

export function updateEstimates(state: ControllerState, seen: Seen, nowMs: number): Estimates {
  const before = state.estimates;
  const permitted = state.judged?.permitted;
  const path = pathOf(permitted);
  const pathChangedAtMs = path === before.path ? before.pathChangedAtMs : nowMs;
  const settling = path === 'shut' && nowMs - pathChangedAtMs < SETTLES_MS;
  const draws = permitted?.compressor.on === true;
  const drawsSinceMs = draws ? (before.drawsSinceMs ?? nowMs) : undefined;
  const scale = updateScale(
    before.scale,
    {
      counts: seen.scaleCounts,
      atMs: seen.scaleAtMs,
      path,
      settling,
      drawsSinceMs,
      coil: coilOf(state.memory.deliveryWatch, state.accounts.kept, mostInCondenserKg(state.equipment)),
      hoseGaugePa: hoseGaugePa(seen),
      hosePhantomPa: phantomPa(state.seen, seen),
      hoseForceKgPerPa: state.accounts.hoseForce.kgPerPa,
      hoseForceSdKgPerPa: state.accounts.hoseForce.sdKgPerPa,
    },
    state.equipment,
  );
  // A force that has just been learnt moves the mass at once: that is no drift.
  const sameForce = scale.hoseForceKgPerPa === before.scale.hoseForceKgPerPa;
  const still = scale.trust === 'trusted' && path === 'shut' && sameForce && steadyHoses(scale, seen);
  const stillMs = nowMs - pathChangedAtMs;
  const driven = draws || permitted?.vacuumPump.on === true;
  return {
    scale,
    silentSinceMs: isSilent(seen) ? (before.silentSinceMs ?? nowMs) : undefined,
    drift: watchDrift(before.drift, still ? scale.slowMassKg : undefined, stillMs, state.equipment, nowMs),
    cellWarmerK: warmerK(before.cellWarmerK, driven, nowMs - state.memory.lastScanMs),
    joined: watchLeap(
      watchJoined(before.joined, permitted, seen, state.equipment, nowMs),
      permitted,
      state.seen,
      seen,
    ),
    path,
    pathChangedAtMs,
    drawsSinceMs,
    manifold: updateTrend(before.manifold, seen.manifoldPa, nowMs, TREND_S),
    circuit: updateTrend(before.circuit, circuitPa(seen, state.plan.ticket.ports), nowMs, TREND_S),
  };
}

/** Switches are wired to every rig: where neither they nor any sensor is heard, it is the line. */
const isSilent = (seen: Seen): boolean =>
  seen.emergencyStop === 'unknown' &&
  seen.highPressureSwitch === 'unknown' &&
  seen.fanFlow === 'unknown' &&
  seen.scaleCounts === undefined &&
  seen.manifoldPa === undefined &&
  seen.highSidePa === undefined;

/** Hoses that gain or lose more than this within seconds move the platform (estimate). */
const STEADY_HOSES_PA = 10_000;

export const steadyHoses = ({ calmHosePa }: ScaleState, seen: Seen): boolean =>
  Math.abs(hoseGaugePa(seen) - calmHosePa) <= STEADY_HOSES_PA;

function pathOf(permitted: Commands | undefined): Path {
  if (permitted === undefined) return 'shut';
  if (permitted.chargeValve.on || permitted.airPurgeValve.on) return 'out-of-tank';
  return permitted.recoveryValve.on || permitted.compressor.on ? 'into-tank' : 'shut';
}
