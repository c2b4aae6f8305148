/** Loading a catalogue: what is taken, what is refused and how it is said. */

import { describe, expect, it } from 'vitest';
import {
  catalogueJsonSchema,
  demoCatalogue,
  demoCatalogueFile,
  demoInchCatalogue,
  demoInchCatalogueFile,
  INCH_GRID_MM,
  loadCatalogue,
} from '../../src/catalogue/index.js';
import type { Catalogue } from '../../src/ground/vocabulary.js';
import { workedExampleCatalogue } from '../support/exampleCatalogue.js';

type Value = Record<string, unknown>;

const panel = (more: Value = {}): Value => ({
  id: 'panel',
  kind: 'panel',
  widthMm: 600,
  heightMm: 1200,
  ratedKpa: 60,
  massKg: 23,
  holes: [
    { xMm: 50, yMm: 300 },
    { xMm: 550, yMm: 300 },
  ],
  ...more,
});
const tie = (more: Value = {}): Value => ({
  id: 'tie',
  wallMm: [200],
  workingLoadKn: 20,
  ultimateKn: 40,
  diameterMm: 12,
  massKg: 1,
  ...more,
});
const file = (more: Value = {}): Value => ({
  name: 'yard',
  lengthUnit: 'mm',
  pitchMm: 25,
  units: [panel()],
  ties: [tie()],
  ...more,
});

const good = (value: unknown): Catalogue => {
  const result = loadCatalogue(value);
  if (!result.ok) throw new Error(result.findings.map((f) => f.message).join('\n'));
  return result.value;
};
/** Messages of a refusal, without the last one that sums up. */
const refusal = (value: unknown): string[] => {
  const result = loadCatalogue(value);
  expect(result.ok).toBe(false);
  const messages = result.findings.map((f) => f.message);
  expect(result.findings.at(-1)?.code).toBe('catalogue.refused');
  expect(result.findings.every((f) => f.severity === 'failure')).toBe(true);
  return messages.slice(0, -1);
};

describe('a good file', () => {
  it('fills in what is optional by its stated default', () => {
    const c = good(file());
    expect(c).toMatchObject({
      gridMm: 1,
      frameDepthMm: 100,
      overhangMm: 150,
      timberLeastMm: 20,
      timberMostMm: 100,
      timberLimitMm: 300,
      stock: {},
    });
    expect(c.units[0]).toEqual({
      id: 'panel',
      kind: 'panel',
      widthMm: 600,
      heightMm: 1200,
      legsMm: null,
      faceWidthMm: 0,
      holes: [
        { xMm: 50, yMm: 300 },
        { xMm: 550, yMm: 300 },
      ],
      turnable: false,
      ratedKpa: 60,
      ratedSpanMm: 0,
      ratingIs: 'deflection',
      stiffTo: null,
      momentKnmPerM: 0,
      massKg: 23,
    });
    expect(c.ties[0]).toMatchObject({ kind: 'removable', breakBackMm: 0, wallMm: [200] });
  });

  it('takes a range of thicknesses', () => {
    expect(good(file({ ties: [tie({ wallMm: { from: 100, to: 300 } })] })).ties[0]!.wallMm).toEqual({
      fromMm: 100,
      toMm: 300,
    });
  });

  it('takes the worked examples as a file: what comes out can go in', () => {
    const ties = workedExampleCatalogue.ties.map((t) => ({
      ...t,
      wallMm: 'fromMm' in t.wallMm ? { from: t.wallMm.fromMm, to: t.wallMm.toMm } : t.wallMm,
    }));
    const { gridMm: _derived, ...rest } = workedExampleCatalogue;
    expect(good(JSON.parse(JSON.stringify({ ...rest, ties })))).toEqual(workedExampleCatalogue);
  });
});

