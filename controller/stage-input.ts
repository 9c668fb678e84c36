// What the running stage is shown of the controller's state, and which answers are meant for it.
import type { OperatorEvent } from './operator.ts';
import { SAFE_COMMANDS } from './signals.ts';
import type { StageInput } from './stages/stage.ts';
import type { ControllerState } from './state.ts';

/** Until the compressor may start; all of its rest where nothing is known of it. */
export function compressorRestLeftMs({ memory, equipment }: ControllerState, nowMs: number): number {
  const restedMs = nowMs - (memory.compressorOffSinceMs ?? nowMs);
  return Math.max(equipment.compressor.minimumOffMs - restedMs, 0);
}

/** @param state after its readings have been looked at: before that no stage steps. */
export function stageInput(
  state: ControllerState,
  answers: readonly OperatorEvent[],
  nowMs: number,
): StageInput {
  const restLeftMs = compressorRestLeftMs(state, nowMs);
  return {
    plan: state.plan,
    equipment: state.equipment,
    nowMs,
    seen: state.seen!,
    estimates: state.estimates,
    accounts: state.accounts,
    permitted: state.judged?.permitted ?? SAFE_COMMANDS,
    compressorRestLeftMs: restLeftMs,
    compressorRested: state.memory.compressorOffSinceMs !== undefined && restLeftMs === 0,
    engine: state.memory.engineWatch.engine,
    lossWatch: state.memory.lossWatch,
    airWatch: state.memory.airWatch,
    answers: answers.length === 0 ? answers : answers.filter((answer) => isAsked(answer, state)),
  };
}

/** An answer counts only while its question stands. */
function isAsked(answer: OperatorEvent, { prompt }: ControllerState): boolean {
  if (prompt === undefined) return false;
  if (answer?.type === 'identified' || answer?.type === 'identification-overridden') {
    return prompt.id === 'identify-refrigerant';
  }
  return (
    (answer?.type === 'confirmed' ||
      answer?.type === 'entered' ||
      answer?.type === 'declined' ||
      answer?.type === 'searched') &&
    answer.prompt === prompt.id
  );
}
