// Every set of results, in the order of the page.
import { evacuation } from './evacuation.ts';
import { faults } from './faults.ts';
import { grams } from './grams.ts';
import { handsOn } from './hands-on.ts';
import { holds } from './holds.ts';
import { powerCuts } from './power-cuts.ts';
import { recovery } from './recovery.ts';
import type { Topic } from './topic.ts';

export const TOPICS: readonly Topic[] = [grams, recovery, holds, evacuation, handsOn, powerCuts, faults];
