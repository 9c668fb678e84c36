// Hand over: the hoses are said to be safe to take off, and that is taken back when pressure returns to them.
import { SURE } from '../constants.ts';
import { barometerPa } from '../estimates/pressures.ts';
import type { NoticeDraft } from '../notices.ts';
import { OUTPUTS } from '../signals.ts';
import type { Accounts, ControllerState } from '../state.ts';
import { kilopascals, type StageInput } from './stage.ts';

type Look = Pick<StageInput, 'plan' | 'equipment'> & { readonly seen: StageInput['seen'] | undefined };

const looksAtLow = ({ plan, equipment }: Pick<Look, 'plan' | 'equipment'>): boolean =>
  plan.ticket.ports === 2 || equipment.fitted.includes('lowSideValve');

/** What a gauge on a connected hose reads more than its own error could make of a hose that is safe, or nothing. */
function pressureShownPa({ plan, seen, equipment }: Look): number | undefined {
  if (seen === undefined) return undefined;
  const limitPa = barometerPa(seen) + plan.hoses.disconnectGaugePa;
  const { highSideSdPa, lowSideSdPa } = equipment.pressure;
  const { highSidePa, lowSidePa } = seen;
  if (highSidePa !== undefined && highSidePa > limitPa + SURE * highSideSdPa) return highSidePa;
  return looksAtLow({ plan, equipment }) &&
    lowSidePa !== undefined &&
    lowSidePa > limitPa + SURE * lowSideSdPa
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

/** Whether the word may be shown now: it stands, the hoses that it is said of are read, and nothing is on that could fill them. */
export function hosesAreSafe(state: ControllerState): boolean {
  const { accounts, seen, judged } = state;
  if (!accounts.hosesSafe || seen?.highSidePa === undefined) return false;
  const on = OUTPUTS.some((output) => output !== 'fanStop' && judged?.permitted[output].on === true);
  return !on && (seen.lowSidePa !== undefined || !looksAtLow(state));
}
