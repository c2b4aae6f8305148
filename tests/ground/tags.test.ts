/** Tags in, the same tags out. */

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  firstTag,
  handleOf,
  headerRange,
  highestHandle,
  integerOf,
  nameOf,
  numberOf,
  parseTags,
  restated,
  serializeTags,
  structureOf,
  type Tag,
  type TagDocument,
  xdataOf,
} from '../../src/ground/tags.js';
import { dxf, itWithSamples, r12, SAMPLES, sample } from '../read/samples.js';

const seed = { seed: Number(process.env.FC_SEED ?? 20240501) };

const bytesOf = (text: string): Uint8Array => Uint8Array.from(text, (c) => c.charCodeAt(0));
const textOf = (bytes: Uint8Array): string => Array.from(bytes, (b) => String.fromCharCode(b)).join('');

const parsed = (text: string): TagDocument => {
  const result = parseTags(bytesOf(text));
  if (!result.ok) throw new Error(result.findings.map((f) => f.message).join(' '));
  return result.value;
};

const refusal = (bytes: Uint8Array): string => {
  const result = parseTags(bytes);
  if (result.ok) throw new Error('was not refused');
  return result.findings[result.findings.length - 1]!.message;
};

const PLAIN = r12(['0 LINE', '8 0', '10 1.5', '20 2', '11 3', '21 -4.25']);

describe('text form goes back byte for byte', () => {
  itWithSamples('every sample drawing', () => {
    expect(SAMPLES.length).toBeGreaterThan(10);
    for (const file of SAMPLES) {
      const bytes = sample(file);
      const result = parseTags(bytes);
      expect(result.ok, file).toBe(true);
      if (!result.ok) continue;
      expect(result.findings, file).toEqual([]);
      expect(Buffer.compare(serializeTags(result.value), bytes), file).toBe(0);
    }
  });

  const cases: Record<string, string> = {
    'line feeds': PLAIN,
    'carriage returns and line feeds': PLAIN.replaceAll('\n', '\r\n'),
    'both mixed': PLAIN.replace('SECTION\n', 'SECTION\r\n').replace('LINE\n', 'LINE\r\n'),
    'unpadded codes': PLAIN.replaceAll(/^ +(\d+)$/gm, '$1'),
    'blanks round codes': PLAIN.replace('  8\n', '  8  \n').replace(' 20\n', '\t20\n'),
    'blanks round values': PLAIN.replace('\nLINE\n', '\n LINE \n').replace('1.5', '   1.5 '),
    comments: `999\nmade by hand\n${PLAIN.replace('  8\n0\n', '999\nin between\n  8\n0\n')}`,
    'a byte order mark': `\xef\xbb\xbf${PLAIN}`,
    'blank lines before it': `\n\n${PLAIN}`,
    'something after the end': `${PLAIN}\n\x1a\n`,
    'no line end at the end': PLAIN.slice(0, -1),
    'bytes above 127 and empty values': PLAIN.replace('  8\n0\n', '  8\nW\xe4nde\n  1\n\n'),
    'a carriage return within a value': PLAIN.replace('  8\n0\n', '  8\na\rb\n'),
  };
  for (const [name, text] of Object.entries(cases)) {
    it(name, () => {
      expect(textOf(serializeTags(parsed(text)))).toBe(text);
    });
  }

  it('any values without line ends', () => {
    const value = fc.string({ unit: fc.integer({ min: 0, max: 255 }).map((n) => String.fromCharCode(n)) });
    const tag = fc.record({
      code: fc.integer({ min: 1, max: 1071 }),
      value: value.map((v) => v.replaceAll('\n', '').replace(/\r+$/, '')),
    });
    fc.assert(
      fc.property(fc.array(tag), fc.constantFrom('\n', '\r\n'), (tags, end) => {
        const all: Tag[] = [
          { code: 0, value: 'SECTION' },
          { code: 2, value: 'ENTITIES' },
          ...tags,
          { code: 0, value: 'ENDSEC' },
          { code: 0, value: 'EOF' },
        ];
        const text = all.map((t) => `${String(t.code).padStart(3)}${end}${t.value}${end}`).join('');
        const document = parsed(text);
        expect(document.tags.map(({ code, value }) => ({ code, value }))).toEqual(all);
        expect(textOf(serializeTags(document))).toBe(text);
      }),
      seed,
    );
  });

  it('a tag that was changed is written in the usual form', () => {
    const document = parsed(PLAIN.replace(' 20\n', '20 \n'));
    const tags = document.tags.map((tag) => (tag.code === 20 ? { ...tag, value: '7' } : tag));
    expect(textOf(serializeTags({ ...document, tags }))).toBe(PLAIN.replace(' 20\n2\n', ' 20\n7\n'));
  });

  it('a tag put after a last line without its end does not run into it', () => {
    const document = parsed(PLAIN.slice(0, -1));
    const tags = [...document.tags, { code: 999, value: 'x' }];
    expect(textOf(serializeTags({ ...document, tags }))).toBe(`${PLAIN}999\nx\n`);
  });

  it('text that would become a tag, or was not encoded, is our own bug', () => {
    const document = parsed(PLAIN);
    const having = (value: string): TagDocument => ({ ...document, tags: [{ code: 1, value }] });
    expect(() => serializeTags(having('a\n  0\nEOF'))).toThrow('would become a tag');
    expect(() => serializeTags(having('\u2300'))).toThrow('not encoded');
  });
});

