/**
 * `npm run readers`: every sample and every fixture that is a drawing, laid out as it is, and the same layout in blank drawings of each version that ezdxf can
 * write, text and binary: held against the strict judge (every record stands, no new error) and plotted by LibreCAD. Ends with 1 where one of it does not hold.
 * Arguments: a folder that keeps what was written, and a part of the names that are looked at. Takes some ten minutes; the suite has a share of it (ezdxf.test.ts, librecad.test.ts).
 */

import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Result } from '../../src/ground/vocabulary.js';
import { writeDxf } from '../../src/write/dxf/index.js';
import { read, runPython, SAMPLES, samplePath } from '../read/outside.js';
import { exampleResult } from '../support/exampleResult.js';
import { jobBeside, layFile } from '../support/lay.js';
import { HAS_JUDGE, judged } from './judged.js';
import { plotted } from './plotted.js';

const FIXTURES = fileURLToPath(new URL('../../fixtures/', import.meta.url));
const SCRIPT = fileURLToPath(new URL('ezdxf_layout.py', import.meta.url));
const VERSIONS = ['R12', 'R2000', 'R2004', 'R2007', 'R2010', 'R2013', 'R2018'];

if (!HAS_JUDGE) {
  console.error('python3 with ezdxf and ../shared/tools/dxf_check.py are needed.');
  process.exit(2);
}
const folder = process.argv[2] ?? mkdtempSync(join(tmpdir(), 'readers-'));
mkdirSync(folder, { recursive: true });

interface Written {
  readonly name: string;
  readonly path: string;
  readonly original: string;
}

const written: Written[] = [];
let bad = 0;
const fail = (name: string, why: string): void => {
  bad++;
  console.log(`${name}: ${why}`);
};

const wanted = process.argv[3] ?? '';

const tell = (name: string, ok: boolean, said: string): void => {
  if (ok) console.log(`${name}: ${said.trim().replace(/\s*\n\s*/g, '; ')}`);
  else fail(name, said);
};

const keep = (name: string, result: Result, original: string): void => {
  if (!name.includes(wanted)) return;
  const bytes = new Uint8Array(readFileSync(original));
  const made = writeDxf(result, read(bytes).drawing.document, { mode: 'merged' });
  if (!made.ok) {
    fail(name, made.findings.map((f) => f.message).join(' '));
    return;
  }
  const path = join(folder, `${name}.dxf`);
  writeFileSync(path, made.value);
  written.push({ name, path, original });
};

const fixtures = readdirSync(FIXTURES, { recursive: true, encoding: 'utf8' })
  .filter((file) => file.endsWith('.dxf'))
  .sort()
  .map((file) => join(FIXTURES, file));

for (const path of [...SAMPLES.map(samplePath), ...fixtures]) {
  const name = basename(path, '.dxf');
  if (!`${name}-example`.includes(wanted)) continue;
  const bytes = new Uint8Array(readFileSync(path));
  const outcome = await layFile(bytes, jobBeside(path), basename(path));
  // Half a record at the end of a drawing that was cut short does not stand again; that it is missing is said, as a failure.
  if (outcome.kind === 'laid-out' && outcome.result.findings.some((f) => f.code === 'read.cut'))
    console.log(`${name}: cut short, laid out in part and not held against the whole`);
  else if (outcome.kind === 'laid-out') keep(name, outcome.result, path);
  else console.log(`${name}: refused, ${outcome.findings[0]?.message ?? ''}`);
  // A sample takes another's layout too.
  if (SAMPLES.includes(`${name}.dxf`)) keep(`${name}-example`, exampleResult, path);
}

runPython([SCRIPT, 'blank', folder, ...VERSIONS]);
for (const version of VERSIONS) {
  for (const form of ['text', 'binary']) {
    keep(`${version}-${form}`, exampleResult, join(folder, `blank-${version}-${form}.dxf`));
  }
}

/** Judged so many at a time, so that it can be followed. */
const BATCH = 5;

for (let i = 0; i < written.length; i += BATCH) {
  const batch = written.slice(i, i + BATCH);
  judged(batch.map((w) => [w.path, w.original])).forEach(({ ok, said }, k) => {
    tell(batch[k]!.name, ok, said);
  });
}

if (spawnSync('which', ['librecad']).status === 0) {
  for (const { name, path } of written) {
    // LibreCAD does not read binary DXF.
    if (readFileSync(path).subarray(0, 18).toString('latin1') === 'AutoCAD Binary DXF') continue;
    const bytes = plotted(folder, name, new Uint8Array(readFileSync(path)));
    if (bytes === 0) fail(name, 'LibreCAD makes no plot of it');
    else console.log(`${name}: plotted, ${bytes} bytes`);
  }
} else console.log('LibreCAD is not there: nothing was plotted.');
console.log(`${written.length} drawings, ${bad} faults, in ${folder}`);
process.exit(bad === 0 ? 0 : 1);
