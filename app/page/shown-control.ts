// Whether some page has control, how many are there, and whether one of them is the teacher's.
export type ControlView = {
  readonly held: boolean;
  readonly watching: number;
  readonly ledByTeacher: boolean;
};
