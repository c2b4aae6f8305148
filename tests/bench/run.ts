/**
 * Benchmarks as ratios against a peer in the same run on the same input, so that they mean the same on any machine. Nothing is asserted about time;
 * what is computed is checked, so that a fast wrong answer is not printed as a gain. `npm run bench`, `npm run bench -- --quick`.
 */

import dxfParser from 'dxf-parser';
import { demoCatalogue } from '../../src/catalogue/index.js';
import { chooseStacks, DEFAULT_FIT_OPTIONS, fit as fitRuns } from '../../src/fit/index.js';
import { parseTags, serializeTags } from '../../src/ground/tags.js';
import type { FacePlan } from '../../src/ground/vocabulary.js';
import { demandsOf } from '../../src/pipeline/demands.js';
import { layOut } from '../../src/pipeline/index.js';
import { traceOptions } from '../../src/pipeline/settings.js';
import { readDxf } from '../../src/read/dxf/index.js';
import { shape } from '../../src/shape/index.js';
import { trace } from '../../src/trace/index.js';
import { cornerHouse } from '../support/scenes.js';
import { dxfBytes, dxfText, moved, type Sheet } from '../support/sheet.js';
import { fitting as moreOfTheFit } from './fitting.js';
import { readingModels } from './readIfc.js';
import { tracing } from './tracing.js';

/** The package's default export is the class itself, whatever its types say. */
const TheirParser = dxfParser as unknown as new () => { parseSync(text: string): { entities: unknown[] } | null };

const quick = process.argv.includes('--quick');
const REPEATS = quick ? 3 : 9;
const COPIES = quick ? 100 : 3000;

/** Median of the times of `body`, ms, after one run to warm up. What it returns is kept, so that no run is optimised away. */
let kept: unknown;
const median = (body: () => unknown): number => {
  kept = body();
  const times = Array.from({ length: REPEATS }, () => {
    const start = performance.now();
    kept = body();
    return performance.now() - start;
  }).sort((a, b) => a - b);
  return times[Math.floor(times.length / 2)]!;
};

const print = (name: string, ours: number, peer: number, what: string): void => {
  console.log(
    `${name.padEnd(34)} ours ${ours.toFixed(1).padStart(9)} ms   peer ${peer.toFixed(1).padStart(9)} ms   ratio ${(ours / peer).toFixed(2).padStart(7)}   ${what}`,
  );
};

const demand = (fact: boolean, what: string): void => {
  if (!fact) throw new Error(`the benchmark computed something wrong: ${what}`);
};

/** The house many times over, in rows: a big drawing. */
const town = (copies: number): Sheet => {
  const rows = Math.ceil(Math.sqrt(copies));
  const marks = Array.from({ length: copies }, (_, i) => {
    const [dx, dy] = [(i % rows) * 15_000, Math.floor(i / rows) * 15_000];
    return moved(cornerHouse, ({ x, y }) => ({ x: x + dx, y: y + dy })).marks;
  }).flat();
  return { ...cornerHouse, marks };
};

const reading = (): void => {
  const sheet = town(COPIES);
  const text = dxfText(sheet);
  const bytes = dxfBytes(sheet);
  const tagsOf = () => {
    const parsed = parseTags(bytes);
    if (!parsed.ok) throw new Error('unreadable');
    return parsed.value;
  };
  const theirs = () => new TheirParser().parseSync(text);
  demand(theirs()?.entities.length === sheet.marks.length, 'entities of the peer');
  demand(Buffer.compare(serializeTags(tagsOf()), bytes) === 0, 'tags that do not go back to the same bytes');
  const read = readDxf(bytes);
  demand(read.ok && read.value.paths.length + read.value.texts.length === sheet.marks.length, 'entities of ours');
  const size = `${(bytes.byteLength / 1e6).toFixed(1)} MB`;
  const peer = median(theirs);
  print('tags, against dxf-parser', median(tagsOf), peer, size);
  print(
    'drawing, against dxf-parser',
    median(() => readDxf(bytes)),
    peer,
    size,
  );
  const tags = tagsOf();
  print(
    'tags out, against tags in',
    median(() => serializeTags(tags)),
    median(tagsOf),
    size,
  );
};

const planOfHouse = (): FacePlan => {
  const read = readDxf(dxfBytes(cornerHouse));
  if (!read.ok) throw new Error('unreadable');
  const foundation = trace(read.value, traceOptions({ levels: { footingMm: 0, topMm: 2350 } })).value;
  return shape(foundation, { gridMm: demoCatalogue.gridMm }).value;
};

/** The plain peer: each face of each wall covered by the fewest panels with the least left over, without ties, corners or the other face. */
const coverOnly = (plan: FacePlan, widths: readonly number[]): { steps: number; left: number } => {
  let steps = 0;
  let left = 0;
  for (const face of plan.faces) {
    const length = Math.round(face.toMm - face.fromMm);
    const fewest = new Array<number>(length + 1).fill(Number.POSITIVE_INFINITY);
    fewest[0] = 0;
    for (let s = 0; s <= length; s++) {
      if (fewest[s] === Number.POSITIVE_INFINITY) continue;
      for (const w of widths) {
        steps++;
        if (s + w <= length) fewest[s + w] = Math.min(fewest[s + w]!, fewest[s]! + 1);
      }
    }
    let end = length;
    while (fewest[end] === Number.POSITIVE_INFINITY) end--;
    left += length - end;
  }
  return { steps, left };
};

const fitting = (): void => {
  const plan = planOfHouse();
  const stacks = chooseStacks(plan, demoCatalogue, DEFAULT_FIT_OPTIONS).value;
  const job = { concrete: { rateMPerH: 1.5, temperatureC: 15 } };
  const { demands } = demandsOf(plan, stacks, job, demoCatalogue, undefined).value;
  const full = () => fitRuns(plan, demoCatalogue, demands, DEFAULT_FIT_OPTIONS).value;
  const widths = [...new Set(demoCatalogue.units.filter((u) => u.kind === 'panel').map((u) => u.widthMm))];
  const layout = full();
  const plain = coverOnly(plan, widths);
  demand(layout.tiers.find((t) => t.name === 'failures')?.value === 0, 'a layout with failures');
  print(
    'fit, against cover without ties',
    median(full),
    median(() => coverOnly(plan, widths)),
    `steps ${layout.work.steps} against ${plain.steps}; every stretch proven: ${!layout.work.cutShort}`,
  );
};

const whole = (): void => {
  const bytes = dxfBytes(cornerHouse);
  const job = { levels: { footingMm: 0, topMm: 2350 } };
  const all = () => layOut({ fileName: 'plan.dxf', bytes, sha256: '', job });
  const outcome = all();
  demand(outcome.kind === 'laid-out' && outcome.files.length === 5, 'files of the whole chain');
  print(
    'whole chain, against reading',
    median(all),
    median(() => readDxf(bytes)),
    'the sample house',
  );
};

console.log(`${REPEATS} runs each, medians; ${quick ? 'quick' : 'full'}`);
reading();
fitting();
whole();
tracing(quick ? 3 : 40);
moreOfTheFit(quick);
await readingModels(REPEATS, quick);
if (kept === undefined) throw new Error('nothing was computed');
