/** Aligners, braces and platforms in layout.json. */

import { roundTo } from '../../ground/units.js';
import type {
  Aligner,
  BracedFace,
  CheckedBrace,
  CheckedLayout,
  CheckedPlatform,
  CornerDeck,
  SmallPart,
} from '../../ground/vocabulary.js';
import type { LayoutFile } from './schema.js';

const length4 = (mm: number): number => roundTo(mm, 4);
const load3 = (kn: number): number => roundTo(kn, 3);

const partsOf = (parts: readonly SmallPart[]) => parts.map(({ item, count }) => ({ item, count }));

const alignerOf = (a: Aligner): LayoutFile['aligners'][number] => ({
  id: a.id,
  item: a.item,
  kind: a.kind,
  face: a.face,
  run: a.run,
  fromMm: length4(a.fromMm),
  toMm: length4(a.toMm),
  levelMm: length4(a.levelMm),
  ...(a.topMm === undefined ? {} : { topMm: length4(a.topMm) }),
  parts: partsOf(a.parts),
});

const braceOf = (b: CheckedBrace): LayoutFile['braces'][number] => ({
  id: b.id,
  item: b.item,
  face: b.face,
  run: b.run,
  stationMm: length4(b.stationMm),
  headMm: length4(b.headMm),
  footMm: length4(b.footMm),
  footOffsetMm: length4(b.footOffsetMm),
  axialKn: load3(Math.max(b.pushKn, b.pullKn)),
  pushKn: load3(b.pushKn),
  pullKn: load3(b.pullKn),
  widthMm: length4(b.widthMm),
  lengthMm: length4(b.lengthMm),
  angleDeg: length4(b.angleDeg),
  holdDownKn: load3(b.holdDownKn),
  footUpliftKn: load3(b.footUpliftKn),
  footShearKn: load3(b.footShearKn),
});

const platformOf = (p: CheckedPlatform): LayoutFile['platforms'][number] => ({
  id: p.id,
  item: p.item,
  face: p.face,
  run: p.run,
  fromMm: length4(p.fromMm),
  toMm: length4(p.toMm),
  levelMm: length4(p.levelMm),
  widthMm: length4(p.widthMm),
  brackets: p.brackets.map(length4),
  rails: {
    topMm: length4(p.rails.topMm),
    midMm: p.rails.midMm === null ? null : length4(p.rails.midMm),
    toeMm: length4(p.rails.toeMm),
  },
  endRails: [...p.endRails],
  guardMm: [length4(p.guardMm[0]), length4(p.guardMm[1])],
  joins: [...p.joins],
  ladderMm: p.ladderMm === null ? null : length4(p.ladderMm),
  bracketKn: load3(p.bracketKn),
  mostBracketKn: load3(p.mostBracketKn),
  parts: partsOf(p.parts),
});

const bracedOf = (f: BracedFace): NonNullable<LayoutFile['braced']>[number] => ({
  run: f.run,
  face: f.face,
  heightMm: length4(f.heightMm),
  headMm: length4(f.headMm),
  lineKnPerM: load3(f.lineKnPerM),
  windKpa: load3(f.windKpa),
  platformKnmPerM: load3(f.platformKnmPerM),
  braceKnPerM: load3(f.braceKnPerM),
  governs: f.governs,
  baseWindKnPerM: load3(f.baseWindKnPerM),
  baseLineKnPerM: load3(f.baseLineKnPerM),
});

const deckOf = (d: CornerDeck): NonNullable<LayoutFile['decks']>[number] => ({
  id: d.id,
  platforms: [...d.platforms],
  vertex: d.vertex,
  levelMm: length4(d.levelMm),
  holeMm: [length4(d.holeMm[0]), length4(d.holeMm[1])],
  sizeMm: [length4(d.sizeMm[0]), length4(d.sizeMm[1])],
  parts: partsOf(d.parts),
});

/** Lists that were not laid out are empty. */
export const siteSection = ({
  aligners = [],
  braces = [],
  platforms = [],
  decks = [],
  braced = [],
}: CheckedLayout): Pick<LayoutFile, 'aligners' | 'braces' | 'platforms' | 'decks' | 'braced'> => ({
  aligners: aligners.map(alignerOf),
  braces: braces.map(braceOf),
  platforms: platforms.map(platformOf),
  ...(decks.length > 0 ? { decks: decks.map(deckOf) } : {}),
  ...(braced.length > 0 ? { braced: braced.map(bracedOf) } : {}),
});
