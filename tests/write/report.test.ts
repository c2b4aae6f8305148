/** The report: well formed, self-contained, honest, the same for the same input, whatever names the drawing brings. */

import { createHash } from 'node:crypto';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { CAUTIONS } from '../../src/ground/cautions.js';
import type { FacePlan, Result } from '../../src/ground/vocabulary.js';
import { schedule } from '../../src/schedule/index.js';
import { elevationSvg, planSvg, pressureSvg, reportHtml } from '../../src/write/report/index.js';
import { SCRIPT } from '../../src/write/report/script.js';
import { exampleResult, sampleFinding } from '../support/exampleResult.js';
import { readMarkup } from './markupReader.js';
import { renamed } from './renamed.js';

const SEED = Number(process.env.FC_SEED ?? 7711);

const page = reportHtml(exampleResult);
const document = readMarkup(page);

const emptyPlan: FacePlan = {
  ...exampleResult.plan,
  walls: [],
  nodes: [],
  faces: [],
  vertices: [],
  runs: [],
  concrete: [],
};
const emptyLayout = {
  ...exampleResult.layout,
  pieces: [],
  ties: [],
  groups: [],
  tiers: [],
  ratings: [],
  pressure: [],
};
const emptyResult: Result = {
  ...exampleResult,
  plan: emptyPlan,
  layout: emptyLayout,
  schedule: schedule({ plan: emptyPlan, catalogue: exampleResult.catalogue, layout: emptyLayout }).value,
  findings: [sampleFinding('trace.no-wall', 'failure', 'input', null, '', 'No wall was found.')],
};

/** What must hold of every report. */
const holdsUp = (html: string): void => {
  const { tags, scripts } = readMarkup(html);
  expect(scripts).toEqual([SCRIPT]);
  const ids = tags.flatMap((t) => t.attributes.get('id') ?? []);
  expect(new Set(ids).size).toBe(ids.length);
  const links = tags.flatMap((t) => t.attributes.get('href') ?? []);
  expect(links.filter((l) => !l.startsWith('#') || !ids.includes(l.slice(1)))).toEqual([]);
  const labelled = tags.flatMap((t) => (t.attributes.get('aria-labelledby') ?? '').split(' ').filter((x) => x !== ''));
  expect(labelled.filter((id) => !ids.includes(id))).toEqual([]);
  expect(
    tags.filter((t) => ['iframe', 'object', 'embed', 'form', 'base', 'link', 'img', 'image', 'use'].includes(t.name)),
  ).toEqual([]);
  for (const tag of tags) {
    for (const [name, value] of tag.attributes) {
      expect(name.startsWith('on'), `${tag.name} ${name}`).toBe(false);
      if (/^(fill|stroke)$/.test(name) && value.startsWith('url(')) expect(ids).toContain(value.slice(5, -1));
    }
  }
};

describe('the check sheet', () => {
  const sheet = page.slice(page.indexOf('<section id="check-sheet"'), page.indexOf('<section id="loads"'));

  it('names the most used tie and the most pressed unit of each kind, and every assumption', () => {
    const { ties, ratings, pieces } = exampleResult.layout;
    const most = Math.max(...ties.map((t) => t.loadKn / t.workingLoadKn));
    const tie = ties.find((t) => t.loadKn / t.workingLoadKn === most)!;
    expect(sheet).toContain(`<td>${tie.id}</td>`);
    const kinds = new Set(ratings.map((r) => pieces.find((p) => p.id === r.piece)!.kind));
    expect(sheet.split('<td>T11</td>').length - 1).toBe(1 + kinds.size);
    const assumed = exampleResult.findings.filter((f) => f.assumed !== null);
    expect(assumed.length).toBeGreaterThan(0);
    expect(sheet.split('#finding-').length - 1).toBe(assumed.length);
    expect(sheet).toContain(exampleResult.source.sha256.slice(0, 32));
  });
});

