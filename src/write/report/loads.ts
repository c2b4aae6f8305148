/** Pressure and what it does to ties and units: the worst ten of each, utilisation rounded up. */

import { byNumber, inOrder } from '../../ground/order.js';
import { plainNumber } from '../../ground/units.js';
import type { CheckedPiece, CheckedTie, Clamp, PressureCase, Result } from '../../ground/vocabulary.js';
import { html, type Markup } from './markup.js';
import { sheet } from './sheet.js';
import { lengthText, utilisation } from './sizes.js';
import { pressureDrawing } from './svg/pressure.js';
import { type Row, table } from './table.js';

const WORST = 10;

const ratio = (load: number, capacity: number): number => {
  const value = load / capacity;
  return capacity > 0 && Number.isFinite(value) ? value : Number.POSITIVE_INFINITY;
};

/** Utilisation with the word for too much: what has no number or no capacity counts as too much. */
const used = (load: number, capacity: number): string => {
  const value = utilisation(load, capacity);
  if (value === null) return 'no capacity';
  return load <= capacity ? value : `${value} OVER`;
};

const tieRow = (tie: CheckedTie, result: Result): Row => {
  const gear = result.catalogue.lengthUnit;
  return {
    ...(tie.loadKn <= tie.workingLoadKn ? {} : { look: 'failure' }),
    cells: [
      tie.id,
      tie.item,
      tie.wall,
      `R${plainNumber(tie.row, 0)}`,
      lengthText(tie.stationMm, gear),
      lengthText(tie.levelMm, gear),
      tie.loadKn.toFixed(2),
      tie.stripKn.toFixed(2),
      tie.workingLoadKn.toFixed(2),
      used(tie.loadKn, tie.workingLoadKn),
      tie.governingFace,
    ],
  };
};

const tiesTable = (result: Result): Markup => {
  const { ties } = result.layout;
  const gear = result.catalogue.lengthUnit;
  const order = new Map(ties.map((t, i) => [t, i]));
  const worst = [...ties].sort(
    inOrder<CheckedTie>(
      byNumber((t) => -Math.min(1e9, ratio(t.loadKn, t.workingLoadKn))),
      byNumber((t) => order.get(t)!),
    ),
  );
  const columns = [
    { head: 'Tie' },
    { head: 'Item' },
    { head: 'Wall' },
    { head: 'Row' },
    { head: `Station, ${gear}`, figures: true },
    { head: `Level, ${gear}`, figures: true },
    { head: 'Load, kN', figures: true },
    { head: 'By strips, kN', figures: true },
    { head: 'Working load, kN', figures: true },
    { head: 'Utilisation', figures: true },
    { head: 'Governing face' },
  ];
  const over = ties.filter((t) => !(t.loadKn <= t.workingLoadKn)).length;
  const sentence =
    ties.length === 0
      ? null
      : html`<p>${plainNumber(over, 0)} of ${plainNumber(ties.length, 0)} ties carry more than their working load. The load is the exact reaction of the hinged chain of panels, the strips are the first estimate beside it; both under the characteristic pressure, against working loads. Utilisation is rounded up.</p>`;
  const rows = worst.slice(0, WORST).map((tie) => tieRow(tie, result));
  return html`${sentence}${table('The ten most loaded ties', columns, rows, 'There are no ties.')}`;
};

