/** Puts back the ends that a faulty file lacks (SEQEND, ENDBLK, ENDTAB, ENDSEC, EOF), so that what follows meets a whole drawing. */

import { type Finding, finding } from '../../ground/findings.js';
import { highestHandle, type Tag, type TagDocument } from '../../ground/tags.js';

const SEQUENCE_PARTS: Readonly<Record<string, readonly string[]>> = {
  POLYLINE: ['VERTEX', 'SEQEND'],
  INSERT: ['ATTRIB', 'SEQEND'],
};

class Mender {
  readonly tags: Tag[] = [];
  /** What was put in, how often. */
  readonly put: Record<string, number> = {};
  straySectionEnds = 0;
  private section: string | null = null;
  private table = false;
  private block = false;
  /** The entity whose parts are being read, and whether it has any. */
  private sequence: { readonly type: string; readonly start: number; hasParts: boolean } | null = null;
  private nextHandle: bigint | null = null;

  constructor(private readonly document: TagDocument) {}

  /** Tells that a record of this type begins: closes what it cannot stand in. False: the record is to be left out. */
  begin(type: string, name: string | undefined): boolean {
    if (this.sequence) this.continueSequence(this.sequence, type);
    if (type === 'SECTION') {
      this.closeSection();
      this.section = name ?? '';
    } else if (type === 'ENDSEC') {
      if (this.section === null) {
        this.straySectionEnds++;
        return false;
      }
      this.closeInner();
      this.section = null;
    } else if (type === 'EOF') this.closeSection();
    else if (this.section === 'TABLES') this.inTables(type);
    else if (this.section === 'BLOCKS') this.inBlocks(type);
    if (type in SEQUENCE_PARTS && (this.section === 'ENTITIES' || this.section === 'BLOCKS')) {
      this.sequence = { type, start: this.tags.length, hasParts: type === 'POLYLINE' };
    }
    return true;
  }

  /** What is open at this place, for the words of a finding. */
  get open(): string | null {
    return this.section;
  }

  closeSection(): void {
    if (this.section === null) return;
    this.closeInner();
    this.insert('ENDSEC', []);
    this.section = null;
  }

  private continueSequence(sequence: { readonly type: string; hasParts: boolean }, type: string): void {
    const parts = SEQUENCE_PARTS[sequence.type]!;
    if (type === parts[0]) {
      sequence.hasParts = true;
      return;
    }
    if (type !== 'SEQEND') this.closeSequence();
    this.sequence = null;
  }

  private closeSequence(): void {
    const sequence = this.sequence;
    if (!sequence?.hasParts) return;
    const layer = this.tags.slice(sequence.start).find((tag) => tag.code === 8)?.value ?? '0';
    this.insert('SEQEND', [{ code: 8, value: layer }]);
    this.sequence = null;
  }

  private inTables(type: string): void {
    if (type === 'TABLE' && this.table) this.insert('ENDTAB', []);
    if (type === 'TABLE') this.table = true;
    else if (type === 'ENDTAB') this.table = false;
  }

  private inBlocks(type: string): void {
    if (type === 'BLOCK' && this.block) this.closeBlock();
    if (type === 'BLOCK') this.block = true;
    else if (type === 'ENDBLK') this.block = false;
  }

  private closeBlock(): void {
    this.insert('ENDBLK', [{ code: 8, value: '0' }], 'AcDbBlockEnd');
    this.block = false;
  }

  private closeInner(): void {
    this.closeSequence();
    this.sequence = null;
    if (this.table) this.insert('ENDTAB', []);
    this.table = false;
    if (this.block) this.closeBlock();
  }

  /** Puts a record in; entities of R13 and later need a handle and subclass markers. */
  private insert(type: string, body: readonly Tag[], subclass?: string): void {
    this.put[type] = (this.put[type] ?? 0) + 1;
    this.tags.push({ code: 0, value: type });
    const entity = body.length > 0 && this.document.version > 'AC1009';
    if (entity) {
      this.nextHandle = (this.nextHandle ?? highestHandle(this.document)) + 1n;
      this.tags.push({ code: 5, value: this.nextHandle.toString(16).toUpperCase() });
      this.tags.push({ code: 100, value: 'AcDbEntity' });
    }
    this.tags.push(...body);
    if (entity && subclass) this.tags.push({ code: 100, value: subclass });
  }
}

/** Where the last record of the document begins. */
const lastRecordStart = (tags: readonly Tag[]): number => {
  let at = tags.length - 1;
  while (at > 0 && tags[at]!.code !== 0) at--;
  return Math.max(at, 0);
};

const list = (put: Readonly<Record<string, number>>): string =>
  Object.keys(put)
    .sort()
    .map((type) => `${put[type]} ${type}`)
    .join(', ');

const findingsOf = (mender: Mender, cut: string | null, lost: string | null): Finding[] => {
  const findings: Finding[] = [];
  if (cut !== null) {
    const where = cut === '' ? 'the end-of-file mark is missing' : `section ${cut} is not closed`;
    const record = lost === null ? '' : `; its last record (${lost}) may be cut and was left out`;
    findings.push(
      finding('read.cut', `The file ends early: ${where}${record}. What came after is missing from the drawing.`),
    );
  }
  const put = list(mender.put);
  if (put !== '' && cut === null) {
    findings.push(finding('read.mended', `The file lacks ends that belong there.`, { assumed: `put in: ${put}` }));
  }
  if (mender.straySectionEnds > 0) {
    findings.push(
      finding('read.mended', 'The file ends sections that never began.', {
        assumed: `left out: ${mender.straySectionEnds} ENDSEC`,
      }),
    );
  }
  return findings;
};

/**
 * The document with missing ends put in, and what was done. A file without its end is cut: its last record, if inside a section, is left out, since nothing
 * says that it is whole. A document that lacks nothing comes back as it is.
 */
export const mend = (
  document: TagDocument,
): { readonly document: TagDocument; readonly findings: readonly Finding[] } => {
  const { tags } = document;
  const mender = new Mender(document);
  const last = lastRecordStart(tags);
  const ended = tags[last]?.value.trim() === 'EOF';
  const closing = ['ENDSEC', 'ENDTAB', 'ENDBLK', 'SEQEND'].includes(tags[last]?.value.trim() ?? '');
  const inside = openAt(tags, last);
  const stop = !ended && !closing && inside ? last : tags.length;
  let keep = true;
  for (let at = 0; at < stop; at++) {
    const tag = tags[at]!;
    if (tag.code === 0) {
      const next = tags[at + 1];
      keep = mender.begin(tag.value.trim(), next?.code === 2 ? next.value.trim() : undefined);
    }
    if (keep) mender.tags.push(tag);
  }
  if (ended) {
    const untouched = mender.tags.length === tags.length;
    return {
      document: untouched ? document : { ...document, tags: mender.tags },
      findings: findingsOf(mender, null, null),
    };
  }
  const cut = mender.open ?? '';
  mender.closeSection();
  mender.tags.push({ code: 0, value: 'EOF' });
  const lost = stop < tags.length ? tags[last]!.value.trim() : null;
  return { document: { ...document, tags: mender.tags }, findings: findingsOf(mender, cut, lost) };
};

/** Whether the place lies inside a section and after its opening. */
const openAt = (tags: readonly Tag[], place: number): boolean => {
  for (let at = place - 1; at >= 0; at--) {
    if (tags[at]!.code !== 0) continue;
    const type = tags[at]!.value.trim();
    if (type === 'ENDSEC') return false;
    if (type === 'SECTION') return true;
  }
  return false;
};
