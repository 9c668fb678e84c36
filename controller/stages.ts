// The steps of the services by name, in the order in which they follow each other.

export const STAGES = [
  'identify',
  'fill',
  'purge-air',
  'settle',
  'recover',
  'rest',
  'drain-oil',
  'repair',
  'evacuate',
  'hold',
  'add-oil',
  'leak-check',
  'charge',
  'verify',
  'clear-hoses',
  'recover-hoses',
] as const;
export type Stage = (typeof STAGES)[number];
