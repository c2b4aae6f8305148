/** `layout`: drawings in, files out, one job after the other; with --trace-only what was understood of them, before any fitting. */

import { basename, join } from 'node:path';
import { exists, makeFolder, namesIn, readBytes, refuseUnmakable, trueName, writeWhole } from '../jobs/files.js';
import { DEFAULT_LIMITS, type JobDone, type JobLimits, runJob, sha256Of } from '../jobs/index.js';
import { type Overrides, refusedDone, settingsFor } from '../jobs/prepare.js';
import { EXIT, type ExitCode, faultText, Refusal, worst } from '../jobs/refusal.js';
import { resultText } from '../jobs/words.js';
import { isOwnProposal, outNames, STAGES, stemOf, TRACE_STAGES, traceNames } from '../pipeline/callers.js';
import { progressOf } from './progress.js';
import { traceText } from './traceWords.js';

export interface LayoutOptions extends Overrides {
  readonly out: string;
  readonly traceOnly?: boolean;
  readonly json?: boolean;
  readonly timeLimit?: number;
  readonly memoryLimit?: number;
}

/** One drawing and what became of it. */
interface Told {
  readonly drawing: string;
  readonly done: JobDone;
  readonly files: readonly string[];
  readonly older: readonly string[];
}

const limitsOf = (options: LayoutOptions): JobLimits => ({
  ...DEFAULT_LIMITS,
  ...(options.timeLimit === undefined ? {} : { timeS: options.timeLimit }),
  ...(options.memoryLimit === undefined ? {} : { memoryMb: options.memoryLimit }),
});

/** Names of the files that a run may write for a drawing. */
const namesOf = (drawing: string, { traceOnly }: LayoutOptions): string[] =>
  Object.values(traceOnly ? traceNames(basename(drawing)) : outNames(basename(drawing)));

/** Whether a file is a picture of a drawing's layout, of whatever face. */
const isPicture = (stem: string, name: string): boolean =>
  name.startsWith(`${stem}.`) && /^\.(plan|elevation-.+)\.(svg|png)$/.test(name.slice(stem.length));

/** A proposed job file that a person has changed holds their answers: it is not written over. */
const refuseChanged = async (drawing: string, options: LayoutOptions): Promise<void> => {
  if (!options.traceOnly) return;
  const path = join(options.out, traceNames(basename(drawing)).proposal);
  if (!(await exists(path))) return;
  const content = new TextDecoder().decode(await readBytes(path, PROPOSAL_MOST_MB));
  if (isOwnProposal(content)) return;
  const kept = `${stemOf(basename(drawing))}.job.yaml`;
  throw new Refusal(`${path} was changed since it was written; save it as ${kept} beside the drawing, or delete it.`);
};

const PROPOSAL_MOST_MB = 20;

/** Lays out or traces one drawing and writes its files. A fault of ours throws. */
const one = async (drawing: string, options: LayoutOptions): Promise<Told> => {
  const limits = limitsOf(options);
  const bytes = await readBytes(drawing, limits.fileMb);
  await refuseUnmakable(options.out);
  await refuseChanged(drawing, options);
  const ready = await settingsFor(drawing, options);
  if ('kind' in ready) return { drawing, done: ready, files: [], older: [] };
  const fileName = basename(drawing);
  const traceOnly = options.traceOnly === true;
  const progress = progressOf(fileName, traceOnly ? TRACE_STAGES : STAGES);
  const outcome = await runJob(
    { fileName, bytes, sha256: sha256Of(bytes), traceOnly, ...ready },
    { limits, onProgress: progress.stage },
  );
  progress.end();
  if (outcome.kind === 'fault') throw new Error(outcome.detail);
  if (outcome.files.length > 0) await makeFolder(options.out);
  const files: string[] = [];
  for (const file of outcome.files) {
    const path = join(options.out, file.name);
    await writeWhole(path, file.bytes);
    files.push(path);
  }
  const older: string[] = [];
  for (const name of namesOf(drawing, options)) {
    const path = join(options.out, name);
    if (!files.includes(path) && (await exists(path))) older.push(path);
  }
  if (!traceOnly) {
    const pictures = (await namesIn(options.out)).filter((name) => isPicture(stemOf(fileName), name));
    older.push(...pictures.map((name) => join(options.out, name)).filter((path) => !files.includes(path)));
  }
  return { drawing, done: outcome, files, older };
};

/** Refuses before anything runs when a file would be written over a drawing, or over another drawing's files. */
const refuseClashes = async (drawings: readonly string[], options: LayoutOptions): Promise<void> => {
  const { out } = options;
  const work = options.traceOnly ? 'trace' : 'layout';
  const inputs = new Map<string, string>();
  for (const drawing of drawings) {
    const name = await trueName(drawing);
    if (inputs.has(name)) throw new Refusal(`${drawing} is given twice.`);
    inputs.set(name, drawing);
  }
  const outputs = new Map<string, string>();
  for (const drawing of drawings) {
    for (const fileName of namesOf(drawing, options)) {
      const path = await trueName(join(out, fileName));
      const over = inputs.get(path);
      if (over !== undefined) {
        throw new Refusal(`The ${work} of ${drawing} would be written over ${over}; give another folder with --out.`);
      }
      const other = outputs.get(path);
      if (other !== undefined) {
        throw new Refusal(
          `${other} and ${drawing} would both write ${fileName}; give each a folder of its own with --out.`,
        );
      }
      outputs.set(path, drawing);
    }
  }
};

const jsonOf = ({ drawing, done, files }: Told) => ({
  drawing,
  exitCode: done.exitCode,
  files,
  summary: done.summary ?? done.traced,
  findings: done.findings,
});

/** Runs the command; returns the exit code, the worst of all drawings. */
export const layoutCommand = async (drawings: readonly string[], options: LayoutOptions): Promise<ExitCode> => {
  await refuseClashes(drawings, options);
  const codes: ExitCode[] = [];
  const told: Told[] = [];
  for (const drawing of drawings) {
    let result: Told;
    try {
      result = await one(drawing, options);
    } catch (error) {
      if (!(error instanceof Refusal)) {
        // A fault of ours with one drawing does not take the others along.
        codes.push(EXIT.fault);
        process.stderr.write(faultText(drawing, error));
        continue;
      }
      result = { drawing, done: refusedDone(error.message), files: [], older: [] };
    }
    codes.push(result.done.exitCode);
    told.push(result);
    const words = options.traceOnly ? traceText : resultText;
    if (!options.json) process.stdout.write(words(drawing, result.done, result.files, result.older));
  }
  if (options.json) {
    const document = { format: 'shutterwright-run', version: 1, exitCode: worst(codes), drawings: told.map(jsonOf) };
    process.stdout.write(`${JSON.stringify(document, null, 2)}\n`);
  }
  return worst(codes);
};
