// The reading of the catch bottle: asked once the foam has settled, by whichever later stage needs it first.
import type { NoticeDraft } from '../notices.ts';
import { CATCH_BOTTLE_M3 } from '../prompts.ts';
import type { Accounts } from '../state.ts';
import { millilitres, type StageInput } from './stage.ts';

export type Reading =
  /** Nothing was drained, or it has been read. */
  | { readonly is: 'known' }
  | { readonly is: 'foaming' }
  | { readonly is: 'asked'; readonly notices: readonly NoticeDraft[] }
  | { readonly is: 'read'; readonly accounts: Accounts; readonly notices: readonly NoticeDraft[] };

/** Where the reading stands. Whoever gets `asked` shows the prompt with every output off. */
export function readCatchBottle({ accounts, answers, nowMs, plan }: StageInput): Reading {
  const { oil } = accounts;
  if (oil.drainedAtMs === undefined || oil.drainedM3 !== undefined) return { is: 'known' };
  const entered = answers.find((answer) => answer.type === 'entered');
  if (entered === undefined) {
    return nowMs - oil.drainedAtMs < plan.drainOil.foamMs ? { is: 'foaming' } : { is: 'asked', notices: [] };
  }
  const drainedM3 = entered.volumeM3;
  if (!(drainedM3 >= CATCH_BOTTLE_M3.least && drainedM3 <= CATCH_BOTTLE_M3.most)) {
    const most = millilitres(CATCH_BOTTLE_M3.most);
    return {
      is: 'asked',
      notices: [{ code: 'entry-refused', with: { entered: millilitres(drainedM3), most } }],
    };
  }
  const flood = drainedM3 > plan.drainOil.floodM3;
  return {
    is: 'read',
    accounts: { ...accounts, oil: { ...oil, drainedM3 } },
    notices: flood ? [{ code: 'oil-flooding', with: { drained: millilitres(drainedM3) } }] : [],
  };
}
