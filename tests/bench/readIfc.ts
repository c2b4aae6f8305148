/** read/ifc against the engine's own opening of the same file and one pass over all its meshes; and whether memory stays flat over many models. */

import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { unzipSync } from 'fflate';
import { type IfcEngine, loadIfcEngine, readIfc } from '../../src/read/ifc/index.js';

const FOLDER = fileURLToPath(new URL('../../../shared/data/', import.meta.url));

const MODELS_IN_A_ROW = 50;

const medianOf = (repeats: number, body: () => void): number => {
  body();
  const times = Array.from({ length: repeats }, () => {
    const start = performance.now();
    body();
    return performance.now() - start;
  }).sort((a, b) => a - b);
  return times[Math.floor(times.length / 2)]!;
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

/** Samples that are read, largest last; without those that hold nothing. */
const samples = (): { readonly name: string; readonly bytes: Uint8Array; readonly step: Uint8Array }[] =>
  readdirSync(FOLDER)
    .filter((name) => /\.ifc(zip)?$/.test(name) && !/^(broken|legacy)/.test(name))
    .map((name) => {
      const bytes = new Uint8Array(readFileSync(`${FOLDER}${name}`));
      return { name, bytes, step: name.endsWith('zip') ? Object.values(unzipSync(bytes))[0]! : bytes };
    })
    .sort((a, b) => a.step.length - b.step.length);

export const readingModels = async (repeats: number): Promise<void> => {
  if (!existsSync(FOLDER)) {
    console.log('models: skipped, needs the sample models in ../shared/data');
    return;
  }
  const engine = await loadIfcEngine();
  const all = samples();
  let [ours, peer] = [0, 0];
  for (const { name, bytes, step } of all) {
    const result = readIfc(bytes, engine);
    if (!result.ok) throw new Error(`the benchmark could not read ${name}`);
    const [own, theirs] = [
      medianOf(repeats, () => void readIfc(bytes, engine)),
      medianOf(repeats, () => void openAndMesh(engine, step)),
    ];
    ours += own;
    peer += theirs;
    row(`model ${name.replace(/\.ifc(zip)?$/, '').slice(0, 27)}`, own, theirs, megabytes(step.length));
  }
  row('models, all, against open and mesh', ours, peer, `${all.length} samples`);
  const resident: number[] = [];
  for (let i = 0; i < MODELS_IN_A_ROW; i++) {
    readIfc(all[i % all.length]!.bytes, engine);
    if (i % 10 === 9) resident.push(process.memoryUsage().rss);
  }
  console.log(`memory over ${MODELS_IN_A_ROW} models in a row: ${resident.map(megabytes).join(', ')}`);
};
