/** A job from files: the drawing, the job file beside it or named, and what that names in turn. */

import { basename, dirname, resolve } from 'node:path';
import { finding } from '../ground/findings.js';
import { DEMO_CATALOGUES, filesNamed, type Job, parseJob, stemOf } from '../pipeline/callers.js';
import { readPlainText, readSettings, sidecarOf } from './files.js';
import type { JobDone, JobInput } from './messages.js';
import { EXIT } from './refusal.js';

/** What the caller says over the job file. */
export interface Overrides {
  /** A job file to take instead of the one beside the drawing. */
  readonly job?: string;
  /** A catalogue file, or the name of a yard that comes with the program. */
  readonly catalogue?: string;
  readonly mode?: 'merged' | 'overlay';
  readonly ifc?: boolean;
  readonly pictures?: 'none' | 'svg' | 'png';
  /** mm. */
  readonly comparePitch?: number;
  readonly compareItems?: boolean;
}

export type Settings = Pick<JobInput, 'job' | 'jobAsGiven' | 'catalogue' | 'stock' | 'survey'>;

/** A job that is refused before it is run. */
export const refusedDone = (message: string): JobDone => ({
  kind: 'done',
  exitCode: EXIT.refused,
  findings: [finding('pipeline.job-refused', message)],
  files: [],
  summary: null,
  traced: null,
});

/** The settings of a drawing with what their files hold; a refusal where the job file is wrong. Files that cannot be read throw a Refusal. */
export const settingsFor = async (drawing: string, over: Overrides): Promise<Settings | JobDone> => {
  const path = over.job ?? (await sidecarOf(drawing, stemOf(basename(drawing))));
  const parsed = parseJob(path === null ? null : await readSettings(path));
  if (!parsed.ok) return refusedDone(`${path}: ${parsed.findings.at(-1)!.message}`);
  const folder = path === null ? '.' : dirname(path);
  const named = filesNamed(parsed.value);
  const job: Job = {
    ...parsed.value,
    ...(over.catalogue === undefined ? {} : { catalogue: over.catalogue }),
    ...(over.comparePitch === undefined ? {} : { comparePitchMm: over.comparePitch }),
    ...(over.compareItems === true ? { compareItems: true } : {}),
    output: {
      ...parsed.value.output,
      ...(over.mode === undefined ? {} : { mode: over.mode }),
      ...(over.ifc === undefined ? {} : { ifc: over.ifc }),
      ...(over.pictures === undefined ? {} : { pictures: over.pictures }),
    },
  };
  const isDemo = (DEMO_CATALOGUES as readonly string[]).includes(over.catalogue ?? '');
  const ofJob = named.catalogue === null ? null : resolve(folder, named.catalogue);
  const catalogueFile = over.catalogue === undefined ? ofJob : isDemo ? null : over.catalogue;
  return {
    job,
    jobAsGiven: parsed.value,
    ...(catalogueFile === null ? {} : { catalogue: await readSettings(catalogueFile) }),
    ...(named.survey === null ? {} : { survey: await readPlainText(resolve(folder, named.survey)) }),
    ...(named.stock === null ? {} : { stock: await readSettings(resolve(folder, named.stock)) }),
  };
};
