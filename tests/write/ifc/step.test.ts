/** The form of values in STEP text (ISO 10303-21) and of GlobalIds, against what others have written down. */

import fc from 'fast-check';
import { validate, version } from 'uuid';
import { describe, expect, it } from 'vitest';
import { isGlobalId } from '../../../src/ground/ids.js';
import { compressed, Ids } from '../../../src/write/ifc/globalId.js';
import { integer, list, real, text, typed } from '../../../src/write/ifc/step/values.js';

const SEED = Number(process.env.FC_SEED ?? 20265);

/** Reads a string of STEP text back, by the rules of ISO 10303-21 clause 6.4.3: doubled quotes and backslashes, \X2\ and \X4\ up to \X0\. */
const readBack = (step: string): string =>
  step.slice(1, -1).replace(/''|\\\\|\\X2\\([0-9A-F]{4})+\\X0\\|\\X4\\([0-9A-F]{8})+\\X0\\/g, (found) => {
    if (found === "''") return "'";
    if (found === '\\\\') return '\\';
    const size = found.startsWith('\\X2\\') ? 4 : 8;
    const digits = found.slice(4, -4);
    const codes = Array.from({ length: digits.length / size }, (_, i) =>
      Number.parseInt(digits.slice(i * size, (i + 1) * size), 16),
    );
    return String.fromCodePoint(...codes);
  });

describe('reals', () => {
  it.each([
    [0, '0.'],
    [-0, '0.'],
    [5, '5.'],
    [-3.25, '-3.25'],
    [0.1, '0.1'],
    [1e-9, '1.E-9'],
    [1.5e-7, '1.5E-7'],
    [1e21, '1.E21'],
    [1.25e22, '1.25E22'],
    [123456789.123, '123456789.123'],
  ])('%d is %s', (value, written) => {
    expect(real(value).step).toBe(written);
  });

  it('have the form that the standard demands and read back as the same number', () => {
    fc.assert(
      fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), (value) => {
        const { step } = real(value);
        // real = [sign] digit {digit} '.' {digit} ['E' [sign] digit {digit}] (ISO 10303-21, 6.4.2)
        expect(step).toMatch(/^[-+]?[0-9]+\.[0-9]*(E[-+]?[0-9]+)?$/);
        expect(Number(step)).toBe(value === 0 ? 0 : value);
      }),
      { seed: SEED },
    );
  });

  it('are never what is no number', () => {
    for (const value of [Number.NaN, Number.POSITIVE_INFINITY]) expect(() => real(value)).toThrow();
    for (const value of [0.5, Number.NaN, 2 ** 60]) expect(() => integer(value)).toThrow();
  });
});

describe('strings', () => {
  it('double quotes and backslashes, and write the rest in ASCII', () => {
    expect(text("it's 5\\6").step).toBe("'it''s 5\\\\6'");
    // ISO 10303-21, 6.4.3.3: hexadecimal of ISO 10646; sample of buildingSMART's implementer notes on \X2\: 'ä' is 00E4.
    expect(text('ä').step).toBe("'\\X2\\00E4\\X0\\'");
    expect(text('😀').step).toBe("'\\X4\\0001F600\\X0\\'");
    expect(text('\ud800').step).toBe("'\\X2\\FFFD\\X0\\'");
  });

  it('read back as they were', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme' }), (value) => {
        const { step } = text(value);
        expect(step).toMatch(/^'[ -~]*'$/);
        expect(readBack(step)).toBe(value);
      }),
      { seed: SEED },
    );
  });

  it('stand in lists and with their types', () => {
    expect(list([typed('IfcLabel', text('A')), integer(3)]).step).toBe("(IFCLABEL('A'),3)");
  });
});

/** The way back, digit by digit: the UUID of a GlobalId. */
const expanded = (globalId: string): string => {
  const digits = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz_$';
  const value = [...globalId].reduce((sum, c) => sum * 64n + BigInt(digits.indexOf(c)), 0n);
  return value
    .toString(16)
    .padStart(32, '0')
    .replace(/^(.{8})(.{4})(.{4})(.{4})(.{12})$/, '$1-$2-$3-$4-$5');
};

describe('GlobalIds', () => {
  it.each([
    // Graphisoft, Archicad API documentation of ACAPI_IFC_APIGuidToIFCGuid.
    ['C2E63FBC-194A-4895-A7A8-62C9B0D5CC7B', '32vZ_y6Kf8bQUeOicmrSnx'],
    // D. Sparks, ifcidc (github.com/devonsparks/ifcidc), README: the GUID of an IfcBeam.
    ['b29d2e4d-9209-4ef1-aa55-9df70bf727fe', '2odIvDaWbEyQfLdVSBzoV_'],
  ])('%s is %s', (uuid, globalId) => {
    expect(compressed(uuid)).toBe(globalId);
    expect(expanded(globalId)).toBe(uuid.toLowerCase());
  });

  it('go both ways for every UUID', () => {
    fc.assert(
      fc.property(fc.uuid(), (uuid) => {
        expect(isGlobalId(compressed(uuid))).toBe(true);
        expect(expanded(compressed(uuid))).toBe(uuid);
      }),
      { seed: SEED },
    );
  });

  it('are none of what is too long, too short, beyond 128 bits or of other characters', () => {
    for (const wrong of [
      '',
      '4odIvDaWbEyQfLdVSBzoV_',
      '2odIvDaWbEyQfLdVSBzoV',
      '2odIvDaWbEyQfLdVSBzoV-',
      '2odIvDaWbEyQfLdVSBzoV__',
    ])
      expect(isGlobalId(wrong)).toBe(false);
  });

  it('are the same for the same key and differ by key and by what they are about', () => {
    const [a, b] = [new Ids('model A'), new Ids('model B')];
    expect(a.of('x')).toBe(new Ids('model A').of('x'));
    expect(new Set([a.of('x'), a.of('y'), b.of('x'), b.of('y')]).size).toBe(4);
    expect([validate(a.uuid('x')), version(a.uuid('x'))]).toEqual([true, 5]);
    expect(a.make('x')).toBe(a.of('x'));
    expect(() => a.make('x')).toThrow();
  });
});
