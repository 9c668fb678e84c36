// The manifold shut off from vehicle, tank and pump: what rises there has come in through the machine itself.
import type { NoticeDraft } from '../notices.ts';
import type { ApartLook } from './data-common.ts';
import { kilopascals, type StageInput } from './stage.ts';

/** Valves have shut, and the shock of it is over (estimate). */
const SETTLE_MS = 1_500;
/** A manifold of 0.04 L rises by 3 kPa in it through a seat that passes 0.5 mg/s. */
const LOOK_MS = 10_000;

export const startApart = (nowMs: number): ApartLook => ({ sinceMs: nowMs, fromPa: undefined });

/** Goes on with the look; `risePa` is there when it is over. */
export function lookApart(
  look: ApartLook,
  { seen, nowMs, equipment }: StageInput,
): { readonly look: ApartLook; readonly risePa?: number } {
  const waitedMs = nowMs - look.sinceMs;
  if (waitedMs < SETTLE_MS) return { look };
  const nowPa = seen.manifoldOverSpan ? equipment.pressure.manifoldSpanPa : seen.manifoldPa;
  if (look.fromPa === undefined && waitedMs < LOOK_MS / 2) return { look: { ...look, fromPa: nowPa } };
  if (waitedMs < LOOK_MS) return { look };
  return { look, risePa: look.fromPa === undefined || nowPa === undefined ? 0 : nowPa - look.fromPa };
}

/** What a system of that slope would have risen by in the same time, were it closed as the manifold is. */
export const expectedRisePa = (slopePaPerS: number): number =>
  (Math.max(slopePaPerS, 0) * (LOOK_MS - SETTLE_MS)) / 1000;

export const machineLeaks = (risePa: number): NoticeDraft => ({
  code: 'machine-leaks',
  with: { rise: kilopascals(risePa), seconds: (LOOK_MS / 1000).toFixed(0) },
});
