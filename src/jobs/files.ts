/** Files in and out, with one plain sentence for each way in which that can fail. */

import { constants } from 'node:fs';
import { access, mkdir, readdir, readFile, realpath, stat } from 'node:fs/promises';
import { basename, dirname, join, resolve } from 'node:path';
import { Lexer, parseDocument } from 'yaml';
import { replaceFile } from './durable.js';
import { Refusal, Unreadable } from './refusal.js';

const codeOf = (error: unknown): string => (error as NodeJS.ErrnoException).code ?? String(error);

const whyUnread = (path: string, error: unknown): Refusal => {
  switch (codeOf(error)) {
    case 'ENOENT':
      return new Refusal(`There is no file ${path}.`);
    case 'EISDIR':
      return new Refusal(`${path} is a folder, not a file.`);
    case 'ENOTDIR':
      return new Refusal(`There is no file ${path}: part of its path is not a folder.`);
    case 'EACCES':
    case 'EPERM':
      return new Unreadable(`${path} may not be read: permission is missing.`);
    default:
      return new Unreadable(`${path} cannot be read (${codeOf(error)}).`);
  }
};

/** The bytes of a regular file. A device or pipe could go on for ever, so it is refused. */
export const readBytes = async (path: string, mostMb: number): Promise<Uint8Array> => {
  try {
    const facts = await stat(path);
    if (facts.isDirectory()) throw new Refusal(`${path} is a folder, not a file.`);
    if (!facts.isFile()) throw new Refusal(`${path} is not a regular file.`);
    if (facts.size > mostMb * 1e6) {
      throw new Refusal(`${path} has ${Math.ceil(facts.size / 1e6)} MB; at most ${mostMb} MB are taken on.`);
    }
    return await readFile(path);
  } catch (error) {
    if (error instanceof Refusal) throw error;
    throw whyUnread(path, error);
  }
};

const SETTINGS_MOST_MB = 20;

/** A text file that the job names. */
export const readPlainText = async (path: string): Promise<string> => {
  const bytes = await readBytes(path, SETTINGS_MOST_MB);
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    throw new Refusal(`${path} is not UTF-8 text.`);
  }
};

/** Levels of nesting; a job file has six, a catalogue seven. */
const NESTED_MOST = 200;

/**
 * Whether a text may be nested deeper than is read. The reader of YAML calls itself for each level, and where the stack ends within an expression of the
 * engine the whole program ends. A level within brackets has its bracket, told by the reader's own lexer; any other begins further to the right than the
 * one around it, or behind another mark on the same line.
 */
const isNestedTooDeep = (text: string): boolean => {
  for (const [blanks] of text.matchAll(/^[ \t?:-]+/gm)) if (blanks.length > NESTED_MOST) return true;
  let depth = 0;
  for (const token of new Lexer().lex(text)) {
    if (token === '[' || token === '{') depth++;
    else if (token === ']' || token === '}') depth--;
    if (depth > NESTED_MOST) return true;
  }
  return false;
};

/** What a YAML or JSON text holds; `name` is what a refusal calls it. */
export const parseSettings = (text: string, name: string): unknown => {
  if (isNestedTooDeep(text))
    throw new Refusal(`${name} is nested deeper than ${NESTED_MOST} levels, or indented by more blanks.`);
  try {
    const document = parseDocument(text, { prettyErrors: true, logLevel: 'error' });
    const wrong = document.errors[0];
    if (wrong) throw new Refusal(`${name} is not valid YAML or JSON: ${firstLine(wrong.message)}.`);
    return document.toJS({ maxAliasCount: 100 });
  } catch (error) {
    if (error instanceof Refusal) throw error;
    throw new Refusal(`${name} is not valid YAML or JSON: ${firstLine((error as Error).message)}.`);
  }
};

/** What a YAML or JSON file holds. */
export const readSettings = async (path: string): Promise<unknown> => parseSettings(await readPlainText(path), path);

const firstLine = (text: string): string => (text.split('\n')[0] ?? '').replace(/[.:]$/, '');

const exists = (path: string): Promise<boolean> =>
  stat(path).then(
    () => true,
    () => false,
  );

const SIDECAR_ENDINGS = ['.job.yaml', '.job.yml', '.job.json'] as const;

/** The job file that stands beside a drawing: plan.job.yaml for plan.dxf; null if there is none. */
export const sidecarOf = async (drawing: string, stem: string): Promise<string | null> => {
  for (const ending of SIDECAR_ENDINGS) {
    const path = join(dirname(drawing), stem + ending);
    if (await exists(path)) return path;
  }
  return null;
};

/** Absolute, through links where the file is there: so that two names of one file are seen to be one. */
export const trueName = async (path: string): Promise<string> => {
  const absolute = resolve(path);
  try {
    return await realpath(absolute);
  } catch {
    const folder = await realpath(dirname(absolute)).catch(() => dirname(absolute));
    return join(folder, basename(absolute));
  }
};

export const makeFolder = async (path: string): Promise<void> => {
  try {
    await mkdir(path, { recursive: true });
  } catch (error) {
    throw new Refusal(`The folder ${path} cannot be made (${codeOf(error)}).`);
  }
};

/** Refuses a folder that could not be made or written in: known before the work whose results it is for. Makes nothing. */
export const refuseUnmakable = async (path: string): Promise<void> => {
  let above = resolve(path);
  while (!(await exists(above)) && dirname(above) !== above) above = dirname(above);
  if (!(await stat(above)).isDirectory())
    throw new Refusal(`The folder ${path} cannot be made: ${above === resolve(path) ? path : above} is a file.`);
  try {
    await access(above, constants.W_OK | constants.X_OK);
  } catch (error) {
    throw new Refusal(`The folder ${path} cannot be written in (${codeOf(error)}).`);
  }
};

/** Names of what lies in a folder, in order; none where it cannot be read. */
export const namesIn = async (path: string): Promise<string[]> => (await readdir(path).catch(() => [])).sort();

/** A half-written file never stands under the real name. */
export const writeWhole = async (path: string, bytes: Uint8Array): Promise<void> => {
  try {
    await replaceFile(path, bytes);
  } catch (error) {
    throw new Refusal(`${path} cannot be written (${codeOf(error)}).`);
  }
};

export { exists };
