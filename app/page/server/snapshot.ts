// One look at everything: what the page shows, built from the state of the controller and the last scan.
import { whyNot } from '../../../controller/by-hand.ts';
import { saturatedK } from '../../../controller/estimates/saturation.ts';
import { because, reasonOf } from '../../../controller/interlocks/reason.ts';
import { usual } from '../../../controller/remaining.ts';
import { OUTPUTS, type Reading } from '../../../controller/signals.ts';
import { hosesAreSafe } from '../../../controller/stages/hand-over.ts';
import type { Stage } from '../../../controller/stages.ts';
import type { ControllerState } from '../../../controller/state.ts';
import type { OutputView, RibbonStage, Snapshot, Span } from '../shown.ts';
import type { TeacherView } from '../shown-class.ts';
import type { PanelMachine } from './machine.ts';
import type { PanelBench } from './panel-bench.ts';

/** Longer than the dead time of any valve that is not broken (estimate: three times what this machine's take). */
const ACTED_DEAD_TIMES = 3;

type Known = Pick<Snapshot, 'chosen' | 'control' | 'score' | 'vehicle' | 'records' | 'time'>;

/** What the class may see; a fault only where the teacher shows it. */
export function snapshotOf(
  bench: PanelMachine,
  { chosen, control, time, score, vehicle, records }: Known,
): Snapshot {
  const { state, seen, ticket, phase } = bench;
  const { trip } = state.memory;
  return {
    type: 'snapshot',
    nowMs: seen.nowMs,
    phase,
    name: bench.name,
    chosen,
    ticket,
    ticketWritten: bench.ticketWritten,
    blockers: bench.blockers,
    told: bench.told,
    ...(records === undefined ? {} : { records }),
    progress: rounded(seen.progress),
    ribbon: phase === 'job' || phase === 'ended' ? ribbonOf(state, seen.nowMs) : [],
    ...promptOf(bench),
    ...(trip === undefined ? {} : { trip: { ...trip, remedy: reasonOf(trip.row).remedy } }),
    ...outcomeOf(bench),
    hosesSafe: hosesAreSafe(state),
    outputs: outputsOf(bench),
    ...switchesOf(bench),
    saturation: saturationOf(state),
    manifoldOverSpan: state.seen?.manifoldOverSpan === true,
    ...(state.seen?.ambientK === undefined ? {} : { ambientK: state.seen.ambientK }),
    barometerPa: state.seen?.barometerPa ?? bench.barometerPa,
    tank: {
      fillLimitKg: state.equipment.tank.fillLimitKg,
      waterCapacityM3: state.equipment.tank.waterCapacityM3,
      reserveKg: state.equipment.tank.reserveKg,
    },
    masses: massesOf(state),
    scaleTrust: state.estimates.scale.trust,
    cyclesKg: state.accounts.cycles.map(({ recoveredKg }) => recoveredKg),
    ...holdOf(bench),
    noticeCount: state.notices.length,
    simulatedOperator: bench.operator.automatic,
    ...(time === undefined ? {} : { time }),
    ...(bench.undriven === undefined ? {} : { undriven: bench.undriven }),
    faults: bench.faults.filter(({ shown }) => shown),
    ...(score === undefined ? {} : { score }),
    ...(vehicle === undefined ? {} : { vehicle }),
    control,
  };
}

/** What the class may not see. */
export function teacherViewOf(bench: PanelBench, revealed: boolean): TeacherView {
  const { bench: rig } = bench;
  return {
    truth: rig.truth(),
    acting: rig.inspect().on,
    vehicleLiquidKg: rig.within().vehicleLiquidKg,
    faults: bench.faults,
    score: bench.score(),
    revealed,
  };
}

/** Figures as fine as any instrument; the rest is noise on the line. */
function rounded(progress: Snapshot['progress']): Snapshot['progress'] {
  const figures = Object.fromEntries(
    Object.entries(progress.figures).map(([key, value]) => [key, Number(value.toPrecision(7))]),
  );
  const { prompt: _shownApart, ...rest } = progress;
  return { ...rest, figures };
}

function promptOf(bench: PanelMachine): Pick<Snapshot, 'prompt'> {
  const { prompt } = bench.state;
  if (prompt === undefined) return {};
  const shows = bench.shows();
  const underWay = bench.operator.isUnderWay(prompt);
  return { prompt: { ...prompt, ...(shows === undefined ? {} : { shows }), underWay } };
}