/** The same tags in binary form. */
const binary = (text: string, codeBytes: 1 | 2): TagDocument => ({ ...parsed(text), form: 'binary', codeBytes });

describe('binary form', () => {
  const text = r12([
    '0 LINE',
    '5 1F',
    '8 W\xe4nde',
    '62 -3',
    '90 70000',
    '160 -9007199254740993',
    '290 1',
    '310 00FF10',
    '10 0.1',
    '20 -0',
    '11 1e+300',
    '21 5e-324',
    '1001 APP',
    '1071 -5',
    '1004 AB',
  ]);
  for (const codeBytes of [1, 2] as const) {
    it(`${codeBytes} byte(s) a code: the same tags, and byte for byte back`, () => {
      const bytes = serializeTags(binary(text, codeBytes));
      const result = parseTags(bytes);
      expect(result.ok && result.findings).toEqual([]);
      if (!result.ok) return;
      expect(result.value.form).toBe('binary');
      expect(result.value.codeBytes).toBe(codeBytes);
      expect(result.value.tags).toEqual(parsed(text).tags);
      expect(serializeTags(result.value)).toEqual(bytes);
    });
  }

  it('a first comment does not hide the width', () => {
    for (const codeBytes of [1, 2] as const) {
      const bytes = serializeTags(binary(`999\nx\n${text}`, codeBytes));
      const result = parseTags(bytes);
      expect(result.ok && result.value.codeBytes).toBe(codeBytes);
    }
  });

  it('every finite double comes back as itself', () => {
    fc.assert(
      fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), (n) => {
        const value = Object.is(n, -0) ? '-0' : String(n);
        const bytes = serializeTags(binary(r12(['0 POINT', `10 ${value}`]), 2));
        const result = parseTags(bytes);
        const tag = result.ok ? result.value.tags.find((t) => t.code === 10) : undefined;
        expect(Object.is(Number(tag?.value), n)).toBe(true);
      }),
      seed,
    );
  });

  it('a number that its group cannot hold is our own bug', () => {
    expect(() => serializeTags(binary(r12(['0 POINT', '70 70000']), 2))).toThrow('cannot hold');
  });

  it('cut anywhere, it is read up to there or refused, never more', () => {
    const bytes = serializeTags(binary(text, 1));
    const whole = parseTags(bytes);
    if (!whole.ok) throw new Error('unread');
    for (let n = 0; n < bytes.length; n++) {
      const result = parseTags(bytes.slice(0, n));
      if (!result.ok) continue;
      expect(result.value.tags).toEqual(whole.value.tags.slice(0, result.value.tags.length));
      expect(result.value.tags.length).toBeLessThan(whole.value.tags.length);
    }
  });
});

