// Hand over: the hoses are said to be safe to take off, and that is taken back when pressure returns to them.
import { SURE } from '../constants.ts';
import { barometerPa } from '../estimates/pressures.ts';
import type { NoticeDraft } from '../notices.ts';
import type { Accounts } from '../state.ts';
import { kilopascals, type StageInput } from './stage.ts';

type Look = Pick<StageInput, 'plan' | 'equipment'> & { readonly seen: StageInput['seen'] | undefined };

/** What a gauge on a connected hose reads more than its own error could make of a hose that is safe, or nothing. */
function pressureShownPa({ plan, seen, equipment }: Look): number | undefined {
  if (seen === undefined) return undefined;
  const limitPa = barometerPa(seen) + plan.hoses.disconnectGaugePa;
  const { highSideSdPa, lowSideSdPa } = equipment.pressure;
  const { highSidePa, lowSidePa } = seen;
  if (highSidePa !== undefined && highSidePa > limitPa + SURE * highSideSdPa) return highSidePa;
  const looksAtLow = plan.ticket.ports === 2 || equipment.fitted.includes('lowSideValve');
  return looksAtLow && lowSidePa !== undefined && lowSidePa > limitPa + SURE * lowSideSdPa
    ? lowSidePa
    : undefined;
}

export const hosesShowPressure = (look: Look): boolean => pressureShownPa(look) !== undefined;

/** The job waits for nobody to take them off. */
export const handOver = ({ accounts }: Pick<StageInput, 'accounts'>) => ({
  accounts: { ...accounts, hosesSafe: true },
  notices: [{ code: 'hoses-safe' }] satisfies NoticeDraft[],
});

/** After the end nothing is drawn any more: the word is taken back once, and a new job has to give it anew. */
export function takenBack(
  look: Look & { readonly accounts: Accounts },
): { readonly accounts: Accounts; readonly notice: NoticeDraft } | undefined {
  if (!look.accounts.hosesSafe) return undefined;
  const shownPa = pressureShownPa(look);
  return shownPa === undefined
    ? undefined
    : {
        accounts: { ...look.accounts, hosesSafe: false },
        notice: { code: 'hoses-not-safe', with: { pressure: kilopascals(shownPa) } },
      };
}
