// Every set of results, in the order of the page.
import { grams } from './grams.ts';
import type { Topic } from './topic.ts';

export const TOPICS: readonly Topic[] = [grams];
