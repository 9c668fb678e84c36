// `npm run panel:build`: the page, built now whether it is stale or not.
import { buildPage } from './build.ts';

await buildPage();
