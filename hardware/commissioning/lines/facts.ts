// (a) Facts: what data sheets, drawings and labels say. Nothing is measured, and nothing has a default.
import { FACTS, factsAsked, questionOf, spansProblem } from '../facts.ts';
import type { Line, Move } from '../line.ts';
import { asked, type Heeded, reckoned } from '../moves.ts';

const NOT_ASKED: Move = reckoned(() => ({}));

export const facts: Line = {
  id: 'facts',
  title: 'Facts from data sheets, drawings and labels',
  why: 'What nobody can measure on the rig must be known before anything is driven, and a wrong span or limit makes every later figure wrong.',
  needs: [],
  mayDrive: {},
  validDays: 365,
  tolerances: [],
  remedy: 'look the figure up again and repeat the line',
  moves: ({ figures, refrigerants }) => [
    ...FACTS.map((fact) =>
      factsAsked(figures).includes(fact)
        ? asked(questionOf(fact, refrigerants), (value): Heeded => {
            const problem = spansProblem({ ...figures, [fact.key]: value });
            return problem === undefined ? { [fact.key]: value } : { problem };
          })
        : NOT_ASKED,
    ),
  ],
};
