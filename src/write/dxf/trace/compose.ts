/** Puts the trace's sheet together: walls at true place with their marks and questions; the notes beside the drawing, never over it. */

import { questionMark, type TraceResult } from '../../../ground/questions.js';
import { boundsOf, isEmpty, union } from '../bounds.js';
import type { Composed, Surroundings } from '../compose.js';
import { drawFlags } from '../flags.js';
import { Places } from '../labels.js';
import { modelOutlines } from '../modelOutlines.js';
import type { Shape } from '../sheet.js';
import type { Ink } from './ink.js';
import { drawMarks, drawViews } from './marks.js';
import { drawTraceNotes } from './notes.js';
import { drawWalls, labelWalls } from './walls.js';

/** Between the drawing and the notes, over the height of the texts. */
const BESIDE = 12;
/** Height of the numbers of questions over that of the labels. */
const QUESTION_TEXT = 0.8;

const takeTexts = (places: Places, { texts }: Surroundings): void => {
  for (const t of texts) {
    places.take({
      kind: 'text',
      centre: { x: (t.minX + t.maxX) / 2, y: (t.minY + t.maxY) / 2 },
      halfMm: [(t.maxX - t.minX) / 2, (t.maxY - t.minY) / 2],
      rotationDeg: 0,
    });
  }
};

export const composeTrace = (result: TraceResult, ink: Ink, drawing: Surroundings): Composed => {
  const places = new Places();
  takeTexts(places, drawing);
  const walls = drawWalls(result, places);
  // Titles of views have their place; labels find theirs beside them.
  const views = drawViews(result, ink, places);
  const labels = labelWalls(result, ink, places);
  const marks = drawMarks(result, ink, places);
  const asked = result.questions.map((q) => q.finding);
  const questions = drawFlags(asked, places, {
    textMm: ink.textMm * QUESTION_TEXT,
    numberOf: (_finding, i) => questionMark(result.questions[i]!),
    showsSubject: false,
  });
  const inPlan: Shape[] = [...modelOutlines(result.foundation), ...walls, ...views, ...marks, ...labels, ...questions];
  const used = union(drawing.bounds, boundsOf(inPlan, 0));
  const at = isEmpty(used) ? { x: 0, y: 0 } : { x: used.maxX + ink.textMm * BESIDE, y: used.maxY };
  const shapes = [...inPlan, ...drawTraceNotes(result, ink, at)];
  return { sheet: { blocks: [], shapes }, bounds: boundsOf(shapes, 0), findings: [] };
};
