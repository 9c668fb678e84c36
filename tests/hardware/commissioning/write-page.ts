// Writes the tables of the page on commissioning anew: `npm run commissioning`.
import { readFileSync, writeFileSync } from 'node:fs';
import { PAGE, pageWith } from './page.ts';

writeFileSync(PAGE, pageWith(readFileSync(PAGE, 'utf8')));