describe('page', () => {
  it('is well formed, links only to itself, runs one script of its own', () => holdsUp(page));

  it('is well formed when there is nothing to show, and says so', () => {
    const html = reportHtml(emptyResult);
    holdsUp(html);
    expect(html).toContain('No wall was found.');
    expect(html).toContain('There is no concrete and no form to draw.');
  });

  it('forbids everything but its own style and its one script, by digest', () => {
    const policy = document.tags.find((t) => t.attributes.get('http-equiv') === 'Content-Security-Policy')!;
    const content = policy.attributes.get('content');
    expect(content).toContain("default-src 'none'");
    const digest = createHash('sha256').update(SCRIPT).digest('base64');
    expect(content).toContain(`script-src 'sha256-${digest}';`);
    // Whatever reaches out, keeps something or builds markup of text would need a word of these.
    expect(SCRIPT).not.toMatch(/fetch|XMLHttp|WebSocket|import|eval|innerHTML|localStorage|cookie|new Function|Beacon/);
    expect(page.replaceAll('http://www.w3.org/2000/svg', '')).not.toMatch(/https?:|\/\/[a-z]/);
    expect(page).not.toMatch(/@import|url\((?!#)/);
  });

  it('has a language, one main heading, headings in order and column heads with scope', () => {
    expect(document.tags.find((t) => t.name === 'html')!.attributes.get('lang')).toBe('en');
    const levels = document.tags.filter((t) => /^h[1-6]$/.test(t.name)).map((t) => Number(t.name.slice(1)));
    expect(levels.filter((l) => l === 1)).toHaveLength(1);
    levels.forEach((level, i) => {
      expect(level).toBeLessThanOrEqual((levels[i - 1] ?? 0) + 1);
    });
    const heads = document.tags.filter((t) => t.name === 'th');
    expect(heads.length).toBeGreaterThan(50);
    expect(heads.filter((t) => !['row', 'col'].includes(t.attributes.get('scope') ?? ''))).toEqual([]);
    const tables = document.tags.filter((t) => t.name === 'table').length;
    expect(document.tags.filter((t) => t.name === 'caption')).toHaveLength(tables);
  });

  it('is the same for the same result, and leaves the result alone', () => {
    const before = JSON.stringify(exampleResult);
    expect(reportHtml(exampleResult)).toBe(page);
    expect(reportHtml(structuredClone(exampleResult))).toBe(page);
    expect(JSON.stringify(exampleResult)).toBe(before);
  });

  it('carries every caution and what was not checked', () => {
    for (const caution of CAUTIONS) expect(document.text).toContain(caution);
    for (const word of ['reinforcement', 'clamps', 'aligners', 'braces', 'platforms', 'soil', 'anchors'])
      expect(document.text.slice(document.text.indexOf('This program has not looked'))).toContain(word);
  });
});

describe('verdict', () => {
  it('tells failures in plain words before anything else', () => {
    const failure = exampleResult.findings[0]!.message;
    expect(document.text.indexOf(failure)).toBeGreaterThan(0);
    expect(document.text.indexOf(failure)).toBeLessThan(document.text.indexOf('Summary'));
    expect(document.text).toContain('Do not build from this layout as it stands: 1 failure.');
  });

  it('never calls a layout without failures approved', () => {
    const html = reportHtml({ ...exampleResult, findings: exampleResult.findings.slice(1) });
    expect(html).not.toContain('Do not build');
    expect(html).toContain('A competent person must check and approve it');
    expect(html).toContain('1 finding needs a person');
  });

  it('tells ten failures and the number of the others, all of them in the table', () => {
    const many = Array.from({ length: 25 }, (_, i) =>
      sampleFinding('fit.gap', 'failure', 'T1', [0, 0, 0], 'W1', `Gap number ${i} of many.`),
    );
    const html = reportHtml({ ...exampleResult, findings: many });
    holdsUp(html);
    expect(html).toContain('And 15 more failures');
    for (const { message } of many) expect(html).toContain(message);
  });

  it('shows value, bound and proof of every tier', () => {
    for (const text of ['least, proven', 'nothing proven', 'not proven: the least may be lower by up to 0.0135'])
      expect(document.text).toContain(text);
  });
});

describe('names from outside', () => {
  const hostile = fc.oneof(
    fc.constantFrom(
      '<script>alert(1)</script>',
      '" onload="alert(1)',
      "' style='x",
      '</title></svg></style><img src=x onerror=alert(1)>',
      '&lt;&#60;&amp;',
      ']]>',
      '<!--',
      'a\u0000b\u001b[31m',
      '\u202egnp.exe',
      '\ud800',
      'javascript:alert(1)',
      'url(http://example.invalid/x)',
    ),
    fc.string({ unit: 'grapheme', maxLength: 30 }),
    fc.string({ unit: 'binary', maxLength: 30 }),
  );

  it('stay text, in the page and in each drawing', () => {
    fc.assert(
      fc.property(hostile, (text) => {
        const result = renamed(exampleResult, (name) => `${name}${text}`);
        const html = reportHtml(result);
        holdsUp(html);
        const { tags } = readMarkup(html);
        // The same elements of each kind as with harmless names, but for leaders of labels and word breaks.
        const kinds = (all: typeof tags) => [...new Set(all.map((t) => t.name))].filter((n) => n !== 'wbr').sort();
        expect(kinds(tags)).toEqual(kinds(document.tags));
        for (const svg of [planSvg(result), elevationSvg(result, result.plan.faces[0]!.id)]) readMarkup(svg);
      }),
      { seed: SEED, numRuns: 30 },
    );
  });

  it('can still be read', () => {
    const html = readMarkup(reportHtml(renamed(exampleResult, (name) => `${name}<b>&"'`)));
    for (const name of ['ell.dxf', 'W1', 'W1-left', 'EX-P600x2400', 'T37', 'P1', 'example yard'])
      expect(html.text).toContain(`${name}<b>&"'`);
    expect(html.text).toContain(`${exampleResult.findings[0]!.message}<b>&"'`);
  });

  it('show signs that hide or turn text as a sign that something stood there', () => {
    const html = readMarkup(reportHtml(renamed(exampleResult, (name) => `${name}\u202e\u0007`)));
    expect(html.text).toContain('W1\ufffd\ufffd');
    for (const sign of ['\u202e', '\u0007']) expect(html.text).not.toContain(sign);
  });
});

describe('findings', () => {
  it('have a row each, with severity in words, and a triangle that links there and back', () => {
    exampleResult.findings.forEach((finding, i) => {
      const row = document.tags.filter((t) => t.attributes.get('id') === `finding-${i + 1}`);
      expect(row).toHaveLength(1);
      const marks = document.tags.filter((t) => t.attributes.get('id') === `mark-${i + 1}`);
      expect(marks).toHaveLength(finding.at === null ? 0 : 1);
      expect(document.tags.some((t) => t.attributes.get('href') === `#mark-${i + 1}`)).toBe(finding.at !== null);
    });
    for (const word of ['✖ failure', '⚠ attention', 'ℹ note']) expect(document.text).toContain(word);
  });

  it('give their place in the drawing’s own unit', () => {
    const inFeet: Result = { ...exampleResult, source: { ...exampleResult.source, lengthUnit: 'ft' } };
    // 1500 mm are 4.921 ft.
    expect(readMarkup(reportHtml(inFeet)).text).toContain('0, 4.921 ft, level 625 mm');
  });

  it('far away do not stretch the plan, and stay in the table', () => {
    const far = sampleFinding('read.far', 'note', 'input', [4e9, -4e9, 0], '', 'Something lies far away.');
    const result = { ...exampleResult, findings: [...exampleResult.findings, far] };
    const viewBox = (svg: string) => /viewBox="([^"]*)"/.exec(svg)![1];
    expect(viewBox(planSvg(result))).toBe(viewBox(planSvg(exampleResult)));
    expect(reportHtml(result)).toContain('Something lies far away.');
  });

  it('at one place, a thousand of them, do not take long', () => {
    const many = Array.from({ length: 1000 }, (_, i) =>
      sampleFinding('fit.gap', 'note', 'T1', [500, 0, 0], 'W1', `Number ${i}.`),
    );
    const begun = process.hrtime.bigint();
    holdsUp(reportHtml({ ...exampleResult, findings: many }));
    expect(Number(process.hrtime.bigint() - begun) / 1e9).toBeLessThan(20);
  });
});

describe('drawings', () => {
  const drawings = (result: Result): readonly string[] => [
    planSvg(result),
    ...result.plan.faces.filter((f) => f.side === 'left' || f.side === 'right').map((f) => elevationSvg(result, f.id)),
    ...result.layout.pressure.map((p) => pressureSvg(p, 'p', result.catalogue.lengthUnit)),
  ];

  it('have a name and a description, and no number that is none', () => {
    for (const svg of drawings(exampleResult)) {
      const { tags } = readMarkup(svg);
      expect(tags.filter((t) => t.name === 'desc')).toHaveLength(1);
      expect(tags[1]!.name).toBe('title');
      expect(svg).not.toMatch(/NaN|Infinity|undefined|\[object/);
      for (const tag of tags) {
        for (const name of ['x', 'y', 'cx', 'cy', 'r', 'width', 'height', 'font-size', 'stroke-width'])
          if (tag.attributes.has(name)) expect(tag.attributes.get(name)).toMatch(/^-?\d+(\.\d+)?$/);
        const d = tag.attributes.get('d');
        if (d !== undefined) expect(d).toMatch(/^([MLHV]?-?\d+(\.\d+)?( |(?=[MLHVZ])|$)|Z)*$/);
      }
    }
  });

  it('are the same wherever the site lies', () => {
    const moved = structuredClone(exampleResult) as unknown as { plan: { walls: object[] } };
    const shift = (value: unknown): void => {
      if (typeof value !== 'object' || value === null) return;
      const point = value as { x?: number; y?: number };
      if (typeof point.x === 'number' && typeof point.y === 'number') {
        point.x += 500_000_000;
        point.y += 4_000_000_000;
      }
      for (const inner of Object.values(value)) shift(inner);
    };
    shift(moved.plan);
    const result = { ...(moved as unknown as Result), findings: [] };
    expect(planSvg(result)).toBe(planSvg({ ...exampleResult, findings: [] }));
  });

  it('throw for a number that is none, since a renderer would drop the shape without a word', () => {
    const broken = structuredClone(exampleResult) as Result;
    (broken.plan.concrete[0]![0] as { x: number }).x = Number.NaN;
    expect(() => planSvg(broken)).toThrow();
  });
});
