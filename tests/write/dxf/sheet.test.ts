/** What a crew could not read: texts over texts, marks that run out of their units, things put over the drawing. */

import { describe, expect, it } from 'vitest';
import type { Finding } from '../../../src/ground/findings.js';
import type { Result } from '../../../src/ground/vocabulary.js';
import { type Bounds, boundsOf, textCorners } from '../../../src/write/dxf/bounds.js';
import { compose, NOTHING, type Surroundings } from '../../../src/write/dxf/compose.js';
import { overlap } from '../../../src/write/dxf/labels.js';
import { makeScene } from '../../../src/write/dxf/scene.js';
import type { Attribute, InsertShape, Sheet, TextShape } from '../../../src/write/dxf/sheet.js';
import { boxOf, type Text, textsOf } from '../../support/clashes.js';
import { exampleResult, sampleFinding } from '../../support/exampleResult.js';
import { elbow, straightWall } from './fixtures.js';

const at = (x: number, y: number): [number, number, number] => [x, y, 0];
const findings: readonly Finding[] = [
  ...Array.from({ length: 12 }, (_, i) =>
    sampleFinding('check.x', 'failure', 'T11', at(3000, 0), `T${i}`, 'A failure.'),
  ),
  sampleFinding('trace.y', 'attention', 'input', at(0, 0), '', 'An attention.'),
  sampleFinding('trace.z', 'note', 'input', at(6000, 0), 'W1', 'A note.'),
  sampleFinding('trace.w', 'note', 'input', null, 'W1', 'A note without a place.'),
];

const cases: readonly [string, Result][] = [
  ['the worked L', exampleResult],
  ['a straight wall', straightWall({ findings })],
  ['an elbow', elbow({ findings })],
  ['an elbow turned by 30 degrees', elbow({ turnDeg: 30 })],
];

const sheetOf = (result: Result, drawing: Surroundings = NOTHING): Sheet =>
  compose(makeScene(result, 'AC1032', new Set()), drawing).sheet;

const inserts = (sheet: Sheet): InsertShape[] => sheet.shapes.filter((s): s is InsertShape => s.type === 'insert');
const value = (insert: InsertShape, tag: string): string =>
  insert.attributes.find((a: Attribute) => a.tag === tag)?.text ?? '';

const markTexts = (sheet: Sheet, where: 'inside' | 'mark', piece: string): TextShape[] =>
  sheet.shapes.filter((s): s is TextShape => s.type === 'text' && s.about[0] === where && s.about[1] === piece);

for (const [name, result] of cases) {
  describe(name, () => {
    const sheet = sheetOf(result);

    it('no text lies over another', () => {
      const boxes = textsOf(sheet.shapes, sheet).map((t) => ({ text: t.text, box: boxOf(t) }));
      const clashes: string[] = [];
      boxes.forEach((a, i) => {
        for (const b of boxes.slice(i + 1)) if (overlap(a.box, b.box)) clashes.push(`${a.text} | ${b.text}`);
      });
      expect(clashes).toEqual([]);
    });

    it('marks in elevations lie within their units', () => {
      const elevations = inserts(sheet).filter((i) => value(i, 'VIEW') === 'ELEV');
      expect(elevations.length).toBe(result.layout.pieces.length);
      let inside = 0;
      for (const insert of elevations) {
        const block = sheet.blocks.find((b) => b.name === insert.block)!;
        const b = boundsOf(block.shapes);
        // The second leg of a corner has its mark too, in the elevation of the other face.
        const mark = markTexts(sheet, 'inside', value(insert, 'PIECE'))[0];
        if (!mark) continue;
        expect(mark.text).toBe(value(insert, 'MARK'));
        for (const c of textCorners(mark.text, mark)) {
          expect(c.x - insert.at.x).toBeGreaterThan(b.minX);
          expect(c.x - insert.at.x).toBeLessThan(b.maxX);
          expect(c.y - insert.at.y).toBeGreaterThan(b.minY);
          expect(c.y - insert.at.y).toBeLessThan(b.maxY);
        }
        inside++;
      }
      expect(inside).toBeGreaterThan(result.layout.pieces.length / 2);
    });

    it('every piece of an elevation shows its mark, inside or beside it', () => {
      for (const insert of inserts(sheet).filter((i) => value(i, 'VIEW') === 'ELEV')) {
        const id = value(insert, 'PIECE');
        const marks = [...markTexts(sheet, 'inside', id), ...markTexts(sheet, 'mark', id)];
        expect(marks.length, id).toBeGreaterThan(0);
        expect(marks.every((m) => m.text === value(insert, 'MARK'))).toBe(true);
      }
    });

    it('every finding is in the list, and those with a place are flagged by number', () => {
      const texts = textsOf(sheet.shapes, sheet).map((t) => t.text);
      result.findings.forEach((f, i) => {
        const number = `${{ failure: 'F', attention: 'A', note: 'N' }[f.severity]}${i + 1}`;
        expect(texts.filter((t) => t === number)).toHaveLength(f.at === null ? 1 : 2);
      });
    });
  });
}

