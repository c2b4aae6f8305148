/** What this program once added is taken out, and nothing else. */

import { describe, expect, it } from 'vitest';
import {
  integerOf,
  parseTags,
  placeOf,
  restated,
  serializeTags,
  structureOf,
  type Tag,
  type TagDocument,
} from '../../src/ground/tags.js';
import { codes, itWithSamples, read, SAMPLES, sample } from './samples.js';

const MARK = ['1001 SHUTTERWRIGHT', '1000 PIECE'];

const tagsOf = (pairs: readonly string[]): Tag[] =>
  pairs.map((pair) => ({ code: Number(pair.split(' ', 1)[0]), value: pair.slice(pair.indexOf(' ') + 1) }));

/** Places → what is put in before the tag there. */
type Additions = Map<number, Tag[]>;

const putIn = (additions: Additions, at: number, pairs: readonly string[]): void => {
  additions.set(at, [...(additions.get(at) ?? []), ...tagsOf(pairs)]);
};

const ENTRY: Readonly<Record<string, readonly string[]>> = {
  APPID: ['0 APPID', '5 F001', '2 SHUTTERWRIGHT', '70 0'],
  LTYPE: ['0 LTYPE', '5 F006', '2 FORM-DASH', '70 0', '3 dashes', '72 65', '73 0', '40 0', ...MARK],
  LAYER: ['0 LAYER', '5 F002', '2 S-FORM-PANL', '70 0', '62 3', '6 FORM-DASH', ...MARK],
  STYLE: ['0 STYLE', '5 F003', '2 FORMS', '70 0', ...MARK],
  BLOCK_RECORD: ['0 BLOCK_RECORD', '5 F004', '2 SHUTTERWRIGHT-PANEL', '0 BLOCK_RECORD', '5 F005', '2 *D9901', ...MARK],
};

const BLOCKS = [
  '0 BLOCK', '5 F010', '8 0', '2 SHUTTERWRIGHT-PANEL', '70 2', '10 0', '20 0',
  '0 LINE', '5 F011', '8 0', '10 0', '20 0', '11 100', '21 0',
  '0 ATTDEF', '5 F012', '8 0', '10 0', '20 0', '40 10', '1 x', '2 PIECE', '70 0',
  '0 ENDBLK', '5 F013', '8 0',
  '0 BLOCK', '5 F014', '8 0', '2 *D9901', '70 1', '10 0', '20 0',
  '0 TEXT', '5 F015', '8 0', '10 0', '20 0', '40 10', '1 123',
  '0 ENDBLK', '5 F016', '8 0',
]; // biome-ignore format: one record a line

const ENTITIES = [
  '0 INSERT', '5 F020', '8 S-FORM-PANL', '66 1', '2 SHUTTERWRIGHT-PANEL', '10 5', '20 5', ...MARK,
  '0 ATTRIB', '5 F021', '8 S-FORM-PANL', '10 5', '20 5', '40 10', '1 P1', '2 PIECE', '70 0', ...MARK,
  '0 SEQEND', '5 F022', '8 S-FORM-PANL',
  '0 INSERT', '5 F023', '8 S-FORM-PANL', '2 shutterwright-panel', '10 9', '20 9',
  '0 DIMENSION', '5 F024', '8 S-FORM-DIMS', '2 *D9901', '70 1', '10 0', '20 0', '13 0', '23 0', '14 9', '24 0', ...MARK,
  '0 POLYLINE', '5 F025', '8 S-FORM-TIES', '66 1', '10 0', '20 0', '70 0', ...MARK,
  '0 VERTEX', '5 F026', '8 S-FORM-TIES', '10 1', '20 1',
  '0 VERTEX', '5 F027', '8 S-FORM-TIES', '10 2', '20 1',
  '0 SEQEND', '5 F028', '8 S-FORM-TIES',
  '0 LINE', '5 F029', '8 0', '10 0', '20 0', '11 1', '21 1', '1001 OTHER', '1000 theirs', ...MARK,
]; // biome-ignore format: one record a line

/** The document with an earlier layout of ours in it: entries, blocks, entities, references, raised counts. */
const withOurs = (document: TagDocument): TagDocument => {
  const structure = structureOf(document);
  const additions: Additions = new Map();
  const changed = new Map<number, Tag>();
  for (const table of structure.tables) {
    const entry = ENTRY[table.name];
    if (!entry) continue;
    putIn(additions, table.bodyEnd, entry);
    const at = placeOf(document, table.head, 70);
    const count = at < 0 ? null : integerOf(document.tags[at]!.value);
    const more = entry.filter((pair) => pair.startsWith('0 ')).length;
    if (count !== null) changed.set(at, { code: 70, value: restated(document.tags[at]!.value, count + more) });
  }
  for (const section of structure.sections) {
    if (section.name === 'BLOCKS') putIn(additions, section.bodyEnd, BLOCKS);
    if (section.name === 'ENTITIES') putIn(additions, section.bodyEnd, ENTITIES);
  }
  const line = structure.entities.find((e) => e.handle !== null && document.version > 'AC1009');
  if (line) putIn(additions, line.start + 2, ['102 {ACAD_REACTORS', '330 F020', '102 }']);
  const dictionary = structure.objects.find((o) => o.type === 'DICTIONARY');
  const objects = structure.sections.find((s) => s.name === 'OBJECTS');
  if (dictionary && objects) {
    putIn(additions, dictionary.end, ['3 FORMS', '350 F030']);
    putIn(additions, objects.bodyEnd, ['0 GROUP', '5 F030', ...MARK, '0 DICTIONARY', '5 F031', '330 F030']);
  }
  const tags = document.tags.flatMap((tag, at) => [...(additions.get(at) ?? []), changed.get(at) ?? tag]);
  return { ...document, tags };
};

