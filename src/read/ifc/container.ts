/** What the bytes are: STEP text as it stands, or one .ifc in a ZIP (.ifczip), unpacked within limits. */

import { strFromU8, unzipSync } from 'fflate';
import { isStep } from './statements.js';

const isZip = (bytes: Uint8Array): boolean =>
  bytes[0] === 0x50 && bytes[1] === 0x4b && (bytes[2] === 3 || bytes[2] === 5) && (bytes[3] === 4 || bytes[3] === 6);

/** Most bytes that are unpacked. */
const MOST_BYTES = 400_000_000;
const MOST_ENTRIES = 10_000;

interface Entry {
  readonly name: string;
  readonly size: number;
  readonly method: number;
  readonly encrypted: boolean;
}

const u16 = (bytes: Uint8Array, at: number): number => bytes[at]! | (bytes[at + 1]! << 8);
const u32 = (bytes: Uint8Array, at: number): number => (u16(bytes, at) | (u16(bytes, at + 2) << 16)) >>> 0;

/** The central directory; null where it is missing or broken. Source: PKWARE APPNOTE 4.3.12 and 4.3.16. */
const directory = (bytes: Uint8Array): readonly Entry[] | null => {
  let end = bytes.length - 22;
  const first = Math.max(0, end - 65_535);
  while (end >= first && u32(bytes, end) !== 0x06054b50) end--;
  if (end < first || end < 0) return null;
  const count = u16(bytes, end + 10);
  if (count > MOST_ENTRIES) return null;
  let at = u32(bytes, end + 16);
  const entries: Entry[] = [];
  for (let i = 0; i < count; i++) {
    if (at + 46 > bytes.length || u32(bytes, at) !== 0x02014b50) return null;
    const nameLength = u16(bytes, at + 28);
    entries.push({
      name: strFromU8(bytes.subarray(at + 46, at + 46 + nameLength)),
      size: u32(bytes, at + 24),
      method: u16(bytes, at + 10),
      encrypted: (u16(bytes, at + 8) & 1) === 1,
    });
    at += 46 + nameLength + u16(bytes, at + 30) + u16(bytes, at + 32);
  }
  return entries;
};

const isModelName = (name: string): boolean => /\.ifc$/i.test(name) && !/(^|\/)(__MACOSX\/|\._)/.test(name);

const models = (bytes: Uint8Array): readonly Entry[] =>
  (directory(bytes) ?? []).filter((entry) => isModelName(entry.name));

/** STEP text, or a ZIP with a model in it. */
export const isIfc = (bytes: Uint8Array): boolean => isStep(bytes) || (isZip(bytes) && models(bytes).length > 0);

type Unpacked =
  | { readonly ok: true; readonly bytes: Uint8Array }
  | { readonly ok: false; readonly why: string; readonly tooMuch?: boolean };

const refused = (why: string): Unpacked => ({ ok: false, why });

const fromZip = (bytes: Uint8Array): Unpacked => {
  if (directory(bytes) === null) {
    return refused(
      'The file is a ZIP whose list of contents is missing or broken; the end of the file is probably cut off',
    );
  }
  const found = models(bytes);
  if (found.length === 0) return refused('The file is a ZIP that holds no .ifc');
  if (found.length > 1) {
    const names = found.map((entry) => `'${entry.name.slice(0, 60)}'`).sort();
    return refused(
      `The ZIP holds ${found.length} models (${names.slice(0, 4).join(', ')}${names.length > 4 ? ' …' : ''}); hand them in one by one`,
    );
  }
  const [entry] = found as readonly [Entry];
  if (entry.encrypted) return refused(`'${entry.name.slice(0, 60)}' in the ZIP is encrypted`);
  if (entry.method !== 0 && entry.method !== 8) {
    return refused(
      `'${entry.name.slice(0, 60)}' in the ZIP is packed in a way that is not read (method ${entry.method})`,
    );
  }
  const tooLarge: Unpacked = {
    ok: false,
    why: `Unpacked the model is larger than is read here (${MOST_BYTES / 1e6} MB)`,
    tooMuch: true,
  };
  if (entry.size > MOST_BYTES) return tooLarge;
  try {
    // The output has the declared size and not a byte more: what is larger than it says fails instead of filling memory.
    const file = unzipSync(bytes, { filter: ({ name }) => name === entry.name })[entry.name];
    if (file === undefined) return refused(`'${entry.name.slice(0, 60)}' in the ZIP cannot be unpacked`);
    return { ok: true, bytes: file };
  } catch {
    return refused(`'${entry.name.slice(0, 60)}' in the ZIP cannot be unpacked; the file is damaged`);
  }
};

/** The STEP text of the file, or in one sentence (without its full stop) why there is none. */
export const unpacked = (bytes: Uint8Array): Unpacked => {
  if (bytes.length === 0) return refused('The file is empty');
  const zip = isZip(bytes);
  const inner = zip ? fromZip(bytes) : ({ ok: true, bytes } as const);
  if (!inner.ok || isStep(inner.bytes)) return inner;
  const text = strFromU8(inner.bytes.subarray(0, 400), true).trimStart();
  if (/^(<\?xml|<ifc|<ex:|<!--|<uos)/i.test(text)) {
    return refused('The file is ifcXML; hand in the model as IFC in STEP text (.ifc)');
  }
  if (/^\{/.test(text)) return refused('The file is JSON; hand in the model as IFC in STEP text (.ifc)');
  return refused(`${zip ? 'The .ifc in the ZIP' : 'The file'} is not IFC: it does not begin with ISO-10303-21`);
};
