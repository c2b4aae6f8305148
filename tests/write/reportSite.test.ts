/** Aligners, braces and platforms in the report's drawings: each once where it stands, in the frame, told in words and in the legend. */

import { describe, expect, it } from 'vitest';
import type { Result } from '../../src/ground/vocabulary.js';
import { elevationSvg, planSvg, reportHtml } from '../../src/write/report/index.js';
import { exampleResult } from '../support/exampleResult.js';
import { readMarkup } from './markupReader.js';

const face = exampleResult.plan.faces.find((f) => f.side === 'left')!;
const on = { face: face.id, run: exampleResult.plan.runs.find((r) => r.wall === face.wall)!.id };
const [from, to] = [face.fromMm + 400, face.toMm - 400];
const middle = (from + to) / 2;
const FOOT_MM = 3200;
const result: Result = {
  ...exampleResult,
  layout: {
    ...exampleResult.layout,
    aligners: [
      { id: 'AL1', item: 'tube', kind: 'horizontal', ...on, fromMm: from, toMm: to, levelMm: 1700, parts: [] },
    ],
    braces: [
      {
        id: 'BR1',
        item: 'prop',
        ...on,
        stationMm: middle,
        headMm: 1700,
        footMm: 0,
        footOffsetMm: FOOT_MM,
        widthMm: 2000,
        lengthMm: 3000,
        angleDeg: 40,
        pushKn: 4,
        pullKn: 4,
        mostPushKn: 10,
        mostPullKn: 10,
        upliftKn: 0,
        holdDownKn: 0,
        footUpliftKn: 1,
        footShearKn: 3,
      },
    ],
    platforms: [
      {
        id: 'PF1',
        item: 'arm',
        ...on,
        fromMm: from,
        toMm: to,
        levelMm: 1400,
        widthMm: 800,
        brackets: [from + 200, to - 200],
        rails: { topMm: 1000, midMm: 550, toeMm: 150 },
        endRails: [true, false],
        guardMm: [from, to - 700],
        joins: [null, null],
        ladderMm: middle,
        parts: [],
        bracketKn: 1,
        mostBracketKn: 2,
      },
    ],
  },
};

/** Path data inside the group whose title begins with a name. */
const pathsOf = (svg: string, name: string): string[] =>
  [...svg.matchAll(new RegExp(`<g><title>${name}:[^<]*</title>(.*?)</g>`, 'gs'))].flatMap((g) =>
    [...g[1]!.matchAll(/ d="([^"]*)"/g)].map((m) => m[1]!),
  );
const pointsOf = (paths: readonly string[]) =>
  paths.flatMap((d) => [...d.matchAll(/(-?[\d.]+) (-?[\d.]+)/g)].map((m) => [Number(m[1]), Number(m[2])] as const));
const spanOf = (points: readonly (readonly [number, number])[]) =>
  [0, 1].map((i) => Math.max(...points.map((p) => p[i]!)) - Math.min(...points.map((p) => p[i]!)));

describe('the plan', () => {
  const svg = planSvg(result);

  it('has each thing in its size, within the frame', () => {
    const [, , width, height] = /viewBox="([\d. -]+)"/.exec(svg)![1]!.split(' ').map(Number);
    for (const name of ['AL1', 'BR1', 'PF1']) {
      const points = pointsOf(pathsOf(svg, name));
      expect(points.length, name).toBeGreaterThan(3);
      for (const [x, y] of points) expect(x >= 0 && y >= 0 && x <= width! && y <= height!, name).toBe(true);
    }
    const tube = spanOf(pointsOf(pathsOf(svg, 'AL1')));
    expect(Math.max(...tube)).toBeCloseTo(to - from, 0);
    // From the aligner, 50 behind the frames, to the far edge of a plate of 120.
    const depth = Math.max(60, result.catalogue.frameDepthMm);
    expect(Math.max(...spanOf(pointsOf(pathsOf(svg, 'BR1'))))).toBeCloseTo(FOOT_MM + 60 - depth - 50, 0);
  });

  it('is well formed, says what it has and is told apart without colour', () => {
    const { tags, text } = readMarkup(svg);
    expect(text).toContain('1 aligners, 1 braces, 1 platforms');
    expect(tags.length).toBeGreaterThan(50);
    for (const d of ['AL1', 'BR1', 'PF1'])
      expect(new RegExp(`<title>${d}:.*?stroke="#1d2733"`, 's').test(svg), d).toBe(true);
    expect(planSvg(exampleResult)).not.toContain('aligners');
  });
});

describe('the elevation', () => {
  it('shows what stands before its face, and no other has it', () => {
    const own = elevationSvg(result, face.id);
    for (const name of ['AL1', 'BR1', 'PF1']) expect(pathsOf(own, name).length, name).toBeGreaterThan(0);
    expect(readMarkup(own).text).toContain('Before the whole face stand 1 aligners, 1 heads of braces, 1 platforms');
    const [, floor] = [spanOf(pointsOf(pathsOf(own, 'AL1'))), spanOf(pointsOf(pathsOf(own, 'PF1')))];
    expect(floor[0]).toBeCloseTo(to - from, 0);
    for (const other of result.plan.faces.filter((f) => f.id !== face.id && (f.side === 'left' || f.side === 'right')))
      expect(elevationSvg(result, other.id), other.id).not.toContain('<title>AL1');
  });
});

describe('the legend', () => {
  it('names what there is', () => {
    const legend = (r: Result) => /<ul class="legend">.*?<\/ul>/s.exec(reportHtml(r))![0];
    for (const word of ['aligner', 'brace', 'platform']) {
      expect(legend(result)).toContain(word);
      expect(legend(exampleResult)).not.toContain(word);
    }
  });
});
