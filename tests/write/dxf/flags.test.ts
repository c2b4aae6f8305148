/** Flags of findings: those of places close together share a stack, so that they do not crowd; each place keeps its dot. */

import { describe, expect, it } from 'vitest';
import { finding } from '../../../src/ground/findings.js';
import { drawFlags, flagNumber } from '../../../src/write/dxf/flags.js';
import { Places } from '../../../src/write/dxf/labels.js';
import type { Shape } from '../../../src/write/dxf/sheet.js';

const TEXT_MM = 90;

const flagsAt = (places: readonly (readonly [number, number])[], textMm = TEXT_MM): Shape[] =>
  drawFlags(
    places.map(([x, y], i) => finding('fit.special-form', `Fault ${i + 1}.`, { at: [x, y, 0], subject: `W${i + 1}` })),
    new Places(),
    { textMm, numberOf: flagNumber, showsSubject: true },
  );

const dots = (shapes: readonly Shape[]): string[] =>
  shapes.flatMap((s) => (s.type === 'circle' ? [`${s.centre.x} ${s.centre.y}`] : []));
const lines = (shapes: readonly Shape[]): Shape[] => shapes.filter((s) => s.type === 'line');
const numbers = (shapes: readonly Shape[]): string[] =>
  shapes.flatMap((s) => (s.type === 'text' && /^[FAN]\d+$/.test(s.text) ? [s.text.slice(1)] : []));

describe('flags', () => {
  it('at the two edges of a short jog share one leader; each edge has a dot, led to the other', () => {
    const shapes = flagsAt([
      [0, 0],
      [150, 0],
      [0, 0],
    ]);
    expect(dots(shapes)).toEqual(['0 0', '150 0']);
    // The leader to the stack, and the link between the dots.
    expect(lines(shapes)).toHaveLength(2);
    expect(numbers(shapes)).toEqual(['1', '2', '3']);
  });

  it('at places apart have leaders of their own', () => {
    const shapes = flagsAt([
      [0, 0],
      [2000, 0],
    ]);
    expect(lines(shapes)).toHaveLength(2);
    expect(dots(shapes)).toEqual(['0 0', '2000 0']);
    const at = (number: string) => shapes.find((s) => s.type === 'text' && s.text.endsWith(number));
    const [a, b] = [at('1'), at('2')];
    if (a?.type !== 'text' || b?.type !== 'text') throw new Error('no numbers');
    expect(Math.hypot(a.at.x - b.at.x, a.at.y - b.at.y)).toBeGreaterThan(1000);
  });

  it('are gathered as far as they are large, and never along a row of places without end', () => {
    const row = Array.from({ length: 20 }, (_, i) => [i * 200, 0] as const);
    const small = lines(flagsAt(row, 45)).length;
    const usual = flagsAt(row);
    // No group reaches further than 360 from its first place: three places at most.
    expect(lines(usual).length).toBeLessThanOrEqual(20 + 7);
    expect(lines(usual).length).toBeGreaterThan(10);
    expect(small).toBe(20);
    expect(new Set(dots(usual)).size).toBe(20);
    expect(numbers(usual)).toHaveLength(20);
  });

  it('lose no finding in a stack of more than eight', () => {
    const crowd = Array.from({ length: 19 }, (_, i) => [i * 10, 0] as const);
    expect(new Set(numbers(flagsAt(crowd))).size).toBe(19);
  });
});
