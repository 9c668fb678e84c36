// What is still due of oil and dye, and how it is told when it stays away.
import type { NoticeDraft } from '../notices.ts';
import type { Plan } from '../plan.ts';
import type { Liquid } from '../ticket.ts';
import { millilitres, type StageInput } from './stage.ts';

type Known = Pick<StageInput, 'accounts' | 'plan'>;

/** What the ticket asks for, with the oil that was drained, less what is in already. */
export function dueM3(liquid: Liquid, { accounts, plan }: Known): number {
  const { injectedM3 = 0 } = accounts[liquid];
  const drainedM3 = liquid === 'oil' ? (accounts.oil.drainedM3 ?? 0) : 0;
  return drainedM3 + plan.ticket[liquid].addM3 - injectedM3;
}

/** A service that only recovers takes oil out and puts none in: nothing has failed. */
const whyNot = ({ stages }: Plan): { readonly why: string; readonly first: string } =>
  stages.includes('charge')
    ? {
        why: 'this machine did not add them',
        first: 'Check the bottle, its valve and the manifold pressure sensor, and',
      }
    : {
        why: 'they came out with the refrigerant, and this service puts none in',
        first: 'Write them into the ticket of its next charge, if that machine adds oil, or',
      };

/** What is due and not in the vehicle: someone must put it in by hand. */
export function missing(liquid: Liquid, known: Known): readonly NoticeDraft[] {
  const { plan } = known;
  const missingM3 = dueM3(liquid, known);
  if (missingM3 < plan.addOil.leastM3) return [];
  const figures = { missing: millilitres(missingM3) };
  return liquid === 'oil'
    ? [{ code: 'oil-not-replaced', with: { ...figures, ...whyNot(plan), kind: plan.ticket.oil.kind } }]
    : [{ code: 'dye-not-added', with: figures }];
}
