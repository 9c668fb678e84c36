// Runs one whole job until its mains fail at a given second, lets them come back, and holds what is then said to the truth.

import { clockMs, fluidOnce, PACING } from '../../app/bench/whole-jobs.ts';
import { lookAfterCut } from '../../app/run/after-cut.ts';
import type { ScanLoop } from '../../app/run/loop.ts';
import { prepare } from '../../app/run/prepare.ts';
import { runSession } from '../../app/run/session.ts';
import { toScenario } from '../../app/scenario/scenario.ts';
import type { ProfileName } from '../../sim/profiles.ts';
import type { Truth } from '../../sim/spec.ts';

export const KINDS = ['hoses drawn back', 'hoses sucked dry by the engine'] as const;
export type Kind = (typeof KINDS)[number];

export type CutRow = {
  readonly seed: number;
  /** Absent when the job was over by then. */
  readonly cut?: {
    readonly stage: string;
    readonly next: string;
    /** Of what is said that the tank has gained; absent where nothing was weighed yet. */
    readonly errorG?: number;
    readonly uncertaintyG?: number;
    readonly vehicleG: number;
    readonly vehicle?: { readonly leastG: number; readonly mostG: number };
    /** To the room through a path of the machine, but for the pump's exhaust until its valve has shut. */
    readonly ventedG: number;
    readonly exhaustedInTheDarkG: number;
    readonly driftG: number;
  };
};

const NOMINAL_G = 600;
const DARK_MS = 60_000;

const cutScenario = (profile: ProfileName, kind: Kind, atS: number) => ({
  seed: 4,
  equipment: profile,
  weather: { ambientC: 20 },
  ticket: {
    refrigerant: 'R-134a',
    nominalChargeG: NOMINAL_G,
    engine: kind === 'hoses drawn back' ? 'cannot-run' : 'can-run',
  },
  vehicle: { chargeG: 450 },
  tank: { contentKg: 8 },
  faults: [{ fault: 'power-lost', atS }],
});

const ventedG = ({ ventedKg, leakedKg, purgedKg, spilledKg }: Truth): number =>
  1000 * (ventedKg + leakedKg + purgedKg + spilledKg);

/** The seed is the second of the cut: the job is always the same. */
export async function cutJob(profile: ProfileName, kind: Kind, seed: number): Promise<CutRow> {
  const scenario = toScenario(cutScenario(profile, kind, seed), 'the job');
  const session = prepare(scenario, 'the job', fluidOnce, clockMs);
  const { bench } = session;
  let loop: ScanLoop | undefined;
  let since: unknown;
  let tankKg = 0;
  const facts = await runSession(session, {
    pacing: PACING,
    started: (begun) => {
      loop = begun;
    },
    observers: [
      () => {
        const { weighedBeforeCharge, weighedFirst } = loop!.state.accounts;
        const reference = weighedBeforeCharge ?? weighedFirst;
        if (reference === since) return;
        since = reference;
        tankKg = bench.truth().tankRefrigerantKg;
      },
    ],
  });
  if (facts.outcome === 'completed') return { seed };
  const dark = facts.truth;
  bench.advanceTo(bench.nowMs() + DARK_MS);
  bench.switchFault({ fault: 'power-lost' }, false);
  const said = lookAfterCut(loop!.state, bench);
  const truth = bench.truth();
  const { tankGainKg, uncertaintyKg, vehicle } = said;
  return {
    seed,
    cut: {
      stage: facts.result!.stages.at(-1)!.stage,
      next: said.next,
      ...(tankGainKg === undefined || uncertaintyKg === undefined
        ? {}
        : {
            errorG: 1000 * (tankGainKg - (truth.tankRefrigerantKg - tankKg)),
            uncertaintyG: 1000 * uncertaintyKg,
          }),
      vehicleG: 1000 * truth.vehicleRefrigerantKg,
      ...(vehicle === undefined
        ? {}
        : { vehicle: { leastG: 1000 * vehicle.leastKg, mostG: 1000 * vehicle.mostKg } }),
      ventedG: ventedG(truth),
      exhaustedInTheDarkG: 1000 * (truth.pumpExhaustKg - dark.pumpExhaustKg),
      driftG: 1000 * truth.massDriftKg,
    },
  };
}

/** What the vehicle holds above its nominal charge. */
export const overG = ({ vehicleG }: { readonly vehicleG: number }): number =>
  Math.max(vehicleG - NOMINAL_G, 0);
