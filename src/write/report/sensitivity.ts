/** What else could be: one tie missing, by wall and row; and that the strips of the rows are all of the pressure. */

import { plainNumber } from '../../ground/units.js';
import type { CheckedTie, MissingTie, MissingTies, Result, RisingRun } from '../../ground/vocabulary.js';
import { html, lines, type Markup } from './markup.js';
import { lengthText, utilisation } from './sizes.js';
import { table } from './table.js';

const MOST_GROUPS = 20;

interface TieGroup {
  readonly wall: string;
  readonly row: number;
  readonly ties: readonly MissingTie[];
  readonly none: number;
  readonly worst: MissingTie;
}

/** Ties of one wall and row, worst first as they come. */
const groupsOf = ({ ties }: MissingTies, byId: ReadonlyMap<string, CheckedTie>): TieGroup[] => {
  const groups = new Map<string, MissingTie[]>();
  for (const m of ties) {
    const tie = byId.get(m.tie);
    if (!tie) continue;
    const key = `${tie.wall}|${tie.row}`;
    groups.set(key, [...(groups.get(key) ?? []), m]);
  }
  return [...groups.entries()].map(([key, own]) => {
    const [wall = '', row = ''] = key.split('|');
    return { wall, row: Number(row), ties: own, none: own.filter((m) => m.use === null).length, worst: own[0]! };
  });
};

const shareText = (use: number | null): string => (use === null ? 'does not stand' : (utilisation(use, 1) ?? ''));

const summary = ({ ties, notLooked, columnsNeeded, columnsSpare }: MissingTies): string => {
  const none = ties.filter((m) => m.use === null).length;
  const over = ties.filter((m) => m.use !== null && m.use > 1 + 1e-9).length;
  const rest = ties.length - none - over;
  const number = (n: number) => plainNumber(n, 0);
  const left =
    notLooked > 0 ? ` ${number(notLooked)} ties beside openings or under panels on their side were not looked at.` : '';
  const columns = `${number(columnsNeeded)} columns of ties are all needed: without any one of them, left out from foot to top, the chain of hinged forms folds${columnsSpare > 0 ? `; ${number(columnsSpare)} may be missing as far as the chain goes` : ''}.`;
  return `Of ${number(ties.length)} ties ${number(none)} may not be missing: the others of their row and of their column do not hold the forms. Without one of ${number(over)} a neighbour carries more than it may; without one of the other ${number(rest)} none does. ${columns}${left}`;
};

export const missingTiesMarkup = ({ layout, catalogue }: Result): Markup => {
  const { missingTies } = layout;
  if (!missingTies || missingTies.ties.length === 0) return lines([]);
  const byId = new Map(layout.ties.map((t) => [t.id, t]));
  const groups = groupsOf(missingTies, byId);
  const columns = [
    { head: 'Wall and row' },
    { head: 'Ties', figures: true },
    { head: 'May not be missing', figures: true },
    { head: 'Worst' },
    { head: 'Along its row', figures: true },
    { head: 'Up its column', figures: true },
    { head: 'Most loaded neighbour' },
    { head: 'It carries', figures: true },
  ];
  const rows = groups.slice(0, MOST_GROUPS).map(({ wall, row, ties, none, worst }) => {
    const station = lengthText(byId.get(worst.tie)!.stationMm, catalogue.lengthUnit);
    return {
      ...(worst.use === null || worst.use > 1 + 1e-9 ? { look: 'failure' } : {}),
      cells: [
        `${wall}, row ${plainNumber(row, 0)}`,
        plainNumber(ties.length, 0),
        plainNumber(none, 0),
        `${worst.tie} at ${station}`,
        shareText(worst.along),
        shareText(worst.up),
        worst.neighbour ?? 'none',
        worst.use === null
          ? 'NO TIE MAY BE MISSING HERE'
          : `${shareText(worst.use)}${worst.use > 1 + 1e-9 ? ' OVER' : ''}`,
      ],
    };
  });
  const more = groups.length - MOST_GROUPS;
  return html`<h3>One tie missing or not locked</h3>
<p>${summary(missingTies)}</p>
<p>Along its row: the hinged chain of that row without it. Up its column: the courses as a beam on the rows that are left there, a row that would be pushed letting go. The better of the two counts. Ratings of panels are for all rows and are not looked at again.</p>
${table('By wall and row, worst first', columns, rows, '')}
${more > 0 ? html`<p>${plainNumber(more, 0)} more rows of walls are not worse than these.</p>` : null}`;
};

