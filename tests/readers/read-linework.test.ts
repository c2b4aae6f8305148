/** The linework that reading gives, held against ezdxf (an independent reader, Debian python3-ezdxf) entity by entity. */

import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect } from 'vitest';
import { roundTo } from '../../src/ground/units.js';
import {
  type Box,
  boxOf,
  itNeeds,
  PYTHON,
  read,
  runPython,
  SAMPLES,
  SAMPLES_NEEDED,
  sample,
  samplePath,
} from '../read/samples.js';

const SCRIPT = fileURLToPath(new URL('linework.py', import.meta.url));

interface Seen {
  readonly counts: Readonly<Record<string, number>>;
  readonly boxes: readonly (readonly [string, ...Box])[];
  /** Text without blanks, x, y. */
  readonly texts: readonly (readonly [string, number, number])[];
  /** What the rotated and aligned dimensions in model space measure. */
  readonly dimensions: readonly number[];
}

const seenIn = (path: string): Seen => JSON.parse(runPython([SCRIPT, path])) as Seen;

/** Texts and places in one order, for a comparison as a whole. */
const inOrder = (texts: Seen['texts']): string[] =>
  texts
    .filter(([text]) => text !== '')
    .map(([text, x, y]) => `${text} @ ${roundTo(x, 3)} ${roundTo(y, 3)}`)
    .sort();

const KIND: Readonly<Record<string, string>> = {
  ARC: 'curve',
  CIRCLE: 'curve',
  ELLIPSE: 'curve',
  LWPOLYLINE: 'polyline',
  POLYLINE: 'polyline',
  TRACE: 'SOLID',
};

interface Labelled {
  readonly kind: string;
  readonly box: Box;
}

const united = (a: Box, b: Box): Box => [
  Math.min(a[0], b[0]),
  Math.min(a[1], b[1]),
  Math.max(a[2], b[2]),
  Math.max(a[3], b[3]),
];

/** One box for each entity that we read, outlines of one entity united. */
const ours = (path: string): Labelled[] => {
  const boxes = new Map<string, Labelled>();
  for (const p of read(new Uint8Array(readFileSync(path))).drawing.paths) {
    const entity = p.source.replace(/\.\d+$/, '');
    const had = boxes.get(entity);
    const box = boxOf(p);
    boxes.set(entity, { kind: KIND[p.entity] ?? p.entity, box: had ? united(had.box, box) : box });
  }
  return [...boxes.values()];
};

const theirs = (seen: Seen): Labelled[] =>
  seen.boxes
    .map(([type, ...box]) => ({ kind: KIND[type] ?? type, box }))
    .filter(({ box }) => box[0] !== box[2] || box[1] !== box[3]);

/** Straight things agree to rounding; curves to what chords leave (here and there). */
const agrees = (a: Labelled, b: Labelled): boolean => {
  const size = Math.max(b.box[2] - b.box[0], b.box[3] - b.box[1]);
  const far = Math.max(...b.box.map(Math.abs), 1);
  const straight = b.kind === 'LINE' || b.kind === 'SOLID';
  const slack = straight ? 1e-9 * far : 1e-9 * far + 1e-3 * size;
  return a.kind === b.kind && a.box.every((v, i) => Math.abs(v - b.box[i]!) <= slack);
};

/** What is left on either side after each of ours was paired with one of theirs. */
const unpaired = (left: readonly Labelled[], right: readonly Labelled[]): { ours: Labelled[]; theirs: Labelled[] } => {
  const byKind = new Map<string, Labelled[]>();
  for (const item of right) byKind.set(item.kind, [...(byKind.get(item.kind) ?? []), item]);
  const lonely = left.filter((item) => {
    const pool = byKind.get(item.kind) ?? [];
    const at = pool.findIndex((other) => agrees(item, other));
    if (at >= 0) pool.splice(at, 1);
    return at < 0;
  });
  return { ours: lonely, theirs: [...byKind.values()].flat() };
};

describe('linework as ezdxf sees it', () => {
  const test = itNeeds(PYTHON !== null && SAMPLES.length > 0, `python3 with ezdxf and ${SAMPLES_NEEDED}`);
  for (const file of SAMPLES.length > 0 ? SAMPLES : ['each sample']) {
    test(file, () => {
      const a = ours(samplePath(file));
      const seen = seenIn(samplePath(file));
      const b = theirs(seen);
      expect(b.length).toBeGreaterThan(0);
      expect(unpaired(a, b)).toEqual({ ours: [], theirs: [] });
      const { drawing } = read(sample(file));
      const texts = drawing.texts.map((t) => [t.text.replace(/\s/g, ''), t.at.x, t.at.y] as const);
      expect(inOrder(texts)).toEqual(inOrder(seen.texts));
      // Those in the drawing itself: a source with '/' came through an insert.
      const measured = drawing.dimensions.filter((d) => !d.source.includes('/')).map((d) => roundTo(d.measured, 6));
      expect(measured.sort((x, y) => x - y)).toEqual(seen.dimensions.map((d) => roundTo(d, 6)).sort((x, y) => x - y));
    });
  }
});

describe('linework of curves, hatches, tilted and unevenly scaled things as ezdxf sees it', () => {
  itNeeds(PYTHON !== null, 'python3 with ezdxf')('a drawing that ezdxf makes', () => {
    const folder = mkdtempSync(join(tmpdir(), 'linework-'));
    try {
      const path = join(folder, 'made.dxf');
      runPython([SCRIPT, '--make', path]);
      const a = ours(path);
      expect(a.length).toBeGreaterThan(60);
      expect(unpaired(a, theirs(seenIn(path)))).toEqual({ ours: [], theirs: [] });
    } finally {
      rmSync(folder, { recursive: true });
    }
  });
});
