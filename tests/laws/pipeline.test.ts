/** Laws of the whole chain: what must not change a layout, on drawings made for the purpose. */

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fileOf, laidOut, layBytes, laySheet, textFileOf } from '../support/lay.js';
import { memo } from '../support/memo.js';
import { cornerHouse, inchCellar } from '../support/scenes.js';
import { dxfBytes, type Mark, moved, type Point, type Sheet } from '../support/sheet.js';

const SEED = Number(process.env.FC_SEED ?? 1207);
const JOB = { levels: { footingMm: 0, topMm: 2350 }, concrete: { rateMPerH: 1.5, temperatureC: 15 } };
const ENDINGS = ['.forms.dxf', '.layout.json', '.schedule.csv', '.schedule.xlsx', '.report.html'] as const;

/** The marks in the order of `order`, with the same handles on the same marks: the file differs in order alone. */
const reordered = (sheet: Sheet, order: readonly number[]): Uint8Array => {
  const text = new TextDecoder().decode(dxfBytes(sheet));
  const start = text.indexOf('ENTITIES\r\n') + 'ENTITIES\r\n'.length;
  const end = text.indexOf('  0\r\nENDSEC', start);
  const entities = text.slice(start, end).split(/(?= {2}0\r\n)/);
  if (entities.length !== sheet.marks.length) throw new Error('every mark should be one entity');
  return new TextEncoder().encode(text.slice(0, start) + order.map((i) => entities[i]!).join('') + text.slice(end));
};

const orderOf = (n: number) => fc.shuffledSubarray([...Array(n).keys()], { minLength: n, maxLength: n });

/**
 * What must be the same for a plan and its image: counts by item, costs, totals. Floors are left out: brackets hang on joints, and their order along a wall is
 * that of its direction, so that beside an inner corner planks, rails and toe boards may be of other lengths.
 */
const figures = (sheet: Sheet, job: unknown = JOB) => {
  const { result } = laidOut(laySheet(sheet, job));
  const { totals, rows: all } = result.schedule;
  const isFloor = ({ kind }: { readonly kind: string }): boolean => ['plank', 'rail'].includes(kind);
  const rows = all.filter((r) => !isFloor(r));
  const floorsKg = all.reduce((sum, r) => sum + (isFloor(r) ? r.massKg : 0), 0);
  const near = (value: number) => Math.round(value * 1e6) / 1e6;
  return {
    walls: result.plan.walls.length,
    items: rows.map((r) => `${r.count} x ${r.item}`).sort(),
    tiers: result.layout.tiers.map((t) => `${t.name} ${near(t.value)} ${t.bound === null ? '-' : near(t.bound)}`),
    totals: Object.entries({ ...totals, massKg: totals.massKg - floorsKg }).map(
      ([name, value]) => `${name} ${near(value as number)}`,
    ),
  };
};

/** Two small rooms with a tee at either end of the wall between them, an inner corner, and a wall that stands alone. */
const rooms: Sheet = {
  ...cornerHouse,
  marks: [
    ...(
      [
        [
          [0, 0],
          [4500, 0],
          [4500, 2000],
          [3100, 2000],
          [3100, 3200],
          [0, 3200],
        ],
        [
          [200, 200],
          [1500, 200],
          [1500, 3000],
          [200, 3000],
        ],
        [
          [1700, 200],
          [4300, 200],
          [4300, 1800],
          [2900, 1800],
          [2900, 3000],
          [1700, 3000],
        ],
        [
          [500, -1600],
          [2950, -1600],
          [2950, -1400],
          [500, -1400],
        ],
      ] as const
    ).map((points): Mark => ({ kind: 'outline', layer: 'S-FNDN-WALL', points: points.map(([x, y]) => ({ x, y })) })),
    ...cornerHouse.marks.filter((m) => m.kind === 'text').slice(0, 2),
  ],
};
/** Each of these is laid out once for all laws that compare with it. */
const roomsLaid = memo(() => laySheet(rooms, JOB));
const cellar = memo(() => laySheet(inchCellar, JOB));
const roomsFigures = memo(() => figures(rooms));
const BOTH = [
  [rooms, roomsLaid],
  [inchCellar, cellar],
] as const;

