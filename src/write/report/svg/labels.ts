/** Keeping texts apart: labels that would run into each other go to the next lane. */

import { textWidth } from './canvas.js';

export interface Wanted {
  /** Middle of the label along the line, and the length that it takes there, mm. */
  readonly atMm: number;
  readonly lengthMm: number;
}

/** For each label the lowest lane (from 0) in which it touches none of those before it along the line. */
export const lanes = (wanted: readonly Wanted[]): readonly number[] => {
  const order = wanted.map((_, i) => i).sort((a, b) => wanted[a]!.atMm - wanted[b]!.atMm || a - b);
  const ends: number[] = [];
  const lane = new Array<number>(wanted.length).fill(0);
  for (const i of order) {
    const { atMm, lengthMm } = wanted[i]!;
    const free = ends.findIndex((end) => end <= atMm - lengthMm / 2);
    const chosen = free < 0 ? ends.length : free;
    ends[chosen] = atMm + lengthMm / 2;
    lane[i] = chosen;
  }
  return lane;
};

/**
 * Places for labels at sorted positions so that neighbours stand at least `gap` apart and all of them move as little as possible (least squares:
 * pooling of adjacent violators, Ayer and others 1955).
 */
export const spread = (sorted: readonly number[], gap: number): readonly number[] => {
  const blocks: { sum: number; size: number }[] = [];
  sorted.forEach((x, i) => {
    let block = { sum: x - i * gap, size: 1 };
    for (
      let last = blocks.at(-1);
      last !== undefined && last.sum / last.size > block.sum / block.size;
      last = blocks.at(-1)
    ) {
      blocks.pop();
      block = { sum: last.sum + block.sum, size: last.size + block.size };
    }
    blocks.push(block);
  });
  return blocks.flatMap((b) => new Array<number>(b.size).fill(b.sum / b.size)).map((x, i) => x + i * gap);
};

export interface WidthLabel {
  readonly text: string;
  readonly atMm: number;
  /** Along the line where it fits over its piece, else square to it. */
  readonly along: boolean;
  readonly lane: number;
  /** From the line of the labels' foot to the label's middle, and to the end of all lanes below this one. */
  readonly offsetMm: number;
}

/** Widths written beside a row of pieces: along the row where they fit, else square to it, in as few lanes as it takes. */
export const widthLabels = (
  pieces: readonly { readonly fromMm: number; readonly toMm: number; readonly text: string }[],
  sizeMm: number,
): { readonly labels: readonly WidthLabel[]; readonly depthMm: number } => {
  const line = sizeMm * 1.15;
  const shaped = pieces.map((p) => {
    const width = textWidth(p.text, sizeMm);
    const along = width <= p.toMm - p.fromMm;
    return { ...p, along, atMm: (p.fromMm + p.toMm) / 2, lengthMm: along ? width : line, deepMm: along ? line : width };
  });
  const lane = lanes(shaped);
  const deep: number[] = [];
  shaped.forEach((s, i) => {
    deep[lane[i]!] = Math.max(deep[lane[i]!] ?? 0, s.deepMm);
  });
  const before = (n: number) => deep.slice(0, n).reduce((a, b) => a + b, 0);
  const labels = shaped.map((s, i) => {
    const n = lane[i]!;
    return { text: s.text, atMm: s.atMm, along: s.along, lane: n, offsetMm: before(n) + s.deepMm / 2 };
  });
  return { labels, depthMm: before(deep.length) };
};
