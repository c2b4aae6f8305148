/**
 * The check sheet: what governs, kind by kind, with demand, capacity and the rule, so that an engineer can check it by hand, accept it or throw it out. What was
 * assumed and what was not checked stands beside it; the program signs nothing.
 */

import { plainNumber } from '../../ground/units.js';
import type { CheckedLayout, Piece, PieceKind, Result } from '../../ground/vocabulary.js';
import { html, type Markup } from './markup.js';
import { othersTable } from './rates.js';
import { missingTiesMarkup, risingMarkup, stripSumsMarkup } from './sensitivity.js';
import { type GearUnit, KIND_WORDS, lengthText, utilisation } from './sizes.js';
import { findingId } from './svg/marks.js';
import { type Row, table } from './table.js';

interface Governing {
  readonly kind: string;
  readonly subject: string;
  readonly where: string;
  readonly demand: number;
  readonly capacity: number;
  readonly unit: string;
  readonly places: number;
  readonly how: string;
  readonly rule: string;
}

const useOf = ({ demand, capacity }: Pick<Governing, 'demand' | 'capacity'>): number =>
  capacity > 0 && Number.isFinite(demand) ? demand / capacity : Number.POSITIVE_INFINITY;

/** The first of the most used. */
const worst = <T>(items: readonly T[], used: (item: T) => number): T | null =>
  items.reduce<T | null>((a, b) => (a === null || used(b) > used(a) ? b : a), null);

const tiesOf = ({ ties }: CheckedLayout, gear: GearUnit): Governing[] => {
  const most = worst(ties, (t) => useOf({ demand: t.loadKn, capacity: t.workingLoadKn }));
  if (!most) return [];
  const where = `wall ${most.wall}, row ${plainNumber(most.row)}, station ${lengthText(most.stationMm, gear)}, level ${lengthText(most.levelMm, gear)} ${gear}`;
  const how = `row load x reaction of the hinged chain of face ${most.governingFace}; by strips ${most.stripKn.toFixed(2)} kN`;
  return [
    {
      kind: 'tie',
      subject: most.id,
      where,
      demand: most.loadKn,
      capacity: most.workingLoadKn,
      unit: 'kN',
      places: 2,
      how,
      rule: 'T11',
    },
  ];
};

const placeOf = (piece: Piece | undefined, gear: GearUnit): string => {
  const cover = piece?.covers[0];
  if (!cover) return piece?.node === undefined ? '' : `node ${piece.node}`;
  return `face ${cover.face}, stations ${lengthText(cover.fromMm, gear)} to ${lengthText(cover.toMm, gear)} ${gear}`;
};

/** The most pressed unit of each kind. */
const unitsOf = ({ ratings, pieces }: CheckedLayout, gear: GearUnit): Governing[] => {
  const byId = new Map(pieces.map((p) => [p.id, p]));
  const kinds = [...new Set(pieces.map((p) => p.kind))];
  return kinds.flatMap((kind: PieceKind) => {
    const own = ratings.filter((r) => byId.get(r.piece)?.kind === kind);
    const most = worst(own, (r) => useOf({ demand: r.pressureKpa, capacity: r.ratedKpa }));
    if (!most) return [];
    const how = 'pressure at its foot against its rating for the rows tied and the span between supports';
    const where = placeOf(byId.get(most.piece), gear);
    return [
      {
        kind: KIND_WORDS[kind],
        subject: most.piece,
        where,
        demand: most.pressureKpa,
        capacity: most.ratedKpa,
        unit: 'kPa',
        places: 1,
        how,
        rule: 'T11',
      },
    ];
  });
};

const clampsOf = ({ clamps }: CheckedLayout, gear: GearUnit): Governing[] => {
  const most = worst(clamps, (c) => c.utilisation);
  if (!most) return [];
  const where = `face ${most.face}, station ${lengthText(most.stationMm, gear)}, level ${lengthText(most.levelMm, gear)} ${gear}, between ${most.pieces.join(' and ')}`;
  const across = most.shearKn === null ? 'not known' : `${most.shearKn.toFixed(2)} kN`;
  const how = `along the forms ${most.inPlaneKn.toFixed(2)} kN, across the joint ${across}, added as shares`;
  return [
    {
      kind: 'clamp',
      subject: most.id,
      where,
      demand: most.utilisation,
      capacity: 1,
      unit: 'share',
      places: 2,
      how,
      rule: 'T12',
    },
  ];
};

