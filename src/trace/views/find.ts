/**
 * The several drawings of one model space: clusters of linework with their titles. Works in drawing units, before the unit is known; sizes
 * are measured by the lettering and by the whole. All shares and multiples here are *practice, no source*.
 */

import type { Drawing, DrawingPath, DrawingText } from '../../ground/vocabulary.js';
import type { LayerKind } from '../layers.js';
import { type Box, distanceTo, EMPTY, gapBetween, grown, holds, joined, shareLapped, sizeOf, within } from './boxes.js';
import { type Cluster, clustersOf } from './cluster.js';
import { drawnFactor, measureEvidence, type ViewEvidence } from './evidence.js';
import { looksLikeTitleBlock } from './sheet.js';
import { readScale, readTitle, type Title, type ViewKind } from './titles.js';

export interface View {
  readonly box: Box;
  readonly paths: readonly DrawingPath[];
  readonly kind: ViewKind;
  readonly title: Title | null;
  /** Scale by the note at the title: 50 for 1:50; null: no note. */
  readonly scale: number | null;
  /** What its dimensions say over what they measure; null: too few of them, or they disagree. */
  readonly factor: number | null;
  readonly evidence: ViewEvidence;
}

/** A title with where it stands. */
interface PlacedTitle extends Title {
  readonly at: DrawingText['at'];
  readonly height: number;
}

/** Width of a letter as a share of its height, about. */
const LETTER_WIDTH = 0.8;
/** Gap between views in letter heights, and as a share of the whole. */
const GAP_LETTERS = 5;
const GAP_SHARE = [0.005, 0.03] as const;
const GAP_SHARE_ALONE = 0.015;
/** Smaller clusters, as a share of the largest, are marks: they go with the nearest view. */
const MARK_SHARE = 0.04;
/** More clusters than this are not looked at one by one: the smallest go with the nearest. */
const VIEWS_MOST = 80;
/** Clusters whose boxes lap by more than this share of the smaller are one view. */
const LAP_SHARE = 0.1;
/** How far a title stands from its view: in its own letter heights, or as a share of the view. */
const TITLE_LETTERS = 15;
const TITLE_SHARE = 0.3;
/** In the middle of a view only lettering larger than the usual is a title. */
const LARGE_LETTERS = 1.2;

const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? 0;

/** Size of the middle part of the linework: single lines far away do not count. */
const usualSize = (paths: readonly DrawingPath[]): number => {
  const spread = (values: number[]): number => {
    const sorted = values.filter(Number.isFinite).sort((a, b) => a - b);
    const cut = Math.floor(sorted.length * 0.02);
    return sorted.length === 0 ? 0 : sorted[sorted.length - 1 - cut]! - sorted[cut]!;
  };
  const points = paths.flatMap((p) => p.vertices);
  return Math.max(spread(points.map((v) => v.x)), spread(points.map((v) => v.y)));
};

const gapFor = (letters: number, size: number): number => {
  if (letters <= 0) return GAP_SHARE_ALONE * size;
  return Math.min(Math.max(GAP_LETTERS * letters, GAP_SHARE[0] * size), GAP_SHARE[1] * size);
};

/**
 * Is the cluster a border round others? Either its layers say so, or a title stands free in it, beside what it holds: the outer wall
 * of a plan has the plan's title outside.
 */
const isFrame = (
  c: Cluster,
  all: readonly Cluster[],
  titles: readonly PlacedTitle[],
  letters: number,
  gap: number,
  kindOf: (layer: string) => LayerKind,
): boolean => {
  const held = all.filter((o) => o !== c && within(o.box, c.box));
  if (held.length === 0) return false;
  if (c.paths.every((p) => kindOf(p.layer) === 'other')) return true;
  return titles.some(
    (t) =>
      t.height >= LARGE_LETTERS * letters &&
      holds(c.box, t.at) &&
      held.some((o) => distanceTo(o.box, t.at) < TITLE_SHARE * sizeOf(o.box)) &&
      !held.some((o) => holds(grown(o.box, gap / 4), t.at)),
  );
};

