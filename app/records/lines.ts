// What lists of the records are made of: plain data, as a page is sent it.

export type JobLine = {
  readonly id: number;
  readonly name: string;
  readonly service: string;
  readonly refrigerant: string;
  readonly nominalKg: number;
  readonly machine: string;
  readonly openedAt: string;
  readonly closedAt?: string;
  /** Absent while it is open. */
  readonly outcome?: string;
  readonly recoveredKg?: number;
  readonly chargedKg?: number;
};

export const UPKEEP_ITEMS = [
  'pump-oil',
  'filter-drier',
  'scale-weights',
  'sensor-zero',
  'machine-leak-test',
  'hose-leak-test',
  'lay-up',
  'put-back',
] as const;
export type UpkeepItem = (typeof UPKEEP_ITEMS)[number];

export type UpkeepState = {
  readonly item: UpkeepItem;
  readonly title: string;
  readonly how: string;
  readonly standing: 'in order' | 'due soon' | 'due' | 'failed' | 'when needed';
  /** What it has come to since it was last done, against its interval. */
  readonly since: string;
  readonly lastAt?: string;
  readonly lastVerdict?: string;
};