/** Rows while the concrete rises; runs that tell the same stand in one row. */
export const risingMarkup = ({ layout, catalogue, plan }: Result): Markup => {
  const { rising = [] } = layout;
  const gear = catalogue.lengthUnit;
  const runs = new Map(plan.runs.map((r) => [r.id, r]));
  const alike = new Map<string, { readonly first: RisingRun; readonly runs: string[] }>();
  for (const r of rising) {
    const { run: _, ...same } = r;
    const key = JSON.stringify(same);
    const known = alike.get(key) ?? { first: r, runs: [] };
    known.runs.push(r.run);
    alike.set(key, known);
  }
  if (alike.size === 0) return lines([]);
  const columns = [
    { head: 'Walls' },
    { head: 'Lifts', figures: true },
    { head: `Row, ${gear}`, figures: true },
    { head: 'Full pour, kN/m', figures: true },
    { head: 'Most at any fill, kN/m', figures: true },
    { head: `At a surface of, ${gear}`, figures: true },
    { head: 'Foot held for, kN/m', figures: true },
    { head: `At a surface of, ${gear}`, figures: true },
  ];
  const rows = [...alike.values()].flatMap(({ first, runs: names }) =>
    first.rows.map((row, i) => {
      const isHeld = i === 0 && first.footKnPerM > 0;
      return {
        cells: [
          names.join(', '),
          plainNumber(first.lifts, 0),
          lengthText(row.levelMm, gear),
          row.fullKnPerM.toFixed(2),
          row.mostKnPerM.toFixed(2),
          row.fillMm === null ? 'full' : lengthText(row.fillMm, gear),
          isHeld ? first.footKnPerM.toFixed(2) : '',
          isHeld ? lengthText(first.footFillMm, gear) : '',
        ],
      };
    }),
  );
  const left = runs.size - rising.length;
  return html`<h3>While the pour rises</h3>
<p>Every fill is looked at in steps of 100 mm; a row that would be pushed lets go. The loads of the ties are those of the worst fill. Where walls are poured in lifts each lift is taken to have set before the next.${left > 0 ? ` ${plainNumber(left, 0)} walls or parts with openings, with panels on their side, or whose rows do not stand are not looked at.` : ''}</p>
${table('Rows by fill', columns, rows, '')}`;
};

/** Runs with the same strips and the same area are told once. */
export const stripSumsMarkup = ({ layout }: Result): Markup => {
  const { stripSums = [] } = layout;
  const alike = new Map<string, { runs: string[]; columns: number; other: number; offKn: number }>();
  for (const s of stripSums) {
    const key = `${s.rowsKnPerM.map((x) => x.toFixed(2)).join(' + ')}|${s.rowsKnPerM.reduce((a, b) => a + b, 0).toFixed(2)}|${s.areaKnPerM.toFixed(2)}`;
    const known = alike.get(key) ?? { runs: [], columns: 0, other: 0, offKn: 0 };
    alike.set(key, {
      runs: [...known.runs, s.run],
      columns: known.columns + s.columns,
      other: known.other + s.otherColumns,
      offKn: Math.max(known.offKn, s.offKn),
    });
  }
  if (alike.size === 0) return lines([]);
  const columns = [
    { head: 'Walls' },
    { head: 'Strips from below, kN/m' },
    { head: 'Sum, kN/m', figures: true },
    { head: 'Area of the diagram, kN/m', figures: true },
    { head: 'Columns', figures: true },
    { head: 'Off at most, kN', figures: true },
    { head: 'Other columns', figures: true },
  ];
  const rows = [...alike.entries()].map(([key, { runs, columns: count, other, offKn }]) => {
    const [strips = '', sum = '', area = ''] = key.split('|');
    return {
      ...(sum === area ? {} : { look: 'failure' }),
      cells: [runs.join(', '), strips, sum, area, plainNumber(count, 0), offKn.toFixed(2), plainNumber(other, 0)],
    };
  });
  return html`<h3>Nothing lost between the rows</h3>
<p>The strips of the rows by tributary height add up to the area of the pressure diagram; in every column with a tie in each row the strips of its ties add up to the area times the width that it holds. Other columns lack a tie in some row, or stand beside one that does.</p>
${table('Strips against the pressure diagram', columns, rows, '')}`;
};
