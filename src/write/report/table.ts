/** Tables of the report: a caption, column heads with scope, cells that are markup or escaped text. */

import { type Content, html, lines, type Markup } from './markup.js';

export interface Column {
  readonly head: string;
  /** Figures stand to the right. */
  readonly figures?: boolean;
}

export interface Row {
  readonly cells: readonly Content[];
  /** Anchor of the row. */
  readonly id?: string;
  /** Class for its look; what it says is also said in words. */
  readonly look?: string;
}

const cell = (content: Content, column: Column | undefined, head: boolean): Markup => {
  const look = column?.figures === true ? html` class="figures"` : null;
  return head ? html`<th scope="row"${look}>${content}</th>` : html`<td${look}>${content}</td>`;
};

/** A table whose first column heads its rows. A table without rows is a sentence: `empty`. */
export const table = (caption: string, columns: readonly Column[], rows: readonly Row[], empty: string): Markup => {
  if (rows.length === 0) return html`<p>${empty}</p>`;
  const heads = columns.map(
    (c) => html`<th scope="col"${c.figures === true ? html` class="figures"` : null}>${c.head}</th>`,
  );
  const body = rows.map((row) => {
    const id = row.id === undefined ? null : html` id="${row.id}"`;
    const look = row.look === undefined ? null : html` class="${row.look}"`;
    return html`<tr${id}${look}>${row.cells.map((c, i) => cell(c, columns[i], i === 0))}</tr>`;
  });
  return html`<div class="wide" role="region" aria-label="${caption}" tabindex="0"><table>
<caption>${caption}</caption>
<thead><tr>${heads}</tr></thead>
<tbody>
${lines(body)}
</tbody>
</table></div>`;
};
