// Purge air: a tank that has rested and surely holds air is let off a little, by weight, once the operator agrees.

import { gainOf, type Weighing } from '../estimates/masses.ts';
import { netMassKg } from '../estimates/scale.ts';
import { tankAirKg, tankExcessPa, tankExcessSdPa, tankRests } from '../estimates/tank-air.ts';
import { NO_NOTICES, type NoticeDraft } from '../notices.ts';
import { SAFE_COMMANDS } from '../signals.ts';
import type { PurgeAirData } from './data-tank.ts';
import {
  atAfresh,
  book,
  confirms,
  counted,
  grams,
  kilopascals,
  type StageInput,
  type StageStep,
  want,
} from './stage.ts';
import { whenWeighed } from './weighing.ts';

export const enterPurgeAir = (nowMs: number): PurgeAirData => ({
  stage: 'purge-air',
  step: 'look',
  sinceMs: nowMs,
  stepSinceMs: nowMs,
  weighing: undefined,
  before: undefined,
  bursts: 0,
});

type Step = StageStep<PurgeAirData>;

export function stepPurgeAir(data: PurgeAirData, input: StageInput): Step {
  switch (data.step) {
    case 'look':
      return look(data, input);
    case 'weigh':
      return whenWeighed(data, input, weighed);
    case 'ask':
      return ask(data, input);
    case 'burst':
      return burst(data, input);
    case 'rest':
      return input.nowMs - data.stepSinceMs < input.plan.purgeAir.restMs
        ? { data, wanted: SAFE_COMMANDS }
        : { data: atAfresh(data, 'weigh-after', input.nowMs), wanted: SAFE_COMMANDS };
    case 'weigh-after':
      return whenWeighed(data, input, weighedAfter);
  }
}

/** How many of its own standard deviations the tank stands above saturation; nothing where that says nothing of air. */
function sureness({ plan, equipment, seen }: StageInput): number | undefined {
  const excessPa = tankExcessPa(seen, plan.curve);
  const sdPa = tankExcessSdPa(seen, equipment, plan.curve);
  if (excessPa === undefined || sdPa === undefined || !tankRests(seen, equipment)) return undefined;
  return excessPa / sdPa;
}

function look(data: PurgeAirData, input: StageInput): Step {
  const { plan, nowMs } = input;
  if (nowMs - data.stepSinceMs < plan.purgeAir.lookMs) return { data, wanted: SAFE_COMMANDS };
  const sigmas = sureness(input);
  if (sigmas !== undefined && sigmas > plan.purgeAir.beginsSd) {
    return { data: atAfresh(data, 'weigh', nowMs), wanted: SAFE_COMMANDS };
  }
  return {
    data,
    wanted: SAFE_COMMANDS,
    event: 'no-air-purged',
    result: sigmas === undefined ? 'not-judged' : 'no-air',
    notices: sigmas === undefined ? unjudged(input) : NO_NOTICES,
  };
}

/** Why nothing can be said of air, where that is worth a word: a blind sensor, or an excess that may be warmth. */
function unjudged({ plan, equipment, seen }: StageInput): readonly NoticeDraft[] {
  const unseen = (sensor: string): readonly NoticeDraft[] => [{ code: 'air-unseen', with: { sensor } }];
  if (seen.tankPa === undefined) return unseen('pressure sensor');
  if (seen.tankTemperatureK === undefined) return unseen('thermometer');
  const excessPa = tankExcessPa(seen, plan.curve) ?? 0;
  const sdPa = tankExcessSdPa(seen, equipment, plan.curve) ?? 0;
  return excessPa > plan.purgeAir.beginsSd * sdPa
    ? [{ code: 'air-not-judged', with: { excess: kilopascals(excessPa) } }]
    : NO_NOTICES;
}

function weighed(data: PurgeAirData, input: StageInput, before: Weighing): Step {
  const { plan, equipment, seen, nowMs } = input;
  const netKg = netMassKg(before.counts, equipment) - before.offsetKg;
  const figures = {
    excess: kilopascals(tankExcessPa(seen, plan.curve) ?? 0),
    doubt: kilopascals(2 * (tankExcessSdPa(seen, equipment, plan.curve) ?? 0)),
    air: grams(tankAirKg(seen, netKg, equipment.tank, plan.curve) ?? 0),
    most: grams(plan.purgeAir.mostKg),
  };
  return {
    data: { ...atAfresh(data, 'ask', nowMs), before },
    wanted: SAFE_COMMANDS,
    notices: [{ code: 'air-found', with: figures }],
  };
}

function ask(data: PurgeAirData, input: StageInput): Step {
  if (confirms(input.answers, 'purge-air')) {
    return { data: atAfresh(data, 'burst', input.nowMs), wanted: SAFE_COMMANDS };
  }
  const declined = input.answers.some(({ type }) => type === 'declined');
  const asking = { data, wanted: SAFE_COMMANDS, prompt: 'purge-air' } as const;
  return declined ? { ...asking, event: 'air-left', result: 'declined' } : asking;
}

/** Short openings with pauses, each counted down by the rig. */
function burst(data: PurgeAirData, { plan, nowMs }: StageInput): Step {
  const { pulseMs, pauseMs, pulses } = plan.purgeAir;
  const sinceMs = nowMs - data.stepSinceMs;
  const periodMs = pulseMs + pauseMs;
  if (sinceMs >= pulses * periodMs) {
    return { data: { ...atAfresh(data, 'rest', nowMs), bursts: data.bursts + 1 }, wanted: SAFE_COMMANDS };
  }
  const wanted =
    sinceMs % periodMs < pulseMs ? counted(want('airPurgeValve'), 'airPurgeValve', pulseMs) : SAFE_COMMANDS;
  return { data, wanted };
}

function weighedAfter(data: PurgeAirData, input: StageInput, after: Weighing): Step {
  const { plan, equipment, accounts, nowMs } = input;
  const { before } = data;
  if (before === undefined) return { data, wanted: SAFE_COMMANDS, event: 'air-left' };
  const lostKg = -gainOf(before, after, equipment, accounts.hoseForce).massKg;
  const sigmas = sureness(input);
  const gone = sigmas !== undefined && sigmas < plan.purgeAir.endsSd;
  const nextKg = lostKg / data.bursts;
  const spent =
    lostKg + nextKg > plan.purgeAir.mostKg ||
    nowMs - data.sinceMs > plan.purgeAir.mostMs ||
    sigmas === undefined;
  if (!gone && !spent) return { data: atAfresh(data, 'burst', nowMs), wanted: SAFE_COMMANDS };
  return {
    data,
    wanted: SAFE_COMMANDS,
    event: gone ? 'air-purged' : 'air-left',
    notices: [
      {
        code: gone ? 'air-purged' : 'air-left',
        with: {
          vented: grams(lostKg),
          excess: kilopascals(tankExcessPa(input.seen, plan.curve) ?? 0),
        },
      },
    ],
    ledger: [book('tank-to-air', before, after, input)],
    accounts: { ...accounts, purgedKg: lostKg },
  };
}
