/** The written drawing, held against ezdxf (an independent reader, Debian python3-ezdxf): sound, whole, and at its true places. */

import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect } from 'vitest';
import type { Tag } from '../../src/ground/tags.js';
import { MM_PER } from '../../src/ground/units.js';
import type { Result } from '../../src/ground/vocabulary.js';
import { writeDxf } from '../../src/write/dxf/index.js';
import { itNeeds, PYTHON, read, runPython, SAMPLES, SAMPLES_NEEDED, sample, samplePath } from '../read/samples.js';
import { exampleResult } from '../support/exampleResult.js';
import { elbow, straightWall } from '../write/dxf/fixtures.js';
import { HAS_JUDGE, judged } from './judged.js';

const SCRIPT = fileURLToPath(new URL('ezdxf_layout.py', import.meta.url));
const folder = mkdtempSync(join(tmpdir(), 'forms-'));
afterAll(() => rmSync(folder, { recursive: true }));

interface Insert {
  readonly block: string;
  readonly layer: string;
  readonly at: readonly [number, number];
  readonly attributes: Readonly<Record<string, string>>;
  readonly shown: readonly string[];
  readonly marked: boolean;
  readonly lines: readonly (readonly (readonly [number, number])[])[];
  readonly outline: readonly (readonly [number, number])[];
}

interface Dump {
  readonly version: string;
  readonly unit: number | null;
  readonly errors: readonly string[];
  readonly fixes: readonly string[];
  readonly counts: Readonly<Record<string, number>>;
  readonly texts: readonly (readonly [string, string])[];
  readonly unmarked: readonly string[];
  readonly layers: Readonly<Record<string, readonly [number, number | null, string]>>;
  readonly inserts: readonly Insert[];
  /** Besides the model space; scales of viewports: drawing units to one of paper. */
  readonly layouts: readonly {
    readonly name: string;
    readonly tab: number;
    readonly viewports: readonly { readonly scale: number; readonly centre: readonly [number, number] }[];
  }[];
}

const bytesOf = (result: Result, from: Uint8Array | null, mode: 'merged' | 'overlay'): Uint8Array => {
  const written = writeDxf(result, from ? read(from).drawing.document : null, { mode });
  if (!written.ok) throw new Error(written.findings.map((f) => f.message).join(' '));
  return written.value;
};

const keep = (name: string, bytes: Uint8Array): string => {
  const path = join(folder, name);
  writeFileSync(path, bytes);
  return path;
};

/** Linework of the inserts is left out where only `counts` are wanted: putting it in place takes most of the time. */
const dumpsOf = (paths: readonly string[], what: 'dump' | 'count' = 'count'): Dump[] =>
  JSON.parse(runPython([SCRIPT, what, ...paths])) as Dump[];
const dumpOf = (path: string): Dump => dumpsOf([path], 'dump')[0]!;

const itDumps = itNeeds(PYTHON !== null, 'python3 with ezdxf');
const itJudges = itNeeds(
  HAS_JUDGE && SAMPLES.length > 0,
  `python3 with ezdxf, ../shared/tools/dxf_check.py and ${SAMPLES_NEEDED}`,
);

describe('merged into the samples', () => {
  /** The largest layout in one text and one binary drawing, a small one in the others: what is compared there is the sample's own. */
  const resultFor = (file: string): Result => (file.startsWith('all_entities') ? exampleResult : straightWall());
  const merged = (file: string): string => join(folder, `merged-${file}`);

  itJudges(
    'every record stands, and the audit finds no new error',
    () => {
      for (const file of SAMPLES) keep(`merged-${file}`, bytesOf(resultFor(file), sample(file), 'merged'));
      const verdicts = judged(SAMPLES.map((file) => [merged(file), samplePath(file)]));
      verdicts.forEach(({ ok, said }, i) => {
        expect(ok, `${SAMPLES[i]}: ${said}`).toBe(true);
      });
    },
    150_000,
  );

  itJudges('pieces and ties are counted as the layout has them', () => {
    const files = SAMPLES.filter((file) => resultFor(file) === exampleResult);
    for (const { inserts, unmarked } of dumpsOf(files.map(merged))) {
      expectCounts(inserts, exampleResult);
      expect(unmarked).toEqual([]);
    }
  });
});

/** Tags but those that a seed of handles or a list of extents may change. */
const plainly = (tags: readonly Tag[]): string[] => {
  const end = tags.findIndex((t) => t.code === 0 && t.value.trim() === 'ENDSEC');
  return tags.slice(end).map((t) => `${t.code} ${t.value.trim()}`);
};

