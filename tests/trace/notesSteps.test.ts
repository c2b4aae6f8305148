/** Steps and sizes of footings in notes. "STEP FTG. 2'-0": …" is seen in code that draws foundation plans, STEP DN and "2H:1V MAX STEP" are from memory of the trade; "CONTINUOUS FOOTING: …" is seen in public drawings. */

import { describe, expect, it } from 'vitest';
import { footingDepthsMm, readFootings } from '../../src/trace/notes/footings.js';
import { readSteps, risesMm } from '../../src/trace/notes/steps.js';

describe('steps in notes', () => {
  it.each([
    ['STEP FTG', 'footing', null, undefined],
    ['STEPPED FTG. SEE DETAIL 3', 'footing', null, undefined],
    ['FTG STEP', 'footing', null, undefined],
    ['STEP IN FTG', 'footing', null, undefined],
    ['STEP FTG\n2H:1V MAX', 'footing', null, undefined],
    ['STEP FTG DN 2\'-0"', 'footing', 'down', 609.6],
    ['FTG. STEP DN. 2\'-0"', 'footing', 'down', 609.6],
    ['STEP FTG. 2\'-0": 96\'-0" → 98\'-0"', 'footing', null, 609.6],
    ['DROP FTG 12"', 'footing', null, 304.8],
    ['Fundamentabsatz 30 cm', 'footing', null, 300],
    ['SF', 'footing', null, undefined],
    ['STEP DN 2\'-0"', null, 'down', 609.6],
    ['STEPDN2\'-0"', null, 'down', 609.6],
    ['STEP UP 8"', null, 'up', 203.2],
    ['STEP 600', null, null, 600],
    ['Absatz 30 cm', null, null, 300],
    ['STEP', null, null, undefined],
    ['Stufe', null, null, undefined],
    ['STEP TOP OF WALL 8"', 'top', null, 203.2],
    ['STEP T.O.W. DN 1\'-4"', 'top', 'down', 406.4],
    ['T.O.W. STEPS', 'top', null, undefined],
  ])('%j', (text, kind, direction, riseMm) => {
    const steps = readSteps(text);
    expect(steps).toMatchObject([{ kind, direction }]);
    const [rise] = risesMm(steps[0]!, 'mm');
    if (riseMm === undefined) expect(rise).toBeUndefined();
    else expect(rise).toBeCloseTo(riseMm, 6);
  });

  it.each([
    '2H:1V MAX STEP',
    'STEP FTG 2H:1V MAX',
    'STEPPED FOOTING 1:2',
    'STEP FOOTINGS AS REQUIRED',
    'FOOTING STEPS SHALL NOT EXCEED 2\'-0"',
    'TYP. STEP FTG DETAIL',
    'STEP FOOTING DETAIL',
    'STEPS',
    '4 STEPS',
    'STEP 4R',
    'DOOR STEP',
    'DOWNSTEP',
    'BACKDROP 200',
    '120 S.F.',
    'S-12',
  ])('%s marks none: a rule, a title, a stair or something else', (text) => {
    expect(readSteps(text)).toEqual([]);
  });
});

describe('depths of footings in notes', () => {
  it.each([
    ['CONTINUOUS FOOTING: 1\'-0" WIDE x 1\'-0" DEEP MIN', 304.8],
    ['16" x 8" CONT. CONC. FOOTING', 203.2],
    ['24"x12" FTG', 304.8],
    ['600x300 FTG', 300],
    ['FTG 600x300', 300],
    ['Streifenfundament b/h = 50/80', 800],
    ['10" THICK FOOTING', 254],
    ['4\'-0" x 4\'-0" x 12" FTG', 304.8],
  ])('%s is %d deep', (text, mm) => {
    expect(footingDepthsMm(readFootings(text)[0]!, 'mm')[0]).toBeCloseTo(mm, 6);
  });

  it.each(['8" CONC. WALL', '3\'-0" x 6\'-8" DOOR', 'FTG @ GRID 2/A', '1:50'])('%s gives none', (text) => {
    expect(readFootings(text)).toEqual([]);
  });
});
