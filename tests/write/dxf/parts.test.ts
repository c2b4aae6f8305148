/** The small parts of the drawing: lengths, marks, lanes, boxes, names, handles. */

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { marksOf } from '../../../src/ground/marks.js';
import { coverPose, frameOf, inPose } from '../../../src/ground/places.js';
import { sizeText } from '../../../src/ground/sizes.js';
import type { Tag, TagDocument } from '../../../src/ground/tags.js';
import type { FormUnit, Piece } from '../../../src/ground/vocabulary.js';
import { makeHandles } from '../../../src/write/dxf/handles.js';
import { type Box, overlap, Places, spread } from '../../../src/write/dxf/labels.js';
import { layerNames, symbolName } from '../../../src/write/dxf/layers.js';
import { lengthText, levelText } from '../../../src/write/dxf/lengths.js';
import { planShapes } from '../../../src/write/dxf/symbols.js';
import { wrap } from '../../../src/write/dxf/tables.js';
import { exampleCatalogue, examplePlan, exampleResult } from '../../support/exampleResult.js';

const seed = Number(process.env.FC_SEED ?? 20240);

describe('lengths', () => {
  it('are mm, or feet and inches in lowest sixteenths', () => {
    expect(lengthText('mm', 6350)).toBe('6350');
    expect(lengthText('mm', 30.25)).toBe('30.3');
    // Forms of dimensions as they stand on US drawings: 8", 1'-4", 3'-0 1/2".
    expect(lengthText('in', 8 * 25.4)).toBe('8"');
    expect(lengthText('in', 16 * 25.4)).toBe(`1'-4"`);
    expect(lengthText('in', 36.5 * 25.4)).toBe(`3'-0 1/2"`);
    expect(lengthText('in', 7.625 * 25.4)).toBe('7 5/8"');
    expect(lengthText('in', 0)).toBe('0"');
    expect(lengthText('in', 11.99 * 25.4)).toBe(`1'-0"`);
  });

  it('levels carry their sign', () => {
    expect(levelText('mm', 0)).toBe('+0');
    expect(levelText('mm', -1250)).toBe('-1250');
    expect(levelText('in', -48 * 25.4)).toBe(`-4'-0"`);
    expect(sizeText('in', 24 * 25.4, 96 * 25.4)).toBe('24x96');
  });
});

describe('spread', () => {
  const rising = fc.array(fc.integer({ min: -5000, max: 5000 }), { maxLength: 30 }).map((a) => a.sort((x, y) => x - y));

  it('keeps the gap and the order, and moves nothing that has room', () => {
    fc.assert(
      fc.property(rising, fc.integer({ min: 1, max: 400 }), (wanted, gap) => {
        const placed = spread(wanted, gap);
        for (let i = 1; i < placed.length; i++) expect(placed[i]! - placed[i - 1]!).toBeGreaterThan(gap - 1e-6);
        if (wanted.every((w, i) => i === 0 || w - wanted[i - 1]! >= gap)) {
          for (const [i, p] of placed.entries()) expect(p).toBeCloseTo(wanted[i]!, 6);
        }
      }),
      { seed },
    );
  });

  it('is least squares: no other spacing that keeps the gap lies nearer', () => {
    fc.assert(
      fc.property(
        rising.filter((w) => w.length > 0),
        fc.array(fc.integer({ min: -300, max: 300 }), { minLength: 30, maxLength: 30 }),
        (wanted, noise) => {
          const gap = 100;
          const cost = (ps: readonly number[]): number => ps.reduce((sum, p, i) => sum + (p - wanted[i]!) ** 2, 0);
          const placed = spread(wanted, gap);
          const other = placed.map((p, i) => p + noise[i]!);
          for (let i = 1; i < other.length; i++) other[i] = Math.max(other[i]!, other[i - 1]! + gap);
          expect(cost(placed)).toBeLessThanOrEqual(cost(other) + 1e-6 * (1 + cost(other)));
        },
      ),
      { seed },
    );
  });
});

