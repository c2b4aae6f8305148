/**
 * Which views hold the foundation. A view is left out only for a reason: its title, another view's title, its scale, or that it shows
 * the same building once more. Several buildings in one plan all stay.
 */

import type { Vec } from '../../ground/plane.js';
import { plainNumber } from '../../ground/units.js';
import type { DrawingPath, TraceOptions } from '../../ground/vocabulary.js';
import type { LayerKind } from '../layers.js';
import { distanceTo, sizeOf } from './boxes.js';
import { layoutOf, likeness } from './copies.js';
import type { View } from './find.js';
import { asRead } from './turn.js';

export interface JudgedView {
  readonly view: View;
  readonly chosen: boolean;
  readonly why: string;
}

export interface ViewChoice {
  readonly views: readonly JudgedView[];
  /** What a person should confirm, one sentence each, with the view that it is about. */
  readonly doubts: readonly { readonly view: View; readonly text: string }[];
  /** Does a path belong to a chosen view? Those without a place do. */
  readonly keepsPath: (path: DrawingPath) => boolean;
  /** Does a place (drawing units) belong to a chosen view: a text, a leader's tip? The nearest view decides. */
  readonly keepsPlace: (at: Vec) => boolean;
}

/** Scales that differ by more than this are different. */
const SCALE_APART = 1.8;

/** An untitled view of this share of the plan's size may be another building. */
const BUILDING_SHARE = 0.2;

const placeOf = (b: View['box']): string =>
  `${plainNumber((b.x0 + b.x1) / 2, 1)}, ${plainNumber((b.y0 + b.y1) / 2, 1)}`;

const NEVER = new Set(['section', 'elevation', 'detail', 'schedule']);

/** More foundation first: lengths on layers named for it, then words, then walls by name, then any linework, then place. */
const byEvidence = (p: View, q: View): number => {
  const of = (v: View) => [
    v.evidence.foundation / sizeOf(v.box),
    v.evidence.words,
    v.evidence.named / sizeOf(v.box),
    v.evidence.any / sizeOf(v.box),
  ];
  const [a, b] = [of(p), of(q)];
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i] && Number.isFinite(a[i]! - b[i]!)) return b[i]! - a[i]!;
  return p.box.x0 - q.box.x0 || p.box.y0 - q.box.y0;
};

interface Judging {
  readonly kindOf: (layer: string) => LayerKind;
  readonly out: Map<View, string>;
  readonly doubts: { view: View; text: string }[];
}

const byTitle = (views: readonly View[], { out }: Judging): void => {
  for (const v of views) {
    if (v.kind === 'sheet') out.set(v, 'the border or title block of the sheet');
    else if (NEVER.has(v.kind)) out.set(v, `its title says ${v.kind}`);
  }
};

/** Where a view is titled as the foundation, other plans are left out, and what has no title unless its layers speak for it. */
const byFoundation = (rest: readonly View[], { out, doubts }: Judging): void => {
  const titled = rest.filter((v) => v.kind === 'foundation plan');
  // A sheet's name stands in its title block: it counts only with linework that may be walls.
  const main = titled.filter((v) => v.evidence.any > 0);
  if (main.length === 0) return;
  for (const v of rest) {
    if (main.includes(v)) continue;
    if (v.kind !== 'unknown') out.set(v, 'another view is titled as the foundation plan');
    else if (v.evidence.foundation > 0) {
      doubts.push({
        view: v,
        text: 'It has no title but lines on foundation layers, so it was taken with the foundation plan.',
      });
    } else {
      out.set(v, 'it has no title, and another view is titled as the foundation plan');
      // Large enough to be a building of its own: a person should have seen that it is missing.
      const size = Math.max(...main.map((m) => sizeOf(m.box)));
      if (v.evidence.any > 0 && sizeOf(v.box) >= BUILDING_SHARE * size) {
        doubts.push({ view: main[0]!, text: `A view without a title at ${placeOf(v.box)} was left out beside it.` });
      }
    }
  }
};

/** Without a foundation plan the lowest storey that is titled is taken. */
const byStorey = (rest: readonly View[], { out, doubts }: Judging): void => {
  if (rest.some((v) => v.kind === 'foundation plan')) return;
  const storeys = rest.flatMap((v) => (v.title?.storey === null || v.title === null ? [] : [v.title.storey]));
  const lowest = Math.min(...storeys);
  for (const v of rest) {
    if (v.title === null || v.title.storey === null || v.title.storey <= lowest) continue;
    out.set(v, 'its title says another storey than the lowest');
  }
  const kept = rest.find((v) => !out.has(v) && v.title?.storey === lowest);
  if (kept && rest.some((v) => out.has(v))) {
    doubts.push({ view: kept, text: 'No view is titled as the foundation plan; the lowest storey was taken.' });
  }
};