describe('what is no DXF is refused with one sentence', () => {
  const cases: Record<string, [string, RegExp]> = {
    empty: ['', /empty/],
    DWG: ['AC1032\0\0\0\0', /DWG.*save it as DXF/],
    'old DWG': ['AC1.50\0', /DWG/],
    ZIP: ['PK\x03\x04xx', /ZIP/],
    PDF: ['%PDF-1.7', /PDF/],
    IFC: ['ISO-10303-21;', /IFC/],
    'UTF-16': ['\xff\xfe0\0\n\0', /UTF-16/],
    PNG: ['\x89PNG\r\n', /PNG/],
    markup: ['<html>', /markup/],
    prose: ['Once upon a time\nthere was\n', /does not begin with a section/],
    numbers: ['1\n2\n3\n4\n', /does not begin with a section/],
    'bytes of all kinds': [String.fromCharCode(...Array.from({ length: 256 }, (_, i) => i)), /not a DXF/],
    'binary mark alone': ['AutoCAD Binary DXF\r\n\x1a\0', /no section/],
  };
  for (const [name, [text, sentence]] of Object.entries(cases)) {
    it(name, () => {
      expect(refusal(bytesOf(text))).toMatch(sentence);
    });
  }

  it('too large, by bytes and by tags', () => {
    const bytes = bytesOf(PLAIN);
    for (const limits of [{ bytes: 10 }, { tags: 5 }]) expect(parseTags(bytes, limits).ok).toBe(false);
    expect(parseTags(bytes, { bytes: bytes.length, tags: 100 }).ok).toBe(true);
  });
});

describe('lines that are no tags', () => {
  const findingsOf = (text: string) => {
    const result = parseTags(bytesOf(text));
    if (!result.ok) throw new Error('refused');
    return { codes: result.findings.map((f) => f.code), document: result.value, findings: result.findings };
  };

  it('blank lines between tags are left out and said', () => {
    const { codes, document } = findingsOf(PLAIN.replace('  8\n', '\n\n  8\n'));
    expect(codes).toEqual(['read.blank-lines']);
    expect(document.tags).toEqual(parsed(PLAIN).tags);
  });

  it('a broken stretch is left out up to the next record, and its line is named', () => {
    const two = r12(['0 LINE', '10 1', '0 CIRCLE', '40 2']);
    const { codes, document, findings } = findingsOf(two.replace(' 10\n1\n', ' 10\n1\nnonsense\n'));
    expect(codes).toEqual(['read.broken-lines']);
    expect(document.tags).toEqual(parsed(two).tags);
    const line = two.split('\n').indexOf(' 10') + 3;
    expect(findings[0]!.message).toContain(`1 line(s) from line ${line} `);
  });

  it('a code without a value at the end is a cut', () => {
    expect(findingsOf(PLAIN.slice(0, PLAIN.indexOf('-4.25'))).codes).toEqual(['read.cut']);
  });

  it('bare carriage returns become line feeds', () => {
    const { codes, document } = findingsOf(PLAIN.replaceAll('\n', '\r'));
    expect(codes).toEqual(['read.line-ends']);
    expect(document.tags).toEqual(parsed(PLAIN).tags);
  });
});

describe('numbers are numbers', () => {
  it('reads decimals with blanks round them', () => {
    expect([' 1.5 ', '-2', '+.5', '3.', '1e3', '1.0E-2'].map(numberOf)).toEqual([1.5, -2, 0.5, 3, 1000, 0.01]);
  });

  it('refuses everything else', () => {
    const others = ['', ' ', 'NaN', 'Infinity', '-inf', '1e999', '0x10', '1,5', '1 2', '--1', '1.5mm', undefined];
    expect(others.map(numberOf)).toEqual(others.map(() => null));
    expect(['1.0', ' 7', '1.5', '1e20'].map(integerOf)).toEqual([1, 7, null, null]);
  });

  it('a count keeps the manner of the one before', () => {
    expect([restated('     9', 10), restated('9', 10), restated('    10', 9), restated('10', 9)]).toEqual([
      '    10',
      '10',
      '     9',
      '9',
    ]);
  });
});