describe('beside the drawing', () => {
  it('notes, schedule and elevations stand right of all of it', () => {
    const drawing: Bounds = { minX: -50_000, minY: -20_000, maxX: 80_000, maxY: 30_000 };
    const sheet = sheetOf(elbow(), { bounds: drawing, texts: [] });
    const kinds = ['notes', 'schedule', 'title', 'dimension', 'level'];
    const beside = sheet.shapes.filter((s) => s.type !== 'dimension' && kinds.includes(s.about[0] ?? ''));
    expect(beside.length).toBeGreaterThan(200);
    expect(boundsOf(beside).minX).toBeGreaterThan(drawing.maxX + 1000);
    for (const insert of inserts(sheet)) {
      if (value(insert, 'VIEW') === 'ELEV') expect(insert.at.x).toBeGreaterThan(drawing.maxX + 1000);
    }
  });
});

describe("the drawing's own texts", () => {
  it('are kept clear of marks, face names and flags', () => {
    const own: Bounds[] = [
      { minX: 2000, minY: -700, maxX: 4000, maxY: -200 },
      { minX: 1000, minY: 150, maxX: 2500, maxY: 900 },
    ];
    const result = straightWall({ findings });
    const textsIn = (sheet: Sheet): Text[] => textsOf(sheet.shapes, sheet);
    const free = textsIn(sheetOf(result));
    const clear = textsIn(sheetOf(result, { bounds: { minX: 0, minY: -700, maxX: 6000, maxY: 900 }, texts: own }));
    const boxes = own.map((b) => ({
      kind: 'text' as const,
      centre: { x: (b.minX + b.maxX) / 2, y: (b.minY + b.maxY) / 2 },
      halfMm: [(b.maxX - b.minX) / 2, (b.maxY - b.minY) / 2] as const,
      rotationDeg: 0,
    }));
    const onThem = (texts: readonly Text[]): number =>
      texts.filter((t) => boxes.some((b) => overlap(boxOf(t), b))).length;
    expect(onThem(free)).toBeGreaterThan(5);
    expect(onThem(clear)).toBe(0);
  });
});

describe('dimensions in plan', () => {
  it('measure the concrete of each left and right face from vertex to vertex', () => {
    const sheet = sheetOf(elbow());
    const lengths = sheet.shapes.flatMap((s) =>
      s.type === 'dimension' && s.style === 'plan'
        ? [`${s.about[1]} ${Math.hypot(s.to.x - s.from.x, s.to.y - s.from.y)}`]
        : [],
    );
    expect(lengths).toEqual(['W1-left 5900', 'W1-right 6100', 'W2-left 6100', 'W2-right 5900']);
  });
});

describe('elevations', () => {
  it('are seen from outside: stations fall from left to right on a left face, rise on a right one', () => {
    const sheet = sheetOf(elbow());
    for (const [face, rises] of [
      ['W1-left', false],
      ['W1-right', true],
    ] as const) {
      const places = inserts(sheet)
        .filter((i) => value(i, 'VIEW') === 'ELEV' && value(i, 'FACE') === face)
        .map((i) => {
          const piece = elbow().layout.pieces.find((p) => p.id === value(i, 'PIECE'))!;
          return { x: i.at.x, station: piece.covers[0]!.fromMm };
        })
        .sort((a, b) => a.x - b.x);
      expect(places.length).toBeGreaterThan(10);
      for (let i = 1; i < places.length; i++) {
        expect(places[i]!.station > places[i - 1]!.station).toBe(rises);
      }
    }
  });

  it('running dimensions start at the concrete, not at the panels that run past it', () => {
    const strings = sheetOf(straightWall()).shapes.filter(
      (s) => s.about[0] === 'dimension' && s.about[1] === 'W1-right' && (s.type !== 'dimension' || s.style !== 'plan'),
    );
    const said = strings.flatMap((s) => (s.type === 'text' ? [s.text] : s.type === 'dimension' ? [s.says] : []));
    // From 150 before the concrete's start vertex to 180 past its end.
    expect(said).toContain('-150');
    expect(said).toContain('0');
    expect(said).toContain('6180');
    // The closing sums: the forms end 150 before the concrete starts and 180 beyond its end.
    expect(
      said.filter((t) => t.startsWith('CONCRETE = 6000, FORMS = 6330, 150 BEYOND START, 180 BEYOND END')),
    ).toHaveLength(1);
    // Single widths are those of the pieces: ten of 600, one of 300, the timber of 30; no part of one up to the concrete's end.
    expect([600, 300, 30].map((w) => said.filter((t) => t === String(w)).length)).toEqual([10, 1, 1]);
    expect(said.filter((t) => t === '120' || t === '180')).toEqual([]);
  });
});