/** Joins clusters until no two of them lap. */
const joinLapping = (clusters: readonly Cluster[], together: (p: Cluster, q: Cluster) => boolean): Cluster[] => {
  let rest = [...clusters];
  for (;;) {
    let joinedAny = false;
    const out: Cluster[] = [];
    for (const c of rest) {
      const i = out.findIndex((o) => together(o, c));
      if (i < 0) out.push(c);
      else {
        out[i] = { box: joined(out[i]!.box, c.box), paths: [...out[i]!.paths, ...c.paths] };
        joinedAny = true;
      }
    }
    rest = out;
    if (!joinedAny) return rest;
  }
};

/** Views that a dimension reaches from one to the other are one. */
const joinDimensioned = (clusters: readonly Cluster[], drawing: Drawing, gap: number): Cluster[] => {
  const of = (p: { x: number; y: number }): number => {
    const near = clusters.flatMap((c, i) => (holds(grown(c.box, gap), p) ? [i] : []));
    return near.length === 1 ? near[0]! : -1;
  };
  const pairs = new Set<string>();
  for (const d of drawing.dimensions) {
    const [i, j] = [of(d.from), of(d.to)].sort((a, b) => a - b) as [number, number];
    if (i >= 0 && i !== j) pairs.add(`${i} ${j}`);
  }
  if (pairs.size === 0) return [...clusters];
  const number = new Map(clusters.map((c, i) => [c, new Set([i])]));
  let rest = [...clusters];
  for (const pair of pairs) {
    const [i, j] = pair.split(' ').map(Number) as [number, number];
    const p = rest.find((c) => number.get(c)!.has(i))!;
    const q = rest.find((c) => number.get(c)!.has(j))!;
    if (p === q) continue;
    const both = { box: joined(p.box, q.box), paths: [...p.paths, ...q.paths] };
    number.set(both, new Set([...number.get(p)!, ...number.get(q)!]));
    rest = [...rest.filter((c) => c !== p && c !== q), both];
  }
  return rest;
};

/** How badly a title stands to a view, drawing units; null: it cannot be its title. Below is where titles stand. */
const titleCost = (box: Box, t: PlacedTitle, letters: number): number | null => {
  const most = Math.max(TITLE_LETTERS * t.height, TITLE_SHARE * sizeOf(box));
  const large = t.height >= LARGE_LETTERS * letters;
  const plan = t.kind === 'foundation plan' || t.kind === 'plan';
  if (holds(box, t.at)) {
    const up = (t.at.y - box.y0) / (box.y1 - box.y0);
    const middle = up > 0.2 && up < 0.85;
    // What names a section or detail in the middle of a view is a mark where it is cut.
    return large && (plan || !middle) ? 0 : null;
  }
  const below = box.y0 - t.at.y;
  // Whether it is set from its left end or its middle is not known: the reading that stands better counts.
  const width = LETTER_WIDTH * t.height * t.text.length;
  const besideBy = (x: number) => Math.max(box.x0 - x - width, x - box.x1, 0);
  const beside = Math.min(besideBy(t.at.x), besideBy(t.at.x - width / 2));
  if (!plan && !large && (below <= 0 || beside > 0)) return null;
  const cost = below > 0 ? below + 2 * beside : 1.5 * distanceTo(box, t.at);
  return cost <= most ? cost : null;
};

const KIND_FIRST: readonly ViewKind[] = ['foundation plan', 'plan', 'section', 'elevation', 'detail', 'schedule'];

/** Each title goes to the view to which it stands best; of several titles of a view the largest counts. */
const assignTitles = (
  boxes: readonly Box[],
  titles: readonly PlacedTitle[],
  letters: number,
): (PlacedTitle | null)[] => {
  const given = boxes.map(() => [] as { title: PlacedTitle; cost: number }[]);
  for (const title of titles) {
    let best = -1;
    let bestCost = Infinity;
    boxes.forEach((box, i) => {
      const cost = titleCost(box, title, letters);
      if (cost === null) return;
      const better = cost < bestCost || (cost === bestCost && sizeOf(box) < sizeOf(boxes[best]!));
      if (better) [best, bestCost] = [i, cost];
    });
    if (best >= 0) given[best]!.push({ title, cost: bestCost });
  }
  return given.map((list) => {
    const tallest = Math.max(...list.map((g) => g.title.height));
    const large = list.filter((g) => g.title.height >= 0.95 * tallest);
    large.sort(
      (p, q) =>
        KIND_FIRST.indexOf(p.title.kind) - KIND_FIRST.indexOf(q.title.kind) ||
        p.cost - q.cost ||
        p.title.at.x - q.title.at.x ||
        p.title.at.y - q.title.at.y,
    );
    return large[0]?.title ?? null;
  });
};

