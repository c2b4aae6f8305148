/** What the writers make of layouts from the whole chain: files that hold up, lists that agree with each other and with the plan. */

import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { parse as yaml } from 'yaml';
import type { Result } from '../../src/ground/vocabulary.js';
import { type LayoutFile, layoutJsonSchema } from '../../src/write/json/index.js';
import { laidOut, layBytes, textFileOf } from '../support/lay.js';
import { ROOT } from '../support/repository.js';
import { complaints } from './jsonSchema.js';
import { readMarkup } from './markupReader.js';

const FIXTURES = ['01-corner-house/corner-house', '02-parallel-lines-in-inches/marlow-cellar'] as const;

/** Area of the left and right faces that pieces cover, from layout.json alone: each cover cut at the face, the footing and the pour line. */
const coveredM2 = (layout: LayoutFile): number => {
  const walls = new Map(layout.walls.map((w) => [w.id, w]));
  const faces = new Map(layout.faces.map((f) => [f.id, f]));
  let mm2 = 0;
  for (const cover of layout.pieces.flatMap((p) => p.covers)) {
    const face = faces.get(cover.face)!;
    if (face.side !== 'left' && face.side !== 'right') continue;
    const { base, top } = walls.get(face.wall)!;
    // One level a wall in these fixtures.
    expect([base.length, top.length]).toEqual([1, 1]);
    const width = Math.min(cover.toMm, face.toMm) - Math.max(cover.fromMm, face.fromMm);
    const height = Math.min(cover.topMm, top[0]!.levelMm) - Math.max(cover.baseMm, base[0]!.levelMm);
    mm2 += Math.max(0, width) * Math.max(0, height);
  }
  return mm2 / 1e6;
};

describe.each(FIXTURES)('%s', (fixture) => {
  let result: Result;
  let layout: LayoutFile;
  let html: string;

  beforeAll(() => {
    const path = join(ROOT, 'fixtures', fixture);
    const outcome = layBytes(readFileSync(`${path}.dxf`), yaml(readFileSync(`${path}.job.yaml`, 'utf8')) ?? {});
    result = laidOut(outcome).result;
    layout = JSON.parse(textFileOf(outcome, '.layout.json')) as LayoutFile;
    html = textFileOf(outcome, '.report.html');
  });

  it('has walls, pieces and ties to look at', () => {
    expect(layout.walls.length).toBeGreaterThan(3);
    expect(layout.pieces.length).toBeGreaterThan(50);
    expect(layout.ties.length).toBeGreaterThan(50);
  });

  it('layout.json fits the published schema', () => {
    expect(complaints(layout, layoutJsonSchema())).toEqual([]);
  });

  it('counts every piece and tie, and adds up what the faces carry to the contact area', () => {
    const count = (...kinds: string[]) =>
      layout.schedule.filter((r) => kinds.includes(r.kind)).reduce((sum, r) => sum + r.count, 0);
    const all = layout.schedule.reduce((sum, r) => sum + r.count, 0);
    const site = ['aligner', 'fixing', 'brace', 'bracket', 'plank', 'rail'];
    expect(all - count('tie', 'lock', 'clamp', ...site)).toBe(layout.pieces.length);
    expect(count('aligner')).toBe(layout.aligners.length);
    expect(count('brace')).toBe(layout.braces.length);
    expect(count('bracket')).toBe(layout.platforms.reduce((n, p) => n + p.brackets.length, 0));
    const parts = [...layout.aligners, ...layout.platforms, ...(layout.decks ?? [])].flatMap((x) => x.parts ?? []);
    expect(count('fixing', 'plank', 'rail')).toBe(parts.reduce((n, p) => n + p.count, 0));
    expect(count('tie')).toBe(layout.ties.length);
    expect(count('lock')).toBe(2 * layout.ties.length);
    expect(count('clamp')).toBe(layout.clamps.length);
    expect(layout.clamps.length).toBeGreaterThan(100);
    expect(coveredM2(layout)).toBeCloseTo(layout.totals.contactAreaM2, 3);
    expect(layout.totals.massKg).toBeCloseTo(
      layout.schedule.reduce((sum, r) => sum + r.massKg, 0),
      1,
    );
  });

  it('has a pour with a pressure for every piece', () => {
    const pours = new Set(layout.pressure.map((p) => p.pour));
    for (const piece of layout.pieces) {
      expect(piece.pours.length).toBeGreaterThan(0);
      for (const pour of piece.pours) expect(pours).toContain(pour);
    }
  });

  it('the report is well formed, links only to itself, and draws every face', () => {
    const { tags, text } = readMarkup(html);
    const ids = tags.flatMap((t) => t.attributes.get('id') ?? []);
    expect(new Set(ids).size).toBe(ids.length);
    for (const link of tags.flatMap((t) => t.attributes.get('href') ?? [])) expect(ids).toContain(link.slice(1));
    for (const face of layout.faces.filter((f) => f.side === 'left' || f.side === 'right'))
      expect(text).toContain(`Face ${face.id}: ${face.side} side of wall ${face.wall}`);
    for (const tie of layout.ties) expect(text).toContain(tie.id);
    expect(result.schedule.setting).toHaveLength(layout.pieces.length);
  });
});
