/** Bytes to tags. */

import { type Finding, finding, type Refusable } from '../findings.js';
import { type BinaryTags, readBinary } from './binary.js';
import { codingOf, looksUtf8 } from './coding.js';
import { latin1 } from './latin1.js';
import { isBinary, notDxf } from './sniff.js';
import { readText, type TextTags } from './text.js';
import type { Tag, TagDocument, TextCoding } from './types.js';

export interface TagLimits {
  /** Largest file that is read at all, bytes. */
  readonly bytes?: number;
  /** Largest number of tags. */
  readonly tags?: number;
}

/** A quarter of what a JavaScript string can hold; the tags of such a file fit into about a gigabyte. */
export const TAG_LIMITS: Required<TagLimits> = { bytes: 128 * 1024 * 1024, tags: 12_000_000 };

const refuse = (message: string, findings: readonly Finding[] = []): Refusable<never> => ({
  ok: false,
  findings: [...findings, finding('read.refused', message)],
});

/** Value of a header variable before there is any structure: the tag after (9, name), in the header only. */
const headerValue = (tags: readonly Tag[], name: string): string | null => {
  for (let i = 0; i + 1 < tags.length; i++) {
    const tag = tags[i]!;
    if (tag.code === 9 && tag.value.trim() === name) return tags[i + 1]!.value.trim();
    if (tag.code === 0 && tag.value.trim() === 'ENDSEC') return null;
  }
  return null;
};

const KNOWN_VERSIONS = ['AC1009', 'AC1012', 'AC1014', 'AC1015', 'AC1018', 'AC1021', 'AC1024', 'AC1027', 'AC1032'];

const versionOf = (tags: readonly Tag[], findings: Finding[]): string => {
  const stated = headerValue(tags, '$ACADVER');
  if (stated === null) return 'AC1009';
  if (KNOWN_VERSIONS.includes(stated)) return stated;
  const version = /^AC\d{4}$/.test(stated) ? stated : 'AC1009';
  findings.push(
    finding('read.version-unknown', `The header names the version "${stated.slice(0, 20)}", which is not known here.`, {
      subject: '$ACADVER',
      assumed: `read as ${version}`,
    }),
  );
  return version;
};

/** The coding of the strings; `text` is the whole file, for the look at its bytes where the header does not say. */
const codingFor = (tags: readonly Tag[], version: string, marked: boolean, findings: Finding[]): TextCoding => {
  if (version >= 'AC1021' || marked) return { label: 'utf8' };
  const page = headerValue(tags, '$DWGCODEPAGE');
  if (page !== null && page !== '') {
    const { coding, known } = codingOf(page);
    if (!known) {
      findings.push(
        finding('read.code-page-unknown', `The code page "${page.slice(0, 40)}" is not known here.`, {
          subject: '$DWGCODEPAGE',
          assumed: 'texts read in the Western code page 1252',
        }),
      );
    }
    return coding;
  }
  const beyond = tags.filter((tag) => /[\x80-\xff]/.test(tag.value));
  if (beyond.length === 0 || !beyond.every((tag) => looksUtf8(tag.value))) return { label: 'cp1252' };
  findings.push(
    finding('read.code-page-assumed', 'The header names no code page, and all texts outside ASCII are UTF-8.', {
      subject: '$DWGCODEPAGE',
      assumed: 'texts read as UTF-8',
    }),
  );
  return { label: 'utf8' };
};

const cutFinding = (what: string): Finding =>
  finding('read.cut', `The file ends early: ${what}. What came after is missing from the drawing.`);

