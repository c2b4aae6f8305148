/**
 * `npm run faults`: programs killed (-9) at moments drawn by chance, jobs that go wrong, a database that stops, a disk that is full, on both stores. Nothing
 * may be lost, done twice or torn. Writes what was counted into docs/reference/reliability.md; ends with 1 where one of it does not hold. FAULT_SEED
 * chooses the moments; a word that follows chooses the trials whose names hold it, and then nothing is written.
 */

import { readFileSync, writeFileSync } from 'node:fs';
import { cpus, loadavg } from 'node:os';
import { Cluster, HAS_POSTGRES } from '../support/postgres.js';
import { ROOT } from '../support/repository.js';
import { type Counted, type Ground, groundOf } from './children.js';
import { jobsGoWrong, workersKilled } from './queueTrials.js';
import { diskFull, watchKilled } from './watchTrials.js';

const DOCUMENT = `${ROOT}docs/reference/reliability.md`;
const MARKS = ['<!-- counted: npm run faults -->', '<!-- end of what was counted -->'] as const;

const seed = Number(process.env.FAULT_SEED ?? 1);
const chosen = process.argv[2] ?? '';

const TRIALS: readonly (readonly [string, (ground: Ground) => Promise<Counted | null>])[] = [
  ['a watched folder, killed', (g) => watchKilled(g, 200, seed, 2500, 1000)],
  [
    'two workers and two that bring jobs, killed',
    (g) => workersKilled(g, { jobs: 200, seed, lifeMs: 2500, killsMost: 1000, stops: 0 }),
  ],
  [
    'the same, and the database stopped',
    (g) => workersKilled(g, { jobs: 200, seed, lifeMs: 4000, killsMost: 1000, stops: 12 }),
  ],
  ['jobs that go wrong', (g) => jobsGoWrong(g, 5)],
  ['a disk that is full', (g) => diskFull(g, 60, seed)],
];

const lines: string[] = [];
const say = (line: string): void => {
  lines.push(line);
  process.stdout.write(`${line}\n`);
};

let failures = 0;
for (const [name, trial] of TRIALS) {
  if (!name.includes(chosen)) continue;
  for (const store of ['folders', 'PostgreSQL'] as const) {
    if (store === 'folders' && name.includes('database')) continue;
    const title = `${name}: ${store}`;
    if (store === 'PostgreSQL' && !HAS_POSTGRES) {
      process.stdout.write(`${title}: skipped, needs PostgreSQL\n`);
      failures++;
      continue;
    }
    const begunAt = performance.now();
    const counted = await trial(await groundOf(store === 'folders' ? null : await Cluster.begin()));
    say(`| ${title} | |`);
    say('|---|---|');
    if (!counted) say('| not tried: a small disk is mounted by root alone | – |');
    for (const [what, count] of counted?.rows ?? []) say(`| ${what} | ${count} |`);
    if (counted)
      say(`| **lost, done twice, torn or ended otherwise than they should** | **${counted.faults.length}** |`);
    say(`| took | ${Math.round((performance.now() - begunAt) / 1000)} s |`);
    say('');
    for (const fault of counted?.faults ?? []) process.stdout.write(`  ${fault}\n`);
    failures += counted?.faults.length ?? 0;
  }
}

if (chosen === '') {
  const text = readFileSync(DOCUMENT, 'utf8');
  const [from, to] = [text.indexOf(MARKS[0]) + MARKS[0].length, text.indexOf(MARKS[1])];
  const said = `Seed ${seed}, ${cpus().length} processors, load ${loadavg()[2]!.toFixed(1)} (others' work included), Node ${process.version}.`;
  writeFileSync(DOCUMENT, `${text.slice(0, from)}\n${said}\n\n${lines.join('\n')}${text.slice(to)}`);
}
process.exitCode = failures === 0 ? 0 : 1;
