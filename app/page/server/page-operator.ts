// The operator at the page: says what the person says, with the simulated operator's hands where the bench is simulated.
import type { Notice } from '../../../controller/notice.ts';
import type { ConfirmedPrompt, OperatorEvent, Prompt } from '../../../controller/operator.ts';
import { InputError } from '../../cli/command.ts';
import { bottleRead, identifiedBy } from '../../run/answers.ts';
import type { Operator } from '../../run/operator.ts';
import type { Answer } from '../messages.ts';

const NOTHING: readonly OperatorEvent[] = [];
/** What is more than one deed, or takes a while, the simulated hands do before it is said. */
const WITHOUT_CONFIRMATION = ['identify-refrigerant', 'read-catch-bottle', 'search-leak'] as const;

const isConfirmed = (id: Prompt['id']): id is ConfirmedPrompt =>
  !(WITHOUT_CONFIRMATION as readonly string[]).includes(id);

/** The event that an answer means, or why it is none. @throws InputError for a figure that no instrument shows. */
function eventOf(answer: Answer, prompt: Prompt): OperatorEvent | string {
  const { id } = prompt;
  switch (answer.kind) {
    case 'done':
      return isConfirmed(id)
        ? { type: 'confirmed', prompt: id }
        : 'this is answered by a figure or a finding';
    case 'declined':
      return id === 'purge-air'
        ? { type: 'declined', prompt: id }
        : 'this can not be declined; stop the job instead';
    case 'reading':
      return id === 'identify-refrigerant' ? identifiedBy(answer) : 'no identifier is asked for';
    case 'no-reading':
      if (id !== 'identify-refrigerant') return 'no identifier is asked for';
      return { type: 'identification-overridden', why: answer.why, reason: answer.reason };
    case 'volume':
      return id === 'read-catch-bottle' ? bottleRead(answer.volumeM3, prompt) : 'no volume is asked for';
    case 'searched':
      return id === 'search-leak'
        ? { type: 'searched', prompt: id, found: answer.found }
        : 'no search is asked for';
  }
}

function wellRead(read: () => OperatorEvent | string): OperatorEvent | string {
  try {
    return read();
  } catch (error) {
    if (error instanceof InputError) return error.message;
    throw error;
  }
}

export class PageOperator implements Operator {
  /** At a simulated bench; they take no time of their own but that of the work. */
  readonly #hands: Operator | undefined;
  readonly #simulated: Operator | undefined;
  #waiting: OperatorEvent[] = [];
  #underWay: number | undefined;
  automatic = false;

  /** @param hands does what is confirmed, @param simulated answers everything while `automatic`. */
  constructor(hands?: Operator, simulated?: Operator) {
    this.#hands = hands;
    this.#simulated = simulated;
  }

  /** The hands are at work for this asking. */
  isUnderWay(prompt: Prompt | undefined): boolean {
    return prompt !== undefined && this.#underWay === prompt.askedAtMs;
  }

  /** @returns why this is no answer, or nothing. */
  answer(answer: Answer, prompt: Prompt | undefined): string | undefined {
    if (prompt === undefined || prompt.id !== answer.prompt || prompt.askedAtMs !== answer.askedAtMs)
      return 'this is not being asked any longer';
    if (this.isUnderWay(prompt)) return 'this is under way';
    const event = wellRead(() => eventOf(answer, prompt));
    if (typeof event === 'string') return event;
    if (event.type === 'confirmed' && this.#hands !== undefined) this.#underWay = prompt.askedAtMs;
    else this.#waiting.push(event);
    return undefined;
  }

  respond(prompt: Prompt | undefined, nowMs: number): readonly OperatorEvent[] {
    if (this.automatic && this.#simulated !== undefined) {
      // What was said before answers nothing that is asked later.
      this.#waiting = [];
      return this.#simulated.respond(prompt, nowMs);
    }
    if (this.isUnderWay(prompt)) {
      const events = this.#hands!.respond(prompt, nowMs);
      if (events.length > 0) this.#underWay = undefined;
      return events;
    }
    if (this.#waiting.length === 0) return NOTHING;
    const events = this.#waiting;
    this.#waiting = [];
    return events;
  }

  hear(notices: readonly Notice[], nowMs: number): void {
    if (this.automatic) this.#simulated?.hear?.(notices, nowMs);
    // Warming ends when the machine has had enough. The hoses are taken off by whoever says so, not by these hands.
    else
      this.#hands?.hear?.(
        notices.filter(({ code }) => code !== 'hoses-safe'),
        nowMs,
      );
  }
}
