/** A layout as text that a person can read and compare: what golden files hold. */

import { plainNumber } from '../../src/ground/units.js';
import type { Piece, Result } from '../../src/ground/vocabulary.js';
import type { LayOutOutcome } from '../../src/pipeline/index.js';

const n = (value: number): string => plainNumber(value, 3);

const wallLines = ({ plan }: Result): string[] =>
  plan.walls.map((w) => {
    const levels = (bands: typeof w.base) =>
      bands.map((b) => `${n(b.fromMm)}..${n(b.toMm)} at ${n(b.levelMm)}`).join(', ');
    return `${w.id}  ${n(w.start.x)},${n(w.start.y)} to ${n(w.end.x)},${n(w.end.y)}  length ${n(w.lengthMm)}  thick ${n(w.thicknessMm)}  base ${levels(w.base)}  top ${levels(w.top)}`;
  });

const nodeLines = ({ plan }: Result): string[] =>
  plan.nodes.map((x) => `${x.id}  ${x.kind} ${n(x.angleDeg)}  at ${n(x.at.x)},${n(x.at.y)}  ${x.walls.join(' ')}`);

const pieceName = (piece: Piece): string => `${piece.kind} ${piece.item ?? ''}${piece.turned ? ' turned' : ''}`.trim();

/** Pieces of each face from station to station, course by course. */
const faceLines = ({ plan, layout }: Result): string[] =>
  plan.faces.flatMap((face) => {
    const lines = [`${face.id}  ${face.wall} ${face.side} ${n(face.fromMm)}..${n(face.toMm)}`];
    const covers = layout.pieces.flatMap((piece) =>
      piece.covers.filter((c) => c.face === face.id).map((cover) => ({ piece, cover })),
    );
    covers.sort(
      (a, b) =>
        a.piece.course - b.piece.course || a.cover.fromMm - b.cover.fromMm || (a.piece.id < b.piece.id ? -1 : 1),
    );
    for (const { piece, cover } of covers) {
      lines.push(
        `    course ${piece.course}  ${n(cover.fromMm)}..${n(cover.toMm)}  ${n(cover.baseMm)}..${n(cover.topMm)}  ${pieceName(piece)}`,
      );
    }
    return lines;
  });

const tieLines = ({ layout }: Result): string[] =>
  layout.ties.map(
    (t) =>
      `${t.id}  ${t.wall} row ${t.row}  ${n(t.stationMm)} at ${n(t.levelMm)}  ${t.item}  ${n(t.loadKn)} of ${n(t.workingLoadKn)} kN${t.outsideConcrete ? '  outside the concrete' : ''}`,
  );

/** Counts by wall. */
const siteLines = ({ plan, layout }: Result): string[] => {
  const { aligners = [], braces = [], platforms = [] } = layout;
  return plan.walls.flatMap((w) => {
    const own = new Set(plan.faces.filter((f) => f.wall === w.id).map((f) => f.id));
    const count = (name: string, items: readonly { readonly face: string }[]) => {
      const here = items.filter((x) => own.has(x.face));
      return here.length === 0 ? [] : [`${here.length} ${name} on ${[...new Set(here.map((x) => x.face))].join(', ')}`];
    };
    const counts = [
      ...count(
        'horizontal aligners',
        aligners.filter((a) => a.kind === 'horizontal'),
      ),
      ...count(
        'vertical aligners',
        aligners.filter((a) => a.kind === 'vertical'),
      ),
      ...count('braces', braces),
      ...count('platforms', platforms),
    ];
    return counts.length === 0 ? [] : [`${w.id}  ${counts.join('; ')}`];
  });
};

const section = (title: string, lines: readonly string[]): string[] => ['', `== ${title} (${lines.length})`, ...lines];

const findingLines = (findings: Result['findings']): string[] =>
  findings.map((f) => {
    const at = f.at === null ? '' : ` at ${f.at.map(n).join(',')}`;
    return `${f.severity} ${f.code}${f.subject === '' ? '' : ` [${f.subject}]`}${at}: ${f.message}${f.assumed === null ? '' : ` Assumed: ${f.assumed}.`}`;
  });

const resultText = (result: Result): string[] => {
  const loose = result.layout.pieces.filter((p) => p.covers.length === 0);
  return [
    `unit ${result.source.lengthUnit}, catalogue ${result.catalogue.name}`,
    ...section('walls', wallLines(result)),
    ...section('nodes', nodeLines(result)),
    ...section('faces and their pieces', faceLines(result)),
    ...section(
      'pieces that cover no face',
      loose.map((p) => `${pieceName(p)}  ${p.node ?? ''} course ${p.course}`),
    ),
    ...section('ties', tieLines(result)),
    ...section('aligners, braces, platforms', siteLines(result)),
    ...section(
      'pressure',
      result.layout.pressure.map(
        (p) => `${p.method}  ${n(p.designKpa)} kPa at ${n(p.rateMPerH)} m/h, ${n(p.temperatureC)} C`,
      ),
    ),
    ...section(
      'cost',
      result.layout.tiers.map(
        (t) => `${t.name}  ${n(t.value)}  bound ${t.bound === null ? 'none' : n(t.bound)}${t.optimal ? '  least' : ''}`,
      ),
    ),
    ...section(
      'totals',
      Object.entries(result.schedule.totals).map(([name, value]) => `${name}  ${n(value as number)}`),
    ),
    ...section(
      'list',
      result.schedule.rows.map((r) => `${r.count} x ${r.item}  ${n(r.massKg)} kg`),
    ),
  ];
};

/** The outcome of one drawing. */
export const readable = (outcome: LayOutOutcome): string => {
  const lines =
    outcome.kind === 'refused'
      ? ['refused, exit code 2', ...section('findings', findingLines(outcome.findings))]
      : [
          `laid out, exit code ${outcome.exitCode}`,
          ...resultText(outcome.result),
          ...section('findings', findingLines(outcome.result.findings)),
          ...section(
            'files',
            outcome.files.map((f) => f.name),
          ),
        ];
  return `${lines.join('\n')}\n`;
};
