/**
 * What tracing makes of models by others, as readable text, each looked at against a picture of its plan when it was written (docs/reference/traced-models.md
 * has what was seen there). UPDATE_GOLDEN=1 writes the texts anew; read the difference before keeping it.
 *
 * Beside the texts: places and sizes held against a plain reader of STEP text (tests/support/stepBoxes.ts), which shares nothing with the program.
 */

import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { unzipSync } from 'fflate';
import { describe, expect } from 'vitest';
import { plainNumber } from '../../../src/ground/units.js';
import type { Foundation, ModelTraceOptions } from '../../../src/ground/vocabulary.js';
import { shape } from '../../../src/shape/index.js';
import { trace } from '../../../src/trace/index.js';
import { traceModel } from '../../../src/trace/model/index.js';
import { pathsOf, tracePlan } from '../../../src/trace/model/plan.js';
import { enclosed } from '../../../src/trace/model/region.js';
import { itWithModels, MODELS, REFUSED, readModel } from '../../read/ifc/models.js';
import { sample } from '../../read/samples.js';
import { Boxes } from '../../support/stepBoxes.js';
import { StepFile } from '../../support/stepText.js';
import { OPTIONS } from './byHand.js';
import { emptyDrawing } from './drawn.js';

const FOLDER = fileURLToPath(new URL('../../golden/trace-model/', import.meta.url));

const n = (value: number) => plainNumber(value, 1);
const at = (p: { readonly x: number; readonly y: number }) => `${n(p.x)} ${n(p.y)}`;

const traced = (file: string, options: Partial<ModelTraceOptions> = {}) => {
  const { model } = readModel(sample(file));
  return { model, ...traceModel(model, { ...OPTIONS, ...options }) };
};

/** The result as a person would check it against the model. */
const asText = (file: string, options: Partial<ModelTraceOptions>): string => {
  const { value, findings, model } = traced(file, options);
  const names = new Map(model.elements.map((e) => [e.id, e.name]));
  const chosen = value.model!.elements;
  const plan = shape(value, { gridMm: 1 }).value;
  const lines = [
    `${file}: ${model.schemaName}, numbers in ${value.lengthUnit}, ${chosen.length} walls, ${chosen.filter((e) => e.taken).length} taken`,
    '',
    'taken',
    ...chosen.filter((e) => e.taken).map((e) => `  ${e.id} ${e.name}: ${e.why}`),
    '',
    'stretches: length x thickness, start -> end (capped ends in brackets), elements',
    ...value.stretches.map((s) => {
      const end = (p: { x: number; y: number }, capped: boolean) => (capped ? `[${at(p)}]` : at(p));
      const lengthMm = Math.hypot(s.end.x - s.start.x, s.end.y - s.start.y);
      return `  ${n(lengthMm)} x ${n(s.thicknessMm)}, ${end(s.start, s.startCapped)} -> ${end(s.end, s.endCapped)}, ${s.sources.join(' ')}`;
    }),
    ...value.curves.map(
      (c) => `  curve ${n(c.thicknessMm)} thick, radius ${n(c.radiusMm)} about ${at(c.centre)}, ${c.sources.join(' ')}`,
    ),
    '',
    'walls of the plan: length x thickness, base, top, elements',
    ...plan.walls.map((w) => {
      const levels = (bands: typeof w.base) => bands.map((b) => n(b.levelMm)).join(' / ');
      return `  ${w.id} ${n(w.lengthMm)} x ${n(w.thicknessMm)}, ${levels(w.base)}, ${levels(w.top)}, ${w.sources.join(' ')}`;
    }),
    ...value.openings.map(
      (o) =>
        `  ${o.kind} ${at(o.from)} -> ${at(o.to)}, sill ${n(o.sillMm ?? 0)}, head ${n(o.headMm ?? 0)}, ${o.sources.join(' ')}`,
    ),
    ...value.steps.map((s) => `  step of the ${s.kind} at ${at(s.at)}: ${n(s.riseMm ?? 0)}`),
    ...value.model!.obstacles.map((o) => `  obstacle ${o.what} ${o.name} ${o.id}`),
    `  levels of most: base ${n(value.levels.footingMm)}, top ${n(value.levels.topMm)}`,
    '',
    'around: outlines by kind',
    ...['footing', 'slab', 'wall', 'wall-left-out', 'column', 'obstacle'].flatMap((kind) => {
      const own = value.model!.outlines.filter((o) => o.kind === kind);
      return own.length === 0
        ? []
        : [
            `  ${kind}: ${own.length}, from ${n(Math.min(...own.map((o) => o.baseMm)))} to ${n(Math.max(...own.map((o) => o.topMm)))}`,
          ];
    }),
    '',
    'left out',
    ...chosen
      .filter((e) => !e.taken)
      .slice(0, 60)
      .map((e) => `  ${e.id} ${e.name}: ${e.why}`),
    '',
    'findings',
    ...findings.map((f) => {
      const place = f.at ? ` @ ${f.at.map(n).join(' ')}` : '';
      const who = f.subject === '' ? '' : `(${names.get(f.subject) ?? f.subject}) `;
      return `  ${f.severity} ${f.code}${place} ${who}${f.message}${f.assumed === null ? '' : ` => ${f.assumed}`}`;
    }),
  ];
  return `${lines.join('\n')}\n`;
};

