/**
 * STEP text (ISO 10303-21) read in the plainest way: instances and their parameters by place. A witness for what the program reads: it knows no schema
 * and no engine, and takes well-formed files only.
 */

export type StepValue =
  | null
  | number
  | string
  | { readonly ref: number }
  | { readonly item: string }
  | { readonly type: string; readonly of: readonly StepValue[] }
  | readonly StepValue[];

export interface StepInstance {
  readonly id: number;
  /** In capitals: IFCWALL. */
  readonly type: string;
  readonly values: readonly StepValue[];
}

class Reader {
  at = 0;
  constructor(readonly text: string) {}

  blanks(): void {
    for (;;) {
      while (/\s/.test(this.text[this.at] ?? '')) this.at++;
      if (!this.text.startsWith('/*', this.at)) return;
      this.at = this.text.indexOf('*/', this.at) + 2;
    }
  }

  take(pattern: RegExp): string | null {
    this.blanks();
    const found = new RegExp(pattern.source, 'y');
    found.lastIndex = this.at;
    const match = found.exec(this.text);
    if (match === null) return null;
    this.at += match[0].length;
    return match[0];
  }

  value(): StepValue {
    const list = this.take(/\(/);
    if (list !== null) return this.rest();
    const text = this.take(/'(?:[^']|'')*'/);
    if (text !== null) return text.slice(1, -1).replaceAll("''", "'");
    const ref = this.take(/#\d+/);
    if (ref !== null) return { ref: Number(ref.slice(1)) };
    const item = this.take(/\.[A-Z0-9_]+\./);
    if (item !== null) return { item: item.slice(1, -1) };
    if (this.take(/[$*]/) !== null) return null;
    const number = this.take(/[-+]?\d+\.?\d*(?:[Ee][-+]?\d+)?/);
    if (number !== null) return Number(number);
    const type = this.take(/[A-Za-z0-9_]+/);
    if (type === null || this.take(/\(/) === null)
      throw new Error(`no value at ${this.at}: ${this.text.slice(this.at, this.at + 40)}`);
    return { type: type.toUpperCase(), of: this.rest() };
  }

  /** Values up to the closing bracket. */
  rest(): StepValue[] {
    const values: StepValue[] = [];
    while (this.take(/\)/) === null) {
      if (values.length > 0 && this.take(/,/) === null) throw new Error(`no comma at ${this.at}`);
      values.push(this.value());
    }
    return values;
  }
}

/** All instances by number. */
export const readStepText = (text: string): ReadonlyMap<number, StepInstance> => {
  const reader = new Reader(text);
  reader.at = /(^|\s)DATA\s*;/.exec(text)!.index;
  reader.take(/DATA\s*;/);
  const found = new Map<number, StepInstance>();
  for (;;) {
    const head = reader.take(/#\d+/);
    if (head === null) return found;
    const id = Number(head.slice(1));
    reader.take(/=/);
    const type = reader.take(/[A-Za-z0-9_]+/);
    if (type === null || reader.take(/\(/) === null) throw new Error(`no entity at #${id}`);
    found.set(id, { id, type: type.toUpperCase(), values: reader.rest() });
    reader.take(/;/);
  }
};

export const isRef = (value: StepValue | undefined): value is { readonly ref: number } =>
  typeof value === 'object' && value !== null && 'ref' in value;

/** A view of the instances: those that a parameter refers to, and those of a type. */
export class StepFile {
  readonly instances: ReadonlyMap<number, StepInstance>;
  constructor(text: string) {
    this.instances = readStepText(text);
  }
  of(...types: readonly string[]): StepInstance[] {
    return [...this.instances.values()].filter(({ type }) => types.includes(type));
  }
  at(value: StepValue | undefined): StepInstance | null {
    return isRef(value) ? (this.instances.get(value.ref) ?? null) : null;
  }
  all(value: StepValue | undefined): StepInstance[] {
    return Array.isArray(value) ? value.flatMap((item: StepValue) => this.at(item) ?? []) : [];
  }
  numbers(value: StepValue | undefined): number[] {
    return Array.isArray(value) ? value.filter((item: StepValue): item is number => typeof item === 'number') : [];
  }
  text(value: StepValue | undefined): string | null {
    return typeof value === 'string' ? value : null;
  }
}