/** Views whose dimensions or scale notes say another scale than those of the view with most evidence are details. */
const byScale = (rest: readonly View[], { out }: Judging): void => {
  const main = [...rest].sort(byEvidence)[0];
  if (!main) return;
  const apart = (p: number, q: number) => Math.max(p / q, q / p) >= SCALE_APART;
  for (const v of rest) {
    if (v === main) continue;
    if (v.factor !== null && main.factor !== null && apart(v.factor, main.factor)) {
      out.set(v, 'its dimensions show another scale than those of the plan');
    } else if (v.kind === 'unknown' && v.scale !== null && main.scale !== null && main.scale / v.scale >= SCALE_APART) {
      out.set(v, `its scale note says 1:${v.scale}, the plan's 1:${main.scale}`);
    }
  }
};

const byLikeness = (rest: readonly View[], { out, doubts, kindOf }: Judging): void => {
  const ranked = [...rest].sort(byEvidence);
  const layouts = new Map(ranked.map((v) => [v, layoutOf(v, kindOf)]));
  ranked.forEach((v, i) => {
    for (const better of ranked.slice(0, i)) {
      if (out.has(better) || out.has(v)) continue;
      const like = likeness(layouts.get(better)!, layouts.get(v)!);
      if (like === 'copy') {
        out.set(v, 'it shows the same building once more');
        doubts.push({
          view: better,
          text: 'Another view shows the same outline; the one with more of a foundation was taken.',
        });
      } else if (like === 'twin') {
        doubts.push({ view: v, text: 'It is drawn line for line like another view; both were taken as buildings.' });
      }
    }
  });
};

const whyChosen = (v: View, others: number): string => {
  if (v.kind === 'foundation plan') return 'its title says foundation plan';
  if (v.kind === 'plan') return 'its title says plan';
  return others === 0 ? 'nothing else is drawn' : 'nothing speaks for leaving it out';
};

/** Judges the views. With an area in the job file all of them stay: the area is cut out line by line later. */
export const chooseViews = (
  views: readonly View[],
  options: Pick<TraceOptions, 'area'>,
  kindOf: (layer: string) => LayerKind,
): ViewChoice => {
  const judging: Judging = { kindOf, out: new Map(), doubts: [] };
  if (options.area === null && views.length > 1) {
    for (const step of [byTitle, byFoundation, byStorey, byScale, byLikeness]) {
      const rest = views.filter((v) => !judging.out.has(v));
      const before = new Map(judging.out);
      const doubts = judging.doubts.length;
      step(rest, judging);
      // A step that leaves nothing with lines that may be walls says nothing.
      if (views.some((v) => !judging.out.has(v) && v.evidence.any > 0)) continue;
      judging.out.clear();
      for (const [v, why] of before) judging.out.set(v, why);
      judging.doubts.length = doubts;
      const best = [...rest].sort(byEvidence)[0];
      if (best)
        judging.doubts.push({
          view: best,
          text: 'The titles would leave nothing that may be walls, so they were passed over.',
        });
    }
  }
  for (const v of views) {
    if (!v.farParts || options.area !== null) continue;
    judging.doubts.push({
      view: v,
      text: 'Parts of it stand far apart and have no title of their own; all were taken.',
    });
  }
  const foundation = (list: readonly View[]) => list.reduce((sum, v) => sum + v.evidence.foundation, 0);
  const kept = views.filter((v) => !judging.out.has(v));
  const most = [...judging.out.keys()].filter((v) => v.evidence.foundation > foundation(kept)).sort(byEvidence)[0];
  if (most && kept[0]) {
    const text = `More of the lines on foundation layers are in another view, left out: ${judging.out.get(most)}.`;
    judging.doubts.push({ view: [...kept].sort(byEvidence)[0]!, text });
  }
  const judged = views.map((view) => {
    const why = judging.out.get(view);
    return { view, chosen: why === undefined, why: why ?? whyChosen(view, views.length - 1) };
  });
  const left = new Set([...judging.out.keys()].flatMap((v) => v.paths));
  const standing = judged.filter((j) => j.view.kind !== 'sheet');
  return {
    views: judged,
    doubts: judging.doubts.filter((d) => !judging.out.has(d.view)),
    keepsPath: (path) => !left.has(path),
    keepsPlace: (at) => {
      if (left.size === 0) return true;
      // In nested boxes the smaller one holds the place.
      const far = (v: View): readonly [number, number] => {
        const from = asRead(at, v.turn);
        const parts = v.parts.map((b) => [distanceTo(b, from), sizeOf(b)] as const);
        return parts.sort((p, q) => p[0] - q[0] || p[1] - q[1])[0] ?? [Infinity, Infinity];
      };
      const ranked = standing.map((j) => ({ j, far: far(j.view) }));
      ranked.sort((p, q) => p.far[0] - q.far[0] || p.far[1] - q.far[1]);
      return ranked[0]?.j.chosen ?? true;
    },
  };
};
