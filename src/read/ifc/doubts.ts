/** What is wrong with the text of a file before any of it is understood: what stops reading, and what is merely said. */

import { type Finding, finding } from '../../ground/findings.js';
import { type ModelLog, shortened } from './log.js';
import type { StepFault, StepText } from './step.js';

const WHAT_IS_READ = 'IFC2X3, IFC4 and IFC4X3 are read';

/** Why a text cannot be read at all, or null. */
export const refusalOf = (text: StepText | StepFault): Finding | null => {
  if (text === 'too-much') {
    return finding(
      'read.too-much',
      'The model is larger than is read here; hand in the foundation and its storey alone.',
    );
  }
  if (text === 'no-data') {
    return finding(
      'read.model-refused',
      'The file has no data section: it is cut off in its header, or no model was ever saved in it.',
    );
  }
  const { header } = text;
  if (header.schemaName === null) {
    return finding(
      'read.model-refused',
      `The file does not say its schema (FILE_SCHEMA is missing or broken); ${WHAT_IS_READ}.`,
    );
  }
  if (header.engineSchema === null) {
    return finding(
      'read.model-refused',
      `The file is of schema ${shortened(header.schemaName)}; ${WHAT_IS_READ}. Save the model in one of these.`,
    );
  }
  if (text.instances === 0) {
    return finding(
      'read.model-refused',
      text.cut
        ? 'The file is cut off before its first instance.'
        : 'The file holds no instances: it is an empty model.',
    );
  }
  return null;
};

const CHUNK = 1 << 20;

/** Whether all bytes are below 128, sixteen at a time. */
const isAscii = (bytes: Uint8Array): boolean => {
  const [from, to] = [bytes.byteOffset, bytes.byteOffset + bytes.length];
  const [first, last] = [Math.min(Math.ceil(from / 8) * 8, to), Math.floor(to / 8) * 8];
  let high = 0;
  for (let at = from; at < first; at++) high |= bytes[at - from]!;
  if (last > first) {
    const words = new Int32Array(bytes.buffer, first, (last - first) / 4);
    const fours = words.length - 3;
    let i = 0;
    for (; i < fours; i += 4) high |= words[i]! | words[i + 1]! | words[i + 2]! | words[i + 3]!;
    for (; i < words.length; i++) high |= words[i]!;
  }
  for (let at = Math.max(first, last); at < to; at++) high |= bytes[at - from]!;
  return (high & 0x80808080) === 0;
};

/** Whether some of the bytes are no UTF-8. Piece by piece, so that no text as long as the file is made. */
const badUtf8 = (bytes: Uint8Array): boolean => {
  const decoder = new TextDecoder('utf-8', { fatal: true });
  try {
    for (let at = 0; at < bytes.length; at += CHUNK) decoder.decode(bytes.subarray(at, at + CHUNK), { stream: true });
    decoder.decode();
    return false;
  } catch {
    return true;
  }
};

export const doubtsAbout = (text: StepText, bytes: Uint8Array, log: ModelLog): void => {
  if (text.cut) {
    log.add(
      'read.model-cut',
      'The file ends before END-ISO-10303-21: it was cut off, and what stood behind is missing',
      null,
      `${text.instances} instances were there and were read`,
    );
  }
  if (text.header.broken) {
    log.add(
      'read.model-header',
      'The header of the file is not written as ISO 10303-21 says',
      null,
      'what could be read of it',
    );
  }
  if (!isAscii(bytes) && badUtf8(bytes)) {
    log.add('read.model-encoding', 'The file has bytes that are not UTF-8; names may read wrong', null);
  }
  for (const id of text.twice) {
    log.add(
      'read.model-instance-twice',
      'Instances are defined more than once',
      { id: null, line: id, name: null },
      'the last one',
    );
  }
  for (const id of text.missing) {
    log.add('read.model-missing', 'Instances are referred to that are not in the file', {
      id: null,
      line: id,
      name: null,
    });
  }
  if (text.junk > 0) {
    log.add('read.model-junk', `${text.junk} statements of the data section are no instances and were left out`, null);
  }
};