/** As the job file may ask, beside the program's own choice. */
const ASKED: readonly (readonly [string, string, Partial<ModelTraceOptions>])[] = [
  ['house_on_footing_4x3_georef.ifc', 'house_on_footing_4x3_georef.taken', { takeElements: ['house - *'] }],
  ['walls_without_body_2x3.ifc', 'walls_without_body_2x3.taken', { takeElements: ['*'] }],
];

const READ = MODELS.filter((file) => !REFUSED.includes(file) && !file.startsWith('broken_'));
const CASES = [...READ.map((file) => [file, file.replace(/\.ifc(zip)?$/u, ''), {}] as const), ...ASKED];

describe('models by others', () => {
  for (const [file, name, options] of CASES) {
    itWithModels(name, () => {
      const text = asText(file, options);
      const path = `${FOLDER}${name}.txt`;
      if (process.env.UPDATE_GOLDEN === '1') {
        mkdirSync(FOLDER, { recursive: true });
        writeFileSync(path, text);
      }
      expect(text).toBe(readFileSync(path, 'utf8'));
    });
  }
});

/** mm; the file's numbers have that many digits, the outline's corners are rounded to 0.0001. */
const TOLERANCE_MM = 0.002;

const stepOf = (file: string): StepFile => {
  const bytes = sample(file);
  const inner = file.endsWith('.ifczip') ? Object.values(unzipSync(bytes))[0]! : bytes;
  return new StepFile(new TextDecoder('latin1').decode(inner));
};

