/** Job files of strangers: no text ends the program or keeps it busy. */

import { pathToFileURL } from 'node:url';
import { describe, expect, it } from 'vitest';
import { parseSettings } from '../../src/jobs/files.js';
import { Refusal } from '../../src/jobs/refusal.js';
import { parseSettingsOfStranger } from '../../src/jobs/settingsThread.js';
import { ROOT } from '../support/repository.js';

const THREAD = pathToFileURL(`${ROOT}dist/jobs/settingsWorker.js`);

describe('settings', () => {
  it.each([
    ['brackets', '['.repeat(100_000)],
    ['braces', '{a: '.repeat(2000)],
    ['brackets behind brackets that are text', '["]", '.repeat(500)],
    ['marks on one line', '- '.repeat(2000)],
    ['lines each further to the right', Array.from({ length: 400 }, (_, i) => `${' '.repeat(i)}a:`).join('\n')],
  ])('nested too deep by %s are refused before they are parsed', (_, text) => {
    expect(() => parseSettings(text, 'x')).toThrow(/^x is nested deeper than 200 levels/);
  });

  it('nested as deep as anybody needs are read', () => {
    const deep = (levels: number): unknown => (levels === 0 ? 'end' : { a: deep(levels - 1) });
    const lines = Array.from({ length: 60 }, (_, i) => `${'  '.repeat(i)}a:`).join('\n');
    expect(parseSettings(`${lines} end`, 'x')).toEqual(deep(60));
    expect(parseSettings(JSON.stringify(deep(150)), 'x')).toEqual(deep(150));
    expect(parseSettings(`a: "${']['.repeat(500)}"`, 'x')).toEqual({ a: ']['.repeat(500) });
  });

  it('of strangers give the same in a thread as beside it, and a refusal where they take too long', async () => {
    const long = `stock:\n${Array.from({ length: 400 }, (_, i) => `  panel-${i}: ${i}`).join('\n')}\n`;
    const ofStranger = (text: string) => parseSettingsOfStranger({ text, name: 'x' }, THREAD);
    expect(await ofStranger(long)).toEqual(parseSettings(long, 'x'));
    expect(await ofStranger('a: 1')).toEqual({ a: 1 });
    await expect(ofStranger('a: [')).rejects.toThrow(Refusal);
    await expect(ofStranger(`${long}\nstock: 1`)).rejects.toThrow(/must be unique/);
  });
});
