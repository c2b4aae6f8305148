/**
 * How high the text of a dimension stands. What its block shows counts, since that is what a person sees: overrides and the scale of an annotative one are
 * in it. Without a block: text height (140) times overall scale (40) of its style, each overridden by the entity's own extended data; a style of text with
 * a fixed height takes the place of 140. Source: DXF reference, 'DIMSTYLE', 'STYLE', extended data of dimension overrides ('DSTYLE').
 */

import {
  firstTag,
  handleOf,
  integerOf,
  nameOf,
  numberOf,
  type TagDocument,
  type TagRecord,
  type TagStructure,
  xdataOf,
} from '../../ground/tags.js';
import { Fields } from './fields.js';

const TEXT_HEIGHT = 140;
const OVERALL_SCALE = 40;
const TEXT_STYLE = 340;

/** Height of most of the texts in a block; of several the lower. Null where there are none. */
const heightWritten = (document: TagDocument, records: readonly TagRecord[]): number | null => {
  const counts = new Map<number, number>();
  for (const record of records) {
    if (record.type !== 'TEXT' && record.type !== 'MTEXT') continue;
    const height = Fields.of(document, record).number(40, 0);
    if (height > 0) counts.set(height, (counts.get(height) ?? 0) + 1);
  }
  const [most] = [...counts].sort((a, b) => b[1] - a[1] || a[0] - b[0]);
  return most ? most[0] : null;
};

/** Overrides of a dimension's style in its extended data: variable to value as it stands. */
const overridesOf = (document: TagDocument, record: TagRecord): ReadonlyMap<number, string> => {
  const found = new Map<number, string>();
  const range = xdataOf(document, record, 'ACAD');
  if (!range) return found;
  const { tags } = document;
  let at = range[0];
  while (at < range[1] && !(tags[at]!.code === 1000 && tags[at]!.value.trim().toUpperCase() === 'DSTYLE')) at++;
  for (at += 2; at + 1 < range[1] && tags[at]!.code === 1070; at += 2) {
    const variable = integerOf(tags[at]!.value);
    if (variable !== null) found.set(variable, tags[at + 1]!.value);
  }
  return found;
};

/** Gives the height of a dimension's text in the coordinates in which it stands, drawing units; null where nothing tells it. */
export const dimensionHeights = (
  document: TagDocument,
  structure: TagStructure,
): ((record: TagRecord, fields: Fields) => number | null) => {
  const entries = (name: string): readonly TagRecord[] => structure.tables.find((t) => t.name === name)?.entries ?? [];
  const byName = (records: readonly TagRecord[]): Map<string, TagRecord> =>
    new Map(records.map((r) => [(nameOf(document, r) ?? '').toUpperCase(), r]));
  const styles = byName(entries('DIMSTYLE'));
  const textStyles = entries('STYLE');
  const textStyleNames = byName(textStyles);
  const textStyleHandles = new Map(textStyles.map((r) => [r.handle, r]));
  const blocks = new Map(structure.blocks.map((b) => [b.name.toUpperCase(), b]));
  const inBlock = new Map<string, number | null>();

  const fromBlock = (name: string): number | null => {
    const key = name.toUpperCase();
    const had = inBlock.get(key);
    if (had !== undefined) return had;
    const block = blocks.get(key);
    const height = block ? heightWritten(document, block.entities) : null;
    inBlock.set(key, height);
    return height;
  };

  const fromStyle = (record: TagRecord, name: string): number | null => {
    const overrides = overridesOf(document, record);
    const style = styles.get(name.toUpperCase());
    const stated = (code: number): string | undefined =>
      overrides.get(code) ?? (style ? firstTag(document, style, code)?.value : undefined);
    const handle = handleOf(stated(TEXT_STYLE) ?? '');
    const textStyle = (handle === null ? undefined : textStyleHandles.get(handle)) ?? textStyleNames.get('STANDARD');
    const fixed = textStyle ? numberOf(firstTag(document, textStyle, 40)?.value) : null;
    const height = fixed !== null && fixed > 0 ? fixed : numberOf(stated(TEXT_HEIGHT));
    // 0: scaled by the window through which it is seen, so that its height in the model is not told here.
    const scale = numberOf(stated(OVERALL_SCALE)) ?? 1;
    return height !== null && height > 0 && scale > 0 ? height * scale : null;
  };

  return (record, fields) => {
    const block = fields.name(2);
    return (block === null ? null : fromBlock(block)) ?? fromStyle(record, fields.name(3) ?? 'STANDARD');
  };
};
