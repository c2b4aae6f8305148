/** How high our texts are to stand: after the job file, the dimensions near the walls, the texts, or as usual. */

import { describe, expect, it } from 'vitest';
import type { Drawing, DrawingDimension, DrawingText, FacePlan } from '../../src/ground/vocabulary.js';
import { letteringOf, statedHeightMm } from '../../src/pipeline/lettering.js';
import { parseJob } from '../../src/pipeline/options.js';

const dimension = (x: number, textHeight: number | null, layer = 'DIMS'): DrawingDimension => ({
  source: `d${x}`,
  layer,
  from: { x, y: 0 },
  to: { x, y: 0 },
  measured: 0,
  text: null,
  textHeight,
});

const text = (x: number, height: number): DrawingText => ({
  source: `t${x}`,
  layer: 'NOTE',
  blocks: [],
  at: { x, y: 0 },
  height,
  rotationRad: 0,
  text: 'WALL',
});

const layers = [
  { name: 'DIMS', visible: true, lineType: 'CONTINUOUS' },
  { name: 'OFF', visible: false, lineType: 'CONTINUOUS' },
];

const origin = (dimensions: readonly DrawingDimension[], texts: readonly DrawingText[] = []) => ({
  kind: 'dxf' as const,
  drawing: { layers, dimensions, texts } as unknown as Drawing,
});

/** One wall, from (0, 0) to (10 m, 4 m). */
const PLAN = { walls: [{ start: { x: 0, y: 0 }, end: { x: 10_000, y: 4000 } }] } as unknown as FacePlan;

const job = (output: unknown = {}) => {
  const parsed = parseJob({ output });
  if (!parsed.ok) throw new Error(parsed.findings.map((f) => f.message).join(' '));
  return parsed.value;
};

describe('the height of lettering', () => {
  it('is the lower median of the dimensions near the walls', () => {
    const found = [dimension(0, 125), dimension(1, 250), dimension(2, 125), dimension(3, 350)];
    expect(letteringOf(origin(found), PLAN, 'mm', 'mm', job())).toEqual({
      heightMm: 125,
      from: 'dimensions',
      statedMm: 125,
      count: 4,
    });
  });

  it('does not heed dimensions far away, hidden, unknown or beyond reason while there are others', () => {
    const far = [dimension(50_000, 250), dimension(51_000, 250), dimension(52_000, 250)];
    const odd = [dimension(5, 250, 'OFF'), dimension(6, null), dimension(7, 2.5), dimension(8, 9000)];
    const found = letteringOf(origin([...far, ...odd, dimension(9, 150)]), PLAN, 'mm', 'mm', job());
    expect([found.heightMm, found.count]).toEqual([150, 1]);
    // Without them those far away are better than none.
    expect(letteringOf(origin([...far, ...odd]), PLAN, 'mm', 'mm', job()).heightMm).toBe(250);
  });

  it('is that of the texts near the walls where there are no dimensions, of one or two texts nothing', () => {
    const texts = [text(0, 180), text(1, 180), text(2, 350)];
    expect(letteringOf(origin([], texts), PLAN, 'mm', 'mm', job())).toMatchObject({ heightMm: 180, from: 'texts' });
    expect(letteringOf(origin([dimension(60_000, 200)], texts), PLAN, 'mm', 'mm', job()).from).toBe('texts');
    expect(letteringOf(origin([], texts.slice(0, 2)), PLAN, 'mm', 'mm', job())).toMatchObject({
      heightMm: 125,
      from: 'usual',
      statedMm: null,
    });
  });

  it('is measured in the unit of the drawing', () => {
    // 3/32" lettering at 1/2" = 1'-0": 2.25 in; at 1/4" 4.5 in = 114.3 mm; 1/8" at 1/4" = 1'-0": 6 in = 152.4 mm.
    expect(letteringOf(origin([dimension(1, 6)]), PLAN, 'in', 'in', job())).toMatchObject({ heightMm: 152.4 });
    expect(letteringOf(origin([dimension(1, 4.5)]), PLAN, 'in', 'in', job())).toMatchObject({
      heightMm: 120,
      statedMm: 114.3,
    });
    expect(letteringOf(origin([dimension(1, 0.2)]), PLAN, 'm', 'mm', job()).heightMm).toBe(200);
  });

  it('stays within what units and sheets allow', () => {
    const of = (height: number) => letteringOf(origin([dimension(1, height)]), PLAN, 'mm', 'mm', job());
    expect(of(50)).toMatchObject({ heightMm: 100, statedMm: 50 });
    expect(of(500)).toMatchObject({ heightMm: 250, statedMm: 500 });
  });

  it('is what the job file says before all else, for the trace too', () => {
    const all = origin([dimension(1, 125)], [text(0, 180)]);
    const said = job({ textHeightMm: 200 });
    expect(letteringOf(all, PLAN, 'mm', 'mm', said)).toMatchObject({ heightMm: 200, from: 'job' });
    expect(statedHeightMm(all, PLAN, 'mm', said)).toBe(200);
    expect(statedHeightMm(all, PLAN, 'mm', job())).toBe(125);
    expect(statedHeightMm(origin([]), PLAN, 'mm', job())).toBeNull();
  });

  it('cannot be stated so that nobody could read it, or that it would drown the units', () => {
    for (const textHeightMm of [99, 251, 0, -125, '125']) {
      const parsed = parseJob({ output: { textHeightMm } });
      expect(parsed.ok, String(textHeightMm)).toBe(false);
      expect(parsed.findings[0]!.message).toContain('output.textHeightMm');
    }
  });
});
