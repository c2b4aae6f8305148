/** From bytes to walls, whichever kind of file it is: the two ways in (drawing, model) part here and meet again in the foundation. */

import type { Finding, Refusable, Staged } from '../ground/findings.js';
import type { Drawing, Foundation, Model, ModelHeader } from '../ground/vocabulary.js';
import { readDxf } from '../read/dxf/index.js';
import { isIfc } from '../read/ifc/container.js';
import { trace } from '../trace/index.js';
import { traceModel } from '../trace/model/index.js';
import type { LayOutInput, OnProgress } from './input.js';
import type { Job } from './schema.js';
import { modelOptions, notUsedHere, traceOptions } from './settings.js';

/** What the walls were found in. */
export type Origin =
  | { readonly kind: 'dxf'; readonly drawing: Drawing }
  | { readonly kind: 'ifc'; readonly model: Model };

export interface Understood {
  readonly origin: Origin;
  readonly traced: Staged<Foundation>;
  /** What reading said, and keys of the job file that such a file has no use for. */
  readonly before: readonly Finding[];
}

/** Traces the same file again by another job: cheap, since it is read already. */
export const retrace = (origin: Origin, job: Job): Staged<Foundation> =>
  origin.kind === 'dxf' ? trace(origin.drawing, traceOptions(job)) : traceModel(origin.model, modelOptions(job));

const readOrigin = (input: LayOutInput): Refusable<Origin> => {
  if (!isIfc(input.bytes)) {
    const read = readDxf(input.bytes);
    return read.ok ? { ...read, value: { kind: 'dxf', drawing: read.value } } : read;
  }
  if (!input.readModel) throw new Error('the caller loaded no engine for an IFC file');
  const read = input.readModel(input.bytes);
  return read.ok ? { ...read, value: { kind: 'ifc', model: read.value } } : read;
};

/** Reads and traces. Refused: bytes that are neither a drawing nor a model. */
export const understand = (input: LayOutInput, onProgress: OnProgress): Refusable<Understood> => {
  onProgress('read');
  const read = readOrigin(input);
  if (!read.ok) return read;
  onProgress('trace');
  const traced = retrace(read.value, input.job);
  const before = [...read.findings, ...notUsedHere(input.job, read.value.kind)];
  return { ok: true, value: { origin: read.value, traced, before }, findings: [] };
};

/** What a model of the forms takes over from the model that the walls are from. */
export const headerOf = (origin: Origin): ModelHeader | undefined => {
  if (origin.kind === 'dxf') return undefined;
  const { kind: _kind, elements: _elements, bars: _bars, unread: _unread, ...header } = origin.model;
  return header;
};
