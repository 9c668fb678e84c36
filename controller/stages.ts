// The steps of a service, by name.

export const STAGES = [
  'identify',
  'settle',
  'recover',
  'rest',
  'evacuate',
  'hold',
  'charge',
  'recover-hoses',
] as const;
export type Stage = (typeof STAGES)[number];
