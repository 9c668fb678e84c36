// The state of nodes and edges as plain data: every number and switch that they have.
import type { Node } from './node.ts';

type SavedFields = { readonly [name: string]: number | boolean };

export const saveFields = (from: object): SavedFields =>
  Object.fromEntries(
    Object.entries(from).filter(([, value]) => typeof value === 'number' || typeof value === 'boolean'),
  );

export const restoreFields = (to: object, saved: SavedFields): void => {
  Object.assign(to, saved);
};

type SavedNode = { readonly fields: SavedFields; readonly anchor: SavedFields };

export const saveNode = (node: Node): SavedNode => ({
  fields: saveFields(node),
  anchor: saveFields(node.anchor),
});

export function restoreNode(node: Node, { fields, anchor }: SavedNode): void {
  restoreFields(node, fields);
  restoreFields(node.anchor, anchor);
}
