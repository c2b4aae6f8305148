/** The measure of recall and precision, and the drawings of known walls, held against what they must be without any tracing. */

import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { itWithEzdxf, PYTHON } from '../read/samples.js';
import { arbitraryTrial, CASES, drawTrial, tryOut } from '../support/drawings/cases.js';
import { arbitraryPlacing, arbitraryTruth } from '../support/drawings/plans.js';
import { withCurves } from '../support/drawings/rounds.js';
import { AXIS_MM, type Found, score, scoreAreas, THICKNESS_MM } from '../support/drawings/score.js';
import {
  Areas,
  bodiesOf,
  outlinesOf,
  placedTruth,
  pointOn,
  type Truth,
  type TruthWall,
} from '../support/drawings/truth.js';

const SEED = Number(process.env.FC_SEED ?? 31);
const PLANS = { seed: SEED, numRuns: 20 };

const stretch = (w: TruthWall) => ({ ...w, startCapped: false, endCapped: false, sources: [] });

/** Found exactly as it is known: whole walls, joints and all. */
const asKnown = (t: Truth): Found => ({
  stretches: t.walls.map(stretch),
  curves: t.curves.map((c) => ({ ...c, startCapped: false, endCapped: false, sources: [] })),
  pilasters: [],
});

const shifted = (w: TruthWall, mm: number): TruthWall => ({
  ...w,
  start: pointOn(w, 0, mm),
  end: pointOn(w, Math.hypot(w.end.x - w.start.x, w.end.y - w.start.y), mm),
});

describe('the measure', () => {
  const plans = fc.tuple(fc.oneof(arbitraryTruth, withCurves), arbitraryPlacing).map(([t, m]) => placedTruth(t, m));

  it('gives all to what is found as it is', () => {
    fc.assert(
      fc.property(plans, (t) => {
        const s = score(t, asKnown(t));
        expect(s.falseWalls).toEqual([]);
        expect(s.missed).toEqual([]);
        expect([s.recall, s.precision]).toEqual([1, 1]);
        const areas = scoreAreas(t, asKnown(t));
        expect(areas.recall).toBeGreaterThan(0.999);
        expect(areas.precision).toBeGreaterThan(0.999);
      }),
      PLANS,
    );
  });

  it('gives nothing to walls that are too far off, too thick or askew', () => {
    fc.assert(
      fc.property(arbitraryTruth, (t) => {
        const wrong: ((w: TruthWall) => TruthWall)[] = [
          (w) => shifted(w, AXIS_MM + 1),
          (w) => ({ ...w, thicknessMm: w.thicknessMm + THICKNESS_MM + 1 }),
          (w) => ({ ...w, end: { x: w.end.y - w.start.y + w.start.x, y: w.start.x - w.end.x + w.start.y } }),
        ];
        for (const make of wrong) {
          // One wall alone: of many, one that is shifted may lie on another.
          const one: Truth = { ...t, walls: t.walls.slice(0, 1), blocks: [], openings: [], curves: [] };
          const found = { stretches: one.walls.map(make).map(stretch), curves: [], pilasters: [] };
          expect(score(one, found).recalledMm).toBeLessThan(one.walls[0]!.thicknessMm);
        }
      }),
      PLANS,
    );
  });

  it('names a wall that is not there', () => {
    fc.assert(
      fc.property(arbitraryTruth, (t) => {
        const far = { start: { x: -9000, y: -9000 }, end: { x: -4000, y: -9000 }, thicknessMm: 200 };
        const s = score(t, { ...asKnown(t), stretches: [...asKnown(t).stretches, stretch(far)] });
        expect(s.falseWalls).toHaveLength(1);
        expect(s.foundMm - s.trueMm).toBeCloseTo(5000, 3);
      }),
      PLANS,
    );
  });
});

describe('drawings of known walls', () => {
  it('have outlines that enclose as much as the bodies of the walls cover', () => {
    fc.assert(
      fc.property(fc.oneof(arbitraryTruth, withCurves), (t) => {
        const areas = new Areas({ x: 0, y: 0 });
        const covered = areas.areaMm2(areas.union(bodiesOf(t)));
        let enclosed = 0;
        for (const ring of outlinesOf(t)) {
          ring.forEach((a, i) => {
            const b = ring[(i + 1) % ring.length]!;
            const angle = 4 * Math.atan(a.bulge);
            const chord = Math.hypot(b.x - a.x, b.y - a.y);
            const radius = a.bulge === 0 ? 0 : chord / (2 * Math.sin(Math.abs(angle) / 2));
            const segment = (radius ** 2 / 2) * (Math.abs(angle) - Math.sin(Math.abs(angle))) * Math.sign(angle);
            enclosed += (a.x * b.y - b.x * a.y) / 2 + segment;
          });
        }
        // The bodies of curves are chords of a degree: a ten-thousandth of the disc they stand in at most.
        const disc = t.curves.reduce((s, c) => s + Math.PI * (c.radiusMm + c.thicknessMm) ** 2, 0);
        expect(Math.abs(enclosed - covered)).toBeLessThan(1e-4 * disc + 500);
      }),
      PLANS,
    );
  });

  itWithEzdxf('open in ezdxf without errors', () => {
    const folder = mkdtempSync(join(tmpdir(), 'drawings-'));
    try {
      const files = CASES.flatMap((c, i) =>
        fc.sample(arbitraryTrial(c), { seed: SEED, numRuns: 1 }).map((t) => {
          const file = join(folder, `${i}.dxf`);
          writeFileSync(file, drawTrial(t).bytes);
          return file;
        }),
      );
      const program = [
        'import sys, ezdxf',
        'for f in sys.argv[1:]:',
        '    doc = ezdxf.readfile(f)',
        '    audit = doc.audit()',
        '    assert len(doc.modelspace()) > 0 and not audit.errors, (f, [e.message for e in audit.errors])',
        'print(len(sys.argv) - 1)',
      ].join('\n');
      const run = spawnSync(PYTHON!, ['-c', program, ...files], { encoding: 'utf8' });
      expect(run.stderr).toBe('');
      expect(Number(run.stdout)).toBe(files.length);
    } finally {
      rmSync(folder, { recursive: true });
    }
  });
});

describe('what is listed as not done yet', () => {
  for (const c of CASES.filter((x) => x.notYet)) {
    it(`is not done: ${c.name}`, () => {
      const scores = fc.sample(arbitraryTrial(c), { seed: SEED, numRuns: 12 }).map((t) => tryOut(c, t));
      const held = scores.every((s) => s.recall >= (c.least ?? 0.95) && s.falseWalls.length === 0);
      expect(held, 'the law holds: take notYet away').toBe(false);
    });
  }
});
