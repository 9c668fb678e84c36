// Exit statuses of the command line.

export const EXIT = {
  completed: 0,
  stopped: 1,
  badInput: 2,
  /** EX_SOFTWARE of sysexits.h: our own mistake. */
  internal: 70,
} as const;