/** Scales of the viewports, each once. */
const scalesOf = (layouts: Dump['layouts']): number[] =>
  [...new Set(layouts.flatMap((l) => l.viewports.map((v) => Math.round(v.scale * 1e6) / 1e6)))].sort((a, b) => a - b);

const VERSIONS = ['R12', 'R2000', 'R2004', 'R2007', 'R2010', 'R2013', 'R2018'];

describe('merged into drawings that ezdxf makes', () => {
  itDumps(
    'of every version, text and binary: same version and form, no error, nothing to fix, all that was there stands',
    () => {
      runPython([SCRIPT, 'blank', folder, ...VERSIONS]);
      const names = VERSIONS.flatMap((version) => [`${version}-text`, `${version}-binary`]);
      const originals = names.map((name) => join(folder, `blank-${name}.dxf`));
      const merged = originals.map((original, i) => {
        const bytes = bytesOf(straightWall(), new Uint8Array(readFileSync(original)), 'merged');
        expect(new TextDecoder('latin1').decode(bytes.slice(0, 18)) === 'AutoCAD Binary DXF').toBe(i % 2 === 1);
        return keep(`straight-${names[i]}.dxf`, bytes);
      });
      const before = dumpsOf(originals);
      dumpsOf(merged).forEach((after, i) => {
        const name = names[i]!;
        expect([after.version, after.unit], name).toEqual([before[i]!.version, before[i]!.unit]);
        expect(after.errors, name).toEqual([]);
        // ezdxf gives no owner to the SEQEND of a heavy polyline when it loads R12, which has none.
        expect(
          after.fixes.filter((f) => !f.includes('SEQEND') || !name.startsWith('R12')),
          name,
        ).toEqual([]);
        for (const [key, n] of Object.entries(before[i]!.counts)) expect(after.counts[key], `${name} ${key}`).toBe(n);
        for (const [layer, style] of Object.entries(before[i]!.layers)) expect(after.layers[layer]).toEqual(style);
        expectCounts(after.inserts, straightWall());
        // Before R2000 the sheets stand in the one paper space that there is.
        const sheets = after.layouts.filter((l) => l.viewports.length > 0);
        expect(sheets.length > 1, name).toBe(!name.startsWith('R12'));
        expect(new Set(after.layouts.map((l) => l.tab)).size, name).toBe(after.layouts.length);
        // The view of a viewport in R12 is extended data, which ezdxf 0.18 writes but does not read back: tests/write/dxf/sheets.test.ts.
        if (!name.startsWith('R12')) expect(scalesOf(sheets), name).toEqual([25, 35, 50]);
      });
      // What this program once put in is taken out again, sheets and all.
      for (const [i, path] of merged.entries()) {
        const [was, is] = [originals[i]!, path].map((p) => read(new Uint8Array(readFileSync(p))).drawing.document.tags);
        expect(plainly(is!), names[i]!).toEqual(plainly(was!));
      }
    },
  );
});

describe('overlay', () => {
  itDumps('audits clean, is AC1021 in the unit of the source, and holds ours alone', () => {
    const units = { mm: 4, cm: 5, m: 6, in: 1, ft: 2 } as const;
    const all = Object.entries(units);
    const resultOf = (unit: string): Result => straightWall({ unit: unit as keyof typeof units });
    const paths = all.map(([unit]) => keep(`overlay-${unit}.dxf`, bytesOf(resultOf(unit), null, 'overlay')));
    for (const [i, dump] of dumpsOf(paths).entries()) {
      const [unit, code] = all[i]!;
      const result = resultOf(unit);
      expect([dump.version, dump.unit, dump.errors, dump.fixes]).toEqual(['AC1021', code, [], []]);
      expect(Object.keys(dump.counts).every((key) => key.startsWith('S-FORM-'))).toBe(true);
      expectCounts(dump.inserts, result);
    }
  });

  itDumps('layers have their colours, plot weights and line types', () => {
    const { layers } = dumpOf(keep('layers.dxf', bytesOf(straightWall(), null, 'overlay')));
    expect(layers['S-FORM-PANL']).toEqual([150, 50, 'CONTINUOUS']);
    expect(layers['S-FORM-POUR']).toEqual([142, 70, 'SHUTTERWRIGHT-DASH']);
  });
});

