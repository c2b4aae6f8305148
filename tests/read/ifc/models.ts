/** Sample models by others, which lie beside the repository, and the engine that reads them. */

import { existsSync, readdirSync } from 'node:fs';
import type { Finding } from '../../../src/ground/findings.js';
import type { Model } from '../../../src/ground/vocabulary.js';
import { loadIfcEngine, readIfc } from '../../../src/read/ifc/index.js';
import { itNeeds, samplePath } from '../samples.js';

const folder = samplePath('');

export const MODELS: readonly string[] = existsSync(folder)
  ? readdirSync(folder)
      .filter((file) => /\.ifc(zip)?$/.test(file))
      .sort()
  : [];

/** Samples that hold no model that is read: another schema. */
export const REFUSED: readonly string[] = ['legacy_ifc20_walls.ifc'];

export const itWithModels = itNeeds(MODELS.length > 0, 'the sample models in ../shared/data');

export const engine = await loadIfcEngine();

export const readModel = (bytes: Uint8Array): { readonly model: Model; readonly findings: readonly Finding[] } => {
  const result = readIfc(bytes, engine);
  if (!result.ok) throw new Error(result.findings.map((f) => f.message).join(' '));
  return { model: result.value, findings: result.findings };
};
