/** Clusters → views: what laps, what a dimension ties together, and what stands by a titled view. */

import type { Drawing } from '../../ground/vocabulary.js';
import { type Box, gapBetween, grown, holds, joined, shareLapped } from './boxes.js';
import type { Cluster } from './cluster.js';

/** Clusters whose boxes lap by more than this share of the smaller are one view. */
const LAP_SHARE = 0.1;
/** A cluster goes with a titled view when it is this much nearer to it than to the next one. *Practice, no source.* */
const NEARER = 0.6;

const lap = (p: Cluster, q: Cluster): boolean => shareLapped(p.box, q.box) > LAP_SHARE;

/** Joins clusters until no two of them lap. */
export const joinLapping = (clusters: readonly Cluster[]): Cluster[] => {
  let rest = [...clusters];
  for (;;) {
    let joinedAny = false;
    const out: Cluster[] = [];
    for (const c of rest) {
      const i = out.findIndex((o) => lap(o, c));
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
export const joinDimensioned = (clusters: readonly Cluster[], drawing: Drawing, gap: number): Cluster[] => {
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

/**
 * Which titled view each untitled one goes with, by index; -1: none. Nearest first, so that a row of buildings goes with the plan at its end.
 *
 * @param boxes of the clusters
 * @param titled which of them have a title
 * @param reach of each titled one: farthest gap over which a cluster is taken with it
 */
export const hostsOf = (boxes: readonly Box[], titled: readonly boolean[], reach: readonly number[]): number[] => {
  const host = boxes.map((_, i) => (titled[i] ? i : -1));
  const hosts = host.filter((h) => h >= 0);
  if (hosts.length === 0) return host.map(() => -1);
  const gapTo = (i: number, h: number): number =>
    Math.min(...boxes.flatMap((b, k) => (host[k] === h ? [gapBetween(b, boxes[i]!)] : [])));
  for (;;) {
    let best: { i: number; h: number; gap: number } | null = null;
    boxes.forEach((_, i) => {
      if (host[i] !== -1) return;
      const gaps = hosts.map((h) => ({ h, gap: gapTo(i, h) })).sort((p, q) => p.gap - q.gap || p.h - q.h);
      const first = gaps[0]!;
      if (first.gap > reach[first.h]! || (gaps[1] && first.gap > NEARER * gaps[1].gap)) return;
      if (best === null || first.gap < best.gap) best = { i, ...first };
    });
    if (best === null) return host.map((h, i) => (titled[i] ? -1 : h));
    const { i, h } = best as { i: number; h: number };
    host[i] = h;
  }
};
