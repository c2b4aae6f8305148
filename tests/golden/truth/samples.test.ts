/**
 * docs/reference/traced-samples.md says file by file how much of the sample drawings' walls is found: held to be true here. UPDATE_GOLDEN=1 writes it
 * anew: then read the difference.
 */

import { readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect } from 'vitest';
import { itWithSamples, SAMPLES } from '../../read/samples.js';
import { score } from '../../support/drawings/score.js';
import { tracedSamplesPage } from './page.js';
import { SAMPLE_TRUTHS, scoreSample, truthOf } from './traced.js';

const PAGE = fileURLToPath(new URL('../../../docs/reference/traced-samples.md', import.meta.url));

describe('walls of the sample drawings', () => {
  itWithSamples('are known for every sample', () => {
    expect(SAMPLE_TRUTHS.map((t) => t.file)).toEqual(SAMPLES);
  });

  itWithSamples('are found as the page says', () => {
    const page = tracedSamplesPage(SAMPLE_TRUTHS.map(scoreSample));
    if (process.env.UPDATE_GOLDEN === '1') writeFileSync(PAGE, page);
    expect(page).toBe(readFileSync(PAGE, 'utf8'));
  });

  // The measure itself: a foundation without walls loses all of the recall, and of a known wall elsewhere nothing is true.
  itWithSamples('are all missed when nothing is found', () => {
    const withWalls = SAMPLE_TRUTHS.filter((t) => t.walls.length > 0).map(truthOf);
    expect(withWalls.length).toBeGreaterThanOrEqual(5);
    const nothing = { stretches: [], curves: [], pilasters: [] };
    for (const truth of withWalls) expect(score(truth, nothing)).toMatchObject({ recall: 0, foundMm: 0, precision: 1 });
  });
});
