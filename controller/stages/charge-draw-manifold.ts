// The first thing that is drawn back: the closed manifold alone, before any hose valve opens.
import { ROOM_K } from '../constants.ts';
import { liquidDensityKgPerM3, vapourDensityKgPerM3 } from '../estimates/saturation.ts';
import { type Commands, SAFE_COMMANDS } from '../signals.ts';
import type { ChargeData, DrawBack } from './data-charge.ts';
import { drawAlone } from './draw.ts';
import { grams, type StageInput, type StageStep } from './stage.ts';

type Step = StageStep<ChargeData>;

/** A manifold that boils cools so far below the room (estimate); what the displacement counts may be a fifth too much. */
const COLDER_K = 20;
const MORE_BY_COUNT = 1.2;

/** Another step of the draw. */
export const at = (
  data: ChargeData,
  step: ChargeData['step'],
  nowMs: number,
  drawBack: DrawBack,
): ChargeData => ({
  ...data,
  step,
  stepSinceMs: nowMs,
  weighing: undefined,
  drawBack,
});

export const draw = ({ fanStopped }: DrawBack): Commands => drawAlone(fanStopped);

export const low = ({ seen }: StageInput, pa: number): boolean =>
  seen.manifoldPa !== undefined && seen.manifoldPa <= pa;

/** A charge valve in doubt costs the compressor's time off: the drawn manifold shows the valve before the hose is drawn. */
export function drawManifold(data: ChargeData, input: StageInput, drawBack: DrawBack): Step {
  const { nowMs, plan } = input;
  if (drawBack.count.totalKg > MORE_BY_COUNT * mostInManifoldKg(input))
    return valveOpen(data, drawBack, input);
  if (!low(input, plan.hoses.drawnPa)) return { data: { ...data, drawBack }, wanted: draw(drawBack) };
  return drawBack.seatDoubted
    ? { data: at(data, 'stand-apart', nowMs, drawBack), wanted: SAFE_COMMANDS }
    : {
        data: at(data, 'draw-hose', nowMs, { ...drawBack, fromKg: drawBack.count.totalKg }),
        wanted: draw(drawBack),
      };
}

/** No hose valve has been opened yet: liquid in the whole manifold, and vapour behind it. */
function mostInManifoldKg({ plan, equipment, seen }: StageInput): number {
  const coldK = (seen.ambientK ?? ROOM_K) - COLDER_K;
  const { manifoldVolumeM3 } = equipment.hoses;
  const fullKg = manifoldVolumeM3 * liquidDensityKgPerM3(plan.curve, coldK);
  return fullKg + equipment.separatorM3 * vapourDensityKgPerM3(plan.curve, coldK);
}

/** The separator has had its share of the charge, or a hose is still being drawn at: nobody knows how much. */
const valveOpen = (data: ChargeData, drawBack: DrawBack, input: StageInput): Step => ({
  data: { ...at(data, 'weigh-after', input.nowMs, drawBack), result: 'valve-open' },
  wanted: SAFE_COMMANDS,
  accounts: { ...input.accounts, lostTrack: true },
  notices: [
    {
      code: 'manifold-fed',
      with: { came: grams(drawBack.count.totalKg), most: grams(mostInManifoldKg(input)) },
    },
  ],
});
