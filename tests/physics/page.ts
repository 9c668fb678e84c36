// The page on physics with its two generated sections.
import { TOPICS } from './checks/index.ts';
import { PARAMETERS } from './parameters.ts';
import { checksText, parametersText, withSection } from './table.ts';

export const PAGE = 'docs/physics.md';

export const pageWithTables = (page: string): string =>
  withSection(withSection(page, 'parameters', parametersText(PARAMETERS)), 'checks', checksText(TOPICS));
