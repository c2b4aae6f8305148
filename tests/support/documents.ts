/** The documents that are made from the code, so that they cannot drift from it. `npm run docs` writes them; a test compares. */

import { catalogueJsonSchema } from '../../src/catalogue/index.js';
import { FINDINGS, type FindingKind } from '../../src/ground/findings.js';
import { jobJsonSchema } from '../../src/pipeline/index.js';
import { openApi } from '../../src/service/openapi.js';
import { layoutJsonSchema, traceJsonSchema } from '../../src/write/json/index.js';
import { planSvg } from '../../src/write/report/svg/plan.js';
import { laidOut, layBytes } from './lay.js';
import { plantedFaultsText } from './plantedFaults.js';
import { textOf } from './repository.js';
import { cornerHouse } from './scenes.js';
import { dxfBytes } from './sheet.js';

const STAGE_TITLES: Readonly<Record<string, string>> = {
  catalogue: 'Catalogue',
  read: 'Reading the drawing',
  trace: 'Finding the walls',
  shape: 'Faces, corners and junctions',
  fit: 'Laying out the units',
  check: 'Pressure, ties and ratings',
  schedule: 'Lists',
  write: 'Writing the files',
  pipeline: 'Job file, defaults and limits',
};

const findingsText = (): string => {
  const table: [string, FindingKind][] = Object.entries(FINDINGS);
  const lines = [
    '# Findings',
    '',
    'What the program may say about a drawing, by code. Every finding stands in layout.json and in the report; those that have a place stand in the drawing too.',
    '',
    '- **failure**: a rule is broken or something could not be laid out. The exit code is 1; the place must be solved by hand.',
    '- **attention**: something was assumed, mended or left out that a person must look at before building.',
    '- **note**: what was done, for the record.',
    '',
    'Rules T1 to T24 are the rules of layout in [rules.md](reference/rules.md); `input` is about the state of a file.',
    'This page is made from the table in src/ground/findings by `npm run docs`.',
  ];
  const stages = [...new Set(table.map(([code]) => code.slice(0, code.indexOf('.'))))];
  for (const stage of Object.keys(STAGE_TITLES).filter((name) => stages.includes(name))) {
    lines.push('', `## ${STAGE_TITLES[stage]}`);
    for (const [code, kind] of table.filter(([c]) => c.startsWith(`${stage}.`)).sort(([a], [b]) => (a < b ? -1 : 1))) {
      lines.push('', `### ${code}`, '', `${kind.severity} · rule ${kind.rule}`, '', kind.meaning);
      lines.push('', `What to do: ${kind.action}`);
      if (kind.ask === undefined) continue;
      const keys = kind.ask.keys.map((key) => `\`${key}\``).join(', ');
      lines.push('', `Question: ${kind.ask.question} The job file answers with ${keys}.`);
    }
  }
  const unknown = stages.filter((stage) => !(stage in STAGE_TITLES));
  if (unknown.length > 0) throw new Error(`no title for the findings of ${unknown.join(', ')}`);
  return `${lines.join('\n')}\n`;
};

const { version } = JSON.parse(textOf('package.json')) as { version: string };

const json = (value: unknown): string => `${JSON.stringify(value, null, 2)}\n`;

/** The plan of the sample house as the report draws it, as a picture of its own. */
const picture = (): string => {
  const job = {
    levels: { footingMm: 0, topMm: 2350 },
    concrete: { rateMPerH: 1.5, temperatureC: 15 },
    catalogue: 'demo',
  };
  const svg = planSvg(laidOut(layBytes(dxfBytes(cornerHouse), job, 'corner-house.dxf')).result);
  return `${svg.replace(/^<svg(?![^>]*xmlns=)/, '<svg xmlns="http://www.w3.org/2000/svg"')}\n`;
};

/** Path → text of every document that is made from the code. */
export const documents = (): Readonly<Record<string, string>> => ({
  'docs/FINDINGS.md': findingsText(),
  'docs/guide/corner-house.svg': picture(),
  'docs/reference/planted-faults.md': plantedFaultsText(),
  'docs/reference/job-file.schema.json': json(jobJsonSchema()),
  'docs/reference/catalogue-file.schema.json': json(catalogueJsonSchema()),
  'docs/reference/layout-json.schema.json': json(layoutJsonSchema()),
  'docs/reference/trace-json.schema.json': json(traceJsonSchema()),
  'docs/reference/openapi.json': json(openApi(version)),
});
