/** Leaders, placed blocks, hatched areas, multilines, widths and line types, held against ezdxf (an independent reader, Debian python3-ezdxf). */

import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect } from 'vitest';
import { roundTo } from '../../src/ground/units.js';
import type { Drawing, DrawingPath } from '../../src/ground/vocabulary.js';
import { itNeeds, PYTHON, read, runPython, SAMPLES, SAMPLES_NEEDED, samplePath } from '../read/samples.js';

const SCRIPT = fileURLToPath(new URL('said.py', import.meta.url));

type Point = readonly [x: number, y: number];

interface Said {
  readonly leaders: readonly (readonly Point[])[];
  /** Places of texts of multileaders. */
  readonly notes: readonly Point[];
  readonly inserts: readonly (readonly [
    name: string,
    x: number,
    y: number,
    turnDeg: number,
    depth: number,
    tags: unknown,
  ])[];
  readonly hatches: readonly (readonly [pattern: string, areas: readonly number[]])[];
  readonly mlines: readonly (readonly [Point, Point])[];
  readonly widths: readonly number[];
  /** Of lines, arcs and circles that stand in no block. */
  readonly lineTypes: readonly string[];
}

const seenIn = (path: string): Said => JSON.parse(runPython([SCRIPT, path])) as Said;

const shown = (p: Point): string => `${roundTo(p[0], 4) + 0},${roundTo(p[1], 4) + 0}`;
const sorted = (lines: Iterable<string>): string[] => [...lines].sort();

/** Area within straight pieces and arcs: shoelace, and for each arc the segment between it and its chord, r²(angle - sin angle)/2. */
const areaOf = ({ vertices }: DrawingPath): number => {
  let twice = 0;
  vertices.forEach((a, i) => {
    const b = vertices[(i + 1) % vertices.length]!;
    twice += a.x * b.y - b.x * a.y;
    if (a.bulge === 0) return;
    const angle = 4 * Math.atan(a.bulge);
    const radius = (Math.hypot(b.x - a.x, b.y - a.y) * (1 + a.bulge * a.bulge)) / (4 * Math.abs(a.bulge));
    twice += radius * radius * (angle - Math.sin(angle));
  });
  return Math.abs(twice) / 2;
};

/** Paths of one entity, by the part of their source before the number of the outline. */
const byEntity = (paths: readonly DrawingPath[]): DrawingPath[][] => {
  const groups = new Map<string, DrawingPath[]>();
  for (const path of paths) {
    const key = path.source.replace(/\.\d+$/, '');
    groups.set(key, [...(groups.get(key) ?? []), path]);
  }
  return [...groups.values()];
};

const near = (a: number, b: number): boolean => Math.abs(a - b) <= 2e-3 * Math.max(a, b) + 1e-9;

/** Each of ours has one of theirs with the same pattern and areas, and none is left. */
const sameHatches = (drawing: Drawing, said: Said): void => {
  const left = [...said.hatches];
  const missing = byEntity(drawing.paths.filter((p) => p.entity === 'HATCH'))
    .map((paths) => ({ fill: paths[0]!.fill, areas: paths.map(areaOf).sort((a, b) => a - b) }))
    .filter(({ fill, areas }) => {
      const at = left.findIndex(
        ([pattern, theirs]) =>
          pattern === fill && theirs.length === areas.length && areas.every((area, i) => near(area, theirs[i]!)),
      );
      if (at >= 0) left.splice(at, 1);
      return at < 0;
    });
  expect([missing, left]).toEqual([[], []]);
};

const pairs = (path: DrawingPath): (readonly [Point, Point])[] =>
  path.vertices.flatMap((a, i) => {
    const b = path.vertices[i + 1] ?? (path.closed ? path.vertices[0] : undefined);
    return b
      ? [
          [
            [a.x, a.y],
            [b.x, b.y],
          ] as const,
        ]
      : [];
  });