const ratingsTable = (result: Result): Markup => {
  const { ratings, pieces } = result.layout;
  const gear = result.catalogue.lengthUnit;
  const pieceById = new Map(pieces.map((p) => [p.id, p]));
  const order = new Map(ratings.map((r, i) => [r, i]));
  const worst = [...ratings].sort(
    inOrder<CheckedPiece>(
      byNumber((r) => -Math.min(1e9, ratio(r.pressureKpa, r.ratedKpa))),
      byNumber((r) => order.get(r)!),
    ),
  );
  const rows = worst.slice(0, WORST).map((rating): Row => {
    const piece = pieceById.get(rating.piece);
    const cover = piece?.covers[0];
    return {
      ...(rating.pressureKpa <= rating.ratedKpa ? {} : { look: 'failure' }),
      cells: [
        rating.piece,
        piece?.item ?? piece?.kind ?? '',
        cover?.face ?? '',
        cover === undefined ? '' : `${lengthText(cover.fromMm, gear)} – ${lengthText(cover.toMm, gear)}`,
        rating.pressureKpa.toFixed(1),
        rating.ratedKpa.toFixed(1),
        used(rating.pressureKpa, rating.ratedKpa),
      ],
    };
  });
  const columns = [
    { head: 'Piece' },
    { head: 'Item' },
    { head: 'Face' },
    { head: `Stations, ${gear}`, figures: true },
    { head: 'Pressure, kPa', figures: true },
    { head: 'Rated, kPa', figures: true },
    { head: 'Utilisation', figures: true },
  ];
  return table('The ten most pressed pieces', columns, rows, 'No piece was held against its rated pressure.');
};

const clampsTable = (result: Result): Markup => {
  const { clamps } = result.layout;
  const gear = result.catalogue.lengthUnit;
  if (clamps.length === 0) return html`<p>No clamps are laid out: the catalogue has none, or no joint takes one.</p>`;
  const order = new Map(clamps.map((c, i) => [c, i]));
  const worst = [...clamps].sort(
    inOrder<Clamp>(
      byNumber((c) => -c.utilisation),
      byNumber((c) => order.get(c)!),
    ),
  );
  const columns = [
    { head: 'Clamp' },
    { head: 'Item' },
    { head: 'Face' },
    { head: 'Between' },
    { head: `Station, ${gear}`, figures: true },
    { head: `Level, ${gear}`, figures: true },
    { head: `Gap, ${gear}`, figures: true },
    { head: 'Along the forms, kN', figures: true },
    { head: 'Across the joint, kN', figures: true },
    { head: 'Utilisation', figures: true },
  ];
  const rows = worst.slice(0, WORST).map(
    (c): Row => ({
      ...(c.utilisation <= 1 ? {} : { look: 'failure' }),
      cells: [
        c.id,
        c.item,
        c.face,
        c.pieces.join(', '),
        lengthText(c.stationMm, gear),
        lengthText(c.levelMm, gear),
        lengthText(c.gapMm, gear),
        c.inPlaneKn.toFixed(2),
        c.shearKn === null ? 'not known' : c.shearKn.toFixed(2),
        used(c.utilisation, 1),
      ],
    }),
  );
  const count = html`<p>${plainNumber(clamps.length, 0)} clamps. Every clamp of a line carries the larger of what its two ends pull with, over the height that it answers for, and the force that one unit hands on to the next; the two are added as shares of what it may carry.</p>`;
  return html`${count}${table('The ten most loaded clamps', columns, rows, 'There are no clamps.')}`;
};

const caseMarkup = (result: Result, pressure: PressureCase, i: number): Markup => {
  if (!(pressure.pourHeightMm > 0)) return html`<p><strong>No pressure could be formed; see the findings.</strong></p>`;
  const gear = result.catalogue.lengthUnit;
  const height = `${lengthText(pressure.pourHeightMm, gear)} ${gear}`;
  const drawn = pressureDrawing(pressure, `pressure ${plainNumber(i + 1, 0)}`, gear);
  const words = `By ${pressure.method}, at ${plainNumber(pressure.rateMPerH, 2)} m/h and ${plainNumber(pressure.temperatureC, 1)} °C, a pour of ${height} presses with at most ${plainNumber(pressure.designKpa, 1)} kPa (characteristic value). Pour slower when the concrete is colder.`;
  return html`<h3>Pour of ${height}</h3>
<p>${words}</p>
${drawn === null ? null : sheet(drawn, `Pressure diagram, pour of ${height}`)}`;
};

export const loadsSection = (result: Result): Markup => html`<section id="loads">
<h2>Pressure and loads</h2>
${result.layout.pressure.map((p, i) => caseMarkup(result, p, i))}
${result.layout.pressure.length === 0 ? html`<p>No pressure was worked out.</p>` : null}
${tiesTable(result)}
${ratingsTable(result)}
${clampsTable(result)}
</section>`;
