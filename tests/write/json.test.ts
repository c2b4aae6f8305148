/** layout.json: the promised keys, valid against its own schema, rounded, the same for the same input, references that lead somewhere. */

import { describe, expect, it } from 'vitest';
import type { Result } from '../../src/ground/vocabulary.js';
import { layoutFile, layoutJson, layoutJsonSchema, layoutSchema } from '../../src/write/json/index.js';
import { exampleResult } from '../support/exampleResult.js';
import { complaints } from './jsonSchema.js';

const text = layoutJson(exampleResult);
const parsed = JSON.parse(text) as ReturnType<typeof layoutFile>;

/** The keys of version 1, in order: they may become more, never others. */
const KEYS = {
  top: 'format version source walls nodes faces openings pieces ties groups clamps aligners braces platforms pressure fill schedule totals findings',
  source: 'file sha256 kind lengthUnit',
  walls: 'id start end thicknessMm base top sources',
  nodes: 'id kind at angleDeg walls',
  faces: 'id wall side fromMm toMm',
  ties: 'id item wall row stationMm levelMm pieces holes loadKn workingLoadKn governingFace outsideConcrete',
  groups: 'id face pieces supports',
  pressure: 'pour method designKpa rateMPerH inputs envelope',
  fill: 'timberAreaM2 places tiers',
  schedule: 'item kind widthMm heightMm count massKg',
  findings: 'code severity rule at subject message assumed',
} as const;

describe('shape', () => {
  it('has every promised key, in order', () => {
    const keys = (value: object | undefined) => Object.keys(value ?? {}).join(' ');
    expect(keys(parsed)).toBe(KEYS.top);
    expect(keys(parsed.source)).toBe(KEYS.source);
    expect(keys(parsed.fill)).toBe(KEYS.fill);
    for (const list of ['walls', 'nodes', 'faces', 'ties', 'groups', 'pressure', 'schedule', 'findings'] as const)
      for (const entry of parsed[list]) expect(keys(entry)).toBe(KEYS[list]);
    for (const piece of parsed.pieces) {
      const optional = piece.node === undefined ? '' : ' node';
      expect(keys(piece)).toBe(`id kind item turned course pours covers${optional}`);
    }
    expect(keys(parsed.totals)).toContain('wallLengthM contactAreaM2 contactAreaNetM2');
  });

  it('says version 1 of its format, and leaves empty what is not laid out', () => {
    expect([parsed.format, parsed.version]).toEqual(['shutterwright-layout', 1]);
    for (const list of ['openings', 'clamps', 'aligners', 'braces', 'platforms'] as const)
      expect(parsed[list]).toEqual([]);
  });

  it('is valid, and has nothing that the schema does not name', () => {
    // A zod object drops unknown keys: what comes back is the same only if there were none.
    expect(layoutSchema.parse(parsed)).toEqual(parsed);
  });

  it('ends in one line feed and puts each entry on a line of its own', () => {
    expect(text.endsWith('}\n')).toBe(true);
    expect(text.endsWith('\n\n')).toBe(false);
    const lines = text.split('\n');
    for (const piece of parsed.pieces)
      expect(lines.filter((l) => l.startsWith(`    {"id":"${piece.id}","kind"`))).toHaveLength(1);
  });
});

describe('JSON Schema', () => {
  const schema = layoutJsonSchema();

  it('accepts the layout', () => {
    expect(complaints(parsed, schema)).toEqual([]);
  });

  it('lets later versions add keys', () => {
    expect(complaints({ ...parsed, more: 1 }, schema)).toEqual([]);
  });

  it('refuses what is missing, of another type or of another word', () => {
    const { walls: _, ...wanting } = parsed;
    const spoilt: unknown[] = [
      wanting,
      { ...parsed, version: 2 },
      { ...parsed, source: { ...parsed.source, lengthUnit: 'yard' } },
      { ...parsed, walls: [{ ...parsed.walls[0], start: [0] }] },
      { ...parsed, ties: [{ ...parsed.ties[0], loadKn: '12' }] },
      { ...parsed, ties: [{ ...parsed.ties[0], row: 1.5 }] },
      { ...parsed, pieces: [{ ...parsed.pieces[0], kind: 'plank' }] },
      { ...parsed, findings: [{ ...parsed.findings[0], at: [1, 2] }] },
    ];
    for (const value of spoilt) {
      expect(complaints(value, schema)).not.toEqual([]);
      expect(layoutSchema.safeParse(value).success).toBe(false);
    }
  });
});

