/** Numbers of a file are the doubles that the language itself makes of the same text. Outside truth: Number (ECMA-262, StringToNumber). */

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { decimal } from '../../../src/read/ifc/decimal.js';
import { ValueReader } from '../../../src/read/ifc/values.js';

const read = (text: string): unknown => new ValueReader(new TextEncoder().encode(`(${text})`)).listAt(0)[0];

const digits = (most: number) =>
  fc.array(fc.integer({ min: 0, max: 9 }), { minLength: 0, maxLength: most }).map((list) => list.join(''));
const sign = fc.constantFrom('', '-');
const exponent = fc.oneof(
  fc.constant(''),
  fc.integer({ min: -330, max: 320 }).map((n) => `E${n}`),
  fc.integer({ min: -24, max: 24 }).map((n) => `E${n < 0 ? '' : '+'}${n}`),
);

describe('numbers of a file', () => {
  it('of any digits', () => {
    fc.assert(
      fc.property(sign, digits(22), digits(22), exponent, (minus, whole, part, power) => {
        const text = `${minus}${whole === '' ? '0' : whole}.${part}${power}`;
        expect(read(text)).toBe(Number(text));
      }),
      { numRuns: 20_000, seed: 21 },
    );
  });

  it('that are what rounding leaves of a zero', () => {
    const magnitude = fc.integer({ min: -48, max: -10 });
    fc.assert(
      fc.property(sign, fc.double({ min: 1, max: 10, noNaN: true }), magnitude, (minus, value, power) => {
        const text = `${minus}${value}E${power}`;
        expect(read(text)).toBe(Number(text));
      }),
      { numRuns: 20_000, seed: 24 },
    );
  });

  it('are told without a text where rounding left them of a zero', () => {
    // Head of 15 digits, the rest, how many those are, places behind the point.
    const told: [number, number, number, number, string][] = [
      [1, 0, 0, 17, '1E-17'],
      [710542735760100, 2, 1, 30, '7.105427357601002E-15'],
      [612303176911188, 66, 2, 33, '6.1230317691118866E-17'],
      [222044604925031, 3, 1, 31, '2.220446049250313E-16'],
    ];
    for (const [head, tail, more, places, text] of told)
      expect(decimal(head, tail, more, places), text).toBe(Number(text));
  });

  it('as programs print doubles', () => {
    fc.assert(
      fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), (value) => {
        const text = String(value).toUpperCase();
        expect(read(text)).toBe(Number(text));
      }),
      { numRuns: 20_000, seed: 22 },
    );
  });

  it('half-way between two doubles, and next to it', () => {
    fc.assert(
      fc.property(fc.bigInt({ min: 2n ** 52n, max: 2n ** 53n - 1n }), fc.constantFrom(-1n, 0n, 1n), (n, off) => {
        const text = `${((2n * n + 1n) * 5n + off) / 10n}.${((2n * n + 1n) * 5n + off) % 10n}`;
        expect(read(text)).toBe(Number(text));
      }),
      { numRuns: 20_000, seed: 23 },
    );
  });

  it('of corners', () => {
    for (const text of [
      '0',
      '0.',
      '-0.',
      '-0',
      '1.E5',
      '1E400',
      '1.E-400',
      '000000000000000000000012.5',
      '9007199254740993.',
    ]) {
      expect(read(text)).toBe(Number(text));
    }
  });
});
