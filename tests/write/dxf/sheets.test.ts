/** Sheets in paper space: what stands on them, how they lie in a drawing, and that they are taken out again. */

import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { parseTags, type Tag } from '../../../src/ground/tags.js';
import { PROGRAM_VERSION } from '../../../src/ground/version.js';
import { textCorners } from '../../../src/write/dxf/bounds.js';
import { compose, NOTHING } from '../../../src/write/dxf/compose.js';
import { writeDxf } from '../../../src/write/dxf/index.js';
import { makeScene } from '../../../src/write/dxf/scene.js';
import { frameOfPaper } from '../../../src/write/dxf/sheets/paper.js';
import { r12, readText } from '../../read/samples.js';
import { elbow, straightWall } from './fixtures.js';

const written = (lines: readonly string[], sheets: boolean): Tag[] => {
  const result = writeDxf(straightWall(), readText(r12(lines)).drawing.document, { mode: 'merged', sheets });
  if (!result.ok) throw new Error(result.findings.map((f) => f.message).join(' '));
  const parsed = parseTags(result.value);
  if (!parsed.ok) throw new Error('not read back');
  return [...parsed.value.tags];
};

const LINE = ['0 LINE', '8 WALLS', '10 0.0', '20 0.0', '11 6000.0', '21 0.0'];

/** Records of ENTITIES as lists of tags. */
const records = (tags: readonly Tag[], type: string): Tag[][] => {
  const found: Tag[][] = [];
  tags.forEach((t, i) => {
    if (t.code !== 0 || t.value.trim() !== type) return;
    const end = tags.findIndex((u, k) => k > i && u.code === 0);
    found.push(tags.slice(i, end));
  });
  return found;
};

const numberIn = (record: readonly Tag[], code: number, nth = 0): number =>
  Number(record.filter((t) => t.code === code)[nth]!.value);

describe('in a drawing of R12, which has one paper space', () => {
  const tags = written(LINE, true);
  const viewports = records(tags, 'VIEWPORT');

  it('a viewport says its view as extended data, tag by tag as ezdxf 0.18 writes it', () => {
    // ezdxf.new('R12') with Paperspace.add_viewport(), saved: the group codes from its 1001 on.
    const codes =
      '1001 1000 1002 1070 1010 1020 1030 1010 1020 1030 1040 1040 1040 1040 1040 1040 1040 1070 1070 1070 1070 1070 1070 1070 1070 1040 1040 1040 1040 1040 1040 1040 1070 1002 1002 1002';
    expect(viewports.length).toBeGreaterThan(3);
    for (const record of viewports) {
      const data = record.slice(record.findIndex((t) => t.code === 1001));
      const own = data.findIndex((t) => t.value === 'SHUTTERWRIGHT');
      expect(
        data
          .slice(0, own)
          .map((t) => t.code)
          .join(' '),
      ).toBe(codes);
    }
  });

  it('numbers its viewports from 1, its own view, and shows the model at 1:25, finish views at 1:50 and lists at 1:35', () => {
    expect(viewports.map((v) => numberIn(v, 69))).toEqual(viewports.map((_, i) => i + 1));
    const scales = viewports.slice(1).map((v) => numberIn(v, 1040, 1) / numberIn(v, 41));
    expect(new Set(scales.map((s) => Math.round(s * 1e6) / 1e6))).toEqual(new Set([25, 35, 50]));
  });

  it('stands right of what the paper space holds already', () => {
    const own = ['0 LINE', '67 1', '8 0', '10 0.0', '20 0.0', '11 1234.0', '21 0.0'];
    const beside = records(written([...LINE, ...own], true), 'VIEWPORT').slice(1);
    for (const v of beside) expect(numberIn(v, 10) - numberIn(v, 40) / 2).toBeGreaterThan(1234);
    expect(beside.length).toBe(viewports.length - 1);
  });

  it('is left out where it is not wanted', () => {
    expect(written(LINE, false).some((t) => t.value === 'VIEWPORT')).toBe(false);
  });
});

describe('the title block', () => {
  it('says what made it: the version of package.json', () => {
    const { version } = JSON.parse(readFileSync(new URL('../../../package.json', import.meta.url), 'utf8'));
    expect(PROGRAM_VERSION).toBe(version);
    const result = writeDxf(elbow(), null, { mode: 'overlay' });
    if (!result.ok) throw new Error('refused');
    const text = Buffer.from(result.value).toString('latin1');
    expect(text).toContain(`shutterwright ${version}`);
    expect(text).toContain(`SHA-256 ${elbow().source.sha256.slice(0, 16)}`);
  });
});

describe('the strip beside the drawings', () => {
  it('holds every text within the frame: no word of the legend runs out of it', () => {
    const scene = makeScene(elbow(), 'AC1032', new Set());
    const { papers = [] } = compose(scene, NOTHING, true).sheet;
    expect(papers.length).toBeGreaterThan(3);
    for (const paper of papers) {
      const texts = paper.shapes.filter((s) => s.type === 'text');
      expect(texts.length).toBeGreaterThan(10);
      const { right } = frameOfPaper({ ...paper, name: '', halfName: '', media: '' });
      for (const t of texts) {
        const reach = Math.max(...textCorners(t.text, t).map((c) => c.x));
        expect(reach, `${paper.name}: ${t.text}`).toBeLessThanOrEqual(right + 1e-6);
      }
    }
  });
});