describe('values', () => {
  it('name only what is there', () => {
    const ids = (list: readonly { id: string }[]) => new Set(list.map((x) => x.id));
    const [walls, faces, pieces, ties, nodes] = [
      parsed.walls,
      parsed.faces,
      parsed.pieces,
      parsed.ties,
      parsed.nodes,
    ].map(ids);
    for (const face of parsed.faces) expect(walls).toContain(face.wall);
    for (const node of parsed.nodes) for (const wall of node.walls) expect(walls).toContain(wall);
    for (const piece of parsed.pieces) {
      for (const cover of piece.covers) expect(faces).toContain(cover.face);
      if (piece.node !== undefined) expect(nodes).toContain(piece.node);
    }
    for (const tie of parsed.ties) for (const piece of tie.pieces) expect(pieces).toContain(piece);
    for (const group of parsed.groups)
      for (const support of group.supports) expect(support === 'held' || ties!.has(support)).toBe(true);
  });

  it('count in the schedule what stands in the lists', () => {
    const count = (kind: string) => parsed.schedule.filter((r) => r.kind === kind).reduce((sum, r) => sum + r.count, 0);
    for (const kind of new Set(parsed.pieces.map((p) => p.kind)))
      expect(count(kind), kind).toBe(parsed.pieces.filter((p) => p.kind === kind).length);
    expect(count('tie')).toBe(parsed.ties.length);
    expect(parsed.totals.tieCount).toBe(parsed.ties.length);
    expect(parsed.fill.timberAreaM2).toBe(parsed.totals.timberAreaM2);
  });

  it('are rounded to four places, loads to three, without a minus before nothing', () => {
    const odd: Result = {
      ...exampleResult,
      plan: {
        ...exampleResult.plan,
        walls: exampleResult.plan.walls.map((w) => ({ ...w, start: { x: -1e-9, y: 1 / 3 } })),
      },
      layout: { ...exampleResult.layout, ties: exampleResult.layout.ties.map((t) => ({ ...t, loadKn: 20 / 3 })) },
    };
    const file = layoutFile(odd);
    expect(file.walls[0]!.start).toEqual([0, 0.3333]);
    expect(Object.is(file.walls[0]!.start[0], 0)).toBe(true);
    expect(file.ties[0]!.loadKn).toBe(6.667);
  });

  it('throw where a number is none: null would read as ‘nothing proven’ or ‘no place’', () => {
    const ties = exampleResult.layout.ties.map((t) => ({ ...t, loadKn: Number.NaN }));
    expect(() => layoutJson({ ...exampleResult, layout: { ...exampleResult.layout, ties } })).toThrow(/NaN/);
  });

  it('are the same for the same result', () => {
    expect(layoutJson(structuredClone(exampleResult))).toBe(text);
  });

  it('give each piece the pour of its wall’s height', () => {
    const [low] = exampleResult.layout.pressure;
    const high = { ...low!, pourHeightMm: 3000 };
    const runs = exampleResult.plan.runs.map((r) => (r.wall === 'W2' ? { ...r, topMm: 3000 } : r));
    const file = layoutFile({
      ...exampleResult,
      plan: { ...exampleResult.plan, runs },
      layout: { ...exampleResult.layout, pressure: [low!, high] },
    });
    const poursOf = (id: string) => file.pieces.find((p) => p.id === id)!.pours;
    expect(file.pressure.map((p) => p.pour)).toEqual(['POUR1', 'POUR2']);
    expect(poursOf('P1')).toEqual(['POUR1']);
    expect(poursOf('P17')).toEqual(['POUR2']);
    const corner = file.pieces.find((p) => p.kind === 'inside-corner')!;
    expect(corner.pours).toEqual(['POUR1', 'POUR2']);
  });
});
