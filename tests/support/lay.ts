/** Lays out bytes in this process, without a thread: for tests of the pipeline itself. */

import { createHash } from 'node:crypto';
import { existsSync, readFileSync } from 'node:fs';
import { parse } from 'yaml';
import {
  engineFor,
  type LayOutInput,
  type LayOutOutcome,
  layOut,
  parseJob,
  programsFor,
} from '../../src/pipeline/index.js';
import { dxfBytes, type Sheet } from './sheet.js';

export const sha256 = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');

const inputOf = (bytes: Uint8Array, jobValue: unknown, fileName: string): LayOutInput => {
  const job = parseJob(jobValue);
  if (!job.ok) throw new Error(job.findings.map((f) => f.message).join(' '));
  return { fileName, bytes, sha256: sha256(bytes), job: job.value };
};

export const layBytes = (bytes: Uint8Array, jobValue: unknown = {}, fileName = 'plan.dxf'): LayOutOutcome =>
  layOut(inputOf(bytes, jobValue, fileName));

/** With the engine that a model needs, and the solver that a limited stock does. */
export const inputFor = async (bytes: Uint8Array, jobValue: unknown, fileName: string): Promise<LayOutInput> => {
  const input = inputOf(bytes, jobValue, fileName);
  const readModel = await engineFor(bytes);
  const programs = await programsFor(input);
  return { ...input, ...(readModel ? { readModel } : {}), ...(programs ? { programs } : {}) };
};

/** The same for drawings and models. */
export const layFile = async (bytes: Uint8Array, jobValue: unknown, fileName: string): Promise<LayOutOutcome> =>
  layOut(await inputFor(bytes, jobValue, fileName));

export const laySheet = (sheet: Sheet, jobValue: unknown = {}): LayOutOutcome => layBytes(dxfBytes(sheet), jobValue);

/** What was laid out; a refusal is an error. */
export const laidOut = (outcome: LayOutOutcome): Extract<LayOutOutcome, { kind: 'laid-out' }> => {
  if (outcome.kind === 'refused') throw new Error(outcome.findings.map((f) => f.message).join(' '));
  return outcome;
};

export const fileOf = (outcome: LayOutOutcome, ending: string): Uint8Array => {
  const file = laidOut(outcome).files.find((f) => f.name.endsWith(ending));
  if (!file)
    throw new Error(
      `no file ${ending} among ${laidOut(outcome)
        .files.map((f) => f.name)
        .join(', ')}`,
    );
  return file.bytes;
};

export const textFileOf = (outcome: LayOutOutcome, ending: string): string =>
  new TextDecoder().decode(fileOf(outcome, ending));

/** The value of the job file beside a drawing; {} where there is none. */
export const jobBeside = (drawing: string): unknown => {
  const path = drawing.replace(/\.(dxf|ifc)$/, '.job.yaml');
  return existsSync(path) ? parse(readFileSync(path, 'utf8')) : {};
};
