/**
 * Every drawing and model of fixtures/ laid out and compared with what was read through and kept beside it (expected.txt; of several drawings name.expected.txt).
 * UPDATE_GOLDEN=1 rewrites them: then read the difference.
 */

import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { jobBeside, layFile } from '../support/lay.js';
import { FIXTURES, fixtureFiles } from '../support/makeFixtures.js';
import { readable } from '../support/readable.js';

const folders = readdirSync(FIXTURES).sort();

describe('fixtures', () => {
  it('are as their scenes are drawn (npx tsx tests/support/makeFixtures.ts)', () => {
    for (const [path, bytes] of Object.entries(fixtureFiles)) {
      expect(Buffer.compare(readFileSync(FIXTURES + path), bytes), path).toBe(0);
    }
  });

  it('are there', () => {
    expect(folders.length).toBeGreaterThanOrEqual(4);
  });

  for (const folder of folders) {
    const files = readdirSync(FIXTURES + folder).sort();
    const drawings = files.filter((file) => /\.(dxf|ifc)$/.test(file));

    it(`${folder} has drawings or models and a README of two lines`, () => {
      expect(drawings.length).toBeGreaterThan(0);
      expect(readFileSync(`${FIXTURES}${folder}/README.md`, 'utf8').trim().split('\n')).toHaveLength(2);
    });

    for (const drawing of drawings) {
      it(`${folder}/${drawing}`, async () => {
        const path = `${FIXTURES}${folder}/${drawing}`;
        const golden = `${FIXTURES}${folder}/${drawings.length > 1 ? `expected.${drawing.replace(/\.[a-z]+$/, '')}.txt` : 'expected.txt'}`;
        const text = readable(await layFile(new Uint8Array(readFileSync(path)), jobBeside(path), drawing));
        if (process.env.UPDATE_GOLDEN === '1') writeFileSync(golden, text);
        expect(text).toBe(readFileSync(golden, 'utf8'));
      });
    }
  }
});
