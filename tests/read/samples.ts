/** Sample drawings by others, which lie beside the repository, and the tests that need them or another program. */

import { spawnSync } from 'node:child_process';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { it, vi } from 'vitest';
import type { Finding } from '../../src/ground/findings.js';
import type { Drawing, DrawingPath } from '../../src/ground/vocabulary.js';
import { readDxf } from '../../src/read/dxf/index.js';

/** Property tests on a machine that is busy with others. */
vi.setConfig({ testTimeout: 60_000 });

const FOLDER = fileURLToPath(new URL('../../../shared/data/', import.meta.url));

export const SAMPLES: readonly string[] = existsSync(FOLDER)
  ? readdirSync(FOLDER)
      .filter((file) => file.endsWith('.dxf'))
      .sort()
  : [];

export const samplePath = (file: string): string => `${FOLDER}${file}`;
export const sample = (file: string): Uint8Array => new Uint8Array(readFileSync(samplePath(file)));
export const SAMPLES_NEEDED = 'the sample drawings in ../shared/data';

/** A test that needs something from outside: skipped with its reason where that is missing, a failure under REQUIRE_OUTSIDE=1. */
export const itNeeds = (there: boolean, needs: string) => (name: string, body: () => void | Promise<void>) => {
  if (there) it(name, body);
  else if (process.env.REQUIRE_OUTSIDE === '1') {
    it(name, () => {
      throw new Error(`needs ${needs}`);
    });
  } else it.skip(`${name} (skipped, needs ${needs})`, body);
};

export const itWithSamples = itNeeds(SAMPLES.length > 0, SAMPLES_NEEDED);

/** A Python that has ezdxf, or null. */
export const PYTHON: string | null =
  ['python3', '/usr/bin/python3'].find((python) => spawnSync(python, ['-c', 'import ezdxf']).status === 0) ?? null;

export const itWithEzdxf = itNeeds(PYTHON !== null, 'python3 with ezdxf');

export const runPython = (args: readonly string[]): string => {
  const run = spawnSync(PYTHON!, args, { encoding: 'utf8', maxBuffer: 1 << 28 });
  if (run.status !== 0) throw new Error(run.stderr);
  return run.stdout;
};

export const read = (bytes: Uint8Array): { readonly drawing: Drawing; readonly findings: readonly Finding[] } => {
  const result = readDxf(bytes);
  if (!result.ok) throw new Error(result.findings.map((f) => f.message).join(' '));
  return { drawing: result.value, findings: result.findings };
};

export const readText = (text: string) => read(new TextEncoder().encode(text));

export const codes = (findings: readonly Finding[]): string[] => findings.map((f) => f.code).sort();

/** A DXF from pairs: '0 LINE' per entry, the code before the first blank. */
export const dxf = (pairs: readonly string[]): string =>
  pairs.map((pair) => `${pair.split(' ', 1)[0]!.padStart(3)}\n${pair.slice(pair.indexOf(' ') + 1)}\n`).join('');

/** A drawing of R12 kind with these entities and blocks; no handles unless given. */
export const r12 = (
  entities: readonly string[],
  blocks: readonly string[] = [],
  header: readonly string[] = [],
): string =>
  dxf([
    '0 SECTION',
    '2 HEADER',
    '9 $ACADVER',
    '1 AC1009',
    ...header,
    '0 ENDSEC',
    '0 SECTION',
    '2 BLOCKS',
    ...blocks,
    '0 ENDSEC',
    '0 SECTION',
    '2 ENTITIES',
    ...entities,
    '0 ENDSEC',
    '0 EOF',
  ]);

export type Box = readonly [x0: number, y0: number, x1: number, y1: number];

/** The box of a path in plan, arcs included: by points along each arc, close enough for any box here. */
export const boxOf = (path: Pick<DrawingPath, 'vertices' | 'closed'>): Box => {
  const xs: number[] = [];
  const ys: number[] = [];
  path.vertices.forEach((a, i) => {
    xs.push(a.x);
    ys.push(a.y);
    const b = path.vertices[i + 1] ?? (path.closed ? path.vertices[0] : undefined);
    if (!b || a.bulge === 0) return;
    const angle = 4 * Math.atan(a.bulge);
    const half = Math.hypot(b.x - a.x, b.y - a.y) / 2;
    const radius = half / Math.sin(Math.abs(angle) / 2);
    // From the chord's middle to the centre, to the left of the chord for anticlockwise arcs below half a turn.
    const reach =
      Math.sqrt(Math.max(0, radius * radius - half * half)) * (Math.abs(angle) > Math.PI ? -1 : 1) * Math.sign(angle);
    const ux = (b.x - a.x) / (2 * half);
    const uy = (b.y - a.y) / (2 * half);
    const cx = (a.x + b.x) / 2 - uy * reach;
    const cy = (a.y + b.y) / 2 + ux * reach;
    const start = Math.atan2(a.y - cy, a.x - cx);
    for (let k = 1; k < 512; k++) {
      xs.push(cx + radius * Math.cos(start + (angle * k) / 512));
      ys.push(cy + radius * Math.sin(start + (angle * k) / 512));
    }
  });
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
};
