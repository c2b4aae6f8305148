/** The PDF of the report read by poppler (pdftotext, pdfinfo, pdffonts, pdfimages, pdftoppm), and pictures read by other programs. */

import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { CAUTIONS } from '../../src/ground/cautions.js';
import { finding } from '../../src/ground/findings.js';
import { paintKit, paperKit } from '../../src/jobs/paper.js';
import { loadPainter } from '../../src/write/report/painter.js';
import { reportPdf } from '../../src/write/report/pdf/index.js';
import { findAll, textOf, treeOf } from '../../src/write/report/pdf/tree.js';
import { pictures } from '../../src/write/report/pictures.js';
import { reportSections } from '../../src/write/report/sections.js';
import { itNeeds } from '../read/samples.js';
import { exampleResult } from '../support/exampleResult.js';
import { renamed } from './renamed.js';

const has = (program: string) => spawnSync(program, ['-v']).error === undefined;
const itWithPoppler = itNeeds(has('pdftotext') && has('pdfinfo'), 'poppler (pdftotext, pdfinfo)');

const folder = mkdtempSync(join(tmpdir(), 'paper-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const kit = await paperKit();
const pdf = reportPdf(exampleResult, kit);
const FILE = join(folder, 'a.pdf');
writeFileSync(FILE, pdf);

/** What a program says of a file; a word of complaint is a failure. */
const said = (program: string, ...args: readonly string[]): string => {
  const run = spawnSync(program, args, { encoding: 'utf8', maxBuffer: 1 << 28 });
  if (run.status !== 0 || run.stderr !== '') throw new Error(`${program}: ${run.stderr}`);
  return run.stdout;
};
const bare = (text: string): string => text.replace(/\s+/g, '');
const pagesOf = (file: string): readonly string[] => said('pdftotext', '-raw', file, '-').split('\f').slice(0, -1);

describe('the report on paper', () => {
  const parts = reportSections(exampleResult);
  const nodes = treeOf(parts.sections.map((s) => s.text).join(''));

  itWithPoppler('tells every heading, sentence, cell and fact of the page, word for word', () => {
    const text = bare(pagesOf(FILE).join(''));
    const told = ['h2', 'h3', 'p', 'li', 'caption', 'th', 'td', 'dt', 'dd'].flatMap((name) => findAll(nodes, name));
    expect(told.length).toBeGreaterThan(300);
    const lost = told.map((e) => bare(textOf(e.children))).filter((t) => !text.includes(t));
    expect(lost).toEqual([]);
  });

  itWithPoppler('has the texts of its drawings as text, its drawings as vectors and its fonts within', () => {
    const text = bare(pagesOf(FILE).join(''));
    const labels = findAll(findAll(nodes, 'svg'), 'text').map((e) => bare(textOf(e.children)));
    expect(labels.length).toBeGreaterThan(150);
    expect(labels.filter((label) => !text.includes(label))).toEqual([]);
    expect(said('pdfimages', '-list', FILE).trim().split('\n')).toHaveLength(2);
    const fonts = said('pdffonts', FILE).trim().split('\n').slice(2);
    expect(fonts).toHaveLength(2);
    for (const font of fonts) expect(font).toMatch(/DejaVuSans.*CID TrueType +Identity-H +yes yes yes/);
  });

  itWithPoppler(
    'says on every page what it is of, which page of how many, what is wrong, and what it replaces not',
    () => {
      const pages = pagesOf(FILE);
      expect(pages.length).toBeGreaterThan(5);
      pages.forEach((page, i) => {
        expect(page).toContain(parts.title);
        expect(page).toContain(`Page ${i + 1} of ${pages.length}`);
        expect(page).toContain('An aid to a competent person');
        expect(page).toContain('1 failure: do not build from this');
      });
      for (const caution of CAUTIONS) expect(bare(pages.at(-1)!)).toContain(bare(caution));
    },
  );

  itWithPoppler('is tagged, has bookmarks, and leads from a finding to its place and back', () => {
    const facts = said('pdfinfo', FILE);
    expect(facts).toMatch(/Tagged: +yes/);
    expect(facts).toMatch(/CreationDate: +Sat Jan {2}1 00:00:00 2000/);
    const tree = said('pdfinfo', '-struct', FILE);
    for (const tag of ['H1', 'H2', 'H3', 'Table', 'TR', 'TH', 'TD', 'Figure', 'L', 'LI', 'P']) {
      expect(tree, tag).toMatch(new RegExp(`^ *${tag}\\b`, 'm'));
    }
    const places = said('pdfinfo', '-dests', FILE);
    for (const id of ['finding-1', 'mark-1', 'plan', 'elevations', 'check-sheet', 'cautions']) {
      expect(places, id).toContain(`"${id}"`);
    }
    const raw = Buffer.from(pdf).toString('latin1');
    expect(raw).toMatch(/\/Title \(Findings\)/);
    expect(raw).toMatch(/\/Title \(Cautions\)/);
    for (const id of ['finding-1', 'mark-1']) expect(raw, id).toContain(`/D (${id})`);
  });

  itWithPoppler('leads to each of the findings that share a row', () => {
    const alike = ['W1', 'W2', 'W3'].map((w) =>
      finding('check.in-plane', `Wall ${w} is pulled.`, { at: [500, 100, 0] }),
    );
    const file = join(folder, 'alike.pdf');
    writeFileSync(file, reportPdf({ ...exampleResult, findings: alike }, kit));
    const places = said('pdfinfo', '-dests', file);
    for (const n of [1, 2, 3]) expect(places).toContain(`"finding-${n}"`);
    expect(bare(pagesOf(file).join(''))).toContain(bare('at 2 more:') + bare('2 ▲: W2') + bare('3 ▲: W3'));
  });

  itWithPoppler('is drawn without a word of complaint; wide sheets for drawings, others for inch gear', () => {
    said('pdftoppm', '-r', '18', '-gray', FILE, join(folder, 'page'));
    const sizes = said('pdfinfo', '-l', '99', FILE)
      .match(/size: +[\d.]+ x [\d.]+/g)!
      .map((s) => s.replace(/size: +/, ''));
    expect(new Set(sizes)).toEqual(new Set(['595.28 x 841.89', '841.89 x 595.28']));
    const inches = { ...exampleResult, catalogue: { ...exampleResult.catalogue, lengthUnit: 'in' as const } };
    const file = join(folder, 'in.pdf');
    writeFileSync(file, reportPdf(inches, kit));
    expect(said('pdfinfo', file)).toContain('612 x 792');
  });

  itWithPoppler('takes names from outside as text, however long or strange', () => {
    const name = `</text> & "q" (x) \\ ${'long'.repeat(40)} é漢\u0001`;
    const file = join(folder, 'hostile.pdf');
    writeFileSync(
      file,
      reportPdf(
        renamed(exampleResult, (own) => own + name),
        kit,
      ),
    );
    expect(bare(pagesOf(file).join(''))).toContain(`ell.dxf</text>&"q"(x)\\longlong`);
  });

  it('is the same for the same result', () => {
    expect(Buffer.compare(reportPdf(structuredClone(exampleResult), kit), pdf)).toBe(0);
  });

  it('refuses to leave out a shape that it does not know', () => {
    expect(() => treeOf('<p>a <b</p>')).toThrow();
    expect(() => treeOf('<p>a</div>')).toThrow();
  });
});

describe('pictures', () => {
  const all = pictures(exampleResult);

  it('are the plan and every elevation, each a document of its own', () => {
    expect(all.map((p) => p.name)).toEqual([
      'plan',
      'elevation-W1-left',
      'elevation-W1-right',
      'elevation-W2-left',
      'elevation-W2-right',
    ]);
    for (const { svg } of all) {
      expect(svg).toMatch(/^<\?xml[^>]*\?>\n<svg xmlns="http:\/\/www\.w3\.org\/2000\/svg"/);
      // Nothing is fetched: links lead within, hatches stand within.
      expect([...svg.matchAll(/(?:href|src)="(?!#)[^"]*"/g)]).toEqual([]);
      for (const [, id] of svg.matchAll(/url\(#([^)]+)\)/g)) expect(svg).toContain(`id="${id}"`);
    }
  });

  it('are painted with the font that is brought along, the same each time, two dots for a pixel', async () => {
    const paint = await loadPainter(await paintKit());
    const { svg } = all[1]!;
    const png = paint(svg);
    expect(Buffer.from(png.subarray(0, 8)).toString('latin1')).toBe('\x89PNG\r\n\x1a\n');
    const view = new DataView(png.buffer, png.byteOffset);
    const [, width, height] = / width="(\d+)" height="(\d+)"/.exec(svg)!;
    expect([view.getUint32(16), view.getUint32(20)]).toEqual([2 * Number(width), 2 * Number(height)]);
    expect(Buffer.compare(paint(svg), png)).toBe(0);
    const mute = paint(svg.replaceAll(/<text[^>]*>[^<]*<\/text>/g, ''));
    expect(png.length).toBeGreaterThan(mute.length * 1.2);
  });
});
