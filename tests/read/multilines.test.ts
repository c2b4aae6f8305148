/** MLINE: elements with breaks, closed ones, ends, and what is worked out from the style. */

import { describe, expect, it } from 'vitest';
import { dxf, r12, readText } from './samples.js';

type At = readonly [x: number, y: number];

/** A vertex with the direction on, the mitre, and each element's parameters. */
const vertex = (at: At, along: At, mitre: At, elements: readonly (readonly number[])[]): string[] => [
  ...[
    `11 ${at[0]}`,
    `21 ${at[1]}`,
    '31 0',
    `12 ${along[0]}`,
    `22 ${along[1]}`,
    '32 0',
    `13 ${mitre[0]}`,
    `23 ${mitre[1]}`,
    '33 0',
  ],
  ...elements.flatMap((e) => [`74 ${e.length}`, ...e.map((n) => `41 ${n}`), '75 0']),
];
const mline = (flags: number, vertices: readonly (readonly string[])[], more: readonly string[] = []): string[] => [
  ...['0 MLINE', '5 B', '8 W', '2 WALL', '40 1', '70 1', `71 ${flags}`, `72 ${vertices.length}`, ...more],
  ...vertices.flat(),
];

const style = (flags: number, elements: readonly (readonly [offset: number, lineType: string])[]): string[] => [
  ...['0 MLINESTYLE', '5 57', '2 WALL', `70 ${flags}`, '3 ', '62 256', '51 90', '52 90', `71 ${elements.length}`],
  ...elements.flatMap(([offset, lineType]) => [`49 ${offset}`, '62 256', `6 ${lineType}`]),
];

const read = (entities: readonly string[], objects: readonly string[] = []) =>
  readText(r12(entities).replace('  0\nEOF\n', dxf(['0 SECTION', '2 OBJECTS', ...objects, '0 ENDSEC', '0 EOF'])))
    .drawing;
const seen = (drawing: ReturnType<typeof read>) =>
  drawing.paths.map((p) => p.vertices.map((v) => [Math.round(v.x * 1e6) / 1e6, Math.round(v.y * 1e6) / 1e6]));

const R = Math.SQRT1_2;
/** A square of 100, its two elements 10 outside and 10 inside, on mitres of 45 degrees. */
const square = (elements: (corner: number) => readonly (readonly number[])[]): string[][] => [
  vertex([0, 0], [1, 0], [R, R], elements(0)),
  vertex([100, 0], [0, 1], [-R, R], elements(1)),
  vertex([100, 100], [-1, 0], [-R, -R], elements(2)),
  vertex([0, 100], [0, -1], [R, -R], elements(3)),
];
const D = 10 * Math.SQRT2;

describe('elements of an MLINE', () => {
  it('closed: each runs round on its mitres', () => {
    const drawing = read(
      mline(
        3,
        square(() => [
          [D, 0],
          [-D, 0],
        ]),
      ),
    );
    expect(drawing.paths.map((p) => [p.source, p.closed])).toEqual([
      ['B', true],
      ['B.2', true],
    ]);
    expect(seen(drawing)).toEqual([
      [
        [10, 10],
        [90, 10],
        [90, 90],
        [10, 90],
      ],
      [
        [-10, -10],
        [110, -10],
        [110, 110],
        [-10, 110],
      ],
    ]);
  });

  it('broken: stops and starts again along its segment, and round a corner it goes on', () => {
    const gap = (corner: number) =>
      corner === 1
        ? [
            [D, 0, 20, 50],
            [-D, 0],
          ]
        : [
            [D, 0],
            [-D, 0],
          ];
    expect(seen(read(mline(3, square(gap))))).toEqual([
      [
        [90, 60],
        [90, 90],
        [10, 90],
        [10, 10],
        [90, 10],
        [90, 30],
      ],
      [
        [-10, -10],
        [110, -10],
        [110, 110],
        [-10, 110],
      ],
    ]);
    const open = [
      vertex(
        [0, 0],
        [1, 0],
        [0, 1],
        [
          [5, 3, 20, 50],
          [-5, 0, 40],
        ],
      ),
      vertex(
        [100, 0],
        [1, 0],
        [0, 1],
        [
          [5, 0],
          [-5, 10],
        ],
      ),
      vertex([200, 0], [1, 0], [0, 1], [[5], [-5]]),
    ];
    expect(seen(read(mline(1, open)))).toEqual([
      [
        [3, 5],
        [20, 5],
      ],
      [
        [50, 5],
        [100, 5],
        [200, 5],
      ],
      [
        [0, -5],
        [40, -5],
      ],
      [
        [110, -5],
        [200, -5],
      ],
    ]);
  });

  it('have the line type that the style gives them', () => {
    const two = [vertex([0, 0], [1, 0], [0, 1], [[5], [0]]), vertex([9, 0], [1, 0], [0, 1], [[5], [0]])];
    const drawing = read(
      mline(1, two, ['6 DASHED']),
      style(0, [
        [5, 'BYLAYER'],
        [0, 'CENTER'],
      ]),
    );
    expect(drawing.paths.map((p) => p.lineType)).toEqual(['DASHED', 'CENTER']);
  });

  it('are worked out from style, justification and scale where the vertices do not tell them', () => {
    const bare = (justification: number, scale: number) =>
      mline(
        3,
        square(() => []),
      ).map((tag) => (tag === '70 1' ? `70 ${justification}` : tag === '40 1' ? `40 ${scale}` : tag));
    const wall = style(0, [
      [10, 'BYLAYER'],
      [-10, 'BYLAYER'],
    ]);
    const first = (justification: number, scale: number) =>
      seen(read(bare(justification, scale), wall)).map((p) => p[0]);
    expect(first(1, 1)).toEqual([
      [10, 10],
      [-10, -10],
    ]);
    expect(first(1, 2)).toEqual([
      [20, 20],
      [-20, -20],
    ]);
    expect(first(0, 1)).toEqual([
      [0, 0],
      [-20, -20],
    ]);
    expect(first(2, 1)).toEqual([
      [20, 20],
      [0, 0],
    ]);
    const without = read(bare(1, 1));
    expect(without.paths).toEqual([]);
    expect(without.unread).toEqual({ MLINE: 1 });
  });

  it('have caps at the ends where the style says so and the MLINE does not put them off', () => {
    const two = [vertex([0, 0], [1, 0], [0, 1], [[5], [-5]]), vertex([90, 0], [1, 0], [0, 1], [[5], [-5]])];
    const wall: [number, string][] = [
      [5, 'BYLAYER'],
      [-5, 'BYLAYER'],
    ];
    const caps = (flags: number, own: number) =>
      read(mline(own, two), style(flags, wall))
        .paths.slice(2)
        .map((p) => p.vertices.map((v) => [v.x, v.y, v.bulge]));
    expect(caps(16 + 256, 1)).toEqual([
      [
        [0, 5, 0],
        [0, -5, 0],
      ],
      [
        [90, 5, 0],
        [90, -5, 0],
      ],
    ]);
    // Half circles bulge away from the line: the first to the left of x = 0, so to the right of its chord downwards.
    expect(caps(64 + 1024, 1)).toEqual([
      [
        [0, 5, 1],
        [0, -5, 0],
      ],
      [
        [90, 5, -1],
        [90, -5, 0],
      ],
    ]);
    expect(caps(16 + 256, 1 + 4)).toEqual([
      [
        [90, 5, 0],
        [90, -5, 0],
      ],
    ]);
    expect(caps(16 + 256, 1 + 4 + 8)).toEqual([]);
  });
});