/** Braces by push and by pull, of the first face standing alone, and the most loaded bracket. */
const siteOf = ({ braces = [], platforms = [] }: CheckedLayout, gear: GearUnit): Governing[] => {
  const rows: Governing[] = [];
  const brace = (pushed: boolean) => {
    const [of, most] = pushed ? (['pushKn', 'mostPushKn'] as const) : (['pullKn', 'mostPullKn'] as const);
    const b = worst(braces, (x) => useOf({ demand: x[of], capacity: x[most] }));
    if (!b) return;
    const where = `face ${b.face}, station ${lengthText(b.stationMm, gear)}, head at ${lengthText(b.headMm, gear)} ${gear}`;
    const how = `first face alone, ${(b.widthMm / 1000).toFixed(2)} m of form, ${b.angleDeg.toFixed(0)} degrees to the ground; hold-down ${b.holdDownKn.toFixed(2)} kN`;
    const kind = pushed ? 'brace pushed' : 'brace pulled';
    rows.push({
      kind,
      subject: b.id,
      where,
      demand: b[of],
      capacity: b[most],
      unit: 'kN',
      places: 2,
      how,
      rule: 'T14',
    });
  };
  brace(true);
  brace(false);
  const p = worst(platforms, (x) => useOf({ demand: x.bracketKn, capacity: x.mostBracketKn }));
  if (p) {
    const where = `face ${p.face}, stations ${lengthText(p.fromMm, gear)} to ${lengthText(p.toMm, gear)}, floor at ${lengthText(p.levelMm, gear)} ${gear}`;
    const how = 'the most loaded bracket, by the code of the job file';
    rows.push({
      kind: 'platform bracket',
      subject: p.id,
      where,
      demand: p.bracketKn,
      capacity: p.mostBracketKn,
      unit: 'kN',
      places: 2,
      how,
      rule: 'T15',
    });
  }
  return rows;
};

const rowOf = (g: Governing): Row => {
  const used = utilisation(g.demand, g.capacity);
  const isOver = !(g.demand <= g.capacity);
  return {
    ...(isOver ? { look: 'failure' } : {}),
    cells: [
      g.kind,
      g.subject,
      g.where,
      `${g.demand.toFixed(g.places)} ${g.unit}`,
      `${g.capacity.toFixed(g.places)} ${g.unit}`,
      used === null ? 'no capacity' : isOver ? `${used} OVER` : used,
      g.how,
      g.rule,
    ],
  };
};

const COLUMNS = [
  { head: 'Kind' },
  { head: 'Governing' },
  { head: 'Where' },
  { head: 'Demand', figures: true },
  { head: 'Capacity', figures: true },
  { head: 'Utilisation', figures: true },
  { head: 'How' },
  { head: 'Rule' },
];

/** What was assumed, each with the finding that says so. */
const assumptions = (result: Result): Markup => {
  const assumed = result.findings.flatMap((f, i) => (f.assumed === null ? [] : [{ f, n: i + 1 }]));
  const items = assumed.map(
    ({ f, n }) =>
      html`<li>${f.subject === '' ? '' : `${f.subject}: `}${f.assumed} <a href="#${findingId(n)}">finding ${plainNumber(n, 0)}</a></li>`,
  );
  return assumed.length === 0 ? html`<p>Nothing was assumed that a finding would name.</p>` : html`<ul>${items}</ul>`;
};

const pressures = (result: Result): Markup => {
  const gear = result.catalogue.lengthUnit;
  const items = result.layout.pressure.map(
    (p) =>
      html`<li>Pour of ${lengthText(p.pourHeightMm, gear)} ${gear}: ${plainNumber(p.designKpa, 1)} kPa by ${p.method}, characteristic value, against working loads.</li>`,
  );
  return html`<ul>${items}</ul>`;
};

const identity = ({ source, catalogue }: Result): Markup => html`<ul>
<li>Drawing ${source.file}, SHA-256 <span class="quiet" style="overflow-wrap:anywhere">${source.sha256}</span></li>
<li>Gear: ${catalogue.name}</li>
</ul>`;

/** Lines to be filled by hand. */
const signatures = html`<div class="wide" role="region" aria-label="To be filled by the people who are responsible" tabindex="0"><table><caption>To be filled by the people who are responsible</caption>
<thead><tr><th scope="col">Part</th><th scope="col">Name</th><th scope="col">Date</th><th scope="col">Signature</th></tr></thead>
<tbody>
<tr><th scope="row">Designer of the temporary works</th><td></td><td></td><td></td></tr>
<tr><th scope="row">Checker</th><td></td><td></td><td></td></tr>
<tr><th scope="row">Supervisor on site: set as drawn</th><td></td><td></td><td></td></tr>
<tr><th scope="row">Permit to pour: rate and temperature measured</th><td></td><td></td><td></td></tr>
</tbody></table></div>`;

export const checkSheetSection = (result: Result): Markup => {
  const { layout, catalogue } = result;
  const gear = catalogue.lengthUnit;
  const rows = [
    ...tiesOf(layout, gear),
    ...unitsOf(layout, gear),
    ...clampsOf(layout, gear),
    ...siteOf(layout, gear),
  ].map(rowOf);
  return html`<section id="check-sheet">
<h2>Check sheet</h2>
<p>What governs in each kind, under the characteristic pressure and against working loads; the ten worst of each stand in <a href="#loads">pressure and loads</a>. Utilisation is rounded up. What no line stands for was not checked: see <a href="#not-checked">not checked</a>.</p>
${identity(result)}
${pressures(result)}
${table('What governs', COLUMNS, rows, 'Nothing was checked: no ties, no rated units.')}
${stripSumsMarkup(result)}
${risingMarkup(result)}
<h3>If it comes otherwise</h3>
${layout.rates ? othersTable(layout.rates) : html`<p>No rates of rise were worked out.</p>`}
${missingTiesMarkup(result)}
<h3>Assumed</h3>
${assumptions(result)}
${signatures}
</section>`;
};
