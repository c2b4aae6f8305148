/**
 * Values of a STEP file (ISO 10303-21): each is made here in its written form, so that nothing else knows the grammar.
 * Reals always have a decimal point ('1.E-9', not '1E-9'), with the fewest digits that read back as the same double.
 */

/** A value as it stands in the file. */
export interface StepValue {
  readonly step: string;
}

/** A reference to an instance of the file. */
export interface StepRef extends StepValue {
  readonly id: number;
}

/** Throws on what is no number: the caller has looked before. */
export const real = (value: number): StepValue => {
  if (!Number.isFinite(value)) throw new Error(`${value} cannot be written as a real`);
  const plain = String(value === 0 ? 0 : value).toUpperCase();
  const [mantissa = '', exponent] = plain.split('E');
  const pointed = mantissa.includes('.') ? mantissa : `${mantissa}.`;
  return { step: exponent === undefined ? pointed : `${pointed}E${exponent.replace('+', '')}` };
};

export const integer = (value: number): StepValue => {
  if (!Number.isSafeInteger(value)) throw new Error(`${value} cannot be written as an integer`);
  return { step: String(value === 0 ? 0 : value) };
};

export const truth = (value: boolean): StepValue => ({ step: value ? '.T.' : '.F.' });

/** An item of an enumeration, in capitals. */
export const word = (item: string): StepValue => ({ step: `.${item}.` });

const hex = (value: number, digits: number): string => value.toString(16).toUpperCase().padStart(digits, '0');

/** \X2\ takes UTF-16 units of the basic plane, \X4\ whole code points beyond it; half a surrogate pair is no character and becomes U+FFFD. */
const escaped = (codePoint: number): string => {
  if (codePoint >= 0xd800 && codePoint <= 0xdfff) return '\\X2\\FFFD\\X0\\';
  return codePoint > 0xffff ? `\\X4\\${hex(codePoint, 8)}\\X0\\` : `\\X2\\${hex(codePoint, 4)}\\X0\\`;
};

/** A string: quotes and backslashes doubled, everything but printable ASCII escaped. */
export const text = (value: string): StepValue => {
  let out = '';
  for (const char of value) {
    const code = char.codePointAt(0)!;
    if (char === "'") out += "''";
    else if (char === '\\') out += '\\\\';
    else out += code >= 32 && code <= 126 ? char : escaped(code);
  }
  return { step: `'${out}'` };
};

export const list = (values: readonly StepValue[]): StepValue => ({ step: `(${values.map((v) => v.step).join(',')})` });

/** A value that carries its type, as a select needs it: IFCLABEL('A'). */
export const typed = (type: string, value: StepValue): StepValue => ({ step: `${type.toUpperCase()}(${value.step})` });
