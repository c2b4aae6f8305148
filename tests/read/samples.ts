/** Sample drawings by others, which lie beside the repository, and the tests that need them or another program. */

import { it, vi } from 'vitest';
import type { Finding } from '../../src/ground/findings.js';
import type { DrawingPath } from '../../src/ground/vocabulary.js';
import { PYTHON, read, SAMPLES, SAMPLES_NEEDED } from './outside.js';

export { PYTHON, read, runPython, SAMPLES, SAMPLES_NEEDED, sample, samplePath } from './outside.js';

/** Property tests on a machine that is busy with others. */
vi.setConfig({ testTimeout: 60_000 });

/** A test that needs something from outside: skipped with its reason where that is missing, a failure under REQUIRE_OUTSIDE=1. */
export const itNeeds =
  (there: boolean, needs: string) =>
  (name: string, body: () => void | Promise<void>, timeoutMs?: number): void => {
    if (there) it(name, body, timeoutMs);
    else if (process.env.REQUIRE_OUTSIDE === '1') {
      it(name, () => {
        throw new Error(`needs ${needs}`);
      });
    } else it.skip(`${name} (skipped, needs ${needs})`, body);
  };

export const itWithSamples = itNeeds(SAMPLES.length > 0, SAMPLES_NEEDED);

export const itWithEzdxf = itNeeds(PYTHON !== null, 'python3 with ezdxf');

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