function outcomeOf({ phase, state, powerLost, broken }: PanelMachine): Pick<Snapshot, 'outcome'> {
  if (broken !== undefined) return { outcome: broken };
  if (phase !== 'ended') return {};
  return { outcome: powerLost ? 'power-lost' : state.chart.value };
}

const holdOf = ({ hold, state }: PanelMachine): Pick<Snapshot, 'hold'> => {
  const view = hold.view(state);
  return view === undefined ? {} : { hold: view };
};

const given = <T>(key: string, reading: Reading<T>) => (reading.ok ? { [key]: reading.value } : {});

function switchesOf({ seen }: PanelMachine): Partial<Snapshot> {
  const { fanFlow, emergencyStop, highPressureSwitch, gasAlarm } = seen.readings;
  return {
    ...given('fanTurns', fanFlow),
    ...given('emergencyStop', emergencyStop),
    ...given('highPressureSwitch', highPressureSwitch),
    ...given('gasAlarm', gasAlarm),
  };
}

function saturationOf({ seen, plan }: ControllerState): Snapshot['saturation'] {
  const highK = saturatedK(seen?.highSidePa, plan.curve);
  const lowK = saturatedK(seen?.lowSidePa, plan.curve);
  const tankK = saturatedK(seen?.tankPa, plan.curve);
  return {
    ...(highK === undefined ? {} : { highK }),
    ...(lowK === undefined ? {} : { lowK }),
    ...(tankK === undefined ? {} : { tankK }),
  };
}

function massesOf({ accounts }: ControllerState): Snapshot['masses'] {
  const { recoveredKg, chargedKg, netChargeKg, uncertaintyKg, hoseRecoveredKg } = accounts;
  const known = Object.entries({
    recoveredKg,
    chargedKg,
    netChargeKg,
    uncertaintyKg,
    hoseRecoveredKg,
  }).filter(([, value]) => value !== undefined);
  return { ...Object.fromEntries(known), ...(accounts.lostTrack ? { lostTrack: true } : {}) };
}

function outputsOf(bench: PanelMachine): readonly OutputView[] {
  const { state, seen } = bench;
  const { equipment, byHand, judged } = state;
  const actedMs = ACTED_DEAD_TIMES * equipment.valveDeadTimeMs;
  return OUTPUTS.map((output) => {
    const { on } = seen.commands[output];
    const wish = byHand?.wishes.find((one) => one.output === output);
    const [reason] = byHand === undefined || on ? [] : whyNot(state, output, seen.nowMs);
    return {
      output,
      fitted: equipment.fitted.includes(output),
      wanted: judged?.wanted[output].on ?? false,
      on,
      settled: seen.nowMs - bench.commandedSinceMs(output) >= actedMs,
      ...(wish === undefined ? {} : { untilMs: wish.untilMs }),
      ...(reason === undefined
        ? {}
        : { refusal: { row: reason.row, because: because(reason), remedy: reason.remedy } }),
    };
  });
}

/** A stage that has come more than once, as recover and rest do, counts with all its time. */
function ribbonOf(state: ControllerState, nowMs: number): readonly RibbonStage[] {
  const { plan, visits } = state;
  const now = visits.at(-1);
  const running = now !== undefined && now.endedAtMs === undefined ? now.stage : undefined;
  const reached = Math.max(...visits.map(({ stage }) => plan.stages.indexOf(stage)), -1);
  const spanOf = (stage: Stage): Span => {
    const { low, high } = usual(stage, state);
    return { lowMs: low, highMs: high };
  };
  return plan.stages.map((stage, index): RibbonStage => {
    const own = visits.filter((visit) => visit.stage === stage);
    if (own.length === 0) {
      const over = index < reached || running === undefined;
      return over ? { stage, state: 'skipped' } : { stage, state: 'next', expected: spanOf(stage) };
    }
    const elapsedMs = own.reduce((sum, visit) => sum + (visit.endedAtMs ?? nowMs) - visit.startedAtMs, 0);
    const result = own.at(-1)?.result;
    const shared = { stage, elapsedMs, ...(result === undefined ? {} : { result }) };
    return stage === running
      ? { ...shared, state: 'now', expected: spanOf(stage) }
      : { ...shared, state: 'done' };
  });
}
