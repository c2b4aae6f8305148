/** Lengths of messages told in inches. The figures: 25.4 mm an inch exactly (international inch, 1959), rounded to a sixteenth by hand. */

import { describe, expect, it } from 'vitest';
import { finding } from '../../src/ground/findings.js';
import { inGearUnit, messageInInches } from '../../src/ground/messageLengths.js';

describe('a message for a crew in inches', () => {
  it.each([
    ['A gap of 50.8 mm was closed.', 'A gap of 2 in was closed.'],
    ['stations 203.2 to 8737.6; a frame', 'stations 8 to 344 in; a frame'],
    ['at station 6400.8, 12496.8 and at the end', 'at station 252, 492 in and at the end'],
    ['between stations 304.8 and 355.6 of wall W6 (50.8 mm', 'between stations 12 and 14 in of wall W6 (2 in'],
    ['row 1 (level 305) on', 'row 1 (level 12 in) on'],
    ['tie rows at -304.8, 304.8 only', 'tie rows at -12, 12 in only'],
    ['at station 2133.6, 50.8 mm from a joint', 'at station 84 in, 2 in from a joint'],
    ['W1 from 0 to 2438.4, W3 from 0 to 1219.2.', 'W1 from 0 to 96 in, W3 from 0 to 48 in.'],
    ['forms 2438 high have 0 of 2 rows', 'forms 96 in high have 0 of 2 rows'],
    ['(CD1 610 x 660 mm, CD2 408 x 610 mm)', '(CD1 24 x 26 in, CD2 16 1/16 x 24 in)'],
    ['Box-out O1 in wall W2, 304.8 x 609.6: it', 'Box-out O1 in wall W2, 12 x 24 in: it'],
    ['moved by 0.4 mm', 'moved by 0.016 in'],
  ])('%s', (inMm, inInches) => {
    expect(messageInInches(inMm)).toBe(inInches);
  });

  it.each([
    'the note "200 THICK, 8 mm bars" says so, such as "58\'-0"" at a measured 696',
    '4.83 kN (BR16) beyond 0.9 of its weight, up to 1.42 kN per m',
    'panel-600x2400 (46.1 kg), 8 of tie-100-250, a room of 19 m2, 43.1 kPa, 1.5 m/h',
    'with 8.6 and 0 kN per m of height at node N1 of W12',
    'Put into the job file under levels.at: near: 1200, 3400, footingMm: 300.',
    'Marks are 125 mm (4.921 in) high, not 152.4 mm (6 in), as most',
    'from 3 to 5 kN, strength of 5 N/mm², from level P12',
  ])('leaves alone what is no length, or is the drawing’s own, or the job file’s: %s', (message) => {
    expect(messageInInches(message)).toBe(message);
  });

  it('is told of what was assumed too, and not at all to a crew in mm', () => {
    const found = [finding('trace.levels-assumed', 'Top at 2438.4 mm.', { assumed: 'top of the walls at 2438.4 mm' })];
    expect(inGearUnit(found, 'mm')).toBe(found);
    expect(inGearUnit(found, 'in')[0]).toMatchObject({
      message: 'Top at 96 in.',
      assumed: 'top of the walls at 96 in',
    });
  });
});