/** A segment whichever way it runs. */
const segment = ([a, b]: readonly [Point, Point]): string => [shown(a), shown(b)].sort().join(' ');

const same = (drawing: Drawing, said: Said): void => {
  expect(sorted(drawing.leaders.map((l) => l.points.map((p) => shown([p.x, p.y])).join(' ')))).toEqual(
    sorted(said.leaders.map((points) => points.map(shown).join(' '))),
  );
  const notes = drawing.texts.filter((t) => t.source.endsWith('.text')).map((t) => shown([t.at.x, t.at.y]));
  expect(sorted(notes)).toEqual(sorted(said.notes.map(shown)));
  // Mirrored twice or turned by half a turn is one placing to ezdxf: directions are compared as lines.
  const turned = (deg: number): number => roundTo((((deg % 180) + 180.00001) % 180) - 0.00001, 3) + 0;
  expect(
    sorted(
      drawing.inserts.map((i) => {
        // ezdxf knows the attributes that an insert carries, not the constant ones of its block.
        const tags = i.attributes.filter((a) => a.text !== '').map((a) => [a.tag, a.text]);
        const { x, y } = i.at;
        return JSON.stringify([
          i.block.toUpperCase(),
          shown([x, y]),
          turned((i.rotationRad * 180) / Math.PI),
          i.blocks.length,
          i.blocks.length === 0 ? tags : [],
        ]);
      }),
    ),
  ).toEqual(
    sorted(
      said.inserts.map(([name, x, y, turn, depth, tags]) =>
        JSON.stringify([name.toUpperCase(), shown([x, y]), turned(turn), depth, depth === 0 ? tags : []]),
      ),
    ),
  );
  sameHatches(drawing, said);
  const mlines = drawing.paths.filter((p) => p.entity === 'MLINE').flatMap(pairs);
  expect(sorted(mlines.map(segment))).toEqual(sorted(said.mlines.map(segment)));
  const own = drawing.paths.filter((p) => p.blocks.length === 0);
  const widths = own.filter((p) => p.entity === 'LWPOLYLINE' || (p.entity === 'POLYLINE' && p.vertices.length > 0));
  const counts = (list: readonly number[]): string[] =>
    sorted(list.filter((w) => w > 0).map((w) => String(roundTo(w, 6))));
  expect(counts(widths.map((p) => p.width))).toEqual(counts(said.widths));
  const lines = own.filter((p) => ['LINE', 'CIRCLE', 'ARC'].includes(p.entity));
  expect(sorted(lines.map((p) => p.lineType.toUpperCase()))).toEqual(sorted(said.lineTypes));
};

describe('what a drawing says besides lines, as ezdxf sees it', () => {
  const test = itNeeds(PYTHON !== null && SAMPLES.length > 0, `python3 with ezdxf and ${SAMPLES_NEEDED}`);
  for (const file of SAMPLES.length > 0 ? SAMPLES : ['each sample']) {
    test(file, () => same(read(new Uint8Array(readFileSync(samplePath(file)))).drawing, seenIn(samplePath(file))));
  }

  itNeeds(PYTHON !== null, 'python3 with ezdxf')('a drawing that ezdxf makes, as text and as binary', () => {
    const folder = mkdtempSync(join(tmpdir(), 'said-'));
    try {
      runPython([SCRIPT, '--make', 'made', folder]);
      for (const form of ['made.dxf', 'made.bin.dxf']) {
        const { drawing } = read(new Uint8Array(readFileSync(join(folder, form))));
        const said = seenIn(join(folder, form));
        expect(said.leaders.length).toBeGreaterThan(15);
        expect(said.mlines.length).toBeGreaterThan(50);
        same(drawing, said);
        expect(drawing.leaders.filter((l) => l.text !== null).length).toBe(3);
        expect(drawing.unread).toEqual({});
      }
    } finally {
      rmSync(folder, { recursive: true });
    }
  });
});
