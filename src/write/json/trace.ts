/** trace.json: what was understood and what is asked, in the shape of ./traceSchema.ts. One line an entry; lists keep the order of the stages. */

import type { Finding } from '../../ground/findings.js';
import type { Vec } from '../../ground/plane.js';
import type { TraceResult } from '../../ground/questions.js';
import { roundTo } from '../../ground/units.js';
import type { LevelBand } from '../../ground/vocabulary.js';
import { documentLines } from './lines.js';
import { modelSection } from './model.js';
import type { TraceFile } from './traceSchema.js';

const length4 = (value: number): number => {
  if (!Number.isFinite(value)) throw new Error(`trace.json cannot hold ${value}`);
  return roundTo(value, 4);
};
const orNull = (value: number | null): number | null => (value === null ? null : length4(value));
const pointOf = (p: Vec): [number, number] => [length4(p.x), length4(p.y)];
const bandOf = (b: LevelBand) => ({
  fromMm: length4(b.fromMm),
  toMm: length4(b.toMm),
  levelMm: length4(b.levelMm),
});
const placeOf = ({ at }: Finding): [number, number, number] | null =>
  at === null ? null : [length4(at[0]), length4(at[1]), length4(at[2])];

const sum = (lengths: readonly number[]): number => lengths.reduce((total, l) => total + l, 0);

/** The trace as an object of the published shape. Throws on numbers that JSON cannot hold. */
export const traceFile = (result: TraceResult): TraceFile => {
  const { source, foundation: f, plan, layers, questions, findings } = result;
  // Curved walls stand in `curves`.
  const straight = plan.walls.filter((w) => !w.arc);
  return {
    format: 'shutterwright-trace',
    version: 1,
    source: { file: source.file, sha256: source.sha256, kind: source.kind, lengthUnit: source.lengthUnit },
    layers: [...layers],
    levels: { ...f.levels, footingMm: length4(f.levels.footingMm), topMm: length4(f.levels.topMm) },
    levelsAt: f.levelsAt.map((l) => ({
      near: pointOf(l.near),
      footingMm: orNull(l.footingMm),
      topMm: orNull(l.topMm),
      from: l.from,
      text: l.text,
    })),
    walls: straight.map((w) => ({
      id: w.id,
      start: pointOf(w.start),
      end: pointOf(w.end),
      lengthMm: length4(w.lengthMm),
      thicknessMm: length4(w.thicknessMm),
      base: w.base.map(bandOf),
      top: w.top.map(bandOf),
      sources: [...w.sources],
    })),
    stretches: f.stretches.map((s) => ({
      start: pointOf(s.start),
      end: pointOf(s.end),
      thicknessMm: length4(s.thicknessMm),
      startCapped: s.startCapped,
      endCapped: s.endCapped,
      sources: [...s.sources],
    })),
    curves: f.curves.map((c) => ({
      centre: pointOf(c.centre),
      radiusMm: length4(c.radiusMm),
      fromRad: roundTo(c.fromRad, 9),
      toRad: roundTo(c.toRad, 9),
      thicknessMm: length4(c.thicknessMm),
      sources: [...c.sources],
    })),
    openings: f.openings.map((o) => ({
      from: pointOf(o.from),
      to: pointOf(o.to),
      thicknessMm: length4(o.thicknessMm),
      kind: o.kind,
      sillMm: orNull(o.sillMm),
      headMm: orNull(o.headMm),
      sources: [...o.sources],
    })),
    steps: f.steps.map((s) => ({
      kind: s.kind,
      at: pointOf(s.at),
      riseMm: orNull(s.riseMm),
      text: s.text,
      sources: [...s.sources],
    })),
    pilasters: f.pilasters.map((p) => ({
      at: pointOf(p.at),
      widthMm: length4(p.widthMm),
      projectionMm: length4(p.projectionMm),
      sources: [...p.sources],
    })),
    bars: f.bars.map((b) => ({
      at: pointOf(b.at),
      text: b.text,
      diameterMm: length4(b.diameterMm),
      spacingMm: orNull(b.spacingMm),
      direction: b.direction,
      faces: b.faces,
      source: b.source,
    })),
    views: f.views.map((v) => ({
      box: [length4(v.box[0]), length4(v.box[1]), length4(v.box[2]), length4(v.box[3])],
      title: v.title,
      chosen: v.chosen,
      why: v.why,
    })),
    totals: {
      walls: straight.length,
      wallLengthM: length4(sum(straight.map((w) => w.lengthMm)) / 1000),
      curves: f.curves.length,
      curveLengthM: length4(sum(f.curves.map((c) => c.radiusMm * Math.abs(c.toRad - c.fromRad))) / 1000),
    },
    questions: questions.map(({ number, finding, question, keys }) => ({
      number,
      question,
      keys: [...keys],
      code: finding.code,
      severity: finding.severity === 'failure' ? 'failure' : 'attention',
      at: placeOf(finding),
      subject: finding.subject,
      message: finding.message,
      assumed: finding.assumed,
    })),
    notes: findings
      .filter((n) => n.severity === 'note')
      .map((n) => ({ code: n.code, at: placeOf(n), subject: n.subject, message: n.message, assumed: n.assumed })),
    ...modelSection(result.model, f.model),
  };
};

/** The trace as the text of trace.json. */
export const traceJson = (result: TraceResult): string => documentLines(traceFile(result));
