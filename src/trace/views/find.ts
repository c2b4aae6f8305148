/**
 * The several drawings of one model space: clusters of linework with their titles. Works in drawing units, before the unit is known; sizes
 * are measured by the lettering and by the whole. All shares and multiples here are *practice, no source*.
 */

import type { Vec } from '../../ground/plane.js';
import type { Drawing, DrawingPath } from '../../ground/vocabulary.js';
import { hiddenLayers, type LayerKind } from '../layers.js';
import { type Box, boxOfPath, distanceTo, EMPTY, gapBetween, grown, holds, joined, sizeOf, within } from './boxes.js';
import { type Cluster, clustersOf } from './cluster.js';
import { drawnFactor, measureEvidence, type ViewEvidence } from './evidence.js';
import { hostsOf, joinDimensioned, joinLapping } from './join.js';
import { isLabel, looksLikeTitleBlock } from './sheet.js';
import { assignTitles, LARGE_LETTERS, type PlacedTitle } from './titleOf.js';
import { readScale, readTitle, type Title, type ViewKind } from './titles.js';
import { type Turn, turnedDrawing, turnOf } from './turn.js';

export interface View {
  /** Along the axes of the drawing. */
  readonly box: Box;
  /** What it covers as a reader turns the sheet: boxes of its parts in the axes turned by `turn`. */
  readonly parts: readonly Box[];
  readonly turn: Turn;
  readonly paths: readonly DrawingPath[];
  readonly kind: ViewKind;
  readonly title: Title | null;
  /** Scale by the note at the title: 50 for 1:50; null: no note. */
  readonly scale: number | null;
  /** What its dimensions say over what they measure; null: too few of them, or they disagree. */
  readonly factor: number | null;
  readonly evidence: ViewEvidence;
  /** Has parts that stand so far from the rest that only the lack of titles of their own joins them. */
  readonly farParts: boolean;
}

/** Gap between views in letter heights, and as a share of the whole. */
const GAP_LETTERS = 5;
const GAP_SHARE = [0.005, 0.03] as const;
const GAP_SHARE_ALONE = 0.015;
/** Smaller clusters, as a share of the largest, are marks: they go with the nearest view. */
const MARK_SHARE = 0.04;
/** More clusters than this are not looked at one by one: the smallest go with the nearest. */
const VIEWS_MOST = 80;
/** An untitled cluster goes with a titled section or detail up to this many letter heights away, since a building may stand beside it. */
const PART_LETTERS = 10;
/** … and with a titled plan up to this many, or this share of the largest view. */
const REACH_LETTERS = 30;
const REACH_SHARE = 0.4;
/** … and is a matter for a question from this many on. */
const ASK_LETTERS = 16;

/** Lines on layers of axes, marks and borders longer than this share of the whole join no views. */
const ACROSS_SHARE = 0.35;
/** A title in a border stands this near to what it names, as a share of its size. */
const FRAME_SHARE = 0.3;

const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[Math.floor((values.length - 1) / 2)] ?? 0;

/** Size of the middle part of the linework: single lines far away do not count. */
const usualSize = (paths: readonly DrawingPath[]): number => {
  const spread = (of: (v: Vec) => number): number => {
    const values = Float64Array.from(points, of).sort();
    const cut = Math.floor(values.length * 0.02);
    return values.length === 0 ? 0 : values[values.length - 1 - cut]! - values[cut]!;
  };
  const points = paths.flatMap((p) => p.vertices.filter((v) => Number.isFinite(v.x) && Number.isFinite(v.y)));
  return Math.max(
    spread((v) => v.x),
    spread((v) => v.y),
  );
};

const gapFor = (letters: number, size: number): number => {
  if (letters <= 0) return GAP_SHARE_ALONE * size;
  return Math.min(Math.max(GAP_LETTERS * letters, GAP_SHARE[0] * size), GAP_SHARE[1] * size);
};

/**
 * Is the cluster a border round others? Its layers say so, or a title stands free in it, beside what it holds (the outer wall of a plan has
 * the plan's title outside), or all else is in it, with a label of a title block in the free space.
 */
const isFrame = (
  c: Cluster,
  all: readonly Cluster[],
  drawing: Drawing,
  titles: readonly PlacedTitle[],
  letters: number,
  gap: number,
  kindOf: (layer: string) => LayerKind,
): boolean => {
  const held = all.filter((o) => o !== c && within(o.box, c.box));
  if (held.length === 0) return false;
  if (c.paths.every((p) => kindOf(p.layer) === 'other')) return true;
  const free = (at: Vec) => holds(c.box, at) && !held.some((o) => holds(grown(o.box, gap / 4), at));
  const holdsAll = all.every((o) => o === c || within(o.box, c.box)) && drawing.texts.every((t) => holds(c.box, t.at));
  if (holdsAll && drawing.texts.some((t) => isLabel(t.text) && free(t.at))) return true;
  return titles.some(
    (t) =>
      t.height >= LARGE_LETTERS * letters &&
      free(t.at) &&
      held.some((o) => distanceTo(o.box, t.at) < FRAME_SHARE * sizeOf(o.box)),
  );
};

interface ScaleNote {
  readonly at: Vec;
  readonly scale: number;
}

const scaleAt = (notes: readonly ScaleNote[], title: PlacedTitle | null): number | null => {
  if (!title) return null;
  const near = notes
    .map((n) => ({ scale: n.scale, far: Math.hypot(n.at.x - title.at.x, n.at.y - title.at.y) }))
    .filter((n) => n.far <= 12 * title.height)
    .sort((p, q) => p.far - q.far || p.scale - q.scale);
  return near[0]?.scale ?? null;
};

