/**
 * Views: the several drawings that stand in one model space, and which of them hold the foundation. `chooseViews(findViews(…), …)` before the
 * unit is known, `withinViews` cuts the drawing down, `viewsSaid` says it in mm afterwards.
 */

import { type Finding, finding, type Staged } from '../../ground/findings.js';
import { plainNumber } from '../../ground/units.js';
import type { Drawing, DrawingView, TraceOptions } from '../../ground/vocabulary.js';
import type { JudgedView, ViewChoice } from './choose.js';
import type { View } from './find.js';

export { chooseViews, type ViewChoice } from './choose.js';
export { findViews, type View } from './find.js';

/** The drawing without what stands in views that were left out: paths, texts, dimensions, leaders and inserts. The document stays whole. */
export const withinViews = (drawing: Drawing, choice: ViewChoice): Drawing => {
  if (choice.views.every((v) => v.chosen)) return drawing;
  return {
    ...drawing,
    paths: drawing.paths.filter(choice.keepsPath),
    texts: drawing.texts.filter((t) => choice.keepsPlace(t.at)),
    dimensions: drawing.dimensions.filter((d) =>
      choice.keepsPlace({ x: (d.from.x + d.to.x) / 2, y: (d.from.y + d.to.y) / 2 }),
    ),
    leaders: drawing.leaders.filter((l) => l.points[0] === undefined || choice.keepsPlace(l.points[0])),
    inserts: drawing.inserts.filter((i) => choice.keepsPlace(i.at)),
  };
};

const named = (v: View): string =>
  v.title ? `"${v.title.text}"` : v.kind === 'sheet' ? 'the sheet' : 'without a title';

/** "lower left 12000, 3400, upper right …" in drawing units, as drawing.area takes them. */
const area = (v: View): string =>
  `[${[v.box.x0, v.box.y0, v.box.x1, v.box.y1].map((n) => plainNumber(n, 2)).join(', ')}]`;

/**
 * The views in mm and what is said of the choice: nothing where everything stays, else one note with all views and their areas in drawing
 * units, and an attention finding for each doubt.
 *
 * @param mmPer mm per drawing unit
 */
export const viewsSaid = (
  choice: ViewChoice,
  options: Pick<TraceOptions, 'area'>,
  mmPer: number,
): Staged<DrawingView[]> => {
  const inMm = (box: View['box']) =>
    [box.x0, box.y0, box.x1, box.y1].map((v) => v * mmPer) as [number, number, number, number];
  if (options.area !== null) {
    const [x0, y0, x1, y1] = options.area;
    const box = { x0: Math.min(x0, x1), y0: Math.min(y0, y1), x1: Math.max(x0, x1), y1: Math.max(y0, y1) };
    const why = 'the job file gives the area';
    return { value: [{ box: inMm(box), title: null, chosen: true, why }], findings: [] };
  }
  const at = (v: View): readonly [number, number, number] => [v.box.x0 * mmPer, v.box.y0 * mmPer, 0];
  const list = (judged: readonly JudgedView[]) =>
    judged.map((j) => `${named(j.view)} ${area(j.view)} (${j.why})`).join('; ');
  const taken = choice.views.filter((v) => v.chosen);
  const left = choice.views.filter((v) => !v.chosen);
  const findings: Finding[] = choice.doubts.map(({ view, text }) =>
    finding('trace.view-doubtful', `View ${named(view)} ${area(view)}: ${text}`, {
      at: at(view),
      assumed: 'the foundation is drawn there',
    }),
  );
  if (left.length > 0) {
    const text = `Taken as the foundation: view ${list(taken)}. Left out: ${list(left)}.`;
    const first = taken[0];
    findings.push(finding('trace.view', text, first ? { at: at(first.view) } : {}));
  }
  return {
    value: choice.views.map(({ view, chosen, why }) => ({
      box: inMm(view.box),
      title: view.title?.text ?? null,
      chosen,
      why,
    })),
    findings,
  };
};