const scaleAt = (drawing: Drawing, title: PlacedTitle | null): number | null => {
  if (!title) return null;
  const near = drawing.texts
    .map((t) => ({ scale: readScale(t.text), far: Math.hypot(t.at.x - title.at.x, t.at.y - title.at.y) }))
    .filter((t) => t.scale !== null && t.far <= 12 * title.height)
    .sort((p, q) => p.far - q.far || p.scale! - q.scale!);
  return near[0]?.scale ?? null;
};

const viewOrder = (p: View, q: View): number => p.box.x0 - q.box.x0 || p.box.y0 - q.box.y0 || p.box.x1 - q.box.x1;

/**
 * The views of a drawing by their lower left corners; every path with a place is in exactly one of them.
 *
 * @param drawing texts and dimensions are taken from it
 * @param paths the visible linework
 * @param kindOf what each layer holds (layerKinds)
 */
export const findViews = (
  drawing: Drawing,
  paths: readonly DrawingPath[],
  kindOf: (layer: string) => LayerKind,
): View[] => {
  const letters = median(drawing.texts.map((t) => t.height).filter((h) => h > 0));
  const gap = gapFor(letters, usualSize(paths));
  const clusters = clustersOf(paths, gap);
  const titles: PlacedTitle[] = drawing.texts
    .flatMap((t) => {
      const title = readTitle(t.text);
      return title ? [{ ...title, at: t.at, height: t.height }] : [];
    })
    .sort((p, q) => p.at.x - q.at.x || p.at.y - q.at.y || q.height - p.height);

  const bySize = [...clusters].sort((p, q) => sizeOf(q.box) - sizeOf(p.box));
  const least = MARK_SHARE * sizeOf(bySize[0]?.box ?? EMPTY);
  const large = bySize.slice(0, VIEWS_MOST).filter((c) => sizeOf(c.box) >= least);
  const frames = large.filter((c) => isFrame(c, large, titles, letters, gap, kindOf));
  const bodies = large.filter((c) => !frames.includes(c));
  const lap = (p: Cluster, q: Cluster) => shareLapped(p.box, q.box) > LAP_SHARE;
  const views = joinLapping(joinDimensioned(joinLapping(bodies, lap), drawing, gap), lap);

  // Marks go with the nearest view.
  const extra = views.map(() => [] as DrawingPath[]);
  for (const mark of clusters.filter((c) => !large.includes(c))) {
    let best = 0;
    views.forEach((v, i) => {
      if (gapBetween(v.box, mark.box) < gapBetween(views[best]!.box, mark.box)) best = i;
    });
    extra[best]?.push(...mark.paths);
  }
  const boxes = views.map((v) => v.box);
  const given = assignTitles(boxes, titles, letters);
  const viewOf = (c: Cluster, more: readonly DrawingPath[], title: PlacedTitle | null, frame: boolean): View => {
    const texts = drawing.texts.filter((t) => holds(c.box, t.at));
    const sheet = frame || looksLikeTitleBlock(c.box, texts);
    return {
      box: c.box,
      paths: [...c.paths, ...more],
      kind: sheet ? 'sheet' : (title?.kind ?? 'unknown'),
      title,
      scale: scaleAt(drawing, title),
      factor: drawnFactor(
        drawing.dimensions.filter((d) => holds(grown(c.box, gap), d.from) && holds(grown(c.box, gap), d.to)),
      ),
      evidence: measureEvidence(c.paths, texts, kindOf),
    };
  };
  return [
    ...views.map((v, i) => viewOf(v, extra[i]!, given[i]!, false)),
    ...frames.map((f) => viewOf(f, [], null, true)),
  ].sort(viewOrder);
};
