import { describe, expect, it } from 'vitest';
import { drawingExtents } from '../../../src/write/dxf/extents.js';
import { read } from '../../read/outside.js';

const tags = (...pairs: readonly (number | string)[]): string =>
  pairs.map((p, i) => (i % 2 === 0 ? String(p).padStart(3) : String(p))).join('\n');

const mtext = tags(0, 'MTEXT', 8, 'NOTE', 10, 100, 20, 50, 40, 10, 41, 90, 71, 1, 1, 'FROM TOP PLATE TO BOTTOM PLATE');
const block = (name: string, inside: string) =>
  `${tags(0, 'BLOCK', 8, '0', 2, name, 70, 0, 10, 100, 20, 0)}\n${inside}\n${tags(0, 'ENDBLK', 8, '0')}`;

const drawing = (blocks: string, entities: string): Uint8Array =>
  new TextEncoder().encode(
    `${tags(0, 'SECTION', 2, 'HEADER', 9, '$ACADVER', 1, 'AC1009', 0, 'ENDSEC')}\n${tags(0, 'SECTION', 2, 'BLOCKS')}\n${blocks}\n${tags(0, 'ENDSEC', 0, 'SECTION', 2, 'ENTITIES')}\n${entities}\n${tags(0, 'ENDSEC', 0, 'EOF')}\n`,
  );

const boxes = (bytes: Uint8Array) => drawingExtents(read(bytes).drawing.document).texts;

describe('boxes of the texts of a drawing', () => {
  it('have the height of all lines, down from the point of a text that hangs from its top', () => {
    const [box] = boxes(drawing(block('UNUSED', mtext), mtext));
    expect(box!.minX).toBeCloseTo(100, 6);
    expect(box!.maxX).toBeCloseTo(190, 6);
    expect(box!.maxY).toBeCloseTo(50, 6);
    // Ten letters of 9 a line: FROM TOP, PLATE TO, BOTTOM, PLATE; lines 5/3 of 10 apart.
    expect(box!.minY).toBeCloseTo(50 - (3 * 10 * 5) / 3 - 10, 6);
  });

  it('lie about the point by which a line of text is justified (DXF reference: TEXT, groups 72 and 73)', () => {
    // Ten letters of 100 at a width factor of 0.85: 850 wide; letters reach below their baseline.
    const box = (across: number, upright: number, second: readonly [number, number], deg = 0) =>
      boxes(
        drawing(
          block('UNUSED', mtext),
          tags(
            ...[0, 'TEXT', 8, 'NOTE', 10, -500, 20, 0, 40, 100, 41, 0.85, 1, 'FLOOR PLAN', 50, deg],
            ...[72, across, 73, upright, 11, second[0], 21, second[1]],
          ),
        ),
      )[0]!;
    const sides = (b: ReturnType<typeof box>) => [b.minX, b.maxX, b.minY, b.maxY].map((v) => Math.round(v) + 0);
    expect(sides(box(1, 2, [2000, 0]))).toEqual([1575, 2425, -90, 50]);
    expect(sides(box(2, 0, [2000, 0]))).toEqual([1150, 2000, -40, 100]);
    expect(sides(box(0, 3, [2000, 0]))).toEqual([2000, 2850, -140, 0]);
    expect(sides(box(4, 0, [2000, 0]))).toEqual([1575, 2425, -70, 70]);
    // Without a justification the second point counts for nothing; fitted between two points the text runs from one to the other.
    expect(sides(box(0, 0, [2000, 0]))).toEqual([-500, 350, -40, 100]);
    expect(sides(box(5, 0, [-500, 700]))).toEqual([-600, -460, 0, 700]);
  });

  it('are found in inserted blocks, turned, scaled and moved, and in blocks within them', () => {
    const at = (name: string, x: number, y: number, deg: number, scale: number) =>
      tags(0, 'INSERT', 8, '0', 2, name, 10, x, 20, y, 41, scale, 42, scale, 50, deg);
    const found = boxes(
      drawing(
        `${block('PLAN', mtext)}\n${block('OUTER', at('PLAN', 100, 0, 0, 1))}`,
        `${at('PLAN', 1000, 2000, 90, 2)}\n${at('OUTER', 5000, 0, 0, 1)}`,
      ),
    );
    expect(found).toHaveLength(2);
    // The base point of PLAN lies at 100, 0: its text begins 50 above it, and a quarter turn puts that to the left.
    expect([found[0]!.minX, found[0]!.minY]).toEqual([1000 - 100, 2000].map((v) => expect.closeTo(v, 6)));
    expect([found[1]!.minX, found[1]!.maxY]).toEqual([5000, 50].map((v) => expect.closeTo(v, 6)));
  });

  it('come to an end where blocks hold themselves or multiply', () => {
    const ten = (name: string) =>
      Array.from({ length: 10 }, () => tags(0, 'INSERT', 8, '0', 2, name, 10, 0, 20, 0)).join('\n');
    const nested = Array.from({ length: 7 }, (_, i) => block(`B${i}`, i === 0 ? mtext : ten(`B${i - 1}`))).join('\n');
    expect(boxes(drawing(nested, ten('B6'))).length).toBe(5_000);
    expect(boxes(drawing(block('SELF', `${mtext}\n${ten('SELF')}`), ten('SELF'))).length).toBe(5_000);
  });
});
