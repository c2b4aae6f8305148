/** A job out of the parts of an upload. */

import { createHash } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { setImmediate as breathe } from 'node:timers/promises';
import { readPlainText } from '../jobs/files.js';
import type { Submission } from '../jobs/record.js';
import { Refusal } from '../jobs/refusal.js';
import { parseSettingsOfStranger } from '../jobs/settingsThread.js';
import { filesNamed, type Job, parseJob, wrongInJob } from '../pipeline/callers.js';
import { Problem } from './problems.js';
import type { Part, Parts } from './uploads.js';

/** Of texts that belong to a job, bytes. */
const TEXT_MOST = { job: 200_000, catalogue: 500_000, stock: 200_000, survey: 2_000_000 } as const;
type TextPart = keyof typeof TEXT_MOST;

const PIECE = 4 << 20;

/** Lower-case hex; others are served between the pieces. */
const sha256InPieces = async (bytes: Uint8Array): Promise<string> => {
  const hash = createHash('sha256');
  for (let at = 0; at < bytes.byteLength; at += PIECE) {
    hash.update(bytes.subarray(at, at + PIECE));
    if (at + PIECE < bytes.byteLength) await breathe();
  }
  return hash.digest('hex');
};

const textOf = async (part: Part, name: TextPart): Promise<string> => {
  if (part.sizeBytes > TEXT_MOST[name])
    throw new Problem('too-large', `The part '${name}' has more than ${TEXT_MOST[name] / 1000} kB; no more are taken.`);
  try {
    return await readPlainText(part.path);
  } catch (error) {
    if (error instanceof Refusal) throw new Problem('bad-settings', `The part '${name}' is not UTF-8 text.`);
    throw error;
  }
};

/** Complaints about a job file that are sent; one of many thousand wrong keys is not answered with all of them. */
const ERRORS_MOST = 50;
const DETAIL_MOST = 2_000;

/** Reads the texts of one upload. */
class Texts {
  readonly #workerUrl: URL | undefined;

  constructor(workerUrl: URL | undefined) {
    this.#workerUrl = workerUrl;
  }

  async settings(text: string, name: TextPart): Promise<unknown> {
    try {
      return await parseSettingsOfStranger({ text, name: `The part '${name}'` }, this.#workerUrl);
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      throw new Problem(name === 'job' ? 'bad-job-file' : 'bad-settings', error.message);
    }
  }

  async job({ files, fields }: Parts): Promise<Job> {
    if (files.job && fields.job !== undefined)
      throw new Problem('bad-upload', 'The job file comes twice, as a file and as a field.');
    const text = files.job ? await textOf(files.job, 'job') : (fields.job ?? '');
    if (text.length > TEXT_MOST.job)
      throw new Problem('too-large', `The job file has more than ${TEXT_MOST.job / 1000} kB; no more are taken.`);
    const value = await this.settings(text, 'job');
    const parsed = parseJob(value);
    if (parsed.ok) return parsed.value;
    const detail = parsed.findings.at(-1)!.message;
    throw new Problem('bad-job-file', detail.length > DETAIL_MOST ? `${detail.slice(0, DETAIL_MOST)} …` : detail, {
      errors: wrongInJob(value).slice(0, ERRORS_MOST),
    });
  }
}

/** A file that the job names must come along, and one that comes along counts also where the job does not name it. */
const partFor = (name: 'catalogue' | 'stock' | 'survey', named: string | null, { files }: Parts): Part | null => {
  const part = files[name] ?? null;
  if (named !== null && !part) {
    const detail = `The job file names the ${name} ${JSON.stringify(named.slice(0, 100))}: send it as the part '${name}'.`;
    throw new Problem('bad-settings', detail);
  }
  return part;
};

const PICTURES = ['none', 'svg', 'png'] as const;

const picturesOf = (wish: string | undefined): (typeof PICTURES)[number] | undefined => {
  const known = PICTURES.find((p) => p === wish);
  if (wish !== undefined && !known)
    throw new Problem('bad-upload', `The field 'pictures' must be one of ${PICTURES.join(', ')}.`);
  return known;
};

/** A Problem where the parts are no job. `by`: name of the caller's key; `workerUrl`: of the thread that parses settings. */
export const submissionOf = async (parts: Parts, by: string | null, workerUrl?: URL): Promise<Submission> => {
  const texts = new Texts(workerUrl);
  const { drawing } = parts.files;
  const kind = parts.fields.kind ?? 'layout';
  if (!drawing) throw new Problem('bad-upload', "The part 'drawing' is missing, or it has no file name.");
  if (kind !== 'layout' && kind !== 'trace')
    throw new Problem('bad-upload', "The field 'kind' must be one of layout, trace.");
  const pictures = picturesOf(parts.fields.pictures);
  const given = await texts.job(parts);
  const named = filesNamed(given);
  const catalogue = partFor('catalogue', named.catalogue, parts);
  const stock = partFor('stock', named.stock, parts);
  const survey = partFor('survey', named.survey, parts);
  const job: Job = {
    ...given,
    ...(pictures === undefined ? {} : { output: { pictures, ...given.output } }),
    ...(catalogue && named.catalogue === null ? { catalogue: catalogue.fileName } : {}),
    ...(stock && named.stock === null ? { stock: stock.fileName } : {}),
    ...(survey && named.survey === null ? { survey: survey.fileName } : {}),
  };
  const bytes = await readFile(drawing.path);
  return {
    input: {
      fileName: drawing.fileName,
      bytes,
      sha256: await sha256InPieces(bytes),
      traceOnly: kind === 'trace',
      job,
      jobAsGiven: given,
      ...(catalogue ? { catalogue: await texts.settings(await textOf(catalogue, 'catalogue'), 'catalogue') } : {}),
      ...(stock ? { stock: await texts.settings(await textOf(stock, 'stock'), 'stock') } : {}),
      ...(survey ? { survey: await textOf(survey, 'survey') } : {}),
    },
    origin: { kind, ...(by === null ? {} : { by }) },
  };
};
