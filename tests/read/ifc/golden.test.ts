/** What is read of each sample model, as a readable text beside the tests. UPDATE_GOLDEN=1 writes it anew. */

import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect } from 'vitest';
import type { Finding } from '../../../src/ground/findings.js';
import { compareText } from '../../../src/ground/order.js';
import { plainNumber } from '../../../src/ground/units.js';
import type { Model, ModelElement } from '../../../src/ground/vocabulary.js';
import { readIfc } from '../../../src/read/ifc/index.js';
import { cornersOf, extentOf } from '../../support/solids.js';
import { sample } from '../samples.js';
import { engine, itWithModels, MODELS } from './models.js';

const FOLDER = fileURLToPath(new URL('../../golden/read-ifc/', import.meta.url));

const n1 = (n: number): string => plainNumber(n, 1);

const counts = (keys: readonly string[]): string[] => {
  const n = new Map<string, number>();
  for (const key of keys) n.set(key, (n.get(key) ?? 0) + 1);
  return [...n].sort((a, b) => compareText(a[0], b[0])).map(([key, count]) => `  ${String(count).padStart(5)}  ${key}`);
};

const line = (element: ModelElement): string => {
  const corners = element.body.flatMap(({ solid }) => cornersOf(solid));
  const place =
    corners.length === 0
      ? 'no body'
      : (({ least, most }) => `${least.map(n1).join(', ')} to ${most.map(n1).join(', ')}`)(extentOf(corners));
  const materials = element.materials.map(({ name, thicknessMm }) =>
    thicknessMm === null ? name : `${name} ${n1(thicknessMm)}`,
  );
  const openings = element.openings.length > 0 ? `, openings ${element.openings.length}` : '';
  return `  ${element.id}  ${element.kind}  ${element.body.map(({ from }) => from[0]).join('')}  ${place}${openings}  ${materials.join(' | ')}  ${element.name}`;
};

const described = (model: Model, findings: readonly Finding[]): string =>
  [
    `schema ${model.schemaName}, stamped ${model.timeStamp}`,
    `unit ${model.unit.lengthUnit}, ${model.unit.mmPerUnit} mm, prefix ${model.unit.prefix}, name ${model.unit.conversionName}`,
    `project ${JSON.stringify(model.project)}`,
    `sites ${JSON.stringify(model.sites)}`,
    `buildings ${JSON.stringify(model.buildings)}`,
    'storeys',
    ...model.storeys.map(
      (s) =>
        `  ${s.id}  ${s.name}  level ${n1(s.levelMm)}, elevation ${s.elevationMm === null ? null : n1(s.elevationMm)}`,
    ),
    `georeference ${JSON.stringify(model.georeference)}`,
    'elements by kind and entity',
    ...counts(model.elements.map(({ kind, entity }) => `${kind}  ${entity}`)),
    'solids by kind of element and how they came',
    ...counts(model.elements.flatMap(({ kind, body }) => body.map(({ from }) => `${kind}  ${from}`))),
    'walls, footings, slabs: extents of bodies before clipping',
    ...model.elements.filter(({ kind }) => kind === 'wall' || kind === 'footing' || kind === 'slab').map(line),
    `bars ${model.bars.length}`,
    `unread ${JSON.stringify(model.unread)}`,
    'findings',
    ...findings.map((f) => `  ${f.severity} ${f.code}: ${f.message}${f.assumed === null ? '' : ` (${f.assumed})`}`),
    '',
  ].join('\n');

describe('models as read', () => {
  for (const file of MODELS) {
    itWithModels(file, () => {
      const result = readIfc(sample(file), engine);
      const text = result.ok
        ? described(result.value, result.findings)
        : `${result.findings.map((f) => `refused ${f.code}: ${f.message}`).join('\n')}\n`;
      const path = `${FOLDER}${file.replace(/\.ifc(zip)?$/, '')}.txt`;
      if (process.env.UPDATE_GOLDEN === '1' || !existsSync(path)) {
        mkdirSync(FOLDER, { recursive: true });
        writeFileSync(path, text);
      }
      expect(text).toBe(readFileSync(path, 'utf8'));
    });
  }
});
