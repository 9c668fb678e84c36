// What the running stage is shown of the controller's state, and which answers are meant for it.
import type { OperatorEvent } from './operator.ts';
import { SAFE_COMMANDS } from './signals.ts';
import type { StageInput } from './stages/stage.ts';
import type { ControllerState } from './state.ts';

/** @param state after its readings have been looked at: before that no stage steps. */
export function stageInput(
  state: ControllerState,
  answers: readonly OperatorEvent[],
  nowMs: number,
): StageInput {
  const offSinceMs = state.memory.compressorOffSinceMs;
  const restedMs = offSinceMs === undefined ? 0 : nowMs - offSinceMs;
  const compressorRestLeftMs = Math.max(state.equipment.compressor.minimumOffMs - restedMs, 0);
  return {
    plan: state.plan,
    equipment: state.equipment,
    nowMs,
    seen: state.seen!,
    estimates: state.estimates,
    accounts: state.accounts,
    permitted: state.judged?.permitted ?? SAFE_COMMANDS,
    compressorRestLeftMs,
    compressorRested: offSinceMs !== undefined && compressorRestLeftMs === 0,
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
