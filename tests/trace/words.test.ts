/** What names and texts say. */

import { describe, expect, it } from 'vitest';
import { layerKind, matchesPattern, withoutXref } from '../../src/trace/layers.js';
import { readLength } from '../../src/trace/lengthText.js';

describe('layer names', () => {
  // Names of the US National CAD Standard's form, as seen in public drawings, and words of other languages (common words, no source).
  it.each([
    ['S-FNDN', 'foundation'],
    ['S-FNDN-FTNG', 'footing'],
    ['S-FNDN-RBAR-BOT1', 'other'],
    ['S-FNDN-WALL', 'foundation-wall'],
    ['S-STEM-WALL', 'foundation-wall'],
    ['S-WALL', 'structural-wall'],
    ['S-WALL-BELW', 'structural-wall'],
    ['A-WALL', 'wall'],
    ['A-WALL-PATT', 'other'],
    ['S-SLAB-EDGE', 'other'],
    ['S-COLS', 'other'],
    ['S-GRID', 'other'],
    ['S-ANNO-DIMS', 'other'],
    ['A-GLAZ', 'other'],
    ['S-FOOTER', 'footing'],
    ['FTG', 'footing'],
    ['FOUND', 'foundation'],
    ['WALLS', 'wall'],
    ['A.Wall_Internal', 'wall'],
    ['xref-Bishop-Overland-08$0$S-STEM-WALL', 'foundation-wall'],
    ['house|A-WALL', 'wall'],
    ['BasementWalls', 'foundation-wall'],
    ['Wand', 'wall'],
    ['Kellerwand', 'foundation-wall'],
    ['Aussenwände', 'wall'],
    ['Fundament', 'foundation'],
    ['Fundamentplatte', 'footing'],
    ['MURS', 'wall'],
    ['Muro de sótano', 'foundation-wall'],
    ['Fondation', 'foundation'],
    ['Semelles', 'footing'],
    ['Стены', 'wall'],
    ['Фундамент', 'foundation'],
    ['墙', 'wall'],
    ['Doors & Windows', 'other'],
    ['Furniture', 'other'],
    ['Defpoints', 'other'],
    ['0', 'silent'],
    ['Layer1', 'silent'],
    ['По умолчанию', 'silent'],
  ])('%s is %s', (name, kind) => {
    expect(layerKind(name)).toBe(kind);
  });

  it('lose the prefix that a bound or attached reference leaves', () => {
    expect(withoutXref('plan$0$wand$1$A-WALL')).toBe('A-WALL');
    expect(withoutXref('plan|A-WALL')).toBe('A-WALL');
  });

  it.each([
    ['*wall*', 'xref$0$S-STEM-WALL', true],
    ['S-STEM-WALL', 'xref$0$S-STEM-WALL', true],
    ['s-????-wall', 'S-FNDN-WALL', true],
    ['wall', 'A-WALL', false],
    ['a.b', 'axb', false],
    ['*', '', true],
    ['*a*a*a*a*a*a*a*a*a*b', 'a'.repeat(3000), false],
  ])('pattern %s on %s: %s', (pattern, name, fits) => {
    expect(matchesPattern(pattern, name)).toBe(fits);
  });
});

describe('written lengths', () => {
  const mm = (text: string) => {
    const l = readLength(text);
    return l && l.unit === 'mm' ? l.values.map((v) => Math.round(v * 1000) / 1000) : l;
  };
  // The first four are forms seen in public drawings; the inch is 25.4 mm.
  it.each([
    ['7-5/8"', [193.675]],
    ['1\'-4"', [406.4]],
    ['3\'-0 1/2"', [927.1]],
    ['8"', [203.2]],
    ['8\'-4"', [2540]],
    ["12'", [3657.6]],
    ['58\'-0"', [17678.4]],
    ['6\'-101/2"', [2095.5]],
    ['31/2"', [88.9]],
    ['1/2"', [12.7]],
    ['115/16"', [(11 + 5 / 16) * 25.4, (1 + 15 / 16) * 25.4]],
    ['4’-6”', [1371.6]],
    ['10.5"', [266.7]],
    ['1200 mm', [1200]],
    ['1,25 m', [1250]],
    ['20cm', [200]],
  ])('%s', (text, values) => {
    const read = mm(text) as number[];
    expect(read.length).toBe(values.length);
    read.forEach((v, i) => {
      expect(v).toBeCloseTo(values[i]!, 2);
    });
  });

  it.each([
    ['0.15', 0.15],
    ['2400', 2400],
    ['14,40', 14.4],
    ['2.40 REF', 2.4],
  ])('%s is a bare number', (text, value) => {
    expect(readLength(text)).toEqual({ unit: 'bare', values: [value] });
  });

  it.each(['', 'TYP.', "5' x 8'1", '3068', 'R 25 x', '5/0"', '"', "'", `${'9'.repeat(60)}"`])(
    '%s is no inch length',
    (text) => {
      const l = readLength(text);
      expect(l === null || l.unit === 'bare').toBe(true);
    },
  );
});
