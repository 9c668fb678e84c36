// Rewrites the generated sections of the page on physics: `npm run physics`.
import { readFileSync, writeFileSync } from 'node:fs';
import { PAGE, pageWithTables } from './page.ts';

const page = new URL(`../../${PAGE}`, import.meta.url);
writeFileSync(page, pageWithTables(readFileSync(page, 'utf8')));
