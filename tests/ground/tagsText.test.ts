/** Text of values: code pages, escapes, formatting. */

import { spawnSync } from 'node:child_process';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { codingOf } from '../../src/ground/tags/coding.js';
import { decodeText, encodeText, parseTags, plainMText, plainText } from '../../src/ground/tags.js';
import { itNeeds, r12 } from '../read/samples.js';

const seed = { seed: Number(process.env.FC_SEED ?? 20240501) };
const python = spawnSync('python3', ['-c', '']).status === 0;

/** $DWGCODEPAGE value → Python's codec. */
const PAGES: Readonly<Record<string, string>> = {
  ANSI_1250: 'cp1250',
  ANSI_1251: 'cp1251',
  ANSI_1252: 'cp1252',
  ANSI_1253: 'cp1253',
  ANSI_1254: 'cp1254',
  ANSI_1255: 'cp1255',
  ANSI_1256: 'cp1256',
  ANSI_1257: 'cp1257',
  ANSI_1258: 'cp1258',
  ANSI_874: 'cp874',
  ansi_1252: 'cp1252',
  dos437: 'cp437',
  dos737: 'cp737',
  dos775: 'cp775',
  dos850: 'cp850',
  dos852: 'cp852',
  dos855: 'cp855',
  dos857: 'cp857',
  dos860: 'cp860',
  dos861: 'cp861',
  dos862: 'cp862',
  dos863: 'cp863',
  dos864: 'cp864',
  dos865: 'cp865',
  dos866: 'cp866',
  dos869: 'cp869',
  'iso8859-1': 'cp1252',
  'iso8859-2': 'iso8859-2',
  'iso8859-5': 'iso8859-5',
  'iso8859-9': 'cp1254',
  'mac-roman': 'mac-roman',
};

describe('code pages as Python decodes them', () => {
  itNeeds(python, 'python3')('every byte of every single-byte page', () => {
    const program = `import json,sys
print(json.dumps({c: [bytes([b]).decode(c, "replace") for b in range(128, 256)] for c in json.loads(sys.argv[1])}))`;
    const run = spawnSync('python3', ['-c', program, JSON.stringify(Object.values(PAGES))], { encoding: 'utf8' });
    const theirs = JSON.parse(run.stdout) as Record<string, string[]>;
    for (const [page, codec] of Object.entries(PAGES)) {
      const { coding, known } = codingOf(page);
      expect(known, page).toBe(true);
      theirs[codec]!.forEach((c, i) => {
        // Bytes that a page leaves undefined: readers differ, and no text has them.
        if (c === '\ufffd' || /[\u0080-\u009f\uf8f0-\uf8ff]/.test(c)) return;
        expect(decodeText(coding, String.fromCharCode(128 + i)), `${page} byte ${128 + i}`).toBe(c);
      });
    }
  });

  itNeeds(python, 'python3')('words in pages of several bytes', () => {
    const words = {
      ANSI_932: ['cp932', '基礎コンクリート'],
      ANSI_936: ['gbk', '基础墙'],
      ANSI_949: ['cp949', '기초벽'],
      ANSI_950: ['cp950', '基礎牆'],
    };
    for (const [page, [codec, word]] of Object.entries(words)) {
      const program = 'import sys; print(sys.argv[1].encode(sys.argv[2]).hex())';
      const hex = spawnSync('python3', ['-c', program, word!, codec!], { encoding: 'utf8' }).stdout.trim();
      const raw = hex.replace(/../g, (b) => String.fromCharCode(Number.parseInt(b, 16)));
      expect(decodeText(codingOf(page).coding, raw)).toBe(word);
    }
  });

  it('an unknown page is read as Western and said', () => {
    expect(codingOf('klingon')).toEqual({ coding: { label: 'cp1252' }, known: false });
    const text = r12(['0 TEXT', '1 W\xe4nde'], [], ['9 $DWGCODEPAGE', '3 klingon']);
    const result = parseTags(Uint8Array.from(text, (c) => c.charCodeAt(0)));
    expect(result.findings.map((f) => f.code)).toEqual(['read.code-page-unknown']);
  });

  it('without a page, texts that are all UTF-8 are taken as that', () => {
    const coding = (text: string): string | false => {
      const result = parseTags(Uint8Array.from(r12(['0 TEXT', `1 ${text}`]), (c) => c.charCodeAt(0)));
      return result.ok && result.value.coding.label;
    };
    expect(coding('W\xc3\xa4nde')).toBe('utf8');
    expect(coding('W\xe4nde')).toBe('cp1252');
    expect(coding('plain')).toBe('cp1252');
  });
});

