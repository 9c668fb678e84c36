// A manifold that is pumped and rises all the same: something has begun to come in.
import type { NoticeDraft } from '../notices.ts';
import type { EvacuateData } from './data-vacuum.ts';
import { kilopascals, type StageInput } from './stage.ts';

/** The lowest that the manifold has shown, once it has been joined and pumped for a while. */
export function lowestOf(data: EvacuateData, { seen, nowMs, plan }: StageInput): EvacuateData {
  const { manifoldPa } = seen;
  if (manifoldPa === undefined || nowMs - (data.pumpingSinceMs ?? nowMs) < plan.evacuate.calmMs) return data;
  return manifoldPa < (data.lowestManifoldPa ?? Number.MAX_VALUE)
    ? { ...data, lowestManifoldPa: manifoldPa }
    : data;
}

/** A pump that gains nothing more loses nothing either. */
export const hasRisen = ({ lowestManifoldPa }: EvacuateData, { seen, plan }: StageInput): boolean =>
  lowestManifoldPa !== undefined &&
  seen.manifoldPa !== undefined &&
  seen.manifoldPa - lowestManifoldPa > plan.evacuate.risenPa;

/** What is no rough vacuum any more was one before. */
export const isBack = ({ lowestManifoldPa }: EvacuateData, { plan }: StageInput): boolean =>
  lowestManifoldPa !== undefined && lowestManifoldPa < plan.evacuate.roughPa;

export const cameBack = ({ lowestManifoldPa }: EvacuateData, cameBackPa: number): NoticeDraft => ({
  code: 'vacuum-came-back',
  with: { lowest: kilopascals(lowestManifoldPa ?? cameBackPa), pressure: kilopascals(cameBackPa) },
});