const box = (x: number, y: number, w: number, h: number, rotationDeg = 0, kind: Box['kind'] = 'text'): Box => ({
  kind,
  centre: { x, y },
  halfMm: [w / 2, h / 2],
  rotationDeg,
});

describe('boxes', () => {
  it('overlap only where they share ground', () => {
    expect(overlap(box(0, 0, 100, 100), box(99, 0, 100, 100))).toBe(true);
    expect(overlap(box(0, 0, 100, 100), box(100, 0, 100, 100))).toBe(false);
    // A square on its corner reaches 70.7 along x.
    expect(overlap(box(0, 0, 100, 100, 45), box(120, 0, 100, 100))).toBe(true);
    expect(overlap(box(0, 0, 100, 100, 45), box(122, 0, 100, 100))).toBe(false);
  });

  it('a label finds the first free place; leaders cross forms but no texts', () => {
    const places = new Places();
    places.take(box(0, 0, 100, 100, 0, 'body'));
    places.take(box(500, 0, 100, 100, 0, 'text'));
    const tried = [0, 500, 1000].map((x) => ({ x, boxes: [box(x, 0, 50, 50)] as const }));
    expect(places.firstFree(tried).x).toBe(1000);
    expect(places.isFree(box(0, 0, 900, 5, 0, 'leader'))).toBe(true);
    expect(places.isFree(box(300, 0, 900, 5, 0, 'leader'))).toBe(false);
  });
});

describe('wrap', () => {
  it('loses no word and keeps to the width', () => {
    fc.assert(
      fc.property(fc.array(fc.string({ minLength: 1, maxLength: 30 })), (words) => {
        const lines = wrap(words.join(' '), 20);
        expect(lines.every((l) => [...l].length <= 20)).toBe(true);
        expect(lines.join('').replace(/\s/g, '')).toBe(words.join('').replace(/\s/g, ''));
      }),
      { seed },
    );
  });
});

describe('marks', () => {
  const marks = marksOf(examplePlan, exampleCatalogue, exampleResult.layout);
  const markOf = (pick: (p: Piece) => boolean): string => marks.ofPiece(exampleResult.layout.pieces.find(pick)!).mark;

  it('are short, and all different', () => {
    expect(markOf((p) => p.item === 'EX-P600x2400')).toBe('600');
    expect(markOf((p) => p.item === 'EX-P600x1800')).toBe('600/1800');
    expect(markOf((p) => p.item === 'EX-F50x2400')).toBe('F50');
    expect(markOf((p) => p.kind === 'inside-corner')).toBe('C150');
    const byMark = new Map<string, string>();
    for (const piece of exampleResult.layout.pieces) {
      const { mark } = marks.ofPiece(piece);
      const what = piece.item ?? `${piece.kind} ${marks.ofPiece(piece).size}`;
      expect(byMark.get(mark) ?? what).toBe(what);
      byMark.set(mark, what);
    }
  });

  it('stand in every row of the schedule but those of ties', () => {
    for (const row of exampleResult.schedule.rows) {
      const mark = marks.ofRow(row.kind, row.item, row);
      expect(mark !== null, row.item).toBe(row.kind !== 'tie');
    }
  });
});

