/**
 * GlobalIds. An IFC GlobalId is a UUID of 128 bits in 22 characters to the base 64: two bits in the first character, six in each of the others, with the
 * alphabet below (buildingSMART, IfcGloballyUniqueId). Ours are UUIDs of version 5 (RFC 9562): the same namespace and key always give the same id.
 */

import { parse, v5 } from 'uuid';

const ALPHABET = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz_$';

/** 22 characters for a UUID in its usual form. */
export const compressed = (uuid: string): string => {
  let out = '';
  // Four bits of nothing before the 128 make 22 times six.
  let waiting = 0;
  let bits = 4;
  for (const byte of parse(uuid)) {
    waiting = (waiting << 8) | byte;
    bits += 8;
    while (bits >= 6) {
      bits -= 6;
      out += ALPHABET[waiting >> bits]!;
      waiting &= (1 << bits) - 1;
    }
  }
  return out;
};

/** Root of all namespaces of this program; made once by chance and never changed, since every id hangs on it. */
const ROOT = '6f0d3f5e-8c1b-4b7e-9a53-2d8f4c7a1e90';

/** Ids of one job. `about` names what the forms are for: the model by its project's GlobalId, a drawing by its file's name. */
export class Ids {
  private readonly namespace: string;
  private readonly taken = new Set<string>();

  constructor(about: string) {
    this.namespace = v5(about, ROOT);
  }

  /** UUID of a key, as BCF wants it; the same for the same key. */
  uuid(key: string): string {
    return v5(key, this.namespace);
  }

  /** GlobalId of a key, as often as it is asked. */
  of(key: string): string {
    return compressed(this.uuid(key));
  }

  /** GlobalId of a key that must be new; a second use of one key is a fault of ours. */
  make(key: string): string {
    if (this.taken.has(key)) throw new Error(`two things have the key ${key}`);
    this.taken.add(key);
    return this.of(key);
  }
}
