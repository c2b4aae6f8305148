/** A trace without any fitting: its files, its exit codes, its questions, and that it sees what the layout sees. */

import { describe, expect, it } from 'vitest';
import { type LayOutInput, parseJob } from '../../src/pipeline/index.js';
import { traceOnly } from '../../src/pipeline/traceOnly.js';
import type { TraceFile } from '../../src/write/json/index.js';
import { laidOut, laySheet, sha256 } from '../support/lay.js';
import { cornerHouse, noWalls, thickerAtTee, weirStore } from '../support/scenes.js';
import { dxfBytes, type Sheet } from '../support/sheet.js';

const inputOf = (bytes: Uint8Array, jobValue: unknown = {}): LayOutInput => {
  const job = parseJob(jobValue);
  if (!job.ok) throw new Error(job.findings[0]!.message);
  return { fileName: 'plan.dxf', bytes, sha256: sha256(bytes), job: job.value };
};

const tracedSheet = (sheet: Sheet, job: unknown = {}) => {
  const outcome = traceOnly(inputOf(dxfBytes(sheet), job));
  if (outcome.kind === 'refused') throw new Error('refused');
  const fileOf = (ending: string) => {
    const { bytes } = outcome.files.find((f) => f.name.endsWith(ending))!;
    return new TextDecoder('latin1').decode(bytes);
  };
  return { ...outcome, fileOf, json: JSON.parse(fileOf('.trace.json')) as TraceFile };
};

describe('a trace', () => {
  it('has three files, none of them by the name of a job file or of a layout', () => {
    const { files, exitCode } = tracedSheet(cornerHouse);
    expect(exitCode).toBe(0);
    expect(files.map((f) => f.name)).toEqual(['plan.trace.dxf', 'plan.trace.json', 'plan.job.proposed.yaml']);
  });

  it('goes through reading, tracing, shape and writing alone', () => {
    const stages: string[] = [];
    traceOnly(inputOf(dxfBytes(weirStore)), (stage) => stages.push(stage));
    expect(stages).toEqual(['read', 'trace', 'shape', 'write']);
  });

  it('has the walls of the layout under the same names', () => {
    const job = { levels: { footingMm: 0, topMm: 2350, at: [{ near: [3000, -2500], topMm: 1200 }] } };
    const { plan } = laidOut(laySheet(cornerHouse, job)).result;
    const { json, result } = tracedSheet(cornerHouse, job);
    expect(result.plan.walls).toEqual(plan.walls);
    expect(json.walls.map((w) => [w.id, w.lengthMm, w.thicknessMm])).toEqual(
      plan.walls.map((w) => [w.id, w.lengthMm, w.thicknessMm]),
    );
    expect(json.walls.filter((w) => w.top[0]!.levelMm === 1200)).toHaveLength(1);
    expect(json.layers).toEqual(['S-FNDN-WALL']);
  });

  it('is drawn over nothing unless the job file says merged', () => {
    expect(tracedSheet(cornerHouse).fileOf('.dxf')).not.toContain('ELDERWICK');
    expect(tracedSheet(cornerHouse, { output: { mode: 'merged' } }).fileOf('.dxf')).toContain('ELDERWICK');
  });

  it('draws its texts in the height of most of the drawing’s own', () => {
    expect(tracedSheet(cornerHouse).result.textHeightMm).toBe(180);
  });

  it('without a wall is a failure, and the drawing holds the question', () => {
    const { exitCode, fileOf, json } = tracedSheet(noWalls);
    expect(exitCode).toBe(1);
    expect(fileOf('.dxf')).toContain('Which layers hold the faces of the');
    expect(json.questions[0]).toMatchObject({ number: 1, code: 'trace.no-wall', severity: 'failure' });
    expect(json.questions.filter((q) => q.code === 'shape.no-walls')).toEqual([]);
  });

  it('takes a limit of the layout for no failure of the reading', () => {
    expect(laidOut(laySheet(thickerAtTee)).exitCode).toBe(1);
    const { exitCode, json } = tracedSheet(thickerAtTee);
    expect(exitCode).toBe(0);
    expect(json.questions.some((q) => q.code === 'shape.thickness-change')).toBe(false);
    expect(json.notes.some((n) => n.code === 'shape.thickness-change' && n.at !== null)).toBe(true);
  });

  it('is refused with what is no drawing, and with a catalogue that cannot be used', () => {
    const empty = traceOnly(inputOf(new Uint8Array()));
    expect(empty).toMatchObject({ kind: 'refused', exitCode: 2 });
    const yard = traceOnly({ ...inputOf(dxfBytes(weirStore), { catalogue: 'yard.yaml' }), catalogue: { name: 'x' } });
    expect(yard).toMatchObject({ kind: 'refused', exitCode: 2 });
  });

  it('is the same bytes from the same input', () => {
    const [a, b] = [tracedSheet(weirStore), tracedSheet(weirStore)];
    a.files.forEach((file, i) => {
      expect(Buffer.compare(file.bytes, b.files[i]!.bytes), file.name).toBe(0);
    });
  });
});

describe('a break in a wall', () => {
  const asks = (job: unknown): string[] =>
    tracedSheet(weirStore, job).json.questions.flatMap((q) => (q.keys.includes('drawing.openings') ? [q.code] : []));
  const laid = (job: unknown): string[] =>
    laidOut(laySheet(weirStore, job)).result.findings.flatMap((f) =>
      f.code === 'shape.gap-in-line' || f.code === 'trace.gap-in-wall' ? [f.code] : [],
    );

  it('is asked about once', () => {
    expect(asks({})).toEqual(['trace.gap-in-wall']);
    expect(laid({})).toEqual(['trace.gap-in-wall']);
  });

  it('and no more once the job file has answered', () => {
    const ends = { drawing: { openings: [{ near: [2950, 125], wallEnds: true }] } };
    expect(asks(ends)).toEqual([]);
    expect(laid(ends)).toEqual([]);
    const opening = tracedSheet(weirStore, { drawing: { openings: [{ near: [2950, 125], sillMm: 900 }] } });
    expect(opening.json.openings).toMatchObject([{ from: [2400, 125], to: [3500, 125], sillMm: 900 }]);
    expect(opening.json.walls).toHaveLength(4);
    expect(opening.json.questions.filter((q) => q.keys.includes('drawing.openings'))).toEqual([]);
  });
});
