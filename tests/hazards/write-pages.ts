// Writes the pages on hazards and interlocks anew: `npm run hazards`.
import { writeFileSync } from 'node:fs';
import { PAGE as INTERLOCKS_PAGE, interlocksText } from './interlocks-page.ts';
import { PAGE, pageText } from './page.ts';

writeFileSync(PAGE, pageText());
writeFileSync(INTERLOCKS_PAGE, interlocksText());
