// One line of the person at a real machine: what it says to the controller, or one clear line of what is wrong with it.
import type { ConfirmedPrompt, OperatorEvent, Prompt } from '../../controller/operator.ts';
import { bottleRead, identifiedBy } from '../run/answers.ts';
import { InputError } from './command.ts';
import { suggestion } from './nearest.ts';

export type JobLine =
  | { readonly kind: 'say'; readonly event: OperatorEvent }
  /** Go on after a pause, a trip or a lost line; takes control of the board anew. */
  | { readonly kind: 'go-on' }
  | { readonly kind: 'help' };

export const JOB_LINES_HELP = `  done                      what the machine asked for is done
  REFRIGERANT PURITY        what the identifier shows, for example: R-134a 99.6, or R-134a 99.6 air 0.4 hydrocarbons 0
  no pressure WHY           there is no sample to take; the machine will look
  elsewhere WHY             the refrigerant was identified by other means
  decline                   no, where that is a choice (letting air off)
  NUMBER ml                 what stands in the catch bottle, in millilitres
  found, nothing            what the search with the detector showed
  pause, stop               shut everything and wait
  go on                     go on after a pause, a trip or a lost line: takes control of the board anew
  abort                     end the job in order; everything is shut
  help                      these lines

Ctrl-C aborts as well.
`;

const WORDS = [
  'done',
  'no pressure',
  'elsewhere',
  'decline',
  'found',
  'nothing',
  'pause',
  'stop',
  'go on',
  'abort',
  'help',
];

const say = (event: OperatorEvent): JobLine => ({ kind: 'say', event });

function confirmed(prompt: Prompt): JobLine {
  switch (prompt.id) {
    case 'identify-refrigerant':
      throw new InputError(
        "write what the identifier shows, for example 'R-134a 99.6'; or 'no pressure WHY'",
      );
    case 'read-catch-bottle':
      throw new InputError("write what stands in the bottle, for example '12 ml'");
    case 'search-leak':
      throw new InputError("write 'found' or 'nothing'");
    default:
      return say({ type: 'confirmed', prompt: prompt.id satisfies ConfirmedPrompt });
  }
}

const READING =
  /^(R-?\d+[a-z]*(?:\([A-Z]\))?) +(\d+(?:\.\d+)?) *%?(?: +air +(\d+(?:\.\d+)?) *%?)?(?: +hydrocarbons? +(\d+(?:\.\d+)?) *%?)?$/i;

function identified(text: string): JobLine | undefined {
  const match = READING.exec(text);
  if (match === null) return undefined;
  const [, refrigerant, purity, air, hydrocarbons] = match;
  return say(
    identifiedBy({
      refrigerant: refrigerant!,
      purityPercent: Number(purity),
      airPercent: air === undefined ? undefined : Number(air),
      hydrocarbonPercent: hydrocarbons === undefined ? undefined : Number(hydrocarbons),
    }),
  );
}

function overridden(text: string): JobLine | undefined {
  const match = /^(no pressure|elsewhere)\b[:,]? *(.*)$/i.exec(text);
  if (match === null) return undefined;
  const [, which, reason] = match;
  if (reason === '') throw new InputError(`say why after '${which}': it is kept in the record`);
  const why = which!.toLowerCase() === 'elsewhere' ? 'identified-elsewhere' : 'no-pressure';
  return say({ type: 'identification-overridden', why, reason: reason! });
}

function bottle(text: string, prompt: Prompt): JobLine | undefined {
  const match = /^(\d+(?:\.\d+)?) *(ml|millilitres?)?$/i.exec(text);
  return match === null ? undefined : say(bottleRead(Number(match[1]) * 1e-6, prompt));
}

/** Answers to what is being asked. */
function answered(text: string, prompt: Prompt): JobLine | undefined {
  const word = text.toLowerCase();
  if (word === 'done' || word === 'yes') return confirmed(prompt);
  switch (prompt.id) {
    case 'identify-refrigerant':
      return identified(text) ?? overridden(text);
    case 'read-catch-bottle':
      return bottle(text, prompt);
    case 'search-leak':
      if (word === 'found' || word === 'nothing')
        return say({ type: 'searched', prompt: 'search-leak', found: word === 'found' });
      return undefined;
    case 'purge-air':
      return word === 'decline' || word === 'no' ? say({ type: 'declined', prompt: 'purge-air' }) : undefined;
    default:
      return undefined;
  }
}

function always(word: string): JobLine | undefined {
  switch (word) {
    case 'pause':
    case 'stop':
      return say({ type: 'paused' });
    case 'go on':
    case 'resume':
      return { kind: 'go-on' };
    case 'abort':
    case 'quit':
    case 'exit':
      return say({ type: 'aborted' });
    case 'help':
    case '?':
      return { kind: 'help' };
    default:
      return undefined;
  }
}

/**
 * Nothing for an empty line.
 * @throws InputError with the remedy; nothing has been said to the controller then.
 */
export function jobLine(typed: string, prompt: Prompt | undefined): JobLine | undefined {
  const text = typed.trim().replace(/\s+/g, ' ');
  if (text === '') return undefined;
  const line = always(text.toLowerCase()) ?? (prompt === undefined ? undefined : answered(text, prompt));
  if (line !== undefined) return line;
  if (prompt === undefined && WORDS.includes(text.toLowerCase()))
    throw new InputError('nothing is being asked now; the machine tells when it waits for you');
  const pointed = text.replace(/(\d),(\d)/g, '$1.$2');
  if (pointed !== text && prompt !== undefined && answered(pointed, prompt) !== undefined)
    throw new InputError(`write decimals with a point: '${pointed}'`);
  throw new InputError(`'${text}' is no answer here; ${suggestion(text, WORDS)}`);
}