describe('walls that are one rectangle extrusion in the file', () => {
  let compared = 0;
  for (const [file, name, options] of CASES) {
    itWithModels(`${name}: place, length, thickness, base and height by the plain reader`, () => {
      const { value, model } = traced(file, options);
      const step = stepOf(file);
      const reader = new Boxes(step);
      const k = model.unit.mmPerUnit;
      for (const wall of step.of('IFCWALL', 'IFCWALLSTANDARDCASE')) {
        const id = wall.values[0] as string;
        const choice = value.model!.elements.find((e) => e.id === id);
        const element = model.elements.find((e) => e.id === id);
        const boxes = reader.ofProduct(wall);
        // Clipped walls have other tops, walls in parts other outlines: held by the texts.
        if (
          !choice?.taken ||
          boxes.length !== 1 ||
          element!.body.length !== 1 ||
          element!.body[0]!.solid.kind !== 'prism'
        )
          continue;
        const { corner, edges } = boxes[0]!;
        const upward = edges.find((e) => Math.abs(e[2]!) > 1e-9)!;
        const [a, b] = edges.filter((e) => e !== upward).map((e) => Math.hypot(...e) * k) as [number, number];
        const outline = value.model!.outlines.find((o) => o.id === id)!;
        const corners = [0, 1, 2, 3].map((i) =>
          [0, 1].map((j) => (corner[j]! + (i & 1 ? edges[0][j]! : 0) + (i & 2 ? edges[1][j]! : 0)) * k),
        );
        for (const [x, y] of corners)
          expect(
            outline.rings[0]!.some((p) => Math.hypot(p.x - x!, p.y - y!) <= TOLERANCE_MM),
            `${id} ${x} ${y}`,
          ).toBe(true);
        const levels = [corner[2]!, corner[2]! + upward[2]!].map((z) => z * k);
        expect(outline.baseMm).toBeCloseTo(Math.min(...levels), 2);
        expect(outline.topMm).toBeCloseTo(Math.max(...levels), 2);
        // Stretches of this wall alone: as thick as its short side, and within its length.
        for (const s of value.stretches.filter((x) => x.sources.length === 1 && x.sources[0] === id)) {
          expect(Math.abs(s.thicknessMm - Math.min(a, b)), id).toBeLessThanOrEqual(TOLERANCE_MM);
          expect(Math.hypot(s.end.x - s.start.x, s.end.y - s.start.y)).toBeLessThanOrEqual(
            Math.max(a, b) + TOLERANCE_MM,
          );
        }
        compared++;
      }
    });
  }
  itWithModels('are many', () => {
    expect(compared).toBeGreaterThan(20);
  });
});

describe('openings that are one rectangle extrusion in the file', () => {
  let compared = 0;
  for (const [file, name, options] of CASES) {
    itWithModels(`${name}: width, sill and head by the plain reader`, () => {
      const { value, model } = traced(file, options);
      if (value.openings.length === 0) return;
      const step = stepOf(file);
      const reader = new Boxes(step);
      const k = model.unit.mmPerUnit;
      const bodies = new Map(value.model!.outlines.filter((o) => o.kind === 'wall').map((o) => [o.id, o]));
      for (const hole of step.of('IFCOPENINGELEMENT')) {
        const id = hole.values[0] as string;
        const found = value.openings.find((o) => o.sources.length === 1 && o.sources[0] === id);
        const boxes = reader.ofProduct(hole);
        if (!found || boxes.length !== 1) continue;
        const { corner, edges } = boxes[0]!;
        const corners = [0, 1, 2, 3, 4, 5, 6, 7].map((i) =>
          corner.map((c, j) => (c + [0, 1, 2].reduce((sum, e) => sum + (i & (1 << e) ? edges[e]![j]! : 0), 0)) * k),
        );
        const width = Math.hypot(found.to.x - found.from.x, found.to.y - found.from.y);
        const u = { x: (found.to.x - found.from.x) / width, y: (found.to.y - found.from.y) / width };
        const along = corners.map((c) => (c[0]! - found.from.x) * u.x + (c[1]! - found.from.y) * u.y);
        const levels = corners.map((c) => c[2]!);
        const owner = bodies.get(model.elements.find((e) => e.openings.some((o) => o.id === id))!.id)!;
        expect(Math.abs(Math.min(...along)), id).toBeLessThan(0.01);
        expect(Math.abs(Math.max(...along) - width), id).toBeLessThan(0.01);
        expect(found.sillMm!).toBeCloseTo(Math.max(owner.baseMm, Math.min(...levels)), 1);
        expect(found.headMm!).toBeCloseTo(Math.min(owner.topMm, Math.max(...levels)), 1);
        compared++;
      }
    });
  }
  itWithModels('are many', () => {
    expect(compared).toBeGreaterThan(30);
  });
});

/** A drawing's lines are straightened all together, a model's piece by piece: the pavilion, 5 mm in 16 m out of square, moves by this much. */
const DRAWN_MM = 0.05;
/** Ducts of 294 by 150 mm between walls of 100 mm: in a drawing nothing tells which side of their lines is concrete, in a model it is known. */
const NOT_AS_DRAWN = ['walls_without_body_2x3.taken'];

