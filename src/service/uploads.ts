/** Parts of an upload go to files of a folder that is made for the request and removed with it. Names that a client gives never become paths. */

import { mkdir, mkdtemp, readdir, rm, stat } from 'node:fs/promises';
import { basename, join } from 'node:path';
import type { Request, Response } from 'express';
import multer from 'multer';
import { ifThere } from '../jobs/durable.js';
import { UPLOADS_MOST } from './options.js';
import { Problem } from './problems.js';

export interface Part {
  /** As the client calls it, cleaned; for people alone. */
  readonly fileName: string;
  readonly path: string;
  readonly sizeBytes: number;
}

export interface Parts {
  readonly files: Readonly<Record<string, Part | undefined>>;
  readonly fields: Readonly<Record<string, string | undefined>>;
}

const FILES = ['drawing', 'job', 'catalogue', 'stock', 'survey'] as const;
const FIELDS = ['job', 'kind', 'pictures'] as const;

const NAME_MOST = 120;

/** A name for people and for results: without folders and marks that steer a terminal or turn the direction of writing. */
export const cleanName = (given: string): string => {
  const last = basename(given.replaceAll('\\', '/'));
  const plain = last
    .normalize('NFC')
    .replace(/[\p{Cc}\p{Cf}\p{Cs}\p{Co}\p{Zl}\p{Zp}]/gu, '')
    .replace(/[<>:"|?*]/g, '_')
    .trim();
  const ending = /\.[A-Za-z0-9]{1,8}$/.exec(plain)?.[0] ?? '';
  const stem = [...plain.slice(0, plain.length - ending.length).replace(/^[.\s]+/, '')]
    .slice(0, NAME_MOST - ending.length)
    .join('');
  return stem === '' ? `drawing${ending}` : stem + ending;
};

const WORDS: Readonly<Record<string, string>> = {
  LIMIT_FILE_COUNT: 'There are more files than are taken.',
  LIMIT_FIELD_COUNT: 'There are more fields than are taken.',
  LIMIT_PART_COUNT: 'There are more parts than are taken.',
  LIMIT_FIELD_VALUE: 'A field is longer than is taken; send it as a file.',
  LIMIT_FIELD_KEY: 'The name of a field is longer than is taken.',
};

const ofMulter = (error: unknown, fileMb: number): unknown => {
  if (error instanceof multer.MulterError) {
    if (error.code === 'LIMIT_FILE_SIZE')
      return new Problem('too-large', `A part has more than ${fileMb} MB; no more are taken.`);
    if (error.code === 'LIMIT_UNEXPECTED_FILE') {
      const part = `The part '${String(error.field).slice(0, 40)}' is not known, or comes more than once.`;
      return new Problem('bad-upload', `${part} Files may be ${FILES.join(', ')}.`);
    }
    const words = WORDS[error.code];
    if (words) return new Problem('too-large', words);
    return new Problem('bad-upload', `The upload is not well formed: ${error.message}.`);
  }
  const { code, message } = error as NodeJS.ErrnoException;
  // What the reader of parts says has no code; what has one comes from the system.
  if (code === undefined) return new Problem('bad-upload', `The upload is not well formed: ${message}.`);
  return error;
};

/** For parts to be written after the last byte of a request has come, ms. */
const LATE_MS = 30_000;
/** What a process that ended left behind, ms after it was last touched. */
const LEFT_MS = 3_600_000;

export class Uploads {
  readonly #root: string;
  readonly #fileMb: number;
  readonly #timeoutMs: number;
  readonly #take: ReturnType<ReturnType<typeof multer>['fields']>;
  #underWay = 0;

  private constructor(root: string, fileMb: number, requestTimeoutS: number) {
    this.#root = root;
    this.#timeoutMs = requestTimeoutS * 1000 + LATE_MS;
    this.#fileMb = fileMb;
    this.#take = multer({
      storage: multer.diskStorage({ destination: (req, _file, done) => done(null, req.res!.locals.uploadFolder) }),
      defParamCharset: 'utf8',
      limits: {
        fileSize: fileMb * 1e6,
        files: FILES.length,
        fields: FIELDS.length,
        parts: FILES.length + FIELDS.length,
        fieldSize: FIELD_MOST,
        fieldNameSize: 40,
        headerPairs: 20,
      },
    }).fields(FILES.map((name) => ({ name, maxCount: 1 })));
  }

  static async in(root: string, fileMb: number, requestTimeoutS: number): Promise<Uploads> {
    await mkdir(root, { recursive: true, mode: 0o700 });
    for (const name of await readdir(root)) {
      const facts = await ifThere(stat(join(root, name)));
      if (facts && Date.now() - facts.mtimeMs > LEFT_MS) await rm(join(root, name), { recursive: true, force: true });
    }
    return new Uploads(root, fileMb, requestTimeoutS);
  }

  get folder(): string {
    return this.#root;
  }

  /**
   * Resolves when all parts are files. The reader of parts does not hear of a connection that was gone before it began; each upload that never ended would
   * hold one of the few places for good, so the connection and the clock are watched here too.
   */
  #received(req: Request, res: Response): Promise<void> {
    let timer: NodeJS.Timeout | undefined;
    let gone = () => {};
    return new Promise<void>((resolve, reject) => {
      gone = () => reject(new Problem('bad-upload', 'The upload ended before it was whole.'));
      timer = setTimeout(() => reject(new Problem('timed-out', 'The upload did not arrive in time.')), this.#timeoutMs);
      res.once('close', gone);
      if (res.closed || (req.destroyed && !req.readableEnded)) gone();
      else this.#take(req, res, (error) => (error ? reject(ofMulter(error, this.#fileMb)) : resolve()));
    }).finally(() => {
      clearTimeout(timer);
      res.off('close', gone);
    });
  }

  /** Receives the parts of a request and hands them to `use`; the files are gone when it is done, however it ends. */
  async receive<T>(req: Request, res: Response, use: (parts: Parts) => Promise<T>): Promise<T> {
    if (!req.is('multipart/form-data'))
      throw new Problem('unsupported-media-type', 'A job is brought as multipart/form-data.');
    const mostBytes = (this.#fileMb + SMALL_PARTS_MB) * 1e6;
    if (Number(req.headers['content-length'] ?? 0) > mostBytes) {
      res.setHeader('Connection', 'close');
      throw new Problem('too-large', `A drawing may have ${this.#fileMb} MB.`);
    }
    if (this.#underWay >= UPLOADS_MOST)
      throw new Problem('busy', `${UPLOADS_MOST} uploads are under way already.`, { headers: { 'Retry-After': '5' } });
    this.#underWay++;
    const folder = await mkdtemp(join(this.#root, 'upload-')).catch((error: unknown) => {
      this.#underWay--;
      throw error;
    });
    try {
      res.locals.uploadFolder = folder;
      await this.#received(req, res);
      return await use(partsOf(req));
    } finally {
      this.#underWay--;
      await rm(folder, { recursive: true, force: true, maxRetries: 3 });
    }
  }
}

const FIELD_MOST = 300_000;
/** Of job, catalogue, stock and survey together. */
const SMALL_PARTS_MB = 20;

const partsOf = (req: Request): Parts => {
  const files: Record<string, Part> = {};
  for (const [name, [file]] of Object.entries((req.files ?? {}) as Record<string, Express.Multer.File[]>))
    if (file) files[name] = { fileName: cleanName(file.originalname), path: file.path, sizeBytes: file.size };
  const fields: Record<string, string> = {};
  for (const [name, value] of Object.entries((req.body ?? {}) as Record<string, unknown>)) {
    if (!(FIELDS as readonly string[]).includes(name))
      throw new Problem(
        'bad-upload',
        `The field '${name.slice(0, 40)}' is not known. Fields may be ${FIELDS.join(', ')}.`,
      );
    if (typeof value !== 'string') throw new Problem('bad-upload', `The field '${name}' must come once, as text.`);
    fields[name] = value;
  }
  return { files, fields };
};