describe('lengths in inches', () => {
  const inchPanel = {
    id: 'panel',
    kind: 'panel',
    widthIn: 24,
    heightIn: 48,
    ratedKpa: 60,
    massKg: 23,
    holes: [
      { xIn: 2, yIn: 12 },
      { xIn: 22, yIn: 12 },
    ],
  };
  const inchFile = (more: Value = {}): Value => ({
    name: 'yard',
    lengthUnit: 'in',
    pitchIn: 1,
    units: [inchPanel],
    ...more,
  });

  it('become mm without noise, on the grid of sixteenths', () => {
    const c = good(
      inchFile({
        ties: [tie({ wallMm: undefined, wallIn: { from: 6, to: 8 }, diameterMm: 12 })].map(({ wallMm: _, ...t }) => t),
      }),
    );
    expect(c.gridMm).toBe(INCH_GRID_MM);
    expect(c.pitchMm).toBe(25.4);
    expect(c.units[0]).toMatchObject({ widthMm: 609.6, heightMm: 1219.2 });
    expect(c.units[0]!.holes[1]).toEqual({ xMm: 558.8, yMm: 304.8 });
    expect(c.ties[0]!.wallMm).toEqual({ fromMm: 152.4, toMm: 203.2 });
  });
  it('lengthUnit converts nothing: mm keys stay mm', () => {
    expect(good(inchFile({ overhangMm: 150 })).overhangMm).toBe(150);
  });
  it('both units for one length are refused, at the key that was written', () => {
    expect(refusal(inchFile({ units: [{ ...inchPanel, widthMm: 609.6 }] }))).toEqual([
      'units[0].widthIn: given in both units.',
    ]);
  });
  it('faults are named by the key that was written', () => {
    expect(refusal(inchFile({ units: [{ ...inchPanel, widthIn: 'wide' }] }))[0]).toMatch(/^units\[0\]\.widthIn: /);
  });
  it('a mm unit in an inch yard is off the grid', () => {
    const message = refusal(inchFile({ units: [panel()] }))[0]!;
    expect(message).toContain('600 mm is no multiple of the grid of 1.5875 mm');
  });
  it('keys of the stock are items, not lengths', () => {
    expect(good(inchFile({ units: [{ ...inchPanel, id: 'widthIn' }], stock: { widthIn: 7 } })).stock).toEqual({
      widthIn: 7,
    });
  });
});

describe('refusals', () => {
  it.each<[string, unknown, RegExp]>([
    ['no object', null, /^the file: /],
    ['a list', [], /^the file: /],
    ['an unknown key', file({ pitch: 25 }), /^pitch: this key is not known\.$/],
    [
      'an unknown key far inside',
      file({ units: [panel({ holes: [{ xMm: 50, yMm: 300, z: 1 }] })] }),
      /^units\[0\]\.holes\[0\]\.z: this key/,
    ],
    ['a missing key', file({ pitchMm: undefined }), /^pitchMm: /],
    ['a text for a number', file({ pitchMm: '25' }), /^pitchMm: .*number/],
    ['no number at all', file({ pitchMm: Number.NaN }), /^pitchMm: /],
    ['infinity', file({ pitchMm: Number.POSITIVE_INFINITY }), /^pitchMm: /],
    ['a negative width', file({ units: [panel({ widthMm: -600 })] }), /^units\[0\]\.widthMm: /],
    ['another kind', file({ units: [panel({ kind: 'door' })] }), /^units\[0\]\.kind: /],
    ['no units', file({ units: [] }), /^units: /],
    ['control characters in an id', file({ units: [panel({ id: 'a\nb' })] }), /^units\[0\]\.id: .*control/],
    ['metres for millimetres', file({ units: [panel({ widthMm: 6e5 })] }), /^units\[0\]\.widthMm: /],
    ['half a unit in stock', file({ stock: { panel: 1.5 } }), /^stock\.panel: /],
  ])('%s', (_name, value, message) => {
    expect(refusal(value)[0]).toMatch(message);
  });

  it.each<[string, Value, string]>([
    ['a hole outside', file({ units: [panel({ holes: [{ xMm: 650, yMm: 300 }] })] }), 'lies outside the unit'],
    [
      'two holes in one place',
      file({
        units: [
          panel({
            holes: [
              { xMm: 50, yMm: 300 },
              { xMm: 50, yMm: 300 },
            ],
          }),
        ],
      }),
      'same place',
    ],
    ['an id twice', file({ units: [panel(), panel()] }), 'The id panel stands more than once'],
    ['an id of a unit and a tie', file({ ties: [tie({ id: 'panel' })] }), 'more than once'],
    [
      'a corner without legs',
      file({ units: [panel(), { id: 'c', kind: 'inside-corner', heightMm: 1200, ratedKpa: 60, massKg: 9 }] }),
      'needs its legs',
    ],
    ['a panel with legs', file({ units: [panel({ legsMm: [150, 150] })] }), 'has no legs'],
    ['a panel without a width', file({ units: [panel({ widthMm: 0, holes: [] })] }), 'needs a width'],
    [
      'a corner with a width',
      file({
        units: [panel(), { id: 'c', kind: 'outside-corner', widthMm: 50, heightMm: 1200, ratedKpa: 60, massKg: 9 }],
      }),
      'has no width of its own',
    ],
    ['a stiff panel', file({ units: [panel({ stiffTo: 'panel', momentKnmPerM: 1 })] }), 'only a filler'],
    [
      'a stiff filler without its moment',
      file({ units: [panel(), panel({ id: 'f', kind: 'filler', widthMm: 50, holes: [], stiffTo: 'panel' })] }),
      'needs the moment',
    ],
    ['half a millimetre', file({ units: [panel({ widthMm: 600.5 })] }), 'no multiple of the grid'],
    ['more working load than ultimate', file({ ties: [tie({ workingLoadKn: 50 })] }), 'more than its ultimate'],
    ['thicknesses that run down', file({ ties: [tie({ wallMm: { from: 300, to: 200 } })] }), 'from more to less'],
    ['timber widths that fall', file({ timberLeastMm: 120 }), 'must not fall: 120, 100, 300'],
    ['no panel', file({ units: [panel({ kind: 'bulkhead' })] }), 'no panel'],
    ['stock of nothing', file({ stock: { ghost: 3 } }), 'names ghost'],
  ])('%s', (_name, value, text) => {
    expect(refusal(value).join('\n')).toContain(text);
  });

  it('names every fault, and counts those beyond fifty', () => {
    const units = Array.from({ length: 80 }, (_, i) => panel({ id: `p${i}`, massKg: -1 }));
    const result = loadCatalogue(file({ units }));
    expect(result.findings).toHaveLength(51);
    expect(result.findings.at(-1)?.message).toContain('80 faults');
  });

  it('a file that is nested without end, or carries odd keys, is refused and does no harm', () => {
    let deep: unknown = 1;
    for (let i = 0; i < 5000; i++) deep = [deep];
    expect(loadCatalogue(file({ units: deep })).ok).toBe(false);
    expect(loadCatalogue(JSON.parse('{"__proto__": {"polluted": true}}')).ok).toBe(false);
    expect(({} as Value).polluted).toBeUndefined();
  });
});

