/**
 * The report as a PDF: the sections of the page, set on paper. It is made of the page's own markup (./tree.ts), so that both tell the same; drawings are
 * vectors, text is text. Same result, same kit, same bytes.
 */

import type { Result } from '../../../ground/vocabulary.js';
import { reportSections } from '../sections.js';
import { sectionsOf } from './blocks.js';
import { anchorsOf, Flow, INCHES, METRIC } from './flow.js';
import { INK, MARGIN, Paper, type PaperKit, QUIET } from './paper.js';
import { hatchesOf } from './svg.js';
import { treeOf } from './tree.js';

export type { PaperKit } from './paper.js';

const CAUTION =
  'An aid to a competent person. It replaces no design, check or inspection of temporary works by licensed or appointed people.';

/** As much of a text as stands in a width, with dots where more follows; the whole stands on the first page. */
const shortened = (paper: Paper, text: string, width: number, size: number): string => {
  if (paper.measure(size)(text, false) <= width) return text;
  let end = text.length;
  while (end > 0 && paper.measure(size)(`${text.slice(0, end)}…`, false) > width) end--;
  return `${text.slice(0, end)}…`;
};

/** The PDF's bytes. */
export const reportPdf = (result: Result, kit: PaperKit): Uint8Array => {
  const { title, intro, sections, footer } = reportSections(result);
  const nodes = treeOf(sections.map((s) => s.text).join('\n'));
  const sizes = result.catalogue.lengthUnit === 'in' ? INCHES : METRIC;
  const paper = new Paper(kit, { title, subject: 'Layout of modular wall forms' }, anchorsOf(nodes));
  paper.addPage(sizes.upright);
  paper.tagged(paper.root, 'Sect', (sect) => {
    const put = (text: string, type: string, size: number, bold: boolean, ink: string) => {
      const words = text
        .split(' ')
        .map((w) => ({ text: w, look: { bold, quiet: false, to: null }, spaced: true, breaks: false }));
      const lines = paper.lines(words, paper.width, size);
      paper.tagged(sect, type, (tag) => tag.add(() => paper.drawLines(lines, paper.left, paper.y, size, null, ink)));
      paper.y += lines.length * paper.lineHeight(size) + 3;
    };
    put(title, 'H1', 19, true, INK);
    put(intro, 'P', 9, false, QUIET);
    put(footer, 'P', 7, false, QUIET);
    paper.y += 6;
  });
  const flow = new Flow(paper, sizes, hatchesOf(nodes));
  for (const section of sectionsOf(nodes)) flow.section(section);
  const failures = result.findings.filter((f) => f.severity === 'failure').length;
  const state =
    failures === 0 ? '' : `${failures === 1 ? '1 failure' : `${String(failures)} failures`}: do not build from this`;
  paper.onEachPage((number, count, size) => {
    const room = size.width - 2 * MARGIN;
    const line = (y: number) =>
      paper.doc
        .lineWidth(0.5)
        .undash()
        .moveTo(MARGIN, y)
        .lineTo(size.width - MARGIN, y)
        .stroke(QUIET);
    const toRight = (text: string, y: number, bold: boolean, ink: string) =>
      paper.text(text, size.width - MARGIN - paper.measure(7.5)(text, bold), y, 7.5, bold, ink);
    paper.text(shortened(paper, title, room * 0.6, 7.5), MARGIN, MARGIN + 4, 7.5, false, QUIET);
    if (state !== '') toRight(state, MARGIN + 4, true, '#9b2c00');
    line(MARGIN + 9);
    line(size.height - MARGIN - 14);
    paper.text(shortened(paper, CAUTION, room - 80, 6.5), MARGIN, size.height - MARGIN - 4, 6.5, false, QUIET);
    toRight(`Page ${String(number)} of ${String(count)}`, size.height - MARGIN - 4, false, INK);
  });
  return paper.end();
};
