// Whether the tank on the scale suits the job: room for what comes out of the vehicle, liquid for what goes in, no air.
import { SURE } from '../constants.ts';
import { surelyOverPa, surelyUnderPa } from '../estimates/tank-air.ts';
import { reserveNetKg, tankLiquidKg } from '../estimates/tank-liquid.ts';
import type { NoticeDraft } from '../notices.ts';
import { chargeForGoodKg, type TargetInput } from './charge-target.ts';
import { partialChargeKg } from './partial-charge.ts';
import { kilograms, kilopascals } from './stage.ts';

/** What is recovered warms the tank by so much before the charge begins (estimate, as the simulator has it). */
const TANK_WARMS_K = 3;

/** Every reason why the tank does not suit, in the order in which they matter; none when it does. */
export function tankUnfit(input: TargetInput, netKg: number): readonly NoticeDraft[] {
  const { stages } = input.plan;
  return [
    ...exchanged(input, netKg),
    ...(stages.includes('fill') ? fillRoomShort(input, netKg) : []),
    ...(stages.includes('recover') ? roomShort(input, netKg) : []),
    ...(stages.includes('charge') || stages.includes('leak-check') ? liquidShort(input, netKg) : []),
    ...(input.equipment.tank.contaminated === true ? [] : [...air(input), ...otherContent(input)]),
  ];
}

function roomShort({ plan, equipment }: TargetInput, netKg: number): readonly NoticeDraft[] {
  const { fillLimitKg } = equipment.tank;
  // A leak check recovers no more than it has let in.
  const comesKg = plan.service === 'leak-check' ? 0 : plan.ticket.nominalChargeKg;
  const neededKg = comesKg + plan.settle.tankRoomKg;
  if (fillLimitKg - netKg >= neededKg) return [];
  const figures = { net: kilograms(netKg), limit: kilograms(fillLimitKg), needed: kilograms(neededKg) };
  return [{ code: 'tank-too-full', with: figures }];
}

/** Room below the fill limit for what is asked for, or for anything worth filling. */
function fillRoomShort({ plan, equipment }: TargetInput, netKg: number): readonly NoticeDraft[] {
  const { fillLimitKg } = equipment.tank;
  const { marginKg, leastKg } = plan.fill;
  const roomKg = Math.max(0, fillLimitKg - marginKg - netKg);
  const wantedKg = plan.ticket.fillKg ?? leastKg;
  if (roomKg >= wantedKg) return [];
  const figures = {
    net: kilograms(netKg),
    margin: kilograms(marginKg),
    limit: kilograms(fillLimitKg),
    room: kilograms(roomKg),
    wanted: kilograms(wantedKg),
  };
  return [{ code: 'tank-without-room', with: figures }];
}

/** The charge must leave its reserve of liquid in the tank, as warm as it will be by then. */
function liquidShort(input: TargetInput, netKg: number): readonly NoticeDraft[] {
  const { plan, equipment, seen } = input;
  const { tankTemperatureK } = seen;
  const warmestK =
    tankTemperatureK === undefined
      ? undefined
      : Math.max(tankTemperatureK, seen.ambientK ?? tankTemperatureK) + TANK_WARMS_K;
  const chargeKg = plan.stages.includes('charge') ? chargeForGoodKg(input) : partialChargeKg(input);
  const missingKg = chargeKg + reserveNetKg(equipment.tank, warmestK, plan.curve) - netKg;
  if (missingKg <= 0) return [];
  const liquidKg = tankLiquidKg(
    netKg,
    equipment.tank,
    warmestK ?? equipment.tank.temperatureLimitK,
    plan.curve,
  );
  const figures = {
    net: kilograms(netKg),
    liquid: kilograms(liquidKg),
    charge: kilograms(chargeKg),
    reserve: kilograms(equipment.tank.reserveKg),
    missing: kilograms(missingKg),
  };
  return [{ code: 'tank-too-empty', with: figures }];
}

function air({ plan, equipment, seen }: TargetInput): readonly NoticeDraft[] {
  const overPa = surelyOverPa(seen, equipment, plan.curve);
  return overPa > plan.settle.tankAirPa
    ? [{ code: 'air-in-tank', with: { excess: kilopascals(overPa) } }]
    : [];
}

/** Liquid stands at saturation and air adds to it: what stands below holds something else, or no liquid. */
function otherContent({ plan, equipment, seen }: TargetInput): readonly NoticeDraft[] {
  const underPa = surelyUnderPa(seen, equipment, plan.curve);
  return underPa > plan.settle.tankUnderPa
    ? [
        {
          code: 'tank-below-saturation',
          with: { shortage: kilopascals(underPa), refrigerant: plan.curve.refrigerant },
        },
      ]
    : [];
}

/** Between two jobs nothing flows: a tank that has become heavier or lighter is another, or something lies on it. */
function exchanged({ plan, equipment }: TargetInput, netKg: number): readonly NoticeDraft[] {
  const { tank, scale } = equipment;
  if (tank.lastNetKg === undefined) return [];
  const movedKg = netKg - tank.lastNetKg;
  const { tankKeepsKg, scaleWarmsK } = plan.settle;
  if (Math.abs(movedKg) <= tankKeepsKg + SURE * scale.zeroDriftKgPerKSd * scaleWarmsK) return [];
  const figures = {
    net: kilograms(netKg),
    last: kilograms(tank.lastNetKg),
    moved: kilograms(Math.abs(movedKg)),
    direction: movedKg > 0 ? 'more' : 'less',
  };
  return [{ code: 'tank-exchanged', with: figures }];
}
