import { describe, expect, it } from 'vitest';
import { plainOf, wrapped } from '../../../src/write/dxf/mtextLines.js';

describe('a multiline text', () => {
  it.each([
    ['{\\Farchquik.shx|c0;SHEAR PANELS, 3/8" OSB}', 'SHEAR PANELS, 3/8" OSB'],
    ['TOP\\PBOTTOM', 'TOP\nBOTTOM'],
    ['\\A1;{\\H0.7x;\\S1/2;} in \\LUNDER\\l %%c12 \\U+00B0', '1/2 in UNDER x12 x'],
    ['brace \\{ and \\\\', 'brace { and \\'],
    ['\\pxqc;CENTRED', 'CENTRED'],
  ])('%s shows %s', (coded, plain) => expect(plainOf(coded)).toBe(plain));

  it('is broken between words where it is wider than it may be, a word alone never', () => {
    expect(wrapped('FROM TOP PLATE TO BOTTOM PLATE', 10)).toEqual({ lines: 4, longest: 8 });
    expect(wrapped('REINFORCEMENT', 5)).toEqual({ lines: 1, longest: 13 });
    expect(wrapped('FROM TOP PLATE\\PTO BOTTOM', 0)).toEqual({ lines: 2, longest: 14 });
    expect(wrapped('', 8)).toEqual({ lines: 1, longest: 0 });
  });
});