describe('the same building as a drawing', () => {
  for (const [file, name, options] of CASES.filter(([, n]) => !NOT_AS_DRAWN.includes(n))) {
    itWithModels(`${name}: the outline of its walls drawn on S-WALL gives the same stretches`, () => {
      const { value } = traced(file, options);
      const rings = value.model!.outlines.filter((o) => o.kind === 'wall').flatMap((o) => o.rings);
      const origin = rings[0]?.[0] ?? { x: 0, y: 0 };
      const local = rings.map((ring) => ring.map((p) => ({ x: p.x - origin.x, y: p.y - origin.y })));
      const { concrete } = tracePlan(local.map((ring) => enclosed([ring])));
      const drawn = trace({ ...emptyDrawing(), paths: pathsOf(concrete, 'outline') }, { ...OPTIONS, unit: 'mm' }).value;
      const found = (s: (typeof value.stretches)[number], dx: number, dy: number) =>
        drawn.stretches.some(
          (d) =>
            Math.hypot(d.start.x + dx - s.start.x, d.start.y + dy - s.start.y) < DRAWN_MM &&
            Math.hypot(d.end.x + dx - s.end.x, d.end.y + dy - s.end.y) < DRAWN_MM &&
            Math.abs(d.thicknessMm - s.thicknessMm) < DRAWN_MM,
        );
      expect(value.stretches.filter((s) => !found(s, origin.x, origin.y)).map((s) => s.sources)).toEqual([]);
      expect(drawn.stretches.length).toBe(value.stretches.length);
    });
  }
});

describe('levels of the plan', () => {
  let held = 0;
  for (const [file, name, options] of CASES) {
    itWithModels(`${name}: every wall has the base and top of its own element`, () => {
      const { value, findings, model } = traced(file, options);
      // Where these speak of an element its levels are other than its body's, and the finding has them.
      const said = new Set(
        findings.filter((f) => /sloping|reached-into|side-by-side|foot$/.test(f.code)).map((f) => f.subject),
      );
      const stepped = new Set(value.steps.flatMap((s) => s.sources));
      // A body that is clipped or of faces may be stepped by itself, and part of it stand in another wall.
      const isPlain = (id: string) =>
        model.elements.find((e) => e.id === id)!.body.every((b) => b.solid.kind === 'prism');
      const bodies = new Map(value.model!.outlines.filter((o) => o.kind === 'wall').map((o) => [o.id, o]));
      for (const wall of shape(value, { gridMm: 1 }).value.walls) {
        const own = wall.sources.map((id) => bodies.get(id)!);
        if (wall.sources.some((id) => said.has(id) || stepped.has(id) || !isPlain(id))) continue;
        for (const body of own) {
          expect([wall.id, wall.base.length, wall.top.length]).toEqual([wall.id, 1, 1]);
          expect(Math.abs(wall.base[0]!.levelMm - body.baseMm), `${wall.id} ${body.id}`).toBeLessThanOrEqual(2);
          expect(Math.abs(wall.top[0]!.levelMm - body.topMm), `${wall.id} ${body.id}`).toBeLessThanOrEqual(2);
          held++;
        }
      }
    });
  }
  itWithModels('are many', () => {
    expect(held).toBeGreaterThan(60);
  });
});

const wallsOf = (f: Foundation) => shape(f, { gridMm: 1 }).value.walls.map((w) => ({ ...w, sources: w.sources }));

