/** The trace drawing held against ezdxf (an independent reader, Debian python3-ezdxf): sound by itself, and every record of a drawing whole under it. */

import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect } from 'vitest';
import { writeTraceDxf } from '../../../src/write/dxf/index.js';
import { itNeeds, PYTHON, read, SAMPLES, SAMPLES_NEEDED, sample, samplePath } from '../../read/samples.js';
import { exampleTrace } from '../../support/exampleTrace.js';

const JUDGE = fileURLToPath(new URL('../../../../shared/tools/dxf_check.py', import.meta.url));
const folder = mkdtempSync(join(tmpdir(), 'trace-'));
afterAll(() => rmSync(folder, { recursive: true }));

const itJudges = itNeeds(
  PYTHON !== null && existsSync(JUDGE) && SAMPLES.length > 0,
  `python3 with ezdxf, ../shared/tools/dxf_check.py and ${SAMPLES_NEEDED}`,
);

/** What the judge finds wrong with the example's trace, alone or merged into a sample; '' when nothing. */
const wrongWith = (file: string | null): string => {
  const document = file === null ? null : read(sample(file)).drawing.document;
  const written = writeTraceDxf(exampleTrace, document, { mode: file === null ? 'overlay' : 'merged' });
  if (!written.ok) return written.findings.map((f) => f.message).join(' ');
  const path = join(folder, file ?? 'overlay.dxf');
  writeFileSync(path, written.value);
  const against = file === null ? [] : ['--against', samplePath(file)];
  const { status, stdout, stderr } = spawnSync(PYTHON!, [JUDGE, path, '--quiet', ...against], { encoding: 'utf8' });
  return status === 0 ? '' : stdout + stderr;
};

describe('the trace drawing, by ezdxf', () => {
  itJudges('is sound as an overlay', () => {
    expect(wrongWith(null)).toBe('');
  });
  for (const file of SAMPLES) {
    itJudges(`${file}: every record stands under it, and the audit finds no new error`, () => {
      expect(wrongWith(file)).toBe('');
    });
  }
});