describe('remarks on a file that can be used', () => {
  const remarks = (value: unknown) => {
    const result = loadCatalogue(value);
    expect(result.ok).toBe(true);
    return result.findings.map((f) => `${f.severity} ${f.code}: ${f.message}`);
  };
  it('a tie whose factor is below 2', () => {
    expect(remarks(file({ ties: [tie({ workingLoadKn: 25 })] })).join('\n')).toContain('a factor of 1.6, below 2');
  });
  it('a width and a corner that one height lacks', () => {
    const units = [
      panel(),
      panel({
        id: 'low',
        heightMm: 600,
        widthMm: 500,
        holes: [
          { xMm: 50, yMm: 300 },
          { xMm: 450, yMm: 300 },
        ],
      }),
      { id: 'c', kind: 'inside-corner', heightMm: 1200, legsMm: [150, 150], ratedKpa: 60, massKg: 9 },
    ];
    const said = remarks(file({ units })).join('\n');
    expect(said).toContain('The height 600 mm has no panels of width 600 mm');
    expect(said).toContain('The height 1200 mm has no panels of width 500 mm');
    expect(said).toContain('The height 600 mm has no inside corners with a leg of 150 mm');
    expect(said).toContain('The catalogue has no outside corners');
  });
  it('holes that do not mirror, rows at other levels, no hole, no tie', () => {
    expect(remarks(file({ units: [panel({ holes: [{ xMm: 50, yMm: 300 }] })] })).join('\n')).toContain(
      'seen from either face',
    );
    const other = panel({
      id: 'b',
      widthMm: 500,
      holes: [
        { xMm: 50, yMm: 350 },
        { xMm: 450, yMm: 350 },
      ],
    });
    expect(remarks(file({ units: [panel(), other] })).join('\n')).toContain('tie rows at different levels');
    expect(remarks(file({ units: [panel({ holes: [] })] })).join('\n')).toContain('panel has no tie hole');
    expect(remarks(file({ ties: [] })).join('\n')).toContain('The catalogue has no tie');
  });
  it('gear that is read but not used', () => {
    const said = remarks(file({ units: [panel({ strips: true })] }));
    expect(said.filter((s) => s.startsWith('note catalogue.not-used'))).toHaveLength(1);
  });
  it('clamps: narrow before wide, lengths in inches too; a closing range that falls is refused', () => {
    const wide = { id: 'wide', closesIn: { from: 0, to: 10 }, pullKn: 10, massKg: 5 };
    const near = { id: 'near', closesMm: { to: 10 }, pullKn: 12, shearKn: 9, mostSpacingMm: 500, massKg: 3 };
    const result = loadCatalogue(file({ clamps: [wide, near] }));
    expect(result.ok && result.value.clamps).toEqual([
      { ...near, closesMm: { least: 0, most: 10 }, mostFromEndMm: 300, tieClearMm: null },
      {
        id: 'wide',
        closesMm: { least: 0, most: 254 },
        pullKn: 10,
        shearKn: null,
        mostSpacingMm: 600,
        mostFromEndMm: 300,
        tieClearMm: null,
        massKg: 5,
      },
    ]);
    const falling = loadCatalogue(file({ clamps: [{ ...near, closesMm: { from: 20, to: 10 } }] }));
    expect(falling.ok).toBe(false);
  });
});