describe('what is known of these models', () => {
  itWithModels('duplex: seven foundation walls of 435 and 417 mm from -1.25 m, on their seven footings', () => {
    const { value, model } = traced('duplex_foundation_2x3.ifc');
    const taken = value.model!.elements.filter((e) => e.taken);
    // By their names in the file, which the choice does not look at here: it goes by footings.
    expect(taken.map((e) => e.id)).toEqual(
      model.elements.filter((e) => /Foundation - Concrete/.test(e.name ?? '')).map((e) => e.id),
    );
    expect(taken.every((e) => e.why.startsWith('stands on footing'))).toBe(true);
    const walls = wallsOf(value);
    expect(walls.map((w) => w.thicknessMm).sort()).toEqual([417, 417, 417, 417, 435, 435, 435]);
    expect(walls.every((w) => w.base.length === 1 && Math.abs(w.base[0]!.levelMm + 1250) < 0.01)).toBe(true);
    const footings = value.model!.outlines.filter((o) => o.kind === 'footing');
    expect(footings.map((f) => Math.round(f.topMm))).toEqual(Array(7).fill(-1250));
  });

  itWithModels('duplex by two exporters: one outline, within 0.01 mm, with the same GlobalIds', () => {
    const [a, b] = ['duplex_foundation_2x3.ifc', 'duplex_foundation_ifc4_rv.ifc'].map((f) => traced(f).value) as [
      Foundation,
      Foundation,
    ];
    expect(b.stretches.length).toBe(a.stretches.length);
    a.stretches.forEach((s, i) => {
      const t = b.stretches[i]!;
      expect(t.sources).toEqual(s.sources);
      for (const [p, q] of [
        [s.start, t.start],
        [s.end, t.end],
      ] as const)
        expect(Math.hypot(p.x - q.x, p.y - q.y)).toBeLessThan(0.01);
      expect(Math.abs(s.thicknessMm - t.thicknessMm)).toBeLessThan(0.01);
    });
    expect(b.levels.footingMm).toBeCloseTo(a.levels.footingMm, 2);
    expect(wallsOf(b).map((w) => [w.sources, w.top.map((x) => Math.round(x.levelMm))])).toEqual(
      wallsOf(a).map((w) => [w.sources, w.top.map((x) => Math.round(x.levelMm))]),
    );
  });

  itWithModels('butt and cleaned join of one corner: the same L', () => {
    const [butt, clean] = ['wall_join_butt_feet_2x3.ifc', 'wall_join_clean_feet_2x3.ifc'].map(
      (f) => traced(f).value,
    ) as [Foundation, Foundation];
    expect(clean.stretches.length).toBe(2);
    clean.stretches.forEach((s, i) => {
      const t = butt.stretches[i]!;
      expect(s.sources).toEqual(t.sources);
      for (const [p, q] of [
        [s.start, t.start],
        [s.end, t.end],
      ] as const)
        expect(Math.hypot(p.x - q.x, p.y - q.y)).toBeLessThan(0.01);
    });
    expect(clean.lengthUnit).toBe('ft');
  });

  itWithModels('arched top: both levels are said', () => {
    const { findings, value } = traced('wall_arched_top_feet_2x3.ifc');
    expect(findings.some((f) => f.code === 'trace.sloping-top')).toBe(true);
    expect(value.levels.topMm).toBeCloseTo(10 * 304.8, 1);
  });

  itWithModels('reinforced core walls: the three of the lowest storey, of eighteen', () => {
    const { value } = traced('rc_frame_core_walls_ifc4.ifc');
    expect(value.model!.elements.length).toBe(18);
    expect(value.model!.elements.filter((e) => e.taken).length).toBe(3);
    expect(value.levels.footingMm).toBeCloseTo(-2500, 3);
  });

  itWithModels('pavilion: the five that are called footing walls, by level and not by name', () => {
    const { value } = traced('pavilion_footing_walls_ifc4.ifc');
    const named = value.model!.elements.filter((e) => /^Footing wall/.test(e.name ?? ''));
    expect(named.length).toBe(5);
    expect(value.model!.elements.filter((e) => e.taken)).toEqual(named);
    expect(value.levels.footingMm).toBeCloseTo(-2100, 3);
  });

  itWithModels(
    'house of sand-lime on a footing: none by itself, its four walls from -0.25 m when the job file takes them',
    () => {
      expect(traced('house_on_footing_4x3_georef.ifc').findings.some((f) => f.code === 'trace.no-wall-in-model')).toBe(
        true,
      );
      const { value } = traced('house_on_footing_4x3_georef.ifc', { takeElements: ['house - *'] });
      expect(value.model!.elements.filter((e) => e.taken).length).toBe(4);
      expect(wallsOf(value).every((w) => Math.abs(w.base[0]!.levelMm + 250) < 0.01)).toBe(true);
    },
  );
});
