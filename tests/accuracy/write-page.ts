// Rewrites the page of results from what the last runs have kept: `npm run accuracy:page`.
import { writePage } from './topic.ts';
import { TOPICS } from './topics.ts';

writePage(TOPICS);
