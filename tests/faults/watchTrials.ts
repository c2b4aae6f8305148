/** Trials of a watched folder: killed over and over, and with a disk that is full. */

import { spawnSync } from 'node:child_process';
import { mkdirSync, readdirSync, readFileSync, rmSync, statfsSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { openStore } from '../../src/jobs/openStore.js';
import { Dice } from '../support/drawings/dice.js';
import { everyJob } from '../support/everyJob.js';
import { after, begin, begun, type Counted, ended, type Ground, kill } from './children.js';

const dropped = (root: string, drawings: number, mostLines: number, dice: Dice): Map<string, string> => {
  const contents = new Map<string, string>();
  mkdirSync(join(root, 'drop-here'), { recursive: true });
  for (let i = 0; i < drawings; i++) {
    const stem = `drawing ${i} wait-${dice.whole(300)}`;
    contents.set(stem, `walls of ${i}\n`.repeat(1 + dice.whole(mostLines)));
    writeFileSync(join(root, 'drop-here', `${stem}.dxf`), contents.get(stem)!);
  }
  return contents;
};

/** What of the results is not as it should be. */
const faultsIn = (root: string, contents: ReadonlyMap<string, string>): string[] => {
  const faults: string[] = [];
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
  const refused = readdirSync(join(root, 'not-laid-out'));
  if (refused.length > 0) faults.push(`refused: ${refused.join()}`);
  return faults;
};

/** Drawings are dropped and the program is killed, now and then while it begins, until all are handed over. */
export const watchKilled = async (
  { folder, url }: Ground,
  drawings: number,
  seed: number,
  lifeMs: number,
  killsMost: number,
): Promise<Counted> => {
  const dice = new Dice(seed);
  const contents = dropped(folder, drawings, 2000, dice);
  let kills = 0;
  while (kills < killsMost && readdirSync(join(folder, 'drop-here')).length > 0) {
    const child = begin('watch', folder, url);
    if (dice.chance(0.9)) await begun(child);
    await after(dice.between(0, lifeMs));
    await kill(child);
    kills++;
  }
  const faults: string[] = [];
  const code = await ended(begin('watch', folder, url, 'once'));
  if (code !== 0) faults.push(`the last one ended with ${code}`);
  faults.push(...faultsIn(folder, contents));
  const store = await openStore(join(folder, '.jobs'), '1', url === '-' ? undefined : url);
  const jobs = await everyJob(store);
  await store.close();
  const done = jobs.filter((j) => j.exitCode === 0);
  if (new Set(done.map((j) => j.key)).size !== done.length) faults.push('a drawing was done as two jobs');
  if (done.length !== drawings) faults.push(`${done.length} jobs were done`);
  rmSync(folder, { recursive: true });
  return {
    rows: [
      ['drawings dropped', drawings],
      ['the watch was killed', `${kills} times`],
      ['jobs begun more than once', jobs.filter((j) => j.attempts > 1).length],
      ['most often that one job was begun', Math.max(...jobs.map((j) => j.attempts))],
      ['jobs given up (eight losses)', jobs.filter((j) => j.exitCode === 3).length],
    ],
    faults,
  };
};

const DISK_MB = 6;

/** Whether a small disk could be put under a folder: that needs to be root, on Linux. */
export const withSmallDisk = (folder: string): boolean =>
  spawnSync('mount', ['-t', 'tmpfs', '-o', `size=${DISK_MB}m`, 'tmpfs', folder]).status === 0;

/** The disk under the watched folder is filled by somebody else while drawings are in work, three times, and freed again. */
export const diskFull = async ({ folder, url }: Ground, drawings: number, seed: number): Promise<Counted | null> => {
  if (!withSmallDisk(folder)) return null;
  const faults: string[] = [];
  try {
    const dice = new Dice(seed);
    const contents = dropped(folder, drawings, 1500, dice);
    const child = begin('watch', folder, url);
    await begun(child);
    let fullMs = 0;
    for (let i = 0; i < 3; i++) {
      await after(dice.between(300, 1200));
      const ballast = join(folder, 'ballast.tmp');
      try {
        for (;;) writeFileSync(ballast, Buffer.alloc(65_536), { flag: 'a' });
      } catch {
        // Full.
      }
      const { bavail } = statfsSync(folder);
      if (bavail > 16) faults.push(`there was room for ${bavail} blocks`);
      const begunAt = performance.now();
      await after(dice.between(800, 2500));
      fullMs += performance.now() - begunAt;
      rmSync(ballast);
    }
    for (let i = 0; i < 600 && readdirSync(join(folder, 'drop-here')).length > 0; i++) await after(100);
    if (child.exitCode !== null || child.signalCode !== null) faults.push('the program ended');
    child.kill('SIGKILL');
    await ended(child);
    faults.push(...faultsIn(folder, contents));
    return {
      rows: [
        ['drawings dropped', drawings],
        [`disk of ${DISK_MB} MB filled`, `3 times, ${(fullMs / 1000).toFixed(1)} s in all`],
      ],
      faults,
    };
  } finally {
    spawnSync('umount', [folder]);
  }
};
