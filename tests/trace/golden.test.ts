/**
 * What tracing makes of drawings by others, as readable text, each looked at against a picture of the drawing when it was written.
 * UPDATE_GOLDEN=1 writes the texts anew; read the difference before keeping it.
 */

import { readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect } from 'vitest';
import { compareFindings } from '../../src/ground/findings.js';
import { plainNumber } from '../../src/ground/units.js';
import { trace } from '../../src/trace/index.js';
import { itWithSamples, read, SAMPLES, sample } from '../read/samples.js';
import { OPTIONS } from './plans.js';

const FOLDER = fileURLToPath(new URL('../golden/trace/', import.meta.url));

const n = (value: number) => plainNumber(value, 1);

/** The result as a person would check it: unit, walls with their measures and ends, then what was said. */
const asText = (file: string): string => {
  const { value, findings } = trace(read(sample(file)).drawing, {
    ...OPTIONS,
    levels: { footingMm: null, topMm: null },
  });
  const lengths = value.stretches.map((s) => Math.hypot(s.end.x - s.start.x, s.end.y - s.start.y));
  const lines = [
    `${file}: numbers in ${value.lengthUnit}, ${value.stretches.length} stretches, ${n(lengths.reduce((a, b) => a + b, 0))} mm in all`,
    '',
    'stretches: length x thickness, start -> end (capped ends in brackets), sources',
    ...value.stretches.map((s, i) => {
      const end = (p: { x: number; y: number }, capped: boolean) =>
        capped ? `[${n(p.x)} ${n(p.y)}]` : `${n(p.x)} ${n(p.y)}`;
      return `  ${n(lengths[i]!)} x ${n(s.thicknessMm)}, ${end(s.start, s.startCapped)} -> ${end(s.end, s.endCapped)}, ${s.sources.join(' ')}`;
    }),
    ...value.curves.map(
      (c) => `  curve ${n(c.thicknessMm)} thick, radius ${n(c.radiusMm)} about ${n(c.centre.x)} ${n(c.centre.y)}`,
    ),
    ...value.openings.map(
      (o) =>
        `  ${o.kind} ${n(o.from.x)} ${n(o.from.y)} -> ${n(o.to.x)} ${n(o.to.y)}, sill ${o.sillMm}, head ${o.headMm}`,
    ),
    ...value.pilasters.map((x) => `  pilaster ${n(x.widthMm)} by ${n(x.projectionMm)} at ${n(x.at.x)} ${n(x.at.y)}`),
    ...value.steps.map((x) => `  step of the ${x.kind} at ${n(x.at.x)} ${n(x.at.y)}: ${x.text}`),
    ...value.bars.map((x) => `  bars ${x.text} at ${n(x.at.x)} ${n(x.at.y)}: ${x.diameterMm} every ${x.spacingMm}`),
    ...value.levelsAt.map((l) => `  level ${l.text} at ${n(l.near.x)} ${n(l.near.y)}: ${l.footingMm} ${l.topMm}`),
    ...value.views.map((v) => `  view ${v.title ?? 'without a title'}, ${v.chosen ? 'taken' : 'left out'}: ${v.why}`),
    `  levels: footing ${value.levels.footingMm} (${value.levels.footingFrom}), top ${value.levels.topMm} (${value.levels.topFrom})`,
    '',
    'findings',
    ...[...findings].sort(compareFindings).map((f) => {
      const at = f.at ? ` @ ${f.at.slice(0, 2).map(n).join(' ')}` : '';
      return `  ${f.severity} ${f.code}${at} ${f.subject === '' ? '' : `(${f.subject}) `}${f.message}`;
    }),
  ];
  return `${lines.join('\n')}\n`;
};

describe('drawings by others', () => {
  for (const file of SAMPLES.length > 0 ? SAMPLES : ['every sample']) {
    itWithSamples(file, () => {
      const path = `${FOLDER}${file.replace(/\.dxf$/, '.txt')}`;
      const text = asText(file);
      if (process.env.UPDATE_GOLDEN === '1') writeFileSync(path, text);
      expect(text).toBe(readFileSync(path, 'utf8'));
    });
  }

  // What a person counts on the pictures, apart from the golden texts.
  itWithSamples('the house has its stem walls, 8 inches thick, round house and garage and between them', () => {
    const { value } = trace(read(sample('house_foundation_plan_inches.dxf')).drawing, OPTIONS);
    expect(value.lengthUnit).toBe('in');
    expect(new Set(value.stretches.map((s) => Math.round(s.thicknessMm * 10) / 10))).toEqual(new Set([203.2]));
    // Dimensions written in the drawing: 58'-0" over all, 47'-0" over all, 30'-0" for the house's left side, 22'-2" for the garage's front.
    const xs = value.faceLines.flatMap((f) => [f.from.x, f.to.x]);
    const ys = value.faceLines.flatMap((f) => [f.from.y, f.to.y]);
    expect(Math.max(...xs) - Math.min(...xs)).toBeCloseTo(58 * 304.8, 1);
    expect(Math.max(...ys) - Math.min(...ys)).toBeCloseTo(47 * 304.8, 1);
    const left = value.stretches.find(
      (s) => Math.abs(s.start.x - Math.min(...xs) - 101.6) < 1 && s.start.x === s.end.x,
    );
    expect(left!.end.y - left!.start.y + 2 * 203.2).toBeCloseTo(30 * 304.8, 1);
    const capped = value.stretches.filter((s) => s.startCapped || s.endCapped);
    expect(capped.length).toBe(2);
  });

  itWithSamples('the pavilion has a wall for each pair of lines that a person sees', () => {
    const { value } = trace(read(sample('pavilion_plan_metres_r2013.dxf')).drawing, OPTIONS);
    const count = (t: number) => value.stretches.filter((s) => Math.abs(s.thicknessMm - t) < 0.1).length;
    expect([count(160), count(100), value.stretches.length]).toEqual([12, 6, 18]);
  });
});
