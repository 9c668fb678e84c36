// The steps of a service by name, in the order of a whole one.

export const STAGES = [
  'identify',
  'purge-air',
  'settle',
  'recover',
  'rest',
  'drain-oil',
  'repair',
  'evacuate',
  'hold',
  'add-oil',
  'charge',
  'verify',
  'clear-hoses',
  'recover-hoses',
] as const;
export type Stage = (typeof STAGES)[number];
