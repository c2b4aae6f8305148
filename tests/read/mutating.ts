/** Drawings to be damaged, small enough that thousands of damaged ones can be read, and ways of damaging them by a seeded number. */

import { readdirSync, readFileSync, statSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { parseTags, type Tag, type TagDocument, valueKind } from '../../src/ground/tags.js';
import { dxf, SAMPLES, sample } from './samples.js';

export interface Base {
  readonly name: string;
  readonly binary: boolean;
  /** Bytes of a group code in binary form. */
  readonly codeBytes: 1 | 2;
  readonly tags: readonly Tag[];
}

/** Numbers from 0 to below 1, the same for the same seed: mulberry32, a public-domain generator by T. Ettinger. */
export const chance = (seed: number): (() => number) => {
  let a = seed >>> 0;
  return () => {
    a = (a + 0x6d2b79f5) >>> 0;
    let t = a;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
};

type Chance = () => number;
const below = (next: Chance, n: number): number => Math.min(Math.floor(next() * n), Math.max(0, n - 1));
const pick = <T>(next: Chance, list: readonly T[]): T => list[below(next, list.length)]!;

// ---------------------------------------------------------------- drawings to be damaged

interface Span {
  readonly type: string;
  readonly start: number;
  readonly end: number;
}

const spansOf = (tags: readonly Tag[]): Span[] => {
  const spans: Span[] = [];
  for (let at = 0; at < tags.length; at++) {
    if (tags[at]!.code !== 0 && at > 0) continue;
    let end = at + 1;
    while (end < tags.length && tags[end]!.code !== 0) end++;
    spans.push({ type: tags[at]!.value.trim(), start: at, end });
  }
  return spans;
};

const KEPT_HEADER = ['$ACADVER', '$INSUNITS', '$DWGCODEPAGE', '$MEASUREMENT'];
const KEPT_OBJECTS = ['MLINESTYLE', 'DICTIONARY', 'SPATIAL_FILTER'];
/** What is kept of a large drawing: entities in each section or block, blocks, entries of tables, tags of one record. */
const KEPT = { entities: 20, inBlock: 6, blocks: 7, entries: 6, objects: 5, tags: 60 };

/** A small drawing of the same kind: some of everything that the large one has. */
const reduced = (tags: readonly Tag[]): Tag[] => {
  const kept: Tag[] = [];
  let section = '';
  let blocks = 0;
  const seen = new Map<string, number>();
  const again = (key: string): number => {
    const n = (seen.get(key) ?? 0) + 1;
    seen.set(key, n);
    return n;
  };
  let skipping = false;
  for (const span of spansOf(tags)) {
    const own = tags.slice(span.start, Math.min(span.end, span.start + KEPT.tags));
    if (span.type === 'SECTION') {
      section = own[1]?.value.trim() ?? '';
      if (section === 'HEADER') {
        kept.push(...own.slice(0, 2));
        for (let at = span.start + 2; at < span.end; at++) {
          if (tags[at]!.code === 9 && KEPT_HEADER.includes(tags[at]!.value.trim())) kept.push(tags[at]!, tags[at + 1]!);
        }
        continue;
      }
    } else if (section === 'TABLES' && !['TABLE', 'ENDTAB', 'ENDSEC'].includes(span.type)) {
      if (!['LAYER', 'LTYPE', 'BLOCK_RECORD'].includes(span.type) || again(span.type) > KEPT.entries) continue;
    } else if (section === 'BLOCKS' && span.type !== 'ENDSEC') {
      if (span.type === 'BLOCK') skipping = ++blocks > KEPT.blocks;
      const inBlock = span.type !== 'BLOCK' && span.type !== 'ENDBLK';
      if (skipping || (inBlock && again(`${blocks} ${span.type}`) > KEPT.inBlock / 2)) continue;
    } else if (section === 'ENTITIES' && span.type !== 'ENDSEC') {
      if (again(span.type) > KEPT.entities / 4) continue;
    } else if (section === 'OBJECTS' && span.type !== 'ENDSEC') {
      if (!KEPT_OBJECTS.includes(span.type) || again(span.type) > KEPT.objects) continue;
    } else if (section === 'CLASSES' && span.type !== 'ENDSEC') continue;
    for (const tag of own) kept.push(tag);
  }
  return kept;
};

/** A drawing with an entity of each kind that is read, in blocks too. */
const EVERYTHING: readonly string[] = (() => {
  const wall = ['8 WALLS', '39 2400', '6 DASHED'];
  const entities = [
    ...['0 LINE', '5 20', ...wall, '10 0', '20 0', '11 6000', '21 0'],
    ...['0 LINE', '5 21', ...wall, '10 0', '20 200', '11 6000', '21 200'],
    ...['0 LWPOLYLINE', '5 22', ...wall, '90 4', '70 1', '43 0', '10 0', '20 0', '10 6000', '20 0', '42 0.2', '10 6000', '20 4000', '10 0', '20 4000'],
    ...['0 LWPOLYLINE', '5 23', '8 WALLS', '90 4', '70 1', '10 200', '20 200', '40 5', '41 5', '10 5800', '20 200', '40 5', '41 5', '10 5800', '20 3800', '10 200', '20 3800'],
    ...['0 POLYLINE', '5 24', '8 WALLS', '66 1', '70 1', '40 200', '41 200'],
    ...['0 VERTEX', '5 25', '8 WALLS', '10 0', '20 9000', '0 VERTEX', '5 26', '8 WALLS', '10 5000', '20 9000', '42 -0.5'],
    ...['0 VERTEX', '5 27', '8 WALLS', '10 5000', '20 12000', '0 SEQEND', '5 28', '8 WALLS'],
    ...['0 ARC', '5 29', '8 WALLS', '10 0', '20 0', '40 5000', '50 10', '51 80', '0 CIRCLE', '5 2A', '8 0', '10 5', '20 5', '40 300'],
    ...['0 ELLIPSE', '5 2B', '8 0', '10 5', '20 5', '11 700', '21 100', '40 0.4', '41 0', '42 5', '210 0', '220 0', '230 -1'],
    ...['0 SPLINE', '5 2C', '8 0', '70 8', '71 3', '72 8', '73 4', '74 0', '40 0', '40 0', '40 0', '40 0', '40 1', '40 1', '40 1', '40 1'],
    ...['10 0', '20 0', '10 100', '20 300', '10 300', '20 -300', '10 400', '20 0'],
    ...['0 SOLID', '5 2D', '8 0', '10 0', '20 0', '11 50', '21 0', '12 0', '22 50', '13 50', '23 50'],
    ...['0 HATCH', '5 2E', '8 CONCRETE', '10 0', '20 0', '30 0', '210 0', '220 0', '230 1', '2 ANSI31', '70 0', '71 0', '91 2', '92 3', '72 1', '73 1', '93 4'],
    ...['10 0', '20 0', '42 0', '10 900', '20 0', '42 0.3', '10 900', '20 200', '42 0', '10 0', '20 200', '42 0', '97 0', '92 1', '93 4'],
    ...['72 1', '10 100', '20 50', '11 200', '21 50', '72 2', '10 200', '20 80', '40 30', '50 270', '51 90', '73 1'],
    ...['72 3', '10 150', '20 110', '11 50', '21 0', '40 0.5', '50 0', '51 180', '73 0', '72 4', '94 3', '73 0', '74 0', '95 8', '96 4'],
    ...['40 0', '40 0', '40 0', '40 0', '40 1', '40 1', '40 1', '40 1', '10 100', '20 110', '10 80', '20 90', '10 80', '20 70', '10 100', '20 50', '97 0', '97 0'],
    ...['75 0', '76 1', '52 45', '41 1', '77 0', '78 1', '53 45', '43 0', '44 0', '45 -2.2', '46 2.2', '79 0', '98 0'],
    ...['0 MLINE', '5 2F', '8 WALLS', '2 WALL', '340 57', '40 1', '70 1', '71 1', '72 2', '73 2'],
    ...[['0', '0'], ['900', '0']].flatMap(([x, y]) => [
      ...[`11 ${x}`, `21 ${y}`, '31 0', '12 1', '22 0', '32 0', '13 0', '23 1', '33 0'],
      ...['74 4', '41 100', '41 0', '41 50', '41 60', '75 0', '74 2', '41 -100', '41 0', '75 0'],
    ]),
    ...['0 LEADER', '5 30', '8 NOTES', '73 0', '76 3', '10 0', '20 0', '10 400', '20 600', '10 900', '20 600', '340 31'],
    ...['0 MTEXT', '5 31', '8 NOTES', '10 900', '20 600', '40 120', '1 {\\fArial;T.O.W.}\\P+0.150'],
    ...['0 TEXT', '5 32', '8 NOTES', '10 900', '20 100', '40 120', '50 30', '72 1', '73 2', '11 950', '21 100', '1 200 THK %%c12'],
    ...['0 MULTILEADER', '5 33', '8 NOTES', '270 2', '300 CONTEXT_DATA{', '40 1', '10 0', '20 0', '41 120', '290 1', '304 STEP -1.2', '11 0', '21 0', '31 1'],
    ...['12 900', '22 50', '42 0', '302 LEADER{', '290 1', '291 1', '10 800', '20 50', '11 1', '21 0', '90 0', '40 80', '304 LEADER_LINE{', '10 0', '20 0', '10 20', '20 30'],
    ...['91 0', '305 }', '271 0', '303 }', '301 }', '170 1', '172 2', '290 1', '291 1'],
    ...['0 DIMENSION', '5 34', '8 DIMS', '2 *D1', '70 32', '10 0', '20 -500', '13 0', '23 0', '14 6000', '24 0', '50 0', '1 <>'],
    ...['0 INSERT', '5 35', '102 {ACAD_XDICTIONARY', '360 F1', '102 }', '8 DOORS', '66 1', '2 DOOR', '10 1000', '20 0', '41 1', '42 -1', '50 90', '70 2', '71 2', '44 900', '45 700'],
    ...['0 ATTRIB', '5 36', '8 0', '10 1', '20 1', '40 50', '1 900', '2 WIDTH', '70 0', '0 SEQEND', '5 37', '8 0'],
    ...['0 INSERT', '5 38', '8 0', '2 HOUSE', '10 9000', '20 0', '41 2', '42 1', '0 POINT', '5 39', '8 0', '10 0', '20 0'],
  ];
  const block = (name: string, body: readonly string[]) => ['0 BLOCK', '8 0', `2 ${name}`, '70 0', '10 10', '20 0', ...body, '0 ENDBLK', '8 0'];
  const filter = ['0 SPATIAL_FILTER', '5 F3', '330 F2', '70 2', '10 900', '20 -100', '10 1900', '20 900', '210 0', '220 0', '230 1', '71 1', '72 0', '73 0'];
  const rows = ['40 1', '40 0', '40 0', '40 0', '40 0', '40 1', '40 0', '40 0', '40 0', '40 0', '40 1', '40 0'];
  return [
    ...['0 SECTION', '2 HEADER', '9 $ACADVER', '1 AC1024', '9 $INSUNITS', '70 4', '0 ENDSEC', '0 SECTION', '2 TABLES'],
    ...['0 TABLE', '2 LTYPE', '70 1', '0 LTYPE', '2 Dashed', '70 0', '3 x', '0 ENDTAB', '0 TABLE', '2 LAYER', '70 3'],
    ...['WALLS', 'NOTES', 'DOORS'].flatMap((name) => ['0 LAYER', `2 ${name}`, '70 0', '62 7', '6 Continuous']),
    ...['0 ENDTAB', '0 ENDSEC', '0 SECTION', '2 BLOCKS'],
    ...block('DOOR', ['0 LINE', '8 0', '6 BYBLOCK', '10 0', '20 0', '11 900', '21 0', '0 ARC', '8 0', '10 0', '20 0', '40 900', '50 0', '51 90', '0 ATTDEF', '8 0', '10 0', '20 0', '40 1', '1 35', '2 SILL', '70 2']),
    ...block('HOUSE', ['0 INSERT', '8 0', '2 DOOR', '10 500', '20 0', '0 CIRCLE', '8 0', '10 0', '20 0', '40 100']),
    ...block('*D1', ['0 MTEXT', '8 0', '10 0', '20 0', '40 100', '1 6.00']),
    ...['0 ENDSEC', '0 SECTION', '2 ENTITIES', ...entities, '0 ENDSEC', '0 SECTION', '2 OBJECTS'],
    ...['0 DICTIONARY', '5 F1', '330 35', '3 ACAD_FILTER', '360 F2', '0 DICTIONARY', '5 F2', '330 F1', '3 SPATIAL', '360 F3'],
    ...[...filter, ...rows, ...rows, '0 MLINESTYLE', '5 57', '2 WALL', '70 272', '3 ', '62 256', '51 90', '52 90', '71 2'],
    ...['49 100', '62 256', '6 BYLAYER', '49 -100', '62 256', '6 BYLAYER', '0 ENDSEC', '0 EOF'],
  ];
})(); // biome-ignore format: one entity a line

const documentOf = (bytes: Uint8Array): TagDocument | null => {
  const parsed = parseTags(bytes);
  return parsed.ok ? parsed.value : null;
};

const FIXTURES = fileURLToPath(new URL('../../fixtures/', import.meta.url));

const fixtures = (): { readonly name: string; readonly bytes: Uint8Array }[] =>
  readdirSync(FIXTURES)
    .sort()
    .filter((folder) => statSync(`${FIXTURES}${folder}`).isDirectory())
    .flatMap((folder) =>
      readdirSync(`${FIXTURES}${folder}`)
        .sort()
        .filter((file) => file.endsWith('.dxf'))
        .map((file) => ({ name: file, bytes: new Uint8Array(readFileSync(`${FIXTURES}${folder}/${file}`)) })),
    );

/** Files up to this size are damaged whole. */
const SMALL = 10_000;

/** Drawings of the fixtures, the samples where they are there, and one with everything; each in the form of its file, and some in binary form as well. */
export const bases = (): Base[] => {
  const found: Base[] = [];
  const add = (name: string, bytes: Uint8Array): void => {
    const document = documentOf(bytes);
    if (document === null || document.tags.length < 10) return;
    const tags = bytes.length <= SMALL ? document.tags : reduced(document.tags);
    const codeBytes = document.version < 'AC1014' ? 1 : 2;
    found.push({ name, binary: document.form === 'binary', codeBytes, tags });
  };
  const everything = new TextEncoder().encode(dxf(EVERYTHING));
  add('everything', everything);
  found.push({ ...found[0]!, name: 'everything in binary', binary: true });
  for (const { name, bytes } of fixtures()) add(name, bytes);
  for (const file of SAMPLES) add(file, sample(file));
  return found;
};

// ---------------------------------------------------------------- damage

const NUMBERS = [
  '',
  '0',
  '-1',
  '1e308',
  '-1e308',
  '1e999',
  'NaN',
  'Infinity',
  '0x10',
  '2147483647',
  '-2147483648',
  '32767',
  '1e-320',
  '1e15',
  '0.1',
  '7',
  '1,5',
  '--3',
  '99999999999999999999',
];
const COUNTS = [
  '0',
  '-1',
  '1',
  '2',
  '3',
  '7',
  '255',
  '32767',
  '65535',
  '100000',
  '2147483647',
  '4294967295',
  '1e9',
  '',
];
const ENDS = ['ENDSEC', 'ENDBLK', 'SEQEND', 'ENDTAB', 'EOF'];
const TYPES = ['LINE', 'HATCH', 'SPLINE', 'MLINE', 'INSERT', 'POLYLINE', 'VERTEX', 'LWPOLYLINE', 'MULTILEADER', 'LEADER', 'DIMENSION', 'MTEXT', 'ATTRIB', 'BLOCK', 'ENDBLK', 'SECTION', 'ELLIPSE', 'ARC', 'SPATIAL_FILTER', 'XYZZY']; // biome-ignore format: a list

const isNumber = ({ code }: Tag): boolean => !['text', 'bytes'].includes(valueKind(code));
const isCount = ({ code }: Tag): boolean => (code >= 66 && code <= 79) || (code >= 90 && code <= 99);

type Damage = (tags: Tag[], next: Chance, others: readonly Base[]) => Tag[];

const at = (tags: readonly Tag[], next: Chance, fits: (tag: Tag) => boolean = () => true): number => {
  for (let tries = 0; tries < 40; tries++) {
    const place = below(next, tags.length);
    if (tags[place] && fits(tags[place]!)) return place;
  }
  return 0;
};

const changed = (tags: Tag[], place: number, tag: Partial<Tag>): Tag[] => {
  const old = tags[place];
  if (old) tags[place] = { code: tag.code ?? old.code, value: tag.value ?? old.value };
  return tags;
};

/** Runs of records, in another order. */
const shuffled = (tags: Tag[], next: Chance): Tag[] => {
  const spans = spansOf(tags);
  const from = below(next, spans.length);
  const to = Math.min(spans.length, from + 2 + below(next, 20));
  if (to - from < 2) return tags;
  const inside = spans.slice(from, to).map((span) => tags.slice(span.start, span.end));
  for (let i = inside.length - 1; i > 0; i--) {
    const j = below(next, i + 1);
    [inside[i], inside[j]] = [inside[j]!, inside[i]!];
  }
  return [...tags.slice(0, spans[from]!.start), ...inside.flat(), ...tags.slice(spans[to - 1]!.end)];
};

/** Ways of damaging tags. Each takes a list that it may change, and gives the damaged one. */
const DAMAGES: Readonly<Record<string, Damage>> = {
  cut: (tags, next) => tags.slice(0, 4 + below(next, tags.length)),
  leaveOut: (tags, next) => {
    tags.splice(at(tags, next), 1 + below(next, 6));
    return tags;
  },
  repeat: (tags, next) => {
    const from = at(tags, next);
    const run = tags.slice(from, from + 1 + below(next, 12));
    const times = next() < 0.1 ? 200 : 1 + below(next, 3);
    tags.splice(from, 0, ...Array.from({ length: times }, () => run).flat());
    return tags;
  },
  swap: (tags, next) => {
    const [i, j] = [at(tags, next), at(tags, next)];
    const [a, b] = [tags[i], tags[j]];
    if (a && b) [tags[i], tags[j]] = [b, a];
    return tags;
  },
  code: (tags, next) =>
    changed(tags, at(tags, next), {
      code: pick(
        next,
        [
          0, 2, 5, 8, 10, 20, 30, 11, 39, 40, 41, 42, 43, 50, 66, 70, 72, 90, 92, 93, 97, 102, 210, 230, 330, 340, 360,
          1001, 999, 101, -5, 1071,
        ],
      ),
    }),
  number: (tags, next) => changed(tags, at(tags, next, isNumber), { value: pick(next, NUMBERS) }),
  count: (tags, next) => changed(tags, at(tags, next, isCount), { value: pick(next, COUNTS) }),
  scale: (tags, next) => {
    const place = at(tags, next, isNumber);
    return changed(tags, place, {
      value: String(Number(tags[place]?.value ?? 0) * pick(next, [-1, 1e3, 1e9, 1e-9, 0.5])),
    });
  },
  type: (tags, next) =>
    changed(
      tags,
      at(tags, next, (tag) => tag.code === 0),
      { value: pick(next, [...TYPES, ...ENDS]) },
    ),
  /** A name or handle of another record: blocks within themselves, one handle twice. */
  name: (tags, next) => {
    const wanted = pick(next, [2, 5, 2, 8, 340, 360]);
    const from = at(tags, next, (tag) => tag.code === 2 || tag.code === 5);
    return changed(
      tags,
      at(tags, next, (tag) => tag.code === wanted),
      { value: tags[from]?.value ?? '' },
    );
  },
  ends: (tags, next) => {
    const end = pick(next, ENDS);
    const all = next() < 0.5;
    let done = false;
    return tags.filter((tag) => {
      const hit = tag.code === 0 && tag.value.trim() === end && (all || !done);
      done ||= hit;
      return !hit;
    });
  },
  shuffle: shuffled,
  splice: (tags, next, others) => {
    const other = pick(next, others).tags;
    const head = tags.slice(0, below(next, tags.length));
    return [...head, ...other.slice(below(next, other.length))];
  },
  text: (tags, next) => {
    const place = at(tags, next, (tag) => !isNumber(tag));
    const value = tags[place]?.value ?? '';
    const cut = below(next, value.length + 1);
    const put = pick(next, [
      '\\',
      '{',
      '}',
      '%%',
      '\\U+D800',
      '\\S1/',
      '\xff\xfe',
      '',
      'x'.repeat(3000),
      '\\P'.repeat(300),
    ]);
    return changed(tags, place, { value: value.slice(0, cut) + put + value.slice(cut) });
  },
};
const WAYS = Object.keys(DAMAGES);

const textBytes = (tags: readonly Tag[]): Uint8Array => {
  const text = tags.map(({ code, value }) => `${String(code).padStart(3)}\n${value}\n`).join('');
  return Uint8Array.from(text, (c) => c.charCodeAt(0));
};

const MARK = 'AutoCAD Binary DXF\r\n\x1a\0';

/** Numbers that do not fit wrap round or become nothing, as they do in programs that do not look. */
const binaryBytes = (tags: readonly Tag[], codeBytes: 1 | 2): Uint8Array => {
  const out: number[] = Array.from(MARK, (c) => c.charCodeAt(0));
  const room = new DataView(new ArrayBuffer(8));
  const put = (n: number): void => {
    for (let i = 0; i < n; i++) out.push(room.getUint8(i));
  };
  const short = (n: number): void => {
    room.setInt16(0, n, true);
    put(2);
  };
  for (const { code, value } of tags) {
    if (codeBytes === 2) short(code);
    else if (code >= 0 && code < 255) out.push(code);
    else {
      out.push(255);
      short(code);
    }
    const n = Number(value);
    const kind = valueKind(code);
    if (kind === 'double') {
      room.setFloat64(0, n, true);
      put(8);
    } else if (kind === 'int16') short(n);
    else if (kind === 'int32') {
      room.setInt32(0, n, true);
      put(4);
    } else if (kind === 'int64') {
      room.setFloat64(0, n, true);
      put(8);
    } else if (kind === 'bool') out.push(n & 255);
    else if (kind === 'bytes') out.push(0);
    else {
      for (const c of value) if (c !== '\0') out.push(c.charCodeAt(0));
      out.push(0);
    }
  }
  return Uint8Array.from(out);
};

/** Single bytes are changed, or the file ends in the middle of one. */
const damagedBytes = (bytes: Uint8Array, next: Chance): Uint8Array => {
  const flipped = bytes.slice();
  for (let n = 1 + below(next, 8); n > 0; n--)
    flipped[below(next, flipped.length)] = pick(next, [0, 10, 13, 32, 45, 48, 57, 127, 255, below(next, 256)]);
  return next() < 0.3 ? flipped.slice(0, below(next, flipped.length)) : flipped;
};

/** The damaged file of this seed, and what it was made of. */
export const mutated = (list: readonly Base[], seed: number): { readonly bytes: Uint8Array; readonly what: string } => {
  const next = chance(seed);
  const base = list[seed % list.length]!;
  let tags = [...base.tags];
  const ways: string[] = [];
  for (let n = below(next, 4); n > 0; n--) {
    const way = pick(next, WAYS);
    ways.push(way);
    tags = DAMAGES[way]!(tags, next, list);
  }
  let bytes = base.binary ? binaryBytes(tags, base.codeBytes) : textBytes(tags);
  if (ways.length === 0 || next() < 0.2) {
    ways.push('bytes');
    bytes = damagedBytes(bytes, next);
  }
  return { bytes, what: `seed ${seed}: ${base.name}, ${ways.join(', ')}` };
};
