/** Bytes that are no model, half a model or worse: a result or a clear refusal, never an error. */

import { strToU8, zipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { isIfc } from '../../../src/read/ifc/container.js';
import { loadIfcEngine, readIfc } from '../../../src/read/ifc/index.js';
import { AT_ORIGIN, buildingText, bytesOf, UNITS } from '../../support/models/building.js';
import { oneElementText, upwards } from '../../support/models/oneElement.js';
import { sample } from '../samples.js';
import { engine, itWithModels, readModel } from './models.js';

const WALL = { x: 0, y: 0, z: 0, angleRad: 0, lengthMm: 3000, thicknessMm: 250, heightMm: 2500 };
const good = buildingText({ schema: 'IFC4', ...UNITS.metre!, site: AT_ORIGIN, walls: [WALL, { ...WALL, y: 4000 }] });

const refusal = (bytes: Uint8Array): string => {
  const result = readIfc(bytes, engine);
  expect(result.ok).toBe(false);
  return result.findings.at(-1)!.message;
};

const codesOf = (text: string): string[] => readModel(bytesOf(text)).findings.map(({ code }) => code);

describe('what the bytes are', () => {
  it('STEP text, also after a mark of byte order, blanks and comments', () => {
    for (const before of ['', '\ufeff', ' \r\n\t', '/* made by a tool; \n */ ']) {
      expect(isIfc(bytesOf(before + good))).toBe(true);
      expect(readModel(bytesOf(before + good)).model.elements.length).toBe(2);
    }
  });

  it('DXF, other archives and nothing at all are not claimed', () => {
    expect(isIfc(bytesOf('0\nSECTION\n2\nHEADER\n'))).toBe(false);
    expect(isIfc(bytesOf('999\nISO-10303-21;\n0\nSECTION\n'))).toBe(false);
    expect(isIfc(new Uint8Array())).toBe(false);
    expect(isIfc(zipSync({ 'plan.dxf': strToU8('0\nSECTION') }))).toBe(false);
    expect(isIfc(zipSync({ 'a/model.IFC': strToU8(good) }))).toBe(true);
  });

  it('each other thing is refused in a sentence of its own', () => {
    expect(refusal(new Uint8Array())).toBe('The file is empty.');
    expect(refusal(bytesOf('hello'))).toContain('does not begin with ISO-10303-21');
    expect(refusal(bytesOf('<?xml version="1.0"?><ifcXML/>'))).toContain('ifcXML');
    expect(refusal(bytesOf('{"data":[]}'))).toContain('JSON');
    expect(refusal(zipSync({ 'a.txt': strToU8('x') }))).toBe('The file is a ZIP that holds no .ifc.');
    expect(refusal(zipSync({ 'a.ifc': strToU8(good), 'b.ifc': strToU8(good) }))).toContain(
      "2 models ('a.ifc', 'b.ifc')",
    );
    expect(refusal(zipSync({ 'a.ifc': strToU8('x') }))).toContain('.ifc in the ZIP is not IFC');
    expect(refusal(zipSync({ 'a.ifc': strToU8(good) }).subarray(0, 300))).toContain('ZIP');
    expect(refusal(bytesOf(good.slice(0, 120)))).toContain('no data section');
  });

  it('a ZIP is unpacked; what is larger than it says fails', () => {
    const zip = zipSync({ 'a.ifc': strToU8(good) });
    expect(readModel(zip).model.elements.length).toBe(2);
    // The sizes in the central directory are put to 100 bytes and to 4 GB.
    const at = zip.findIndex((_, i) => zip[i] === 0x50 && zip[i + 1] === 0x4b && zip[i + 2] === 1 && zip[i + 3] === 2);
    const small = zip.slice();
    small.set([100, 0, 0, 0], at + 24);
    expect(readIfc(small, engine).ok).toBe(false);
    const huge = zip.slice();
    huge.set([255, 255, 255, 127], at + 24);
    expect(readIfc(huge, engine).findings[0]!.code).toBe('read.too-much');
  });
});

describe('schemas', () => {
  for (const schema of ['IFC20_LONGFORM', 'IFC2X_FINAL', 'IFC4X1', 'IFC4X2', 'IFC5', 'AUTOMOTIVE_DESIGN']) {
    it(`${schema} is refused by name`, () => {
      expect(refusal(bytesOf(good.replace("'IFC4'", `'${schema}'`)))).toContain(`schema ${schema};`);
    });
  }

  it('a missing one is said', () => {
    expect(refusal(bytesOf(good.replace(/FILE_SCHEMA.*\n/, '')))).toContain('does not say its schema');
  });

  for (const [written, schema] of [
    ['IFC2X3', 'IFC2X3'],
    ['IFC4X3_TC1', 'IFC4X3'],
    ['ifc4', 'IFC4'],
  ] as const) {
    it(`${written} is read as ${schema}`, () => {
      const { model } = readModel(bytesOf(good.replace("'IFC4'", `'${written}'`)));
      expect([model.schema, model.schemaName]).toEqual([schema, written]);
    });
  }
});

describe('damaged text', () => {
  it('a cut file is read as far as it goes, and said to be cut', () => {
    const cut = good.slice(0, good.indexOf('#125='));
    const { model, findings } = readModel(bytesOf(cut));
    expect(model.elements.length).toBe(1);
    expect(findings.find(({ code }) => code === 'read.model-cut')?.severity).toBe('failure');
  });

  it('every cut is a result or a refusal', () => {
    for (let at = 0; at < good.length; at += 97) {
      const result = readIfc(bytesOf(good.slice(0, at)), engine);
      expect(result.findings.some(({ severity }) => severity === 'failure')).toBe(true);
    }
  });

  it('a broken header is read round', () => {
    expect(codesOf(good.replace("('ViewDefinition')", "('View'Definition')"))).toEqual(['read.model-header']);
  });

  it('letters: UTF-8, escapes, and bytes that are neither', () => {
    const named = (text: string): string | null =>
      readModel(bytesOf(good.replaceAll("'wall 100'", `'${text}'`))).model.elements[0]!.name;
    expect(named('Außenwand')).toBe('Außenwand');
    expect(named('Au\\X2\\00DF\\X0\\enwand')).toBe('Außenwand');
    expect(named('Au\\X\\DFenwand')).toBe('Außenwand');
    expect(named('Au\\S\\_enwand')).toBe('Außenwand');
    expect(named("\\X4\\0001F3E0\\X0\\ it''s")).toBe("\u{1F3E0} it's");
    expect(named('\\PE\\\\S\\A')).toBe('С');
    expect(named('a\\\\b')).toBe('a\\b');
    const bytes = bytesOf(good.replaceAll("'wall 100'", "'Au~enwand'"));
    bytes[bytes.indexOf(126)] = 0xdf;
    const { model, findings } = readModel(bytes);
    expect(model.elements[0]!.name).toBe('Außenwand');
    expect(findings.map(({ code }) => code)).toEqual(['read.model-encoding']);
  });

  it('comments, blanks and small letters between the parts of an instance', () => {
    const odd = good.replace(
      '#107=IFCRECTANGLEPROFILEDEF(.AREA.,$,',
      '#107 =\r\n ifcRectangleProfileDef /* a ; ) */ ( .AREA. , $ ,',
    );
    expect(odd).not.toBe(good);
    expect(readModel(bytesOf(odd))).toEqual(readModel(bytesOf(good)));
  });

  it('what is missing, twice or no instance is said', () => {
    expect(codesOf(good.replace(/^#107=.*\n/m, ''))).toContain('read.model-missing');
    expect(codesOf(good.replace(/^(#107=.*\n)/m, '$1$1'))).toEqual(['read.model-instance-twice']);
    expect(codesOf(good.replace(/^(#107=.*\n)/m, '$1BANANA;\n#0=IFCWALL();\n#9999=();\n'))).toEqual([
      'read.model-junk',
    ]);
    expect(codesOf(good.replace('IFCRECTANGLEPROFILEDEF', 'IFCBANANA'))).toContain('read.model-broken');
    expect(codesOf(good.replace(/IFCWALL\('0{19}100'/, "IFCWALL('0000000000000000000120'"))).toContain(
      'read.model-duplicate-id',
    );
    expect(codesOf(good.replace('IFCUNITASSIGNMENT((#20))', 'IFCUNITASSIGNMENT(())'))).toContain('read.model-unit');
  });

  it('numbers of instances may be large', () => {
    const { model } = readModel(bytesOf(good.replaceAll(/#(\d+)/g, (_, n) => `#${2_000_000_000 + Number(n)}`)));
    expect(model.elements.length).toBe(2);
  });
});

describe('what refers to itself', () => {
  const box = ['#200=IFCRECTANGLEPROFILEDEF(.AREA.,$,$,4000.,300.);', ...upwards(300, 200, 2000)];
  const circles: Readonly<Record<string, readonly string[]>> = {
    'mapped items': [
      "#310=IFCSHAPEREPRESENTATION(#8,'Body','MappedRepresentation',(#312));",
      '#311=IFCREPRESENTATIONMAP(#7,#310);',
      '#312=IFCMAPPEDITEM(#311,#313);',
      '#313=IFCCARTESIANTRANSFORMATIONOPERATOR3D($,$,#6,1.,$);',
    ],
    clippings: [...box, '#312=IFCBOOLEANRESULT(.DIFFERENCE.,#312,#300);'],
    curves: [
      '#201=IFCCOMPOSITECURVE((#202),.F.);',
      '#202=IFCCOMPOSITECURVESEGMENT(.CONTINUOUS.,.T.,#201);',
      '#203=IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,#201);',
      ...upwards(312, 203, 1000),
    ],
  };
  for (const [name, lines] of Object.entries(circles)) {
    it(name, () => {
      const codes = codesOf(oneElementText({ lines, items: [312] }));
      expect(codes).toContain('read.model-circular');
      expect(codes).toContain('read.model-no-body');
    });
  }

  it('a hundred thousand clippings in each other', () => {
    const lines = Array.from(
      { length: 100_000 },
      (_, i) => `#${1000 + i}=IFCBOOLEANRESULT(.DIFFERENCE.,#${i === 0 ? 300 : 999 + i},#300);`,
    );
    const text = oneElementText({ lines: [...box, ...lines], items: [100_999] });
    expect(readIfc(bytesOf(text), engine).findings.map(({ code }) => code)).toContain('read.model-circular');
  });

  it('a placement relative to itself names the element', () => {
    const text = good.replace('#104=IFCLOCALPLACEMENT(#48', '#104=IFCLOCALPLACEMENT(#104');
    const { findings } = readModel(bytesOf(text));
    expect(findings.find(({ code }) => code === 'read.model-placement')?.message).toContain("'wall 100'");
  });
});

describe('samples, damaged', () => {
  /** A small linear congruential generator (Numerical Recipes), so that the same damage is done every time. */
  const chance = (seed: number) => {
    let state = seed;
    return (most: number): number => {
      state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
      return Math.floor((state / 2 ** 32) * most);
    };
  };
  const NUMBERS = ['0.', '-1.', '1.E300', '1.E-300', 'NAN', '$', '*', "'x'", '()', '(1.,2.)', '#1'];

  for (const file of ['wall_arched_top_feet_2x3.ifc', 'wall_join_clean_feet_2x3.ifc', 'walls_without_body_2x3.ifc']) {
    itWithModels(`${file}: cut, flipped, other numbers, other references`, async () => {
      const whole = sample(file);
      const text = new TextDecoder('latin1').decode(whole);
      const ids = [...text.matchAll(/^#(\d+)=/gm)].map(([, id]) => id!);
      const pick = chance(7);
      for (let run = 0; run < 40; run++) {
        const damaged = [
          () => whole.slice(0, pick(whole.length)),
          () => {
            const bytes = whole.slice();
            for (let i = 0; i < 20; i++) bytes[pick(bytes.length)] = pick(256);
            return bytes;
          },
          () =>
            bytesOf(
              text.replace(/(?<=[(,])-?\d+\.\d*(E-?\d+)?/g, (n) =>
                pick(60) === 0 ? NUMBERS[pick(NUMBERS.length)]! : n,
              ),
            ),
          () => bytesOf(text.replace(/(?<=[(,])#\d+/g, (ref) => (pick(60) === 0 ? `#${ids[pick(ids.length)]}` : ref))),
        ][run % 4]!();
        const result = readIfc(damaged, await loadIfcEngine());
        if (!result.ok) expect(result.findings.at(-1)!.message).toMatch(/^[A-Z'].*\.$/s);
      }
    });
  }
});
