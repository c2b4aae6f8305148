/** read/ifc against the engine's own opening of the same file and one pass over all its meshes; and whether memory stays flat over many models. */

import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { unzipSync } from 'fflate';
import { type IfcEngine, loadIfcEngine, readIfc } from '../../src/read/ifc/index.js';

const FOLDER = fileURLToPath(new URL('../../../shared/data/', import.meta.url));

const MODELS_IN_A_ROW = 50;

// What is garbage but not collected yet says nothing about memory that is held.
setFlagsFromString('--expose-gc');
const collect = runInNewContext('gc') as () => void;

const AIM = 1.3;

/** A run takes at least so long; what is shorter is done several times in it. */
const LEAST_RUN_MS = 20;
const WARM_UP_MS = 1000;
/** The peer is compiled ahead of time; what we do once a file is after some thousand files. */
const FILES_TO_WARM_UP = 5000;

const timeOf = (times: number, body: () => void): number => {
  const start = performance.now();
  for (let i = 0; i < times; i++) body();
  return (performance.now() - start) / times;
};

const median = (times: readonly number[]): number => [...times].sort((a, b) => a - b)[Math.floor(times.length / 2)]!;

/** Medians of both, ms; both warm, and by turns, so that what else the machine does falls on both. */
const compared = (repeats: number, ours: () => void, peer: () => void): readonly [ours: number, peer: number] => {
  const bodies = [ours, peer];
  const counts = bodies.map((body) => {
    const end = performance.now() + WARM_UP_MS;
    let time = timeOf(2, body);
    while (performance.now() < end) time = Math.min(time, timeOf(1, body));
    return Math.max(1, Math.ceil(LEAST_RUN_MS / time));
  });
  const runs = bodies.map((): number[] => []);
  for (let i = 0; i < repeats; i++)
    for (const [which, body] of bodies.entries()) runs[which]!.push(timeOf(counts[which]!, body));
  return [median(runs[0]!), median(runs[1]!)];
};

/** Opens, takes the vertices of every mesh once, closes. */
const openAndMesh = (engine: IfcEngine, bytes: Uint8Array): number => {
  const model = engine.OpenModel(bytes);
  let vertices = 0;
  engine.StreamAllMeshes(model, (mesh) => {
    for (let i = 0; i < mesh.geometries.size(); i++) {
      const geometry = engine.GetGeometry(model, mesh.geometries.get(i).geometryExpressID);
      vertices += engine.GetVertexArray(geometry.GetVertexData(), geometry.GetVertexDataSize()).length;
      geometry.delete();
    }
  });
  engine.CloseModel(model);
  return vertices;
};

const row = (name: string, ours: number, peer: number, what: string): void => {
  console.log(
    `${name.padEnd(34)} ours ${ours.toFixed(1).padStart(9)} ms   peer ${peer.toFixed(1).padStart(9)} ms   ratio ${(ours / peer).toFixed(2).padStart(7)}   ${what}`,
  );
};

const megabytes = (bytes: number): string => `${(bytes / 1e6).toFixed(1)} MB`;

/** The peer opens text alone: who hands it a ZIP has to unpack it. */
const plainText = (bytes: Uint8Array): Uint8Array =>
  bytes[0] === 0x50 && bytes[1] === 0x4b ? Object.values(unzipSync(bytes))[0]! : bytes;

/** Samples that are read, largest last; without those that hold nothing. */
const samples = (): { readonly name: string; readonly bytes: Uint8Array; readonly size: number }[] =>
  readdirSync(FOLDER)
    .filter((name) => /\.ifc(zip)?$/.test(name) && !/^(broken|legacy)/.test(name))
    .map((name) => {
      const bytes = new Uint8Array(readFileSync(`${FOLDER}${name}`));
      return { name, bytes, size: plainText(bytes).length };
    })
    .sort((a, b) => a.size - b.size);

/** A quick run reads every so many of them. */
const QUICK_EVERY = 4;

export const readingModels = async (repeats: number, quick: boolean): Promise<void> => {
  if (!existsSync(FOLDER)) {
    console.log('models: skipped, needs the sample models in ../shared/data');
    return;
  }
  const engine = await loadIfcEngine();
  const all = samples().filter((_, i) => !quick || i % QUICK_EVERY === 0);
  let [ours, peer] = [0, 0];
  const above: string[] = [];
  // So that the first file is no colder than the last.
  for (const { name, bytes } of all) {
    if (!readIfc(bytes, engine).ok) throw new Error(`the benchmark could not read ${name}`);
    openAndMesh(engine, plainText(bytes));
  }
  for (let i = 0; i < FILES_TO_WARM_UP; i++) {
    readIfc(all[0]!.bytes, engine);
    openAndMesh(engine, plainText(all[0]!.bytes));
  }
  for (const { name, bytes, size } of all) {
    const [own, theirs] = compared(
      repeats,
      () => void readIfc(bytes, engine),
      () => void openAndMesh(engine, plainText(bytes)),
    );
    ours += own;
    peer += theirs;
    if (own > AIM * theirs) above.push(name);
    row(`model ${name.replace(/\.ifc(zip)?$/, '').slice(0, 27)}`, own, theirs, megabytes(size));
  }
  row('models, all, against open and mesh', ours, peer, `${all.length} samples`);
  console.log(
    `aim: a ratio of at most ${AIM} for each; ${above.length === 0 ? 'met by all' : `above it in this run: ${above.join(', ')}`}. On a machine that is busy with other work ours, which makes garbage, waits longer than the peer.`,
  );
  const resident: number[] = [];
  const held: number[] = [];
  for (let i = 0; i < MODELS_IN_A_ROW; i++) {
    readIfc(all[i % all.length]!.bytes, engine);
    if (i % 10 !== 9) continue;
    collect();
    const { rss, heapUsed } = process.memoryUsage();
    resident.push(rss);
    held.push(heapUsed);
  }
  console.log(
    `memory over ${MODELS_IN_A_ROW} models in a row: ${resident.map(megabytes).join(', ')}; held of it ${held.map(megabytes).join(', ')}`,
  );
};
