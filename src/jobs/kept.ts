/** What stands of a job in files, the same in every store: what was brought, and what became of it. */

import { mkdir, open, readFile, rm } from 'node:fs/promises';
import { join } from 'node:path';
import type { Readable } from 'node:stream';
import { ifThere, syncFolder, writeSynced } from './durable.js';
import { newId } from './ids.js';
import { sha256Of } from './index.js';
import { keyOf } from './key.js';
import type { JobFault, JobInput, JobOutcome } from './messages.js';
import type { JobRecord, KeptFile, KeptOutcome, Submission } from './record.js';

/** Null where it is not there, or not whole: one file that a disk has spoilt must not hold up all other jobs. */
export const parsed = async <T>(path: string): Promise<T | null> => {
  const text = await ifThere(readFile(path, 'utf8'));
  if (text === null) return null;
  try {
    return JSON.parse(text) as T;
  } catch {
    return null;
  }
};

/** The record of a job that has just been brought. */
const newRecord = (id: string, key: string, { input, origin = {} }: Submission): JobRecord => ({
  id,
  state: 'waiting',
  fileName: input.fileName,
  key,
  sizeBytes: input.bytes.byteLength,
  sha256: input.sha256,
  submittedAt: new Date().toISOString(),
  startedAt: null,
  endedAt: null,
  attempts: 0,
  stage: null,
  exitCode: null,
  files: [],
  origin,
});

/** How every store begins: the job of this content that it has already, or the record of a new one. */
export const knownOrNew = async (
  submission: Submission,
  version: string,
  holderOf: (key: string) => Promise<JobRecord | null>,
): Promise<{ readonly record: JobRecord; readonly isNew: boolean }> => {
  const key = keyOf(submission.input, version);
  const known = await holderOf(key);
  return known ? { record: known, isNew: false } : { record: newRecord(newId(), key, submission), isNew: true };
};

/** The record of a job that has come to its end now. */
export const endedRecord = (
  before: JobRecord,
  outcome: JobOutcome | 'cancelled',
  files: readonly KeptFile[],
): JobRecord => ({
  ...before,
  state: outcome === 'cancelled' ? 'cancelled' : 'ended',
  endedAt: new Date().toISOString(),
  stage: null,
  exitCode: outcome === 'cancelled' ? null : outcome.exitCode,
  files,
});

export const writeInput = async (folder: string, { bytes, ...settings }: JobInput): Promise<void> => {
  await writeSynced(join(folder, 'drawing'), bytes);
  await writeSynced(join(folder, 'settings.json'), JSON.stringify(settings));
  await syncFolder(folder);
};

/** Null where it is not there as a whole. */
export const readInput = async (folder: string): Promise<JobInput | null> => {
  const [settings, bytes] = await Promise.all([
    parsed<Omit<JobInput, 'bytes'>>(join(folder, 'settings.json')),
    ifThere(readFile(join(folder, 'drawing'))),
  ]);
  return settings && bytes && { ...settings, bytes };
};

/** Of a job whose drawing or settings somebody took away. */
export const GONE: JobFault = { kind: 'fault', exitCode: 3, detail: 'its files are gone from the folder of jobs' };

const keptOf = (outcome: JobOutcome): KeptOutcome => {
  if (outcome.kind === 'fault') return outcome;
  const { files: _, ...rest } = outcome;
  return rest;
};

/** Results stand under numbers: names that people gave stand inside records alone. */
const resultsIn = (folder: string): string => join(folder, 'files');
const outcomeIn = (folder: string): string => join(folder, 'outcome.json');

export const writeOutcome = async (folder: string, outcome: JobOutcome): Promise<KeptFile[]> => {
  const into = resultsIn(folder);
  await rm(into, { recursive: true, force: true });
  await mkdir(into);
  const files: KeptFile[] = [];
  const results = outcome.kind === 'done' ? outcome.files : [];
  for (const [i, { name, bytes }] of results.entries()) {
    await writeSynced(join(into, String(i)), bytes);
    files.push({ name, sizeBytes: bytes.byteLength, sha256: sha256Of(bytes) });
  }
  await syncFolder(into);
  await writeSynced(outcomeIn(folder), JSON.stringify(keptOf(outcome)));
  await syncFolder(folder);
  return files;
};

export const readOutcome = (folder: string): Promise<KeptOutcome | null> => parsed(outcomeIn(folder));

const resultPath = (folder: string, record: JobRecord, name: string): string | null => {
  const i = record.files.findIndex((f) => f.name === name);
  return i < 0 ? null : join(resultsIn(folder), String(i));
};

/** One of a record's files; null where it has none of that name. */
export const readResult = async (folder: string, record: JobRecord, name: string): Promise<Uint8Array | null> => {
  const path = resultPath(folder, record, name);
  return path === null ? null : ifThere(readFile(path));
};

/** The same, piece by piece. */
export const openResult = async (folder: string, record: JobRecord, name: string): Promise<Readable | null> => {
  const path = resultPath(folder, record, name);
  const file = path === null ? null : await ifThere(open(path));
  return file === null ? null : file.createReadStream();
};

const PASSING = new Set(['pipeline.out-of-time', 'pipeline.out-of-memory']);

/** Whether the same job would end the same way again. */
export const isSettled = (outcome: JobOutcome | KeptOutcome | 'cancelled'): boolean =>
  outcome !== 'cancelled' && outcome.kind === 'done' && !outcome.findings.some((f) => PASSING.has(f.code));
