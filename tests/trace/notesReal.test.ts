/** What a person reads in the texts of drawings that no one here made. */

import { describe, expect } from 'vitest';
import { openingNotes } from '../../src/trace/notes/openingNotes.js';
import { placeNotes } from '../../src/trace/notes/placed.js';
import { placeTexts } from '../../src/trace/notes/places.js';
import { thicknessNotes } from '../../src/trace/notes/thicknessNotes.js';
import { inferUnit } from '../../src/trace/unit.js';
import { itWithSamples, read, SAMPLES, sample } from '../read/samples.js';
import { OPTIONS } from './plans.js';

const inches = (mm: number): number => Math.round((mm / 25.4) * 1000) / 1000;
const HOUSE = 'house_foundation_plan_inches.dxf';

describe('the house plan', () => {
  // Looked over text by text: it is an architect's plan and gives no level, no bars, no thickness of concrete; stud spacings, nailing and panel sizes are none of these.
  itWithSamples('gives no levels, steps, bars or thicknesses of walls', () => {
    const { drawing } = read(sample(HOUSE));
    const { texts, leaders } = drawing;
    expect(texts.length).toBeGreaterThan(90);
    const options = { ...OPTIONS, levels: { footingMm: null, topMm: null } };
    const notes = placeNotes({ drawing, texts, leaders, unit: 'in', walls: [], curves: [], paths: [], options });
    expect(notes.value).toEqual({
      levels: { footingMm: 0, topMm: 2400, footingFrom: 'default', topFrom: 'default' },
      levelsAt: [],
      steps: [],
      bars: [],
    });
    expect(notes.findings.map((f) => f.code)).toEqual(['trace.levels-assumed']);
    expect(thicknessNotes(texts, leaders, 'in')).toEqual([]);
  });

  itWithSamples('names doors and windows by call sizes, and rooms by plain sizes, which are no openings', () => {
    const { drawing } = read(sample(HOUSE));
    const found = openingNotes(drawing.texts, drawing.leaders, 'in').map(
      (n) => `${n.text}: ${n.kind ?? 'opening'} ${inches(n.widthMm!)} x ${inches(n.heightMm!)}`,
    );
    const counted = [...new Set(found)].sort().map((line) => `${found.filter((f) => f === line).length} of ${line}`);
    // Feet and inches of width and height: 2668 is 2'-6" x 6'-8".
    expect(counted).toEqual([
      '1 of 16070 O.H. DOOR: door 192 x 84',
      '1 of 1660: opening 18 x 72',
      '2 of 2050 SH: window 24 x 60',
      '1 of 2068: opening 24 x 80',
      '2 of 2468: opening 28 x 80',
      '9 of 2668: opening 30 x 80',
      '1 of 3036 XO: window 36 x 42',
      '2 of 3068: opening 36 x 80',
      '1 of 4010 XO: window 48 x 12',
      '2 of 5050 XO: window 60 x 60',
      '1 of 6040 XO: window 72 x 48',
      '2 of 6068 S.G.D.: door 72 x 80',
      '1 of 6068: opening 72 x 80',
      '1 of 7068: opening 84 x 80',
    ]);
  });

  itWithSamples('has six leaders, whose texts are found at their tails', () => {
    const { drawing } = read(sample(HOUSE));
    expect(drawing.leaders).toHaveLength(6);
    const hung = placeTexts(drawing.texts, drawing.leaders, 'in')
      .filter((t) => t.byLeader)
      .map((t) => [t.text.split(/[\n ]/)[0], t.at.map((at) => [Math.trunc(at.x / 25.4), Math.trunc(at.y / 25.4)])]);
    expect(hung).toEqual([
      ['SHEAR', [[-619, -13]]],
      ['"HEATILATOR"', [[-305, 330]]],
      ['PROVIDE', [[-67, 39]]],
      [
        'BRACED',
        [
          [-212, -211],
          [28, -213],
        ],
      ],
      ['BOLLARD,', [[17, 8]]],
    ]);
  });
});

describe('the other sample drawings', () => {
  // None of them is a foundation plan with notes; their texts are labels, tables, tool data and cells.
  for (const file of SAMPLES.filter((f) => f !== HOUSE)) {
    itWithSamples(`${file} gives nothing`, () => {
      const result = read(sample(file));
      const { drawing } = result;
      const unit = inferUnit(drawing, drawing.paths).unit;
      const { texts, leaders } = drawing;
      const notes = placeNotes({ drawing, texts, leaders, unit, walls: [], curves: [], paths: [], options: OPTIONS });
      expect(notes.findings).toEqual([]);
      expect(notes.value.bars).toEqual([]);
      expect(thicknessNotes(texts, leaders, unit)).toEqual([]);
      expect(openingNotes(texts, leaders, unit)).toEqual([]);
    });
  }
});
