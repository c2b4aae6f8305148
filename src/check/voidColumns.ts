/**
 * Columns of ties at openings: which rows a column keeps there, and what those rows carry. A row is left out where a tie would come nearer to the
 * opening than ties come to an edge of the concrete (rule T22); the concrete of the opening itself does not press.
 */

import type { Finding } from '../ground/findings.js';
import type { BandShares, Envelope, RowLoad, Run, Stack, StationInterval, VoidColumn } from '../ground/vocabulary.js';
import { bandsOf, type Void } from '../ground/voids.js';
import { columnLoads, needsFoot, type RowsQuestion, rowLoads } from './rows.js';

export interface VoidColumnsQuestion {
  readonly run: Run;
  readonly stack: Stack;
  /** The run's rows where no opening is. */
  readonly rows: readonly RowLoad[];
  readonly voids: readonly Void[];
  /** From the axis of a tie to the edge of an opening. */
  readonly clearMm: number;
  readonly envelope: Envelope;
}

export interface VoidColumns {
  /** Where some rows are left out, in order and apart. */
  readonly columns: readonly VoidColumn[];
  /** Where the rows that are left hold no column: no tie may stand there. */
  readonly none: readonly StationInterval[];
  /** Of columns with all rows; none where the run has no opening. */
  readonly shares?: BandShares;
  readonly findings: readonly Finding[];
}

/** What a column takes from each band: the loads of one metre of strip there, by both ways of counting. */
const sharesOf = (
  solid: RowsQuestion,
  bands: readonly { readonly fromMm: number; readonly toMm: number }[],
  isFootHeld: boolean,
): BandShares => {
  const byBand = bands.map((own) => {
    const only = bands.map((b) => ({ fromMm: b.fromMm, toMm: b.toMm, share: b === own ? 1 : 0 }));
    const { exact, strips } = columnLoads({ ...solid, bands: only }, isFootHeld);
    return [...(exact ?? []), ...strips];
  });
  return byBand[0]!.map((_, row) => byBand.map((loads) => loads[row]!));
};

export const voidColumns = (q: VoidColumnsQuestion): VoidColumns => {
  const { run, voids, clearMm } = q;
  if (voids.length === 0) return { columns: [], none: [], findings: [] };
  const { footingMm, topMm } = run;
  const plain = { stack: q.stack, footingMm, topMm, envelope: q.envelope };
  const allBands = bandsOf(run, voids);
  const full = { ...plain, rowLevelsMm: q.rows.map((r) => r.levelMm) };
  const cuts = [...new Set(voids.flatMap((v) => [v.fromMm - clearMm, v.toMm + clearMm]))].sort((a, b) => a - b);
  const columns: VoidColumn[] = [];
  const none: StationInterval[] = [];
  const findings: Finding[] = [];
  cuts.slice(1).forEach((toMm, i) => {
    const fromMm = cuts[i]!;
    const near = voids.filter((v) => v.fromMm - clearMm < toMm && v.toMm + clearMm > fromMm);
    const isOut = (z: number) => near.some((v) => z > v.sillMm - clearMm && z < v.headMm + clearMm);
    const kept = q.rows.filter((r) => !isOut(r.levelMm));
    if (kept.length === q.rows.length) return;
    if (kept.length === 0) {
      none.push({ fromMm, toMm });
      return;
    }
    const solid = { ...plain, rowLevelsMm: kept.map((r) => r.levelMm) };
    const bands = bandsOf(run, near).map((b) => ({
      fromMm: b.fromMm,
      toMm: b.toMm,
      share: b.voids.length > 0 ? 0 : 1,
    }));
    const loads = rowLoads({ ...solid, bands, subject: run.wall });
    // A row that would be pushed is held apart by the box-out; a course without a row of its own is a mechanism.
    const stands = loads.findings.every((f) => f.code !== 'check.course-without-row' && f.code !== 'check.no-row');
    if (!stands) {
      none.push({ fromMm, toMm });
      return;
    }
    findings.push(...loads.findings.filter((f) => f.code === 'check.base-held'));
    const isFootHeld = needsFoot({ ...solid, bands });
    // Both lists rise with the level and hold the same rows.
    columns.push({
      fromMm,
      toMm,
      rows: loads.value.map((r, k) => ({ ...r, row: kept[k]!.row })),
      isFootHeld,
      shares: sharesOf(solid, allBands, isFootHeld),
    });
  });
  return { columns, none, shares: sharesOf(full, allBands, needsFoot(full)), findings };
};
