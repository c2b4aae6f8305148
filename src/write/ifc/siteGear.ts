/** Clamps, aligners, braces and platforms in the order and with the keys in which they are written, and what stands where. */

import { listsBy } from '../../ground/groups.js';
import { planIndex } from '../../ground/planIndex.js';
import type {
  Aligner,
  CheckedBrace,
  CheckedLayout,
  CheckedPlatform,
  Clamp,
  CornerDeck,
  FacePlan,
} from '../../ground/vocabulary.js';
import { faceKeys, gearKeys } from './keys.js';

/** Clamps of one item over one joint: one element, as many bodies as there are clamps. */
export interface ClampSet {
  readonly face: string;
  readonly clamps: readonly [Clamp, ...Clamp[]];
}

/** Clamps by joint, item and gap, in the layout's order. */
export const clampSets = (clamps: readonly Clamp[]): readonly ClampSet[] => {
  const sets = new Map<string, [Clamp, ...Clamp[]]>();
  for (const clamp of clamps) {
    const key = [clamp.face, clamp.joint, ...clamp.pieces, clamp.item, clamp.gapMm].join('|');
    const own = sets.get(key);
    if (own) own.push(clamp);
    else sets.set(key, [clamp]);
  }
  return [...sets.values()].map((own) => ({ face: own[0].face, clamps: own }));
};

export interface GearOfWall {
  readonly clampSets: readonly ClampSet[];
  readonly aligners: readonly Aligner[];
  readonly braces: readonly CheckedBrace[];
  readonly platforms: readonly CheckedPlatform[];
  readonly decks: readonly CornerDeck[];
}

export interface SiteGear {
  readonly ofWall: (wall: string) => GearOfWall;
  /** Key of a thing, of which its GlobalId is made; a platform's is that of its floor. */
  readonly keyOf: (thing: ClampSet | Aligner | CheckedBrace | CheckedPlatform | CornerDeck) => string;
}

/** Station of the vertex of a deck on its face. */
export const stationOf = (plan: FacePlan, { face, vertex }: CornerDeck): number => {
  const { faces, vertices } = planIndex(plan);
  const own = faces.get(face);
  return vertices.get(vertex)?.arms.find((a) => a.wall === own?.wall && a.side === own.side)?.stationMm ?? 0;
};

export const siteGear = (plan: FacePlan, layout: CheckedLayout, walls: ReadonlyMap<string, string>): SiteGear => {
  const { aligners = [], braces = [], platforms = [], decks = [] } = layout;
  const sets = clampSets(layout.clamps);
  const onFace = faceKeys(plan, walls);
  const keys = new Map<ClampSet | Aligner | CheckedBrace | CheckedPlatform | CornerDeck, string>([
    ...gearKeys('clamps', sets, ({ clamps: [first] }) => first, onFace),
    ...gearKeys('aligner', aligners, (a) => ({ stationMm: a.fromMm, levelMm: a.levelMm }), onFace),
    ...gearKeys('brace', braces, (b) => ({ stationMm: b.stationMm, levelMm: b.headMm }), onFace),
    ...gearKeys('platform', platforms, (p) => ({ stationMm: p.fromMm, levelMm: p.levelMm }), onFace),
    ...gearKeys('deck', decks, (d) => ({ stationMm: stationOf(plan, d), levelMm: d.levelMm }), onFace),
  ]);
  const { faces } = planIndex(plan);
  const byWall = <T extends { readonly face: string }>(items: readonly T[]) =>
    listsBy(items, (x) => faces.get(x.face)?.wall);
  const [ofSets, ofAligners, ofBraces, ofPlatforms] = [
    byWall(sets),
    byWall(aligners),
    byWall(braces),
    byWall(platforms),
  ];
  const ofDecks = byWall(decks);
  return {
    ofWall: (wall) => ({
      clampSets: ofSets.get(wall) ?? [],
      aligners: ofAligners.get(wall) ?? [],
      braces: ofBraces.get(wall) ?? [],
      platforms: ofPlatforms.get(wall) ?? [],
      decks: ofDecks.get(wall) ?? [],
    }),
    keyOf: (thing) => keys.get(thing)!,
  };
};
