/** The totals as both tables name them. */

import type { Totals } from '../../ground/vocabulary.js';

export const TOTAL_NAMES: readonly (readonly [keyof Totals, string, string])[] = [
  ['wallLengthM', 'wall length along axes', 'm'],
  ['contactAreaM2', 'contact area, left and right faces, gross', 'm2'],
  ['contactAreaNetM2', 'contact area less openings', 'm2'],
  ['endAreaM2', 'area of wall ends', 'm2'],
  ['panelAreaM2', 'area of panels', 'm2'],
  ['timberAreaM2', 'area of timber on wall faces, cut at the pour line', 'm2'],
  ['massKg', 'mass of all items', 'kg'],
  ['concreteM3', 'concrete in the walls', 'm3'],
  ['tieCount', 'ties', 'pieces'],
];
