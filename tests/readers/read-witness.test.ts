/** Further witnesses of what is read: dxf-parser for lines, ezdxf's binary writer for binary files. */

import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import dxfParser from 'dxf-parser';
import { describe, expect } from 'vitest';
import { codes, itNeeds, itWithEzdxf, read, runPython, SAMPLES, SAMPLES_NEEDED, sample } from '../read/samples.js';

interface Parsed {
  readonly entities: readonly {
    readonly type: string;
    readonly vertices?: readonly { readonly x: number; readonly y: number; readonly bulge?: number }[];
    readonly inPaperSpace?: boolean;
    readonly extrusionDirectionZ?: number;
  }[];
}

const Parser =
  (dxfParser as unknown as { default?: new () => { parseSync(text: string): Parsed } }).default ?? dxfParser;

/** Files that dxf-parser does not read: binary, and without lines in model space to compare. */
const UNREAD = ['all_entities_r12_binary.dxf'];

const inOrder = (items: readonly (readonly (readonly number[])[])[]): string[] =>
  items.map((i) => JSON.stringify(i)).sort();

describe('lines and light polylines as dxf-parser reads them', () => {
  const test = itNeeds(SAMPLES.length > 0, SAMPLES_NEEDED);
  test('every sample that it reads', () => {
    let compared = 0;
    for (const file of SAMPLES) {
      if (UNREAD.includes(file)) continue;
      const bytes = sample(file);
      const parsed = new (Parser as new () => { parseSync(text: string): Parsed })().parseSync(
        new TextDecoder().decode(bytes),
      );
      const { drawing } = read(bytes);
      for (const type of ['LINE', 'LWPOLYLINE']) {
        const theirs = parsed.entities
          .filter((e) => e.type === type && !e.inPaperSpace && e.extrusionDirectionZ !== -1)
          .map((e) => e.vertices!.map((v) => [v.x, v.y, v.bulge ?? 0]))
          .filter((vs) => vs.some((v) => v[0] !== vs[0]![0] || v[1] !== vs[0]![1]));
        const own = drawing.paths.filter((p) => p.entity === type && p.blocks.length === 0);
        const ours = inOrder(own.map((p) => p.vertices.map((v) => [v.x, v.y, v.bulge])));
        const missing = inOrder(theirs).filter((line) => !ours.includes(line));
        expect(missing, `${file} ${type}`).toEqual([]);
        compared += theirs.length;
      }
    }
    expect(compared).toBeGreaterThan(1500);
  });
});

const PROGRAM = `
import sys, ezdxf
folder = sys.argv[1]
for version in ("R12", "R2000", "R2004", "R2007", "R2010", "R2013", "R2018"):
    doc = ezdxf.new(version, setup=True)
    space = doc.modelspace()
    space.add_line((0.1, 1 / 3), (1e6, -2.5e-7), dxfattribs={"layer": "W\\u00e4nde"})
    space.add_circle((1, 2), 3)
    space.add_polyline2d([(0, 0, 1), (5, 5, 0)], format="xyb")
    space.add_text("\\u00d8 12 \\u5899").set_pos((1, 2))
    block = doc.blocks.new("B")
    block.add_arc((0, 0), 5, 10, 80)
    insert = space.add_blockref("B", (7, 8), dxfattribs={"rotation": 30})
    insert.add_attrib("TAG", "value", (1, 1))
    doc.saveas(f"{folder}/{version}.asc.dxf")
    doc.saveas(f"{folder}/{version}.bin.dxf", fmt="bin")
`;

describe('text and binary files of one drawing, written by ezdxf', () => {
  itWithEzdxf('read the same in every version', () => {
    const folder = mkdtempSync(join(tmpdir(), 'binary-'));
    try {
      runPython(['-c', PROGRAM, folder]);
      for (const version of ['R12', 'R2000', 'R2004', 'R2007', 'R2010', 'R2013', 'R2018']) {
        const text = read(new Uint8Array(readFileSync(join(folder, `${version}.asc.dxf`))));
        const binary = read(new Uint8Array(readFileSync(join(folder, `${version}.bin.dxf`))));
        expect(codes(text.findings), version).toEqual([]);
        expect(binary.drawing.document.form).toBe('binary');
        expect({ ...binary.drawing, document: null }).toEqual({ ...text.drawing, document: null });
        expect(text.drawing.layers.map((l) => l.name)).toContain('Wände');
        expect(text.drawing.texts.map((t) => t.text).sort()).toEqual(['value', 'Ø 12 墙']);
        expect(text.drawing.paths.map((p) => p.entity).sort()).toEqual(['ARC', 'CIRCLE', 'LINE', 'POLYLINE']);
      }
    } finally {
      rmSync(folder, { recursive: true });
    }
  });
});
