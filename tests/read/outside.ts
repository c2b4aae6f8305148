/** Sample drawings by others, which lie beside the repository, and the Python that reads them; for tests and for commands alike. */

import { spawnSync } from 'node:child_process';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { Finding } from '../../src/ground/findings.js';
import type { Drawing } from '../../src/ground/vocabulary.js';
import { readDxf } from '../../src/read/dxf/index.js';

const FOLDER = fileURLToPath(new URL('../../../shared/data/', import.meta.url));

export const SAMPLES: readonly string[] = existsSync(FOLDER)
  ? readdirSync(FOLDER)
      .filter((file) => file.endsWith('.dxf'))
      .sort()
  : [];

export const samplePath = (file: string): string => `${FOLDER}${file}`;
export const sample = (file: string): Uint8Array => new Uint8Array(readFileSync(samplePath(file)));
export const SAMPLES_NEEDED = 'the sample drawings in ../shared/data';

/** A Python that has ezdxf, or null. */
export const PYTHON: string | null =
  ['python3', '/usr/bin/python3'].find((python) => spawnSync(python, ['-c', 'import ezdxf']).status === 0) ?? null;

export const runPython = (args: readonly string[]): string => {
  const run = spawnSync(PYTHON!, args, { encoding: 'utf8', maxBuffer: 1 << 28 });
  if (run.status !== 0) throw new Error(run.stderr);
  return run.stdout;
};

export const read = (bytes: Uint8Array): { readonly drawing: Drawing; readonly findings: readonly Finding[] } => {
  const result = readDxf(bytes);
  if (!result.ok) throw new Error(result.findings.map((f) => f.message).join(' '));
  return { drawing: result.value, findings: result.findings };
};