describe('holes', () => {
  it('count from the left edge as seen from outside: from the higher station on a left face', () => {
    const unit: FormUnit = { ...exampleCatalogue.units[0]!, holes: [{ xMm: 70, yMm: 300 }], widthMm: 600 };
    const shapes = planShapes({
      kind: 'panel',
      unit,
      turned: false,
      widthMm: 600,
      depthMm: 60,
      isUnder: false,
      hatchMm: 25,
    });
    const tick = shapes.find((s) => s.type === 'line')!;
    const stationOf = (id: string): number => {
      const frame = frameOf(examplePlan, examplePlan.faces.find((f) => f.id === id)!);
      const pose = coverPose(frame, { face: id, fromMm: 1000, toMm: 1600, baseMm: 0, topMm: 2400 });
      const at = inPose(pose, tick.from);
      const { start } = frame.wall;
      return (at.x - start.x) * frame.along.x + (at.y - start.y) * frame.along.y;
    };
    expect(stationOf('W1-right')).toBeCloseTo(1070, 6);
    expect(stationOf('W1-left')).toBeCloseTo(1530, 6);
    expect(stationOf('W2-left')).toBeCloseTo(1530, 6);
  });

  it('of a turned unit lie by their height, from the other side: turned is 90 degrees anticlockwise', () => {
    const unit: FormUnit = { ...exampleCatalogue.units[0]!, holes: [{ xMm: 70, yMm: 300 }], heightMm: 2400 };
    const shapes = planShapes({
      kind: 'panel',
      unit,
      turned: true,
      widthMm: 2400,
      depthMm: 60,
      isUnder: false,
      hatchMm: 25,
    });
    expect(shapes.find((s) => s.type === 'line')!.from.x).toBeCloseTo(2100 - 1200, 6);
  });
});

describe('names', () => {
  it('keep to what the version allows', () => {
    expect(symbolName('AC1009', 'Schalung Öl 1')).toBe('SCHALUNG__L_1');
    expect(symbolName('AC1009', 'x'.repeat(40))).toHaveLength(31);
    expect(symbolName('AC1032', 'a<b>c|d\ne')).toBe('a_b_c_d_e');
  });

  it('of layers follow the job; what cannot be is said', () => {
    const { names, findings } = layerNames('AC1032', { PANL: 'Forms', 'S-FORM-TIES': 'Ties?', GONE: 'x' });
    expect(names.PANL).toBe('Forms');
    expect(names.TIES).toBe('Ties_');
    expect(names.CRNR).toBe('S-FORM-CRNR');
    expect(findings.map((f) => [f.code, f.subject])).toEqual([
      ['write.layer-name', 'S-FORM-TIES'],
      ['write.layer-name', 'GONE'],
    ]);
  });
});

describe('handles', () => {
  const document = (version: string, handles: readonly string[]): TagDocument => {
    const lines = handles.flatMap((h): Tag[] => [
      { code: 0, value: 'LINE' },
      { code: 5, value: h },
    ]);
    const wrap = (name: string, body: Tag[]): Tag[] => [
      { code: 0, value: 'SECTION' },
      { code: 2, value: name },
      ...body,
      { code: 0, value: 'ENDSEC' },
    ];
    const header = [
      { code: 9, value: '$UCSNAME' },
      { code: 2, value: '' },
      { code: 9, value: '$HANDSEED' },
      { code: 5, value: 'FFFF' },
    ];
    const tags = [...wrap('HEADER', header), ...wrap('ENTITIES', lines), { code: 0, value: 'EOF' }];
    return { form: 'text', lineEnd: '\n', version, coding: { label: 'utf8' }, tags };
  };

  it('go on above the highest of the records, whatever the seed says', () => {
    const handles = makeHandles(document('AC1015', ['1F', 'a0', '3']));
    expect([handles.next(), handles.next(), handles.seed()]).toEqual(['A1', 'A2', 'A3']);
  });

  it('are none in an R12 drawing without any', () => {
    const handles = makeHandles(document('AC1009', []));
    expect([handles.next(), handles.seed()]).toEqual([null, null]);
    expect(makeHandles(document('AC1009', ['7'])).next()).toBe('8');
  });

  it('take the free ones from below where there is no room above', () => {
    const handles = makeHandles(document('AC1032', ['FFFFFFFFFFFFFFFF', '1', '3']));
    expect([handles.next(), handles.next(), handles.next()]).toEqual(['2', '4', '5']);
    expect(handles.seed()).toBe('FFFFFFFFFFFFFFFE');
  });
});
