/**
 * Thousands of damaged drawings: each is read and traced, or refused, without a throw and within a time, and the memory does not grow over the run.
 * MUTATIONS sets how many (MUTATIONS=20000), MUTATION_SEED the first seed: a seed that a failure names comes back by it.
 */

import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { describe, expect, it } from 'vitest';
import type { Drawing } from '../../src/ground/vocabulary.js';
import { readDxf } from '../../src/read/dxf/index.js';
import { trace } from '../../src/trace/index.js';
import { bases, mutated } from '../read/mutating.js';
import { itWithSamples } from '../read/samples.js';
import { OPTIONS } from '../trace/plans.js';

const COUNT = Number(process.env.MUTATIONS ?? 1000);
const FIRST_SEED = Number(process.env.MUTATION_SEED ?? 1);

/** Limits that a damaged count runs into soon: what is tried here is that they hold, not how large they are. */
const LIMITS = { vertices: 20_000, entities: 20_000 };
/** Of the processor, per file: a hundred times what a file takes. */
const MOST_SECONDS = 4;
/** Growth of what is held from one tenth of the run to its end. */
const MOST_GROWTH_MB = 40;

setFlagsFromString('--expose-gc');
const collect = runInNewContext('gc') as () => void;

const heldMb = (): number => {
  collect();
  return process.memoryUsage().heapUsed / 1e6;
};

const finite = (...numbers: readonly number[]): boolean => numbers.every(Number.isFinite);

/** What must hold of whatever was read: places are numbers, names are told apart, counts agree. */
const flawsOf = (drawing: Drawing): string[] => {
  const flaws: string[] = [];
  const { paths, texts, dimensions, leaders, inserts } = drawing;
  for (const list of [paths, texts, dimensions, leaders, inserts]) {
    if (new Set(list.map((item) => item.source)).size !== list.length) flaws.push('a source twice');
  }
  const sound = [
    paths.every((p) => finite(p.elevation, p.extrusion, p.width) && p.vertices.every((v) => finite(v.x, v.y, v.bulge))),
    paths.every((p) => p.vertices.length >= 2 && p.width >= 0 && p.lineType !== ''),
    texts.every((t) => finite(t.at.x, t.at.y, t.height, t.rotationRad) && t.text !== ''),
    dimensions.every((d) => finite(d.from.x, d.from.y, d.to.x, d.to.y, d.measured)),
    leaders.every((l) => l.points.length >= 2 && l.points.every((p) => finite(p.x, p.y))),
    inserts.every((i) => finite(i.at.x, i.at.y, i.rotationRad)),
  ].indexOf(false);
  if (sound >= 0) flaws.push(`numbers (${sound})`);
  const sources = new Set(texts.map((t) => t.source));
  if (leaders.some((l) => l.text !== null && !sources.has(l.text))) flaws.push('a leader without its text');
  const unread = drawing.unreadOn.reduce((n, u) => n + u.count, 0);
  if (unread !== Object.values(drawing.unread).reduce((n, count) => n + count, 0))
    flaws.push('counts of what is not read');
  return flaws;
};

/** What is wrong with the end that the bytes come to; empty: nothing. Throws what reading or tracing throws. */
const troublesOf = (bytes: Uint8Array): { readonly read: boolean; readonly flaws: readonly string[] } => {
  const result = readDxf(bytes, LIMITS);
  if (!result.ok) {
    const said = result.findings.some((f) => f.severity === 'failure');
    return { read: false, flaws: said ? [] : ['refused without a failure'] };
  }
  const flaws = flawsOf(result.value);
  const traced = trace(result.value, OPTIONS);
  if (!traced.value.stretches.every((s) => finite(s.start.x, s.start.y, s.end.x, s.end.y, s.thicknessMm))) {
    flaws.push('a stretch that is no number');
  }
  for (const { message } of [...result.findings, ...traced.findings]) {
    if (/\bNaN\b|\bundefined\b|Infinity/.test(message)) flaws.push(`"${message.slice(0, 120)}"`);
  }
  return { read: true, flaws };
};

const run = (): { readonly troubles: string[]; readonly read: number; readonly growthMb: number } => {
  const list = bases();
  const troubles: string[] = [];
  let read = 0;
  let heldBefore = 0;
  for (let i = 0; i < COUNT; i++) {
    if (i === Math.floor(COUNT / 10)) heldBefore = heldMb();
    const { bytes, what } = mutated(list, FIRST_SEED + i);
    const start = process.cpuUsage();
    try {
      const end = troublesOf(bytes);
      if (end.read) read++;
      if (end.flaws.length > 0) troubles.push(`${what}: ${end.flaws.join('; ')}`);
    } catch (error) {
      troubles.push(`${what}: ${error instanceof Error ? error.stack?.split('\n').slice(0, 3).join(' ') : error}`);
    }
    const used = process.cpuUsage(start);
    const seconds = (used.user + used.system) / 1e6;
    if (seconds > MOST_SECONDS) troubles.push(`${what}: ${seconds.toFixed(1)} s`);
  }
  return { troubles, read, growthMb: heldMb() - heldBefore };
};

describe('damaged drawings', () => {
  it(
    `${COUNT} of them end in a foundation or a refusal`,
    () => {
      const { troubles, read, growthMb } = run();
      expect(troubles).toEqual([]);
      expect(read).toBeGreaterThan(COUNT / 2);
      expect(growthMb).toBeLessThan(MOST_GROWTH_MB);
    },
    600_000 + COUNT * 200,
  );

  itWithSamples('the samples are among them', () => {
    expect(bases().map((base) => base.name)).toContain('house_foundation_plan_inches.dxf');
  });
});
