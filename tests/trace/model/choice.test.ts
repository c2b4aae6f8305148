/** Which walls are taken, and why. */

import { describe, expect, it } from 'vitest';
import { materialWord } from '../../../src/trace/model/words.js';
import { box, element, prism } from './byHand.js';
import { codesOf, run, takenOf, wallAt, whyOf } from './run.js';

describe('what concrete is called', () => {
  it.each([
    ['Concrete - Cast In Situ', 'concrete'],
    ['beton_C20/25', 'concrete'],
    ['Stahlbeton', 'concrete'],
    ['Béton armé', 'concrete'],
    ['Hormigón', 'concrete'],
    ['Calcestruzzo C25/30', 'concrete'],
    ['RC-W1_300', 'concrete'],
    ['Betong', 'concrete'],
    ['C30/37', 'concrete'],
    ['Masonry - Concrete Block', 'other'],
    ['Betonstein', 'other'],
    ['Porenbeton', 'other'],
    ['kalkzandsteen', 'other'],
    ['metselwerk', 'other'],
    ['Precast concrete', 'other'],
    ['stone_sand-lime', 'other'],
    ['gipsplaat', 'other'],
    ['hout', 'other'],
    ['Insulation / Thermal Barriers - Rigid insulation', 'other'],
    ['Default Wall', 'silent'],
    ['Generic - 8"', 'silent'],
    ['', 'silent'],
  ])('%s: %s', (name, is) => {
    expect(materialWord(name).is).toBe(is);
  });
});

