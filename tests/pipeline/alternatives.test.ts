/** What else a job would cost: another pitch, the other order of fill. The steps are those of the worked example of 375 (0 and 0.180 m2 a face). */

import { describe, expect, it } from 'vitest';
import { laidOut, laySheet } from '../support/lay.js';
import { hillsideStore, thicker } from '../support/scenes.js';
import type { Sheet } from '../support/sheet.js';

/** The boundary wall alone, 200 thick from 0 to 7400. */
const wall: Sheet = {
  ...hillsideStore,
  marks: hillsideStore.marks.filter((m) => m.kind === 'outline' && m.points[0]!.y === -3000),
};

const job = (more: Record<string, unknown> = {}) => ({
  levels: {
    footingMm: 0,
    topMm: 2660,
    steps: [{ at: [3600, -2900], kind: 'footing' }],
    at: [{ near: [6000, -2900], footingMm: 375 }],
  },
  concrete: { rateMPerH: 1.5, temperatureC: 15 },
  ...more,
});

const said = (code: string, more?: Record<string, unknown>) =>
  laidOut(laySheet(wall, job(more)))
    .result.findings.filter((f) => f.code === code)
    .map((f) => f.message);

describe('another pitch', () => {
  it('is told where it is asked for, and only there', () => {
    expect(said('fit.other-pitch')).toEqual([]);
    const [message, ...more] = said('fit.other-pitch', { comparePitchMm: 150 });
    expect(more).toEqual([]);
    // At 25 the step of 375 is a whole number of pitches. At 150 it leaves 75 under one side: 2 faces of 3600 are less than 2 of 3800, and 200 of a bulkhead.
    expect(message).toMatch(
      /^At a pitch of 150 mm the job would take 0 places and 0\.5\d* m2 of timber; at the catalogue's 25 mm/,
    );
    expect(message).toMatch(/25 mm it takes 0 places and 0 m2 of timber\.$/);
  });
});

describe('the other order of fill', () => {
  it('is not told where no place of timber is left', () => {
    expect(said('fit.other-order')).toEqual([]);
  });

  it('is told where one is', () => {
    const given = { levels: { footingMm: 0, topMm: 2350 }, concrete: { rateMPerH: 1.5, temperatureC: 15 } };
    const { findings } = laidOut(laySheet(thicker, given)).result;
    const messages = findings.filter((f) => f.code === 'fit.other-order').map((f) => f.message);
    expect(messages).toHaveLength(1);
    expect(messages[0]).toMatch(/fewest places|least area/i);
  });
});
