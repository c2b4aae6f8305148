/** Models by hand through traceModel, and what came of it. */

import { traceModel } from '../../../src/trace/model/index.js';
import { box, element, model, OPTIONS, prism } from './byHand.js';

export const wallAt = (id: string, y: number, more = {}, base = 0, top = 2500) =>
  element(id, [prism(box(0, y, 5000, y + 250), base, top)], more);
export const run = (elements: Parameters<typeof model>[0], options: Partial<typeof OPTIONS> = {}, more = {}) =>
  traceModel(model(elements, more), { ...OPTIONS, ...options });
export const takenOf = (r: ReturnType<typeof run>) => r.value.model!.elements.filter((e) => e.taken).map((e) => e.id);
export const codesOf = (r: ReturnType<typeof run>) => [...new Set(r.findings.map((f) => f.code))];
export const whyOf = (r: ReturnType<typeof run>, id: string) => r.value.model!.elements.find((e) => e.id === id)!.why;