/** Every piece once in plan and once in elevation, every tie once, each with its attributes and our mark. */
const expectCounts = (inserts: readonly Insert[], result: Result): void => {
  const { pieces, ties } = result.layout;
  const ours = inserts.filter((i) => i.block.startsWith('SHUTTERWRIGHT-'));
  const ids = (view: string): string[] =>
    ours.filter((i) => i.attributes.VIEW === view && 'PIECE' in i.attributes).map((i) => i.attributes.PIECE!);
  const wanted = pieces.map((p) => p.id).sort();
  expect(ids('PLAN').sort()).toEqual(wanted);
  expect(ids('ELEV').sort()).toEqual(wanted);
  const tieInserts = ours.filter((i) => 'TIE' in i.attributes);
  expect(tieInserts.map((i) => i.attributes.TIE).sort()).toEqual(ties.map((t) => t.id).sort());
  expect(ours).toHaveLength(2 * pieces.length + ties.length);
  expect(ours.every((i) => i.marked)).toBe(true);
  for (const i of ours) {
    if (!('PIECE' in i.attributes)) continue;
    const piece = pieces.find((p) => p.id === i.attributes.PIECE)!;
    expect(i.attributes.ITEM).toBe(piece.item ?? piece.kind);
    expect(i.attributes.COURSE).toBe(String(piece.course));
  }
};

describe('places in plan, from the drawing alone', () => {
  const variants: readonly [string, Result][] = [
    ['straight', straightWall()],
    ['elbow', elbow()],
    [
      'elbow turned by 30 degrees, shifted, in metres',
      elbow({ turnDeg: 30, shift: { x: 500_000, y: 4_000_000 }, unit: 'm' }),
    ],
    ['elbow turned by 200 degrees, in inches', elbow({ turnDeg: 200, unit: 'in' })],
  ];
  for (const [name, result] of variants) {
    const mm = MM_PER[result.source.lengthUnit];
    /** Station and offset to the left of a wall's axis, mm. */
    const seenFrom = (wallId: string, [x, y]: readonly [number, number]): readonly [number, number] => {
      const w = result.plan.walls.find((v) => v.id === wallId)!;
      const [ux, uy] = [(w.end.x - w.start.x) / w.lengthMm, (w.end.y - w.start.y) / w.lengthMm];
      const [dx, dy] = [x * mm - w.start.x, y * mm - w.start.y];
      return [dx * ux + dy * uy, dy * ux - dx * uy];
    };

    itDumps(
      `${name}: pieces on their faces within their stations, frames outside the concrete; ties square through a ticked hole of both`,
      () => {
        const { inserts } = dumpOf(keep('places.dxf', bytesOf(result, null, 'overlay')));
        let looked = 0;
        for (const i of inserts) {
          const piece = result.layout.pieces.find((p) => p.id === i.attributes.PIECE);
          if (i.attributes.VIEW !== 'PLAN' || !piece || piece.covers.length === 0) continue;
          for (const cover of piece.covers) {
            const face = result.plan.faces.find((f) => f.id === cover.face)!;
            if (face.side !== 'left' && face.side !== 'right') continue;
            const out = face.side === 'left' ? 1 : -1;
            const [station, offset] = seenFrom(face.wall, i.at);
            expect(offset).toBeCloseTo(out * 100, 4);
            expect(station).toBeGreaterThan(cover.fromMm - 1e-4);
            expect(station).toBeLessThan(cover.toMm + 1e-4);
            const outline = i.outline.map((p) => seenFrom(face.wall, p));
            expect(Math.min(...outline.map(([, o]) => o * out))).toBeCloseTo(100, 4);
            if (piece.covers.length > 1) continue;
            expect(Math.min(...outline.map(([s]) => s))).toBeCloseTo(cover.fromMm, 4);
            expect(Math.max(...outline.map(([s]) => s))).toBeCloseTo(cover.toMm, 4);
            looked++;
          }
        }
        expect(looked).toBeGreaterThan(20);
        const byPiece = new Map(
          inserts.filter((i) => i.attributes.VIEW === 'PLAN').map((i) => [i.attributes.PIECE, i]),
        );
        const ties = inserts.filter((i) => 'TIE' in i.attributes);
        expect(ties).toHaveLength(result.layout.ties.length);
        for (const tie of ties) {
          const wall = tie.attributes.WALL!;
          const station = Number(tie.attributes.STATION);
          const ends = tie.lines[0]!.map((p) => seenFrom(wall, p as [number, number]));
          for (const [s] of ends) expect(s).toBeCloseTo(station, 4);
          expect(Math.min(...ends.map(([, o]) => o))).toBeLessThan(-160);
          expect(Math.max(...ends.map(([, o]) => o))).toBeGreaterThan(160);
          for (const piece of tie.attributes.PIECES!.split(',')) {
            const ticks = byPiece.get(piece)!.lines.map((l) => seenFrom(wall, l[0] as [number, number])[0]);
            expect(Math.min(...ticks.map((t) => Math.abs(t - station)))).toBeLessThan(1e-4);
          }
        }
      },
    );
  }
});
