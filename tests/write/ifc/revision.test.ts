/** What stays the same: bytes for the same result, GlobalIds over a revision that changes other walls. */

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Piece, Result } from '../../../src/ground/vocabulary.js';
import { layerOf } from '../../../src/write/dxf/attributes.js';
import { defaultLayerName } from '../../../src/write/dxf/layers.js';
import { writeBcf, writeIfc } from '../../../src/write/ifc/index.js';
import { KINDS } from '../../../src/write/ifc/kinds.js';
import { exampleResult } from '../../support/exampleResult.js';
import { laidOut, laySheet } from '../../support/lay.js';
import { cornerHouse } from '../../support/scenes.js';
import { asModel, bytesOf, copies, FEET_HEADER, textOf } from './results.js';
import { Schema } from './schema.js';

/** GlobalIds by what they are of: the property sets' ids of pieces and ties lead from the layout's ids to them. */
const idsOf = (result: Result): ReadonlyMap<string, string> => {
  const text = textOf(result);
  const lines = new Map([...text.matchAll(/^#(\d+)=(.*);$/gm)].map((m) => [m[1]!, m[2]!]));
  const found = new Map<string, string>();
  for (const line of lines.values()) {
    const relation = /^IFCRELDEFINESBYPROPERTIES\('[^']*',\$,\$,\$,\(#(\d+)\),#(\d+)\)$/.exec(line);
    if (!relation) continue;
    const set = lines.get(relation[2]!)!;
    for (const [, id] of set.matchAll(/#(\d+)/g)) {
      const named = /^IFCPROPERTYSINGLEVALUE\('(?:Piece|Tie)',[^,]*,IFCIDENTIFIER\('([^']*)'\)/.exec(lines.get(id!)!);
      if (named) found.set(named[1]!, /\('([^']*)'/.exec(lines.get(relation[1]!)!)![1]!);
    }
  }
  return found;
};

/** The example without what stands on its second wall, all pieces and ties numbered anew from 100: a revision that changes the other wall. */
const withoutSecondWall = (
  result: Result,
): { readonly result: Result; readonly renamed: ReadonlyMap<string, string> } => {
  const onFirst = (piece: Piece) => piece.covers.length > 0 && piece.covers.every((c) => c.face.startsWith('W1'));
  const pieces = result.layout.pieces.filter(onFirst).reverse();
  const renamed = new Map(pieces.map((p, i) => [p.id, `P${i + 100}`]));
  const ties = result.layout.ties.filter((t) => t.wall === 'W1').reverse();
  for (const [i, tie] of ties.entries()) renamed.set(tie.id, `T${i + 100}`);
  return {
    renamed,
    result: {
      ...result,
      layout: {
        ...result.layout,
        pieces: pieces.map((p) => ({ ...p, id: renamed.get(p.id)! })),
        ties: ties.map((t) => ({
          ...t,
          id: renamed.get(t.id)!,
          pieces: [renamed.get(t.pieces[0])!, renamed.get(t.pieces[1])!] as const,
        })),
      },
    },
  };
};

describe('the same result', () => {
  it('gives the same bytes', () => {
    const make = () => asModel(exampleResult);
    expect(Buffer.from(bytesOf(make())).equals(Buffer.from(bytesOf(make())))).toBe(true);
    const bcf = () => writeBcf(make());
    expect(bcf()).toEqual(bcf());
  });

  it('carries the date of its source, or the one that stands for none', () => {
    expect(textOf(asModel(exampleResult))).toContain("FILE_NAME('house.forms.ifc','2024-03-05T08:15:30',");
    expect(textOf(exampleResult)).toContain("FILE_NAME('ell.forms.ifc','1980-01-01T00:00:00',");
    for (const timeStamp of ['yesterday', '2023-02-29T10:00:00', '2024-13-01T10:00:00', '2024-01-01T24:30:00', '']) {
      const odd = asModel(exampleResult, { ...FEET_HEADER, timeStamp });
      expect(textOf(odd), timeStamp).toContain("'1980-01-01T00:00:00'");
    }
    const zoned = asModel(exampleResult, { ...FEET_HEADER, timeStamp: '2024-02-29T10:00:00+01:00' });
    expect(textOf(zoned)).toContain("'2024-02-29T10:00:00+01:00'");
  });
});

describe.each([
  ['a drawing', exampleResult],
  ['a model', asModel(exampleResult)],
] as const)('a revision of %s that changes another wall', (_, before) => {
  it('leaves every other GlobalId as it was, whatever the running numbers', () => {
    const old = idsOf(before);
    expect(old.size).toBe(before.layout.pieces.length + before.layout.ties.length);
    const { result, renamed } = withoutSecondWall(before);
    const now = idsOf(result);
    expect(now.size).toBe(renamed.size);
    for (const [was, is] of renamed) expect(now.get(is), was).toBe(old.get(was));
  });

  it('has other GlobalIds for other things', () => {
    const all = [...idsOf(before).values()];
    expect(new Set(all).size).toBe(all.length);
  });
});

describe('walls and names', () => {
  it('of a model keep their ids when the wall is moved, of a drawing they go with the place', () => {
    const shifted = (result: Result): Result => ({
      ...result,
      plan: {
        ...result.plan,
        walls: result.plan.walls.map((w) => ({
          ...w,
          start: { ...w.start, y: w.start.y + 500 },
          end: { ...w.end, y: w.end.y + 500 },
        })),
      },
    });
    const model = asModel(exampleResult);
    expect(idsOf(shifted(model))).toEqual(idsOf(model));
    expect(idsOf(shifted(exampleResult)).get('P1')).not.toBe(idsOf(exampleResult).get('P1'));
  });

  it('of one source wall in two of ours stay apart', () => {
    const model = asModel(exampleResult);
    const one = model.plan.walls[0]!.sources;
    const split: Result = {
      ...model,
      plan: { ...model.plan, walls: model.plan.walls.map((w) => ({ ...w, sources: one })) },
    };
    const ids = [...idsOf(split).values()];
    expect(new Set(ids).size).toBe(ids.length);
  });

  it('of layers are those of the drawing', () => {
    for (const piece of laidOut(laySheet(cornerHouse)).result.layout.pieces)
      expect(KINDS[piece.kind].layer).toBe(defaultLayerName(layerOf(piece)));
    expect(KINDS.tie.layer).toBe(defaultLayerName('TIES'));
    expect(KINDS.concrete.layer).toBe(defaultLayerName('FACE'));
  });
});

describe('a large plan', () => {
  it('takes as many lines as its parts, and no GlobalId twice', () => {
    const lines = (n: number) => textOf(copies(exampleResult, n)).match(/^#/gm)!.length;
    const [ten, twenty] = [lines(10), lines(20)];
    // Ten more copies add no more than the first ten: nothing grows faster than the plan.
    expect(twenty).toBeLessThan(2 * ten);
    const text = textOf(copies(exampleResult, 40));
    const ids = [...text.matchAll(/=IFC\w+\('([^']{22})',/g)].map((m) => m[1]);
    expect(ids.length).toBeGreaterThan(5000);
    expect(new Set(ids).size).toBe(ids.length);
    expect(text.match(/=IFCBUILDINGELEMENTPROXY\(/g)!.length).toBe(40 * exampleResult.layout.pieces.length);
    // Bodies are shared: as many as for one copy.
    expect(text.match(/=IFCREPRESENTATIONMAP\(/g)!.length).toBe(
      textOf(exampleResult).match(/=IFCREPRESENTATIONMAP\(/g)!.length,
    );
  });
});

describe('what cannot be written', () => {
  const change = (piece: Partial<Piece>): Result => ({
    ...exampleResult,
    layout: {
      ...exampleResult.layout,
      pieces: exampleResult.layout.pieces.map((p, i) => (i === 0 ? { ...p, ...piece } : p)),
    },
  });

  it('refuses places that are no numbers', () => {
    const written = writeIfc(change({ baseMm: Number.NaN }));
    expect(written.ok).toBe(false);
    expect(written.findings.at(-1)).toMatchObject({ code: 'write.ifc-no-number', subject: 'P1' });
  });

  it('names a piece without a place and writes the others', () => {
    const written = writeIfc(change({ covers: [] }));
    expect(written.ok && written.findings).toMatchObject([{ code: 'write.ifc-no-place', subject: 'P1' }]);
    const text = written.ok ? new TextDecoder().decode(written.value) : '';
    expect(text.match(/=IFCBUILDINGELEMENTPROXY\(/g)?.length).toBe(exampleResult.layout.pieces.length - 1);
  });

  it('cuts names beyond 255 characters and says so', () => {
    const name = 'ä'.repeat(300);
    const written = writeIfc(asModel(exampleResult, { ...FEET_HEADER, project: { ...FEET_HEADER.project, name } }));
    expect(written.findings.map((f) => f.code)).toEqual(['write.ifc-text-cut']);
  });

  it('says when the coordinate reference system has no name', () => {
    const { georeference } = FEET_HEADER;
    const map = { ...georeference.map!, crs: { ...georeference.map!.crs, name: null } };
    const written = writeIfc(asModel(exampleResult, { ...FEET_HEADER, georeference: { ...georeference, map } }));
    expect(written.findings.map((f) => f.code)).toEqual(['write.ifc-crs-unnamed']);
  });
});

describe('headers of faulty models', () => {
  const schema = new Schema();
  const number = fc.oneof(
    { weight: 12, arbitrary: fc.constantFrom(0, 1, -1, 304.8, 1e-9, -8.5e8) },
    { weight: 1, arbitrary: fc.oneof(fc.constantFrom(Number.NaN, 1e300), fc.double()) },
  );
  const name = fc.option(fc.string({ unit: 'binary', maxLength: 300 }));
  const id = fc.oneof(fc.constantFrom('', '0M6o7Znnv7hxsbWgeu7oQq'), fc.string({ maxLength: 30 }));
  const named = fc.record({ id, name });
  const parts = fc.option(fc.array(fc.oneof(fc.integer(), number), { maxLength: 5 }));
  const header = fc.record({
    timeStamp: fc.option(fc.string()),
    unit: fc.record({
      lengthUnit: fc.constant('ft' as const),
      mmPerUnit: fc.oneof({ weight: 5, arbitrary: fc.constantFrom(1, 304.8, 1000) }, { weight: 1, arbitrary: number }),
      prefix: fc.option(fc.constantFrom('MILLI', 'KILO', 'ODD')),
      conversionName: name,
    }),
    project: named,
    sites: fc.array(named, { maxLength: 2 }),
    buildings: fc.array(named, { maxLength: 2 }),
    storeys: fc.array(fc.record({ id, name, levelMm: number, elevationMm: fc.option(number) }), { maxLength: 4 }),
    latitude: parts,
    longitude: parts,
    trueNorth: fc.option(fc.tuple(number, number)),
    siteElevationMm: fc.option(number),
  });

  it('end in a file that keeps to the schema, or in a refusal that says why', () => {
    let written = 0;
    fc.assert(
      fc.property(header, ({ latitude, longitude, trueNorth, siteElevationMm, ...rest }) => {
        const georeference = { ...FEET_HEADER.georeference, latitude, longitude, trueNorth, siteElevationMm };
        const result = asModel(exampleResult, { ...FEET_HEADER, ...rest, georeference });
        const made = writeIfc(result);
        expect(writeBcf(result).ok).toBe(true);
        if (!made.ok) {
          expect(made.findings.at(-1)!.code).toBe('write.ifc-no-number');
          return;
        }
        written++;
        expect(schema.breaches(new TextDecoder().decode(made.value))).toEqual([]);
      }),
      { numRuns: 60, seed: Number(process.env.FC_SEED ?? 20264) },
    );
    expect(written).toBeGreaterThan(10);
  });
});
