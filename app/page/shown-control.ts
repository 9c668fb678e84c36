// Whether some page has control, and how many are there.
export type ControlView = { readonly held: boolean; readonly watching: number };