const textFindings = ({ trouble }: TextTags): Finding[] => {
  const findings: Finding[] = [];
  if (trouble.blankLines > 0) {
    findings.push(
      finding('read.blank-lines', `${trouble.blankLines} blank line(s) stood where a group code should stand.`, {
        assumed: 'left out',
      }),
    );
  }
  if (trouble.droppedLines > 0) {
    findings.push(
      finding(
        'read.broken-lines',
        `${trouble.droppedLines} line(s) from line ${trouble.firstDropped} on are no group codes with values; what they meant is missing from the drawing.`,
        { assumed: 'reading went on at the next entity' },
      ),
    );
  }
  if (trouble.cutInTag) findings.push(cutFinding('the last group code has no value'));
  return findings;
};

/** Old files with bare carriage returns as line ends: turned into line feeds, so that they have lines at all. */
const withLineFeeds = (bytes: Uint8Array): Uint8Array | null => {
  const head = bytes.subarray(0, 65536);
  if (head.includes(10) || !head.includes(13)) return null;
  return bytes.map((b) => (b === 13 ? 10 : b));
};

const tooManyTags = (limit: number): Refusable<never> =>
  refuse(`The file has more than ${limit} group codes, which is beyond what is read here.`);

const binaryDocument = (bytes: Uint8Array, most: number): Refusable<TagDocument> => {
  const read: BinaryTags = readBinary(bytes, most);
  if (read.tooMany) return tooManyTags(most);
  const findings: Finding[] = [];
  if (!isStart(read.tags)) return refuse('The file is marked as binary DXF but holds no section.');
  if (read.cutInTag) findings.push(cutFinding('it is cut inside a value'));
  if (read.strayAt >= 0) {
    findings.push(
      finding(
        'read.broken-lines',
        `From byte ${read.strayAt} on the binary file makes no sense; the rest of it is missing from the drawing.`,
      ),
    );
  }
  const version = versionOf(read.tags, findings);
  const coding = codingFor(read.tags, version, false, findings);
  return {
    ok: true,
    value: {
      form: 'binary',
      lineEnd: '\r\n',
      version,
      coding,
      tags: read.tags,
      codeBytes: read.codeBytes,
      ...(read.after ? { after: read.after } : {}),
    },
    findings,
  };
};

/** The first tag that is not a comment must open a section. */
const isStart = (tags: readonly Tag[]): boolean => {
  const first = tags.find((tag) => tag.code !== 999);
  return first !== undefined && first.code === 0 && first.value.trim() === 'SECTION';
};

/**
 * Reads the tags of a DXF, in text or binary form. Refuses what is no DXF (empty, DWG, archive, PDF, unknown bytes, too large) with one sentence;
 * a file that ends early or has lines that are no tags is read as far as it goes, and findings say so.
 */
export const parseTags = (input: Uint8Array, limits: TagLimits = {}): Refusable<TagDocument> => {
  const most = { ...TAG_LIMITS, ...limits };
  if (input.length > most.bytes) {
    return refuse(`The file has ${input.length} bytes; more than ${most.bytes} are not read here.`);
  }
  const why = notDxf(input);
  if (why !== null) return refuse(why);
  if (isBinary(input)) return binaryDocument(input, most.tags);
  const changed = withLineFeeds(input);
  const bytes = changed ?? input;
  const read = readText(bytes, latin1(bytes), most.tags);
  if (read.trouble.tooMany) return tooManyTags(most.tags);
  if (!isStart(read.tags)) return refuse('This is not a DXF drawing: it does not begin with a section.');
  const findings = textFindings(read);
  if (changed) {
    findings.push(
      finding('read.line-ends', 'The lines end in bare carriage returns.', {
        assumed: 'line feeds are written in their place',
      }),
    );
  }
  const version = versionOf(read.tags, findings);
  const coding = codingFor(read.tags, version, read.before.startsWith('\xef\xbb\xbf'), findings);
  const value: TagDocument = {
    form: 'text',
    lineEnd: read.lineEnd,
    version,
    coding,
    tags: read.tags,
    codeWidth: read.codeWidth,
    ...(read.before ? { before: read.before } : {}),
    ...(read.after ? { after: read.after } : {}),
  };
  return { ok: true, value, findings };
};