describe('which walls', () => {
  const material = (name: string) => ({ materials: [{ name, category: null, thicknessMm: null }], typeName: null });

  it('concrete on footings, not the brick beside it, not the storey above', () => {
    const footing = element('f', [prism(box(-200, -200, 5200, 450), -300, 0)], {
      kind: 'footing',
      entity: 'IfcFooting',
    });
    const r = run([footing, wallAt('w', 0), wallAt('brick', 300, material('Brick')), wallAt('up', 0, {}, 2700, 5200)]);
    expect(takenOf(r)).toEqual(['w']);
    expect(whyOf(r, 'w')).toBe('stands on footing f, concrete by type (Concrete wall)');
    expect(whyOf(r, 'brick')).toBe('not concrete: masonry (Brick)');
    expect(whyOf(r, 'up')).toBe('above the foundation: stands on wall w');
    expect(r.value.model!.outlines.map((o) => [o.kind, o.id])).toEqual([
      ['footing', 'f'],
      ['wall', 'w'],
      ['wall-left-out', 'brick'],
    ]);
  });

  it('nothing says the material: taken at the level of the foundation, and asked', () => {
    const r = run([wallAt('w', 0, { typeName: null })]);
    expect(takenOf(r)).toEqual(['w']);
    const f = r.findings.find((x) => x.code === 'trace.material-unknown')!;
    expect([f.subject, f.assumed]).toEqual(['w', 'it is concrete cast in place']);
    expect(codesOf(r)).toContain('trace.model-storeys');
  });

  it('walls that are footings by shape carry the others; a wall that is a raft by name and type slab too', () => {
    const low = element('low', [prism(box(-200, -200, 5200, 450), -300, 0)]);
    const r = run([low, wallAt('w', 0)]);
    expect(takenOf(r)).toEqual(['w']);
    expect(whyOf(r, 'low')).toContain('a footing by its shape: 650 mm wide and 300 mm high');
    const raft = element('raft', [prism(box(-1000, -1000, 6000, 6000), -400, 0)], {
      kind: 'slab',
      predefinedType: 'BASESLAB',
    });
    expect(whyOf(run([raft, wallAt('w', 0)]), 'w')).toContain('stands on slab raft');
  });

  it('types that are never formed, storeys, the area and the lists of the job file', () => {
    const storeys = [
      { id: 's1', name: 'Kelder', levelMm: 0, elevationMm: 0 },
      { id: 's2', name: 'Begane grond', levelMm: 0, elevationMm: 0 },
    ];
    const all = [
      wallAt('a', 0, { storey: 's1' }),
      wallAt('b', 3000, { storey: 's2', name: 'North wall' }),
      wallAt('p', 6000, { predefinedType: 'PARTITIONING', storey: 's1' }),
    ];
    expect(takenOf(run(all, {}, { storeys }))).toEqual(['a', 'b']);
    expect(whyOf(run(all, {}, { storeys }), 'a')).toContain('its name or storey says foundation');
    expect(takenOf(run(all, { storeys: ['kelder'] }, { storeys }))).toEqual(['a']);
    expect(takenOf(run(all, { takeElements: ['north*', 'p'] }, { storeys }))).toEqual(['b', 'p']);
    expect(takenOf(run(all, { ignoreElements: ['a'] }, { storeys }))).toEqual(['b']);
    expect(takenOf(run(all, { area: [-100, -100, 6000, 1000] }, { storeys }))).toEqual(['a']);
    const odd = run(all, { takeElements: ['a', 'nobody'], storeys: ['attic'] }, { storeys });
    expect(odd.findings.filter((f) => f.code === 'trace.element-unmatched').map((f) => f.subject)).toEqual([
      'attic',
      'nobody',
    ]);
  });

  it('names that match only what they do not concern are said, with what they match', () => {
    const column = element('c', [prism(box(7000, 0, 7300, 300), 0, 2500)], { kind: 'column', name: 'K1' });
    const footing = element('f', [prism(box(-200, -200, 5200, 450), -300, 0)], { kind: 'footing', name: 'Strip' });
    const unmatched = (options: Parameters<typeof run>[1]) =>
      run([wallAt('w', 0), column, footing], options)
        .findings.filter((f) => f.code === 'trace.element-unmatched')
        .map((f) => f.message);
    expect(unmatched({ takeElements: ['w', 'K*'] })).toEqual([
      'drawing.takeElements names "K*", which no wall is called; K1 (c) is taken by its GlobalId alone.',
    ]);
    expect(unmatched({ takeElements: ['w', 'c'] })).toEqual([]);
    expect(unmatched({ ignoreElements: ['strip'] })).toEqual([
      'drawing.ignoreElements names "strip", which no wall is called; Strip (f) is not formed anyway.',
    ]);
    expect(unmatched({ takeElements: ['w', 'nobody'] })).toEqual([
      'drawing.takeElements names "nobody", which is in no place of the model.',
    ]);
    // A wall that has materials is judged by them alone.
    const named = wallAt('w', 0, { ...material('Mix 7'), name: 'Concrete wall' });
    const r = run([named], { concreteMaterials: ['mix*', 'concrete*'] });
    expect(r.findings.filter((f) => f.code === 'trace.element-unmatched').map((f) => f.subject)).toEqual(['concrete*']);
  });

  it('concreteMaterials holds for columns and what may want forms, too', () => {
    const mix = wallAt('w', 0, material('Mix 7'));
    const column = (name: string) =>
      element('c', [prism(box(5000, -50, 5300, 300), 0, 2500)], { kind: 'column', ...material(name) });
    const beam = (name: string) =>
      element('b', [prism(box(0, 3000, 5000, 3300), -600, 0)], { kind: 'beam', ...material(name) });
    const codes = (name: string) => codesOf(run([mix, column(name), beam(name)], { concreteMaterials: ['mix*'] }));
    expect(codes('Mix 9')).toEqual(expect.arrayContaining(['trace.column-in-wall', 'trace.upstands-left-out']));
    expect(codes('Concrete C30/37')).not.toContain('trace.column-in-wall');
    expect(codes('Concrete C30/37')).not.toContain('trace.upstands-left-out');
  });

  it('concreteMaterials decides alone where it is given', () => {
    const all = [wallAt('a', 0, material('Mix 7')), wallAt('b', 3000, material('Concrete'))];
    const r = run(all, { concreteMaterials: ['mix*'] });
    expect(takenOf(r)).toEqual(['a']);
    expect(whyOf(r, 'b')).toBe('not concrete: not in concreteMaterials (Concrete)');
  });

  it('none: a failure with the reasons counted', () => {
    const r = run([
      wallAt('a', 0, material('Brick')),
      wallAt('b', 3000, material('Brick')),
      wallAt('c', 6000, { typeName: 'Timber stud' }),
    ]);
    const f = r.findings.find((x) => x.code === 'trace.no-wall-in-model')!;
    expect(f.severity).toBe('failure');
    expect(f.message).toBe(
      'None of the 3 walls of the model was taken: 2 not concrete: masonry; 1 not concrete by type: timber.',
    );
    expect(r.value.stretches).toEqual([]);
    expect(run([]).findings[0]!.message).toContain('The model has no walls');
  });

  it('ground beams, upstands and walls of other kinds are listed, and said once', () => {
    const long = (
      id: string,
      y: number,
      thick: number,
      base: number,
      top: number,
      more: Parameters<typeof element>[2],
    ) => element(id, [prism(box(0, y, 5000, y + thick), base, top)], { typeName: 'Concrete', ...more });
    const others = [
      long('beam', 3000, 300, -600, 0, { kind: 'beam', entity: 'IfcBeam' }),
      long('footing beam', 4000, 300, -600, 0, { kind: 'footing', predefinedType: 'FOOTING_BEAM' }),
      long('upstand', 5000, 200, 0, 1200, { kind: 'footing', predefinedType: 'STRIP_FOOTING' }),
      long('proxy', 6000, 200, 0, 2400, { kind: 'other', entity: 'IfcBuildingElementProxy' }),
      long('strip', 7000, 600, -300, 0, { kind: 'footing', predefinedType: 'STRIP_FOOTING' }),
      long('floor beam', 8000, 300, 2000, 2500, { kind: 'beam', entity: 'IfcBeam' }),
      long('timber', 9000, 100, -300, 0, { kind: 'beam', typeName: 'Timber' }),
    ];
    const r = run([wallAt('w', 0), ...others]);
    expect(takenOf(r)).toEqual(['w']);
    expect(r.value.model!.elements.map((e) => e.id)).toEqual(['beam', 'footing beam', 'proxy', 'upstand', 'w']);
    expect(whyOf(r, 'footing beam')).toBe(
      'a footing beam: formed only if the job file takes it by its GlobalId (takeElements)',
    );
    expect(r.findings.filter((f) => f.code === 'trace.upstands-left-out').map((f) => f.severity)).toEqual(['note']);
    expect(r.findings.find((f) => f.code === 'trace.model-walls')!.message).toBe(
      '1 element was taken, none was left out.',
    );
    const named = run([wallAt('w', 0), ...others], { takeElements: ['w', 'beam'] });
    expect(takenOf(named)).toEqual(['beam', 'w']);
    expect(codesOf(run([wallAt('w', 0)]))).not.toContain('trace.upstands-left-out');
    // Where no wall is taken, what stands lowest tells where the foundation is.
    const alone = run(others);
    expect(alone.value.model!.elements.map((e) => e.id)).toEqual(['beam', 'footing beam', 'proxy', 'upstand']);
    expect(alone.findings.map((f) => [f.code, f.severity])).toEqual([
      ['trace.no-wall-in-model', 'failure'],
      ['trace.upstands-left-out', 'note'],
    ]);
  });
});
