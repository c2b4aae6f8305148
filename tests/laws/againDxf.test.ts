/** Laying out a drawing that was laid out before gives the same file again, whatever the drawing. */

import { describe, expect } from 'vitest';
import { headerRange, serializeTags, type TagDocument } from '../../src/ground/tags.js';
import { writeDxf } from '../../src/write/dxf/index.js';
import { itWithSamples, read, SAMPLES, sample } from '../read/samples.js';
import { exampleResult } from '../support/exampleResult.js';

/** Header values that an added layout may change for good. */
const MAY_CHANGE = ['$HANDSEED', '$EXTMIN', '$EXTMAX'];

/** Tags without those values, and without tables that are empty: a drawing of old may lack one that was put in. */
const compared = (document: TagDocument): string => {
  const skip = new Set<number>();
  for (const name of MAY_CHANGE) {
    const range = headerRange(document, name);
    if (range) for (let at = range[0]; at < range[1]; at++) skip.add(at);
  }
  const pairs = document.tags.filter((_, at) => !skip.has(at)).map((tag) => `${tag.code}=${tag.value}`);
  return pairs.join('\n').replaceAll(/0=TABLE\n2=\w+\n70=0\n0=ENDTAB\n/g, '');
};

const merged = (document: TagDocument): Uint8Array => {
  const written = writeDxf(exampleResult, document, { mode: 'merged' });
  if (!written.ok) throw new Error(written.findings.map((f) => f.message).join(' '));
  return written.value;
};

describe('a layout written into a sample', () => {
  itWithSamples('is taken out whole when it is read again, and written again it is the same file', () => {
    for (const file of SAMPLES) {
      const first = read(sample(file)).drawing;
      const once = merged(first.document);
      const second = read(once);
      expect(second.findings.map((f) => f.code)).toContain('read.own-entities');
      expect(compared(second.drawing.document), file).toBe(compared(first.document));
      expect({ ...second.drawing, document: null }).toEqual({ ...first, document: null });
      expect(Buffer.compare(merged(second.drawing.document), once), file).toBe(0);
      expect(serializeTags(second.drawing.document).length).toBeLessThan(once.length);
    }
  });
});