describe('our own yards', () => {
  it.each<[string, Value, Catalogue]>([
    ['metric', demoCatalogueFile, demoCatalogue],
    ['inch', demoInchCatalogueFile, demoInchCatalogue],
  ])('%s: loads without a remark, through JSON too', (_name, value, catalogue) => {
    const result = loadCatalogue(JSON.parse(JSON.stringify(value)));
    expect(result.findings).toEqual([]);
    expect(result.ok && result.value).toEqual(catalogue);
  });
  it.each([demoCatalogue, demoInchCatalogue])(
    'every height has every width, at least two legs, and mirrored holes (%#)',
    (c) => {
      const heights = [...new Set(c.units.map((u) => u.heightMm))];
      expect(heights.length).toBeGreaterThanOrEqual(4);
      for (const h of heights) {
        const own = c.units.filter((u) => u.heightMm === h);
        expect(own.filter((u) => u.kind === 'panel')).toHaveLength(7);
        expect(own.filter((u) => u.kind === 'inside-corner').length).toBeGreaterThanOrEqual(2);
        expect(own.filter((u) => u.kind === 'filler')).toHaveLength(2);
        expect(own.filter((u) => u.kind === 'outside-corner' && !u.deflectionDeg)).toHaveLength(1);
        expect(own.filter((u) => u.kind === 'hinged-corner')).toHaveLength(1);
        expect(own.filter((u) => u.kind === 'outside-corner' && u.deflectionDeg)).toHaveLength(1);
      }
      expect(c.ties.every((t) => t.workingLoadKn * 2 <= t.ultimateKn)).toBe(true);
    },
  );
  it('ties fit every thickness from 100 to 600, and from 4 to 24 in', () => {
    const fits = (c: Catalogue, t: number) =>
      c.ties.some((x) => 'fromMm' in x.wallMm && t >= x.wallMm.fromMm - 1e-9 && t <= x.wallMm.toMm + 1e-9);
    for (let t = 100; t <= 600; t++) expect(fits(demoCatalogue, t)).toBe(true);
    for (let t = 4; t <= 24; t += 1 / 16) expect(fits(demoInchCatalogue, t * 25.4)).toBe(true);
  });
});

describe('the JSON Schema', () => {
  const schema = catalogueJsonSchema() as {
    properties: Value;
    required: string[];
    allOf: Value[];
    additionalProperties: boolean;
  };
  it('is that of the file as a person writes it: strict, defaults optional, twins in inches', () => {
    expect(schema.additionalProperties).toBe(false);
    expect(schema.required).toEqual(['name', 'lengthUnit', 'units']);
    expect(Object.keys(schema.properties)).toEqual(
      expect.arrayContaining(['pitchMm', 'pitchIn', 'overhangMm', 'overhangIn', 'stock']),
    );
    expect(schema.allOf).toContainEqual({ oneOf: [{ required: ['pitchMm'] }, { required: ['pitchIn'] }] });
    expect(schema.allOf).toContainEqual({ not: { required: ['overhangMm', 'overhangIn'] } });
  });
  it('is plain JSON and the same each time', () => {
    expect(JSON.parse(JSON.stringify(schema))).toEqual(catalogueJsonSchema());
  });
});