describe('escapes for characters', () => {
  const utf8 = { label: 'utf8' };

  it('\\U+XXXX and \\M+nXXXX', () => {
    expect(decodeText(utf8, 'a\\U+2300b\\U+00b0')).toBe('a⌀b°');
    // 0x8140 is the ideographic space of code page 932, 0xB0A1 the first hangul syllable of 949.
    expect(decodeText({ label: 'cp1252' }, '\\M+18140\\M+3B0A1')).toBe('\u3000가');
    expect(decodeText(utf8, '\\U+12 \\M+9FFFF')).toBe('\\U+12 \\M+9FFFF');
  });

  it('a string that is no UTF-8 is read as Western', () => {
    expect(decodeText(utf8, 'W\xe4nde')).toBe('Wände');
  });

  it('our text: escapes before R2007, UTF-8 from then on', () => {
    expect(encodeText({ version: 'AC1018' }, '⌀ 12°')).toBe('\\U+2300 12\\U+00B0');
    expect(encodeText({ version: 'AC1021' }, '⌀')).toBe('\xe2\x8c\x80');
    expect(encodeText({ version: 'AC1009' }, '𝕏')).toBe('\\U+D835\\U+DD4F');
  });

  it('no text of ours has a line end in it, and all of it comes back', () => {
    fc.assert(
      fc.property(
        fc.string({ unit: 'binary' }),
        fc.constantFrom('AC1009', 'AC1018', 'AC1021', 'AC1032'),
        (text, version) => {
          // Other control characters are dropped when read, and % and \\ begin escapes.
          fc.pre(!/[%\\]/.test(text) && !/[^\P{Cc}\n\t]/u.test(text));
          const raw = encodeText({ version }, text);
          expect(raw).not.toMatch(/[\n\r]/);
          expect(plainText(decodeText({ label: version >= 'AC1021' ? 'utf8' : 'cp1252' }, raw))).toBe(text);
        },
      ),
      seed,
    );
  });
});

describe('what a person sees', () => {
  it('control codes of TEXT', () => {
    expect(plainText('%%c12 45%%d %%p3 100%%% %%utop%%u %%065')).toBe('⌀12 45° ±3 100% top A');
    expect(plainText('a^Jb^Ic^ d 50%')).toBe('a\nb\tc^d 50%');
  });

  // Inputs as CAD programs write them; the formatting codes are those of the DXF reference, 'MTEXT'.
  const cases: readonly (readonly [string, string])[] = [
    ['{\\fArial|b0|i0|c0|p34;Wall} \\H2.5x;200\\~mm', 'Wall 200 mm'],
    ['\\A1;3\'-1"', '3\'-1"'],
    ['top\\Pbottom', 'top\nbottom'],
    ['\\A1;4\'-0 \\S1/4;"', '4\'-0 1/4"'],
    ['\\A1;4\'-0\\S1#4;"', '4\'-0 1/4"'],
    ['\\S+0.1^-0.2;', '+0.1 -0.2'],
    ['\\C1;red \\Lunder\\l \\Oover\\o', 'red under over'],
    ['back\\\\slash \\{brace\\}', 'back\\slash {brace}'],
    ['\\pxi-3,l3,t3;1.^Ifirst', '1.\tfirst'],
    ['\\W0.8;\\T1.2;\\Q15;narrow', 'narrow'],
    ['%%c16', '⌀16'],
    ['ends in \\', 'ends in '],
    ['\\fno end', ''],
  ];
  for (const [source, seen] of cases) {
    it(`MTEXT ${JSON.stringify(source)}`, () => {
      expect(plainMText(source)).toBe(seen);
    });
  }
});
