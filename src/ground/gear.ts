/** Every item of a catalogue by its id. */

import type { Catalogue } from './vocabulary.js';

/** All that stands in a list of its own. */
export const listedItems = ({
  units,
  ties,
  clamps = [],
  aligners = [],
  braces = [],
  brackets = [],
  planks = [],
  rails = [],
  liftingBrackets = [],
}: Catalogue): readonly { readonly id: string }[] => [
  ...units,
  ...ties,
  ...clamps,
  ...aligners,
  ...braces,
  ...brackets,
  ...planks,
  ...rails,
  ...liftingBrackets,
];

/** What holds aligners to the frames: several aligners may share one. */
export const fixingIds = ({ aligners = [] }: Catalogue): string[] =>
  aligners.flatMap((a) => (a.fixing ? [a.fixing.id] : []));

/** Ids that a stock list may name. */
export const itemIds = (catalogue: Catalogue): ReadonlySet<string> =>
  new Set([...listedItems(catalogue).map((x) => x.id), ...fixingIds(catalogue)]);
