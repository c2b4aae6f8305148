/** What is read of each sample drawing, as a readable text beside the tests. UPDATE_GOLDEN=1 writes it anew. */

import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect } from 'vitest';
import type { Finding } from '../../src/ground/findings.js';
import { compareText } from '../../src/ground/order.js';
import { plainNumber } from '../../src/ground/units.js';
import type { Drawing, DrawingInsert } from '../../src/ground/vocabulary.js';
import { boxOf, itNeeds, read, SAMPLES, SAMPLES_NEEDED, sample } from './samples.js';

const FOLDER = fileURLToPath(new URL('../golden/read/', import.meta.url));

const counts = (keys: readonly string[]): string[] => {
  const n = new Map<string, number>();
  for (const key of keys) n.set(key, (n.get(key) ?? 0) + 1);
  return [...n].sort((a, b) => compareText(a[0], b[0])).map(([key, count]) => `  ${String(count).padStart(5)}  ${key}`);
};

const number = (n: number): string => plainNumber(n, 4);

const extents = (drawing: Drawing): string => {
  const boxes = drawing.paths.map(boxOf);
  if (boxes.length === 0) return 'none';
  const low = (i: 0 | 1): string => number(Math.min(...boxes.map((b) => b[i])));
  const high = (i: 2 | 3): string => number(Math.max(...boxes.map((b) => b[i])));
  return `${low(0)}, ${low(1)} to ${high(2)}, ${high(3)}`;
};

const attributesOf = ({ attributes }: DrawingInsert): string =>
  attributes.map(({ tag, text }) => ` ${tag}=${JSON.stringify(text)}`).join('');

const described = (drawing: Drawing, findings: readonly Finding[]): string =>
  [
    `version ${drawing.version}, coding ${drawing.document.coding.label}, $INSUNITS ${drawing.declaredUnitCode} (${drawing.declaredUnit})`,
    `extents ${extents(drawing)}`,
    'layers',
    ...drawing.layers.map((layer) => `  ${layer.visible ? 'shown ' : 'hidden'}  ${layer.name}  ${layer.lineType}`),
    'paths by layer and type',
    ...counts(drawing.paths.map((p) => `${p.layer} | ${p.entity}${p.closed ? ' closed' : ''}`)),
    'paths by block',
    ...counts(drawing.paths.filter((p) => p.blocks.length > 0).map((p) => p.blocks.join(' > '))),
    `vertices ${drawing.paths.reduce((n, p) => n + p.vertices.length, 0)}, of them with a bulge ${drawing.paths.reduce((n, p) => n + p.vertices.filter((v) => v.bulge !== 0).length, 0)}`,
    'texts by layer',
    ...counts(drawing.texts.map((t) => t.layer)),
    'first texts',
    ...drawing.texts
      .slice(0, 12)
      .map((t) => `  ${JSON.stringify(t.text)} at ${number(t.at.x)}, ${number(t.at.y)} height ${number(t.height)}`),
    'dimensions',
    ...drawing.dimensions.map((d) => `  ${number(d.measured)} ${JSON.stringify(d.text)} on ${d.layer}`),
    'leaders by layer',
    ...counts(drawing.leaders.map((l) => `${l.layer}${l.text === null ? '' : ' with text'}`)),
    'inserts by block',
    ...counts(drawing.inserts.map((i) => `${[...i.blocks, i.block].join(' > ')}${attributesOf(i)}`)),
    'line types other than CONTINUOUS',
    ...counts(drawing.paths.map((p) => p.lineType).filter((name) => name.toUpperCase() !== 'CONTINUOUS')),
    'widths',
    ...counts(drawing.paths.filter((p) => p.width > 0).map((p) => number(p.width))),
    'fills',
    ...counts(drawing.paths.flatMap((p) => (p.fill === null ? [] : [p.fill]))),
    'extrusions',
    ...counts(drawing.paths.filter((p) => p.extrusion !== 0).map((p) => number(p.extrusion))),
    'not linework',
    ...drawing.unreadOn.map((u) => `  ${String(u.count).padStart(5)}  ${u.layer} | ${u.entity}`),
    'findings',
    ...findings.map((f) => `  ${f.severity} ${f.code}: ${f.message}`),
    '',
  ].join('\n');

describe('what is read of the samples', () => {
  const test = itNeeds(SAMPLES.length > 0, SAMPLES_NEEDED);
  for (const file of SAMPLES.length > 0 ? SAMPLES : ['each sample']) {
    test(file, () => {
      const { drawing, findings } = read(sample(file));
      const text = described(drawing, findings);
      const golden = `${FOLDER}${file.replace(/\.dxf$/, '')}.txt`;
      if (process.env.UPDATE_GOLDEN === '1') {
        mkdirSync(FOLDER, { recursive: true });
        writeFileSync(golden, text);
      }
      expect(existsSync(golden), `no golden text for ${file}: UPDATE_GOLDEN=1 writes it`).toBe(true);
      expect(text).toBe(readFileSync(golden, 'utf8'));
    });
  }
});

describe('text and binary form of one sample', () => {
  itNeeds(SAMPLES.length > 0, SAMPLES_NEEDED)(
    'read the same but for handles and digits, which differ between the files',
    () => {
      // Numbers apart from everything else; the text file gives points of curves with six digits only.
      const plain = (file: string) => {
        const { paths, texts, dimensions, leaders, inserts, layers, unread, unreadOn } = read(sample(file)).drawing;
        const items = [...paths, ...texts, ...dimensions, ...leaders, ...inserts].map((item) => {
          const numbers: number[] = [];
          const words = JSON.stringify({ ...item, source: '' }, (_, v) =>
            typeof v === 'number' ? numbers.push(v) && 0 : v,
          );
          return { words, numbers };
        });
        return { items, rest: { layers, unread, unreadOn } };
      };
      const near = (a: readonly number[], b: readonly number[]): boolean =>
        a.every((n, i) => Math.abs(n - b[i]!) <= 1e-6 + 1e-5 * Math.abs(n));
      const text = plain('all_entities_r12_ascii.dxf');
      const binary = plain('all_entities_r12_binary.dxf');
      expect(text.rest).toEqual(binary.rest);
      expect(text.items.length).toBeGreaterThan(2000);
      const left = [...binary.items];
      const missing = text.items.filter((item) => {
        const at = left.findIndex((other) => other.words === item.words && near(item.numbers, other.numbers));
        if (at >= 0) left.splice(at, 1);
        return at < 0;
      });
      expect([missing, left]).toEqual([[], []]);
    },
  );
});
