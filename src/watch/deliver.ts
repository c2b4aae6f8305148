/**
 * Hands over what became of a drawing: a folder with the results, the drawing itself with its job file, and a text in words. All of it is put together
 * under a passing name and then renamed, so that a folder that is there is whole. The drawing is moved last and never deleted.
 */

import { mkdir, readdir, readFile, rename, rm, stat, unlink } from 'node:fs/promises';
import { basename, join } from 'node:path';
import { ifThere, replaceFile, syncFolder, writeSynced } from '../jobs/durable.js';
import { stemOf } from '../pipeline/callers.js';

export interface Delivery {
  /** The folder in which that of the drawing is made. */
  readonly into: string;
  /** Path of the drawing, and of the job file beside it; the drawing is null where somebody took it away. */
  readonly drawing: string | null;
  readonly sidecar: string | null;
  /** Another drawing that lies there has the same job file: plan.dxf and plan.ifc. It then stays, and a copy goes along. */
  readonly isShared?: boolean;
  readonly fileName: string;
  /** Of the job, or anything else that tells one delivery from another. */
  readonly id: string;
  readonly files: readonly { readonly name: string; readonly bytes: Uint8Array }[];
  readonly words: string;
}

const PART = /^\..*\.part$/;
const NOTE = /^\..*\.note$/;
/** Stands beside the folder from before the drawing is moved into it until it has its name: there is no moment at which only the folder knows of the drawing. */
const noteOf = (part: string): string => part.replace(/\.part$/, '.note');

interface Note {
  readonly fileName: string;
  readonly sidecar: string | null;
  readonly isTaken: boolean;
}

/** Gives a finished folder its name: the drawing's, with a number where that is taken. */
const named = async (part: string, into: string, stem: string): Promise<string> => {
  for (let n = 1; ; n++) {
    const target = join(into, n === 1 ? stem : `${stem} (${n})`);
    if (await ifThere(stat(target))) continue;
    await rename(part, target);
    await syncFolder(into);
    await rm(noteOf(part), { force: true });
    return target;
  }
};

/** Moves within one file system; a file of that name in the target's folder is a result, and gives way by keeping its name. */
const moved = async (from: string, into: string, isCopy = false): Promise<void> => {
  const name = basename(from);
  const isThere = await ifThere(stat(join(into, name)));
  const target = join(into, isThere ? `original ${name}` : name);
  if (isCopy) await writeSynced(target, await readFile(from));
  else await rename(from, target);
};

/** The folder in which everything then stands. Rejects where it cannot be written; the drawing is then still where it was. */
export const deliver = async (delivery: Delivery): Promise<string> => {
  const { into, drawing, sidecar, isShared = false, fileName, id, files, words } = delivery;
  const stem = stemOf(fileName);
  const part = join(into, `.${stem}.${id}.part`);
  await mkdir(part, { recursive: true });
  for (const { name, bytes } of files) await writeSynced(join(part, name), bytes);
  await writeSynced(join(part, `${stem}.what-happened.txt`), words);
  const note: Note = {
    fileName,
    sidecar: sidecar === null ? null : basename(sidecar),
    isTaken: drawing === null,
  };
  await syncFolder(part);
  await replaceFile(noteOf(part), JSON.stringify(note));
  if (sidecar !== null) await ifThere(moved(sidecar, part, isShared));
  if (drawing !== null) await moved(drawing, part);
  return named(part, into, stem);
};

/** Folders that were being put together when the program ended: those that have their drawing are finished, of the others the drawing still lies where it was dropped. */
export const finishDeliveries = async (into: string, drop: string): Promise<string[]> => {
  const finished: string[] = [];
  for (const entry of await readdir(into, { withFileTypes: true })) {
    const { name } = entry;
    if (!PART.test(name)) continue;
    const part = join(into, name);
    if (!entry.isDirectory()) {
      // A note that was being written.
      await rm(part, { force: true });
      continue;
    }
    const text = await ifThere(readFile(noteOf(part), 'utf8'));
    const note = text === null ? null : (JSON.parse(text) as Note);
    const has = async (file: string) =>
      (await ifThere(stat(join(part, file)))) ?? (await ifThere(stat(join(part, `original ${file}`))));
    if (note && (note.isTaken || (await has(note.fileName)))) {
      finished.push(await named(part, into, stemOf(note.fileName)));
      continue;
    }
    // The job file is moved first: it goes back to its drawing.
    if (note?.sidecar && (await has(note.sidecar)) && !(await ifThere(stat(join(drop, note.sidecar)))))
      await rename(join(part, note.sidecar), join(drop, note.sidecar));
    for (const file of await readdir(part)) await unlink(join(part, file));
    await rm(part, { recursive: true });
    await rm(noteOf(part), { force: true });
  }
  for (const name of await readdir(into)) if (NOTE.test(name)) await rm(join(into, name), { force: true });
  return finished;
};