describe('the same drawing', () => {
  it('gives the same bytes twice', () => {
    for (const [sheet, laid] of BOTH) {
      const [first, second] = [laid(), laySheet(sheet, JOB)];
      for (const ending of ENDINGS)
        expect(Buffer.compare(fileOf(first, ending), fileOf(second, ending)), ending).toBe(0);
    }
  });

  it('gives the same layout, list and report whatever the order of its entities', () => {
    const plain = roomsLaid();
    const withoutHash = (text: string) => text.replace(/[0-9a-f]{64}/g, 'HASH').replace(/[0-9a-f]{8,16}…/g, 'HASH');
    fc.assert(
      fc.property(orderOf(rooms.marks.length), (order) => {
        const shuffled = layBytes(reordered(rooms, order), JOB);
        for (const ending of ['.layout.json', '.schedule.csv', '.report.html']) {
          expect(withoutHash(textFileOf(shuffled, ending))).toBe(withoutHash(textFileOf(plain, ending)));
        }
      }),
      { seed: SEED, numRuns: 3 },
    );
  });

  it('laid out again from the returned drawing gives the same layout', () => {
    for (const [, laid] of BOTH) {
      const first = laid();
      const second = layBytes(fileOf(first, '.forms.dxf'), JOB);
      const essence = (outcome: typeof first) => {
        const layout = JSON.parse(textFileOf(outcome, '.layout.json')) as {
          source: unknown;
          findings: { code: string }[];
        };
        return { ...layout, source: null, findings: layout.findings.filter((f) => f.code !== 'read.own-entities') };
      };
      expect(laidOut(second).result.findings.map((f) => f.code)).toContain('read.own-entities');
      expect(essence(second)).toEqual(essence(first));
    }
  });
});

describe('an image of the drawing', () => {
  const images: readonly (readonly [string, (p: Point) => Point])[] = [
    ['mirrored', ({ x, y }) => ({ x: -x, y })],
    ['turned by 90 degrees', ({ x, y }) => ({ x: -y, y: x })],
    ['turned by 180 degrees', ({ x, y }) => ({ x: -x, y: -y })],
    ['moved', ({ x, y }) => ({ x: x + 123_456, y: y - 98_765 })],
    ['mirrored on the diagonal', ({ x, y }) => ({ x: y, y: x })],
  ];
  for (const [name, move] of images) {
    it(`${name}, takes the same units, ties and timber`, () => {
      expect(figures(moved(rooms, move))).toEqual(roomsFigures());
    });
  }

  it('turned by an odd angle still has the same walls and lengths', () => {
    const angle = (17.3 / 180) * Math.PI;
    const [c, s] = [Math.cos(angle), Math.sin(angle)];
    const turned = laidOut(
      laySheet(
        moved(rooms, ({ x, y }) => ({ x: c * x - s * y, y: s * x + c * y })),
        JOB,
      ),
    );
    const plain = laidOut(roomsLaid());
    const lengths = (outcome: typeof plain) => outcome.result.plan.walls.map((w) => w.lengthMm).sort((a, b) => a - b);
    expect(lengths(turned)).toEqual(lengths(plain));
    expect(turned.result.schedule.totals.tieCount).toBe(plain.result.schedule.totals.tieCount);
  });
});

describe('the same walls drawn otherwise', () => {
  it('as single lines instead of outlines take the same units', () => {
    const marks = rooms.marks.flatMap((mark): Mark[] =>
      mark.kind === 'outline'
        ? mark.points.map((from, i) => ({
            kind: 'line' as const,
            layer: mark.layer,
            from,
            to: mark.points[(i + 1) % mark.points.length]!,
          }))
        : [mark],
    );
    expect(figures({ ...rooms, marks })).toEqual(roomsFigures());
  });

  it('in centimetres or metres take the same units, when the unit is said', () => {
    const sized = (k: number, unitCode: number): Sheet => {
      const scaled = moved(rooms, ({ x, y }) => ({ x: x * k, y: y * k }));
      const marks = scaled.marks.map((m) => (m.kind === 'text' ? { ...m, height: m.height * k } : m));
      return { ...scaled, marks, unitCode };
    };
    expect(figures(sized(0.1, 5), { ...JOB, drawing: { unit: 'cm' } })).toEqual(roomsFigures());
    expect(figures(sized(0.001, 6), { ...JOB, drawing: { unit: 'm' } })).toEqual(roomsFigures());
  });
});
