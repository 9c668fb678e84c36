// What is still due of oil and dye, and how it is told when it stays away.
import type { NoticeDraft } from '../notices.ts';
import type { Liquid } from '../ticket.ts';
import { millilitres, type StageInput } from './stage.ts';

type Known = Pick<StageInput, 'accounts' | 'plan'>;

/** What the ticket asks for, with the oil that was drained, less what is in already. */
export function dueM3(liquid: Liquid, { accounts, plan }: Known): number {
  const { injectedM3 = 0 } = accounts[liquid];
  const drainedM3 = liquid === 'oil' ? (accounts.oil.drainedM3 ?? 0) : 0;
  return drainedM3 + plan.ticket[liquid].addM3 - injectedM3;
}

/** What is due and not in the vehicle: someone must put it in by hand. */
export function missing(liquid: Liquid, known: Known): readonly NoticeDraft[] {
  const { plan } = known;
  const missingM3 = dueM3(liquid, known);
  if (missingM3 < plan.addOil.leastM3) return [];
  const figures = { missing: millilitres(missingM3) };
  return liquid === 'oil'
    ? [{ code: 'oil-not-replaced', with: { ...figures, kind: plan.ticket.oil.kind } }]
    : [{ code: 'dye-not-added', with: figures }];
}
