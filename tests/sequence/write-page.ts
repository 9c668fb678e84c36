// Writes the page on the sequence anew: `npm run sequence`.
import { writeFileSync } from 'node:fs';
import { PAGE, pageText } from './page.ts';

writeFileSync(PAGE, pageText());
