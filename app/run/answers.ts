// What a person reads off an instrument, as the event that it means: the same at a terminal and at the page.
import type { OperatorEvent, Prompt } from '../../controller/operator.ts';
import { findFluid } from '../../sim/fluids/fluid.ts';
import { InputError } from '../cli/command.ts';

export type ReadOff = {
  readonly refrigerant: string;
  readonly purityPercent: number;
  readonly airPercent?: number | undefined;
  readonly hydrocarbonPercent?: number | undefined;
};

/** R134a is what an identifier may show for R-134a. */
function refrigerantFrom(shown: string): string {
  const [, digits, rest] = /^R-?(\d+)([a-z]*(?:\([A-Z]\))?)$/i.exec(shown.trim()) ?? [];
  if (digits === undefined)
    throw new InputError(`'${shown.trim()}' is no refrigerant; write what the identifier shows, as R-134a`);
  const name = `R-${digits}${rest}`;
  return findFluid(name)?.name ?? name;
}

/** @throws InputError for what no identifier shows. */
export function identifiedBy(read: ReadOff): OperatorEvent {
  const { purityPercent, airPercent, hydrocarbonPercent } = read;
  const shares = [purityPercent, airPercent ?? 0, hydrocarbonPercent ?? 0];
  if (shares.some((percent) => !(percent >= 0 && percent <= 100)))
    throw new InputError('no share is below 0 or above 100 %; write it in per cent');
  return {
    type: 'identified',
    result: {
      refrigerant: refrigerantFrom(read.refrigerant),
      purityPercent,
      ...(airPercent === undefined ? {} : { airPercent }),
      ...(hydrocarbonPercent === undefined ? {} : { hydrocarbonPercent }),
    },
  };
}

/** @throws InputError for more than the bottle holds. */
export function bottleRead(volumeM3: number, { volumeM3: bounds }: Prompt): OperatorEvent {
  if (bounds !== undefined && (volumeM3 < bounds.least || volumeM3 > bounds.most))
    throw new InputError(`the bottle holds at most ${(bounds.most * 1e6).toFixed(0)} mL; read it again`);
  return { type: 'entered', prompt: 'read-catch-bottle', volumeM3 };
}