describe('records over the tags', () => {
  const text = dxf([
    '0 SECTION',
    '2 HEADER',
    '9 $ACADVER',
    '1 AC1015',
    '9 $HANDSEED',
    '5 FFFF',
    '9 $EXTMIN',
    '10 1',
    '20 2',
    '30 3',
    '0 ENDSEC',
    '0 SECTION',
    '2 TABLES',
    '0 TABLE',
    '2 DIMSTYLE',
    '5 A',
    '70 1',
    '0 DIMSTYLE',
    '105 0b',
    '330 A',
    '2 Standard',
    '5 99',
    '0 ENDTAB',
    '0 ENDSEC',
    '0 SECTION',
    '2 BLOCKS',
    '0 BLOCK',
    '5 20',
    '102 {ACAD_REACTORS',
    '330 77',
    '5 78',
    '102 }',
    '330 1F',
    '2 Tor',
    '0 LINE',
    '5 21',
    '0 ENDBLK',
    '5 22',
    '0 ENDSEC',
    '0 SECTION',
    '2 ENTITIES',
    '0 TEXT',
    '5 30',
    '330 1F',
    '1 hello',
    '1001 OTHER',
    '5 31',
    '1001 shutterwright',
    '1000 PIECE',
    '1070 1',
    '1001 THIRD',
    '0 ENDSEC',
    '0 EOF',
  ]);
  const document = parsed(text);
  const structure = structureOf(document);

  it('sections, tables, blocks, entities', () => {
    expect(structure.sections.map((s) => [s.name, s.closed])).toEqual([
      ['HEADER', true],
      ['TABLES', true],
      ['BLOCKS', true],
      ['ENTITIES', true],
    ]);
    expect(structure.tables.map((t) => [t.name, t.head.handle, t.entries.length, t.closed])).toEqual([
      ['DIMSTYLE', 'A', 1, true],
    ]);
    expect(document.tags[structure.tables[0]!.bodyEnd]!.value).toBe('ENDTAB');
    expect(structure.blocks.map((b) => [b.name, b.entities.map((e) => e.type), b.tail?.handle])).toEqual([
      ['Tor', ['LINE'], '22'],
    ]);
    expect(structure.entities.map((e) => e.type)).toEqual(['TEXT']);
  });

  it('handles: 105 of a dimension style, owners outside of braces, none from XDATA', () => {
    const style = structure.tables[0]!.entries[0]!;
    expect([style.handle, style.owner, nameOf(document, style)]).toEqual(['B', 'A', 'Standard']);
    const block = structure.blocks[0]!.head;
    expect([block.handle, block.owner]).toEqual(['20', '1F']);
    expect(structure.entities[0]!.handle).toBe('30');
    expect([handleOf(' 00fE'), handleOf('0'), handleOf('xyz')]).toEqual(['FE', '0', null]);
  });

  it('values, XDATA, header variables', () => {
    const entity = structure.entities[0]!;
    expect(firstTag(document, entity, 1)?.value).toBe('hello');
    expect(firstTag(document, entity, 1070)).toBeUndefined();
    const mark = xdataOf(document, entity, 'SHUTTERWRIGHT')!;
    expect(document.tags.slice(...mark).map((t) => t.value)).toEqual(['shutterwright', 'PIECE', '1']);
    expect(xdataOf(document, entity, 'SHUTTER')).toBeNull();
    const range = headerRange(document, '$EXTMIN')!;
    expect(document.tags.slice(...range).map((t) => t.value)).toEqual(['1', '2', '3']);
    expect(headerRange(document, '$NONE')).toBeNull();
  });

  it('the highest handle is of a record, not the seed', () => {
    expect(highestHandle(document).toString(16)).toBe('99');
  });
});