const viewOrder = (p: View, q: View): number => p.box.x0 - q.box.x0 || p.box.y0 - q.box.y0 || p.box.x1 - q.box.x1;

/** Marks, which are too small to be views, go with the nearest cluster. */
const withMarks = (bodies: readonly Cluster[], marks: readonly Cluster[]): DrawingPath[][] => {
  const extra = bodies.map(() => [] as DrawingPath[]);
  for (const mark of marks) {
    let best = 0;
    bodies.forEach((v, i) => {
      if (gapBetween(v.box, mark.box) < gapBetween(bodies[best]!.box, mark.box)) best = i;
    });
    extra[best]?.push(...mark.paths);
  }
  return extra;
};

/**
 * The views of a drawing by their lower left corners; every path with a place is in exactly one of them.
 *
 * @param whole texts and dimensions are taken from it
 * @param visible the visible linework
 * @param kindOf what each layer holds (layerKinds)
 */
export const findViews = (
  whole: Drawing,
  visible: readonly DrawingPath[],
  kindOf: (layer: string) => LayerKind,
): View[] => {
  const hidden = hiddenLayers(whole);
  const seen = <T extends { readonly layer: string }>(all: readonly T[]): T[] =>
    all.filter((x) => !hidden.has(x.layer));
  const shown = { ...whole, texts: seen(whole.texts), dimensions: seen(whole.dimensions) };
  const turn = turnOf(shown.texts);
  const { drawing, paths, original } = turnedDrawing(shown, visible, turn);
  const letters = median(drawing.texts.map((t) => t.height).filter((h) => h > 0));
  const size = usualSize(paths);
  const gap = gapFor(letters, size);
  // Axes, match lines and borders run from one view to the next; they go with the nearest afterwards.
  const across = (p: DrawingPath) => kindOf(p.layer) === 'other' && sizeOf(boxOfPath(p)) > ACROSS_SHARE * size;
  const clusters = clustersOf(
    paths.filter((p) => !across(p)),
    gap,
  );
  const titles: PlacedTitle[] = drawing.texts
    .flatMap((t) => {
      const title = readTitle(t.text);
      return title ? [{ ...title, at: t.at, height: t.height }] : [];
    })
    .sort((p, q) => p.at.x - q.at.x || p.at.y - q.at.y || q.height - p.height);

  const scales = drawing.texts.flatMap((t): ScaleNote[] => {
    const scale = readScale(t.text);
    return scale === null ? [] : [{ at: t.at, scale }];
  });

  const bySize = [...clusters].sort((p, q) => sizeOf(q.box) - sizeOf(p.box));
  const frames = bySize
    .slice(0, VIEWS_MOST)
    .filter((c, _, all) => isFrame(c, all, drawing, titles, letters, gap, kindOf));
  const inside = bySize.filter((c) => !frames.includes(c));
  const least = MARK_SHARE * sizeOf(inside[0]?.box ?? EMPTY);
  const large = inside.slice(0, VIEWS_MOST).filter((c) => sizeOf(c.box) >= least);
  const bodies = joinLapping(joinDimensioned(joinLapping(large), drawing, gap));
  const marks = withMarks(bodies, [
    ...inside.filter((c) => !large.includes(c)),
    ...paths.filter(across).map((p) => ({ box: boxOfPath(p), paths: [p] })),
  ]);
  const boxes = bodies.map((c) => c.box);
  const given = assignTitles(boxes, titles, letters);
  const largest = Math.max(0, ...boxes.map(sizeOf));
  const reach = given.map((t) =>
    t?.kind === 'plan' || t?.kind === 'foundation plan'
      ? Math.max(REACH_LETTERS * letters, REACH_SHARE * largest)
      : PART_LETTERS * letters,
  );
  const hosts = hostsOf(
    boxes,
    given.map((t) => t !== null),
    reach,
  );

  const viewOf = (
    parts: readonly Cluster[],
    more: readonly DrawingPath[],
    title: PlacedTitle | null,
    frame: boolean,
  ): View => {
    const texts = drawing.texts.filter((t) => parts.some((c) => holds(c.box, t.at)));
    const all = parts.reduce((b, c) => joined(b, c.box), EMPTY);
    const sheet = frame || looksLikeTitleBlock(all, texts);
    const near = (at: Vec) => parts.some((c) => holds(grown(c.box, gap), at));
    const drawn = parts.flatMap((c) => c.paths);
    const own = [...drawn, ...more].map(original);
    return {
      box: drawn.reduce((b, p) => joined(b, boxOfPath(original(p))), EMPTY),
      parts: parts.map((c) => c.box),
      turn,
      paths: own,
      kind: sheet ? 'sheet' : (title?.kind ?? 'unknown'),
      title,
      scale: scaleAt(scales, title),
      factor: drawnFactor(drawing.dimensions.filter((d) => near(d.from) && near(d.to))),
      evidence: measureEvidence(drawn, texts, kindOf),
      farParts: parts.some((c) => c !== parts[0] && gapBetween(c.box, parts[0]!.box) > ASK_LETTERS * letters),
    };
  };
  const views = bodies.flatMap((c, i) => {
    if (hosts[i] !== -1) return [];
    const others = bodies.flatMap((_, k) => (hosts[k] === i ? [k] : []));
    const parts = [c, ...others.map((k) => bodies[k]!)];
    return [
      viewOf(
        parts,
        [i, ...others].flatMap((k) => marks[k]!),
        given[i]!,
        false,
      ),
    ];
  });
  return [...views, ...frames.map((f) => viewOf([f], [], null, true))].sort(viewOrder);
};