describe('an earlier layout of ours', () => {
  itWithSamples('is gone without a trace, byte for byte, from every sample', () => {
    for (const file of SAMPLES) {
      const bytes = sample(file);
      const parsed = parseTags(bytes);
      if (!parsed.ok) throw new Error(file);
      const twice = serializeTags(withOurs(parsed.value));
      expect(twice.length).toBeGreaterThan(bytes.length);
      const before = read(bytes);
      const after = read(twice);
      expect(Buffer.compare(serializeTags(after.drawing.document), bytes), file).toBe(0);
      expect(codes(after.findings)).toEqual([...codes(before.findings), 'read.own-entities'].sort());
      expect({ ...after.drawing, document: null }).toEqual({ ...before.drawing, document: null });
    }
  });
});

describe('what others need stays', () => {
  const base = (entities: readonly string[], blocks: readonly string[] = BLOCKS): TagDocument => ({
    form: 'text',
    lineEnd: '\n',
    version: 'AC1015',
    coding: { label: 'cp1252' },
    tags: tagsOf([
      '0 SECTION', '2 HEADER', '9 $ACADVER', '1 AC1015', '0 ENDSEC',
      '0 SECTION', '2 TABLES', '0 TABLE', '2 LAYER', '70 2', '0 LAYER', '2 WALLS', ...ENTRY.LAYER!, '0 ENDTAB',
      '0 TABLE', '2 APPID', '70 1', ...ENTRY.APPID!, '0 ENDTAB', '0 ENDSEC',
      '0 SECTION', '2 BLOCKS', ...blocks, '0 ENDSEC',
      '0 SECTION', '2 ENTITIES', ...entities, '0 ENDSEC', '0 EOF',
    ]), // biome-ignore format: one section a line
  });
  const cleared = (document: TagDocument): string => {
    const { tags } = read(serializeTags(document)).drawing.document;
    return tags.map((tag) => `${tag.code} ${tag.value}`).join('|');
  };

  it('a layer of ours on which someone drew stays, without our mark', () => {
    const text = cleared(base(['0 LINE', '8 s-form-panl', '10 0', '20 0', '11 1', '21 0']));
    expect(text).toContain('2 LAYER|70 2|');
    expect(text).toContain('2 S-FORM-PANL|70 0|62 3|6 FORM-DASH|0 ENDTAB');
    expect(text).not.toContain('SHUTTERWRIGHT');
  });

  it('an unused layer of ours goes, and the counts follow', () => {
    const text = cleared(base([]));
    expect(text).toContain('2 LAYER|70 1|0 LAYER|2 WALLS|0 ENDTAB');
    expect(text).toContain('2 APPID|70 0|0 ENDTAB');
  });

  it("an anonymous block that someone's dimension draws stays", () => {
    const dimension = ['0 DIMENSION', '8 WALLS', '2 *D9901', '70 1', '13 0', '23 0', '14 9', '24 0'];
    expect(cleared(base([...ENTITIES, ...dimension]))).toContain('0 BLOCK|5 F014|8 0|2 *D9901|');
    expect(cleared(base(ENTITIES))).not.toContain('*D9901');
  });

  it("our attribute on someone's insert goes alone", () => {
    const gate = ['0 BLOCK', '2 GATE', '0 ENDBLK'];
    const insert = ['0 INSERT', '66 1', '8 WALLS', '2 GATE', '10 0', '20 0'];
    const text = cleared(
      base([...insert, '0 ATTRIB', '1 theirs', '10 0', '20 0', '0 ATTRIB', '1 ours', ...MARK, '0 SEQEND'], gate),
    );
    expect(text).toContain('2 GATE|10 0|20 0|0 ATTRIB|1 theirs|10 0|20 0|0 SEQEND');
    expect(text).not.toContain('ours');
  });

  it('a list that points at ours and at others keeps the others', () => {
    const line = [
      '0 LINE',
      '5 E1',
      '102 {ACAD_REACTORS',
      '330 E2',
      '330 F020',
      '102 }',
      '8 WALLS',
      '10 0',
      '20 0',
      '11 1',
      '21 0',
    ];
    expect(cleared(base([...line, ...ENTITIES]))).toContain('5 E1|102 {ACAD_REACTORS|330 E2|102 }|8 WALLS');
  });

  it('a name that only begins like ours is not ours', () => {
    const block = ['0 BLOCK', '2 SHUTTERWRIGHTS', '0 ENDBLK'];
    const document = base(['0 INSERT', '8 0', '2 SHUTTERWRIGHTS', '10 0', '20 0'], block);
    expect(cleared(document)).toContain('0 INSERT|8 0|2 SHUTTERWRIGHTS');
  });
});
