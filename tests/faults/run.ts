/**
 * `npm run faults`: a program that watches a folder is killed (-9) at moments drawn by chance until all drawings are done. None may be lost, none handed over
 * twice, none torn. Prints what was counted; ends with 1 where one of it does not hold. FAULT_SEED chooses the moments.
 */

import { type ChildProcess, spawn } from 'node:child_process';
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const DRAWINGS = 200;
const CHILD = fileURLToPath(new URL('./watchChild.ts', import.meta.url));

/** Numbers in [0, 1): mulberry32, public domain. */
const chance = (seed: number) => (): number => {
  seed = (seed + 0x6d2b79f5) | 0;
  let t = Math.imul(seed ^ (seed >>> 15), 1 | seed);
  t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
  return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
};

const watching = (...args: string[]): ChildProcess =>
  spawn(process.execPath, ['--import', 'tsx', CHILD, ...args], { stdio: ['ignore', 'pipe', 'inherit'] });
const ended = (child: ChildProcess): Promise<number | null> =>
  new Promise((resolve) => {
    child.on('exit', (code) => resolve(code));
  });
/** Has begun, or has ended before. */
const begun = (child: ChildProcess) =>
  Promise.race([new Promise((resolve) => child.stdout!.once('data', resolve)), ended(child)]);
const after = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));

const seed = Number(process.env.FAULT_SEED ?? 1);
const draw = chance(seed);
const root = mkdtempSync(join(tmpdir(), 'faults-'));
const contents = new Map<string, string>();
mkdirSync(join(root, 'drop-here'));
for (let i = 0; i < DRAWINGS; i++) {
  const stem = `drawing ${i} wait-${Math.round(draw() * 300)}`;
  contents.set(stem, `walls of ${i}\n`.repeat(1 + Math.floor(draw() * 2000)));
  writeFileSync(join(root, 'drop-here', `${stem}.dxf`), contents.get(stem)!);
}

let kills = 0;
for (;;) {
  const child = watching(root);
  // Now and then it is killed while it begins.
  if (draw() < 0.9) await begun(child);
  await after(draw() * 2500);
  child.kill('SIGKILL');
  await ended(child);
  kills++;
  if (readdirSync(join(root, 'drop-here')).length === 0) break;
  if (kills > 1000) throw new Error('it gets nowhere');
}
const code = await ended(watching(root, 'once'));

const faults: string[] = [];
if (code !== 0) faults.push(`the last one ended with ${code}`);
const laidOut = readdirSync(join(root, 'laid-out'));
for (const name of laidOut) if (!contents.has(name)) faults.push(`${name} is there, and nobody dropped it`);
for (const [stem, text] of contents) {
  const folder = join(root, 'laid-out', stem);
  if (!laidOut.includes(stem)) {
    faults.push(`${stem} is lost`);
    continue;
  }
  const files = readdirSync(folder).sort();
  if (files.join() !== [`${stem}.dxf`, `${stem}.dxf.echo`, `${stem}.what-happened.txt`].join())
    faults.push(`${stem} has ${files.join()}`);
  for (const file of [`${stem}.dxf`, `${stem}.dxf.echo`])
    if (readFileSync(join(folder, file), 'utf8') !== text) faults.push(`${file} is torn`);
}
if (readdirSync(join(root, 'not-laid-out')).length > 0) faults.push('some were refused');
const jobs = readdirSync(join(root, '.jobs', 'ended')).map(
  (id) =>
    JSON.parse(readFileSync(join(root, '.jobs', 'ended', id, 'record.json'), 'utf8')) as {
      attempts: number;
      key: string;
      exitCode: number;
    },
);
// A job that met a kill each time that it was begun is given up, and its drawing brought again by the watch: another job of the same key.
const givenUp = jobs.filter((j) => j.exitCode === 3);
const done = jobs.filter((j) => j.exitCode === 0);
if (new Set(done.map((j) => j.key)).size !== done.length) faults.push('a drawing was done as two jobs');
if (done.length !== DRAWINGS) faults.push(`${done.length} jobs were done`);
rmSync(root, { recursive: true });

process.stdout.write(
  `${[
    `drawings dropped            ${DRAWINGS}`,
    `killed (-9)                 ${kills} times`,
    `jobs begun more than once   ${jobs.filter((j) => j.attempts > 1).length}`,
    `given up after five kills   ${givenUp.length}`,
    `lost, doubled or torn       ${faults.length}`,
    ...faults,
  ].join('\n')}\n`,
);
process.exitCode = faults.length === 0 ? 0 : 1;
