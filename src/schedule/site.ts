/** Aligners, braces and platforms as single things to be counted, each with the face on which it stands. */

import type { Catalogue, CheckedLayout, ScheduleRow, SmallPart } from '../ground/vocabulary.js';

export type SiteThing = Omit<ScheduleRow, 'count' | 'stock'> & { readonly face: string };

const ALIGNER_REMARK = 'lines the forms up and carries no concrete pressure';

/** Sizes and mass of every item of the site gear, by id. */
const sizesOf = (catalogue: Catalogue) => {
  const { aligners = [], braces = [], brackets = [], planks = [], rails = [] } = catalogue;
  const sizes = new Map<string, { readonly widthMm: number; readonly heightMm: number; readonly massKg: number }>();
  const put = (id: string, massKg: number, widthMm = 0, heightMm = 0) => sizes.set(id, { widthMm, heightMm, massKg });
  for (const a of aligners) {
    put(a.id, a.massKg, a.lengthMm);
    if (a.fixing) put(a.fixing.id, a.fixing.massKg);
  }
  for (const b of braces) put(b.id, b.massKg, b.lengthMm.toMm);
  for (const b of brackets) put(b.id, b.massKg, b.widthMm, b.heightMm);
  for (const p of planks) put(p.id, p.massKg, p.lengthMm, p.widthMm);
  for (const r of rails) put(r.id, r.massKg, r.lengthMm);
  return sizes;
};

/** All things, one entry each. Throws when an item is not in the catalogue, since no stage may invent one. */
export const siteGear = (layout: CheckedLayout, catalogue: Catalogue): SiteThing[] => {
  const { aligners = [], braces = [], platforms = [], decks = [] } = layout;
  const sizes = sizesOf(catalogue);
  const thing = (item: string, kind: ScheduleRow['kind'], face: string): SiteThing => {
    const size = sizes.get(item);
    if (size === undefined) throw new Error(`${kind} ${item} is not in the catalogue`);
    const remark = kind === 'aligner' ? { remark: ALIGNER_REMARK } : {};
    return { item, kind, face, ...size, ...remark };
  };
  const small = (parts: readonly SmallPart[], face: string) =>
    parts.flatMap(({ item, kind, count }) => Array.from({ length: count }, () => thing(item, kind, face)));
  return [
    ...aligners.flatMap((a) => [thing(a.item, 'aligner', a.face), ...small(a.parts, a.face)]),
    ...braces.map((b) => thing(b.item, 'brace', b.face)),
    ...platforms.flatMap((p) => [...p.brackets.map(() => thing(p.item, 'bracket', p.face)), ...small(p.parts, p.face)]),
    ...decks.flatMap((d) => small(d.parts, d.face)),
  ];
};

const LIFTING_REMARK = 'one pair, moved on from gang to gang';

/** A pair of each lifting bracket that gangs take, with the faces of those gangs. */
export const liftingBrackets = (
  { gangs = [] }: CheckedLayout,
  { liftingBrackets: items = [] }: Catalogue,
): (Omit<SiteThing, 'face'> & { readonly faces: readonly string[] })[] =>
  items.flatMap(({ id, massKg }) => {
    const faces = gangs.filter((g) => g.bracket === id).map((g) => g.face);
    if (faces.length === 0) return [];
    const one = { item: id, kind: 'lifting-bracket', widthMm: 0, heightMm: 0, massKg, remark: LIFTING_REMARK } as const;
    return [one, one].map((x) => ({ ...x, faces }));
  });
