/** LEADER and MULTILEADER with what is written at their end. Group codes: DXF reference, chapter 'Entities'. */

import { plainMText, type Tag } from '../../../ground/tags.js';
import type { Fields } from '../fields.js';
import type { LeaderItem, Named, TextItem } from '../items.js';
import { type Point3, ZERO } from '../matrix.js';
import { pointsOf } from './simple.js';
import { running } from './texts.js';

/** Vertices (10) are in world coordinates, the arrow's tip first. `hangsOn` names the text of an annotation's handle (340). */
export const readLeader = (
  fields: Fields,
  item: Named,
  hangsOn: (handle: string) => string | null,
): LeaderItem | null => {
  const points = pointsOf(fields, 10);
  if (points.length < 2) {
    fields.bad = true;
    return null;
  }
  const handle = fields.name(340);
  return { ...item, entity: fields.type, points, text: handle === null ? null : hangsOn(handle) };
};

/** One place where leader lines end, with the tags of each line. */
interface Branch {
  readonly tags: Tag[];
  readonly lines: Tag[][];
}

interface Parts {
  readonly own: Tag[];
  readonly context: Tag[];
  readonly branches: Branch[];
}

/** What opens and closes the parts of a MULTILEADER: tags of text, the one within the other. */
const PARTS = [
  { open: 300, mark: 'CONTEXT_DATA{', close: 301 },
  { open: 302, mark: 'LEADER{', close: 303 },
  { open: 304, mark: 'LEADER_LINE{', close: 305 },
] as const;

const partsOf = (fields: Fields): Parts => {
  const parts: Parts = { own: [], context: [], branches: [] };
  let depth = 0;
  let tags = parts.own;
  for (const tag of fields.tags) {
    const inner = PARTS[depth];
    const outer = PARTS[depth - 1];
    if (inner && tag.code === inner.open && tag.value.trim() === inner.mark) depth++;
    else if (outer && tag.code === outer.close && tag.value.trim() === '}') depth--;
    else {
      tags.push(tag);
      continue;
    }
    const opens = inner?.open === tag.code;
    if (depth === 2 && opens) parts.branches.push({ tags: [], lines: [] });
    const branch = parts.branches[parts.branches.length - 1];
    if (depth === 3) branch?.lines.push([]);
    tags =
      depth === 0
        ? parts.own
        : depth === 1 || !branch
          ? parts.context
          : depth === 2
            ? branch.tags
            : branch.lines[branch.lines.length - 1]!;
  }
  return parts;
};

/** Kind of the lines (170): 0 none, 2 curved, which end without a landing. */
const WITHOUT_LINES = 0;
const CURVED = 2;

const plus = (a: Point3, b: Point3, k: number): Point3 => ({ x: a.x + b.x * k, y: a.y + b.y * k, z: a.z + b.z * k });

/** The end that all lines of a branch share: where they meet, then the end of the short landing (11, 40) beside the text. */
const endOf = (branch: Fields, landing: boolean): Point3[] => {
  if (branch.number(290, 1) === 0 || !branch.has(10)) return [];
  const end = branch.point(10);
  const along = branch.has(11) ? branch.point(11) : { x: 1, y: 0, z: 0 };
  const size = Math.hypot(along.x, along.y, along.z);
  const length = branch.number(40, 0);
  // Attached above or below the text (271 = 1) there is no landing.
  if (branch.flags(271) === 1 || length === 0 || size === 0) return [end];
  const tail = plus(end, along, length / size);
  return landing ? [end, tail] : [tail];
};

/** Kinds of content (172). */
const BLOCK_CONTENT = 1;
const TEXT_CONTENT = 2;

/** Text of the context (304), or of the attributes (302) of a block in its place. */
const writtenAt = (own: Fields, context: Fields, item: Named): TextItem[] => {
  const kind = own.number(172, context.has(304) ? TEXT_CONTENT : 0);
  const height = context.number(41, 0);
  const texts: { readonly text: string; readonly at: Point3 }[] = [];
  if (kind === TEXT_CONTENT && context.has(304)) {
    texts.push({ text: plainMText(context.text(304) ?? '').trim(), at: context.has(12) ? context.point(12) : ZERO });
  } else if (kind === BLOCK_CONTENT && context.has(15)) {
    const at = context.point(15);
    for (const tag of own.tags) if (tag.code === 302) texts.push({ text: own.part([tag]).text(302)!.trim(), at });
  }
  const turned = context.number(42, 0);
  const along = context.has(13) ? context.point(13) : { x: Math.cos(turned), y: Math.sin(turned), z: 0 };
  const normal = context.has(11) ? context.point(11) : { x: 0, y: 0, z: 1 };
  return texts
    .filter(({ text }) => text !== '')
    .map(({ text, at }, i) => {
      const name = i === 0 ? `${item.name}.text` : `${item.name}.text${i + 1}`;
      return { name, layer: item.layer, at, ...running(along, normal), height, text };
    });
};

/** Each line of a MULTILEADER by itself, and what is written at their end, named '.text'. */
export const readMultiLeader = (
  fields: Fields,
  item: Named,
): { readonly leaders: LeaderItem[]; readonly texts: TextItem[] } => {
  const parts = partsOf(fields);
  const own = fields.part(parts.own);
  const context = fields.part(parts.context);
  const texts = writtenAt(own, context, item);
  const kind = own.number(170, 1);
  const leaders: LeaderItem[] = [];
  const read = [own, context];
  for (const branch of kind === WITHOUT_LINES ? [] : parts.branches) {
    const shared = fields.part(branch.tags);
    const end = endOf(shared, kind !== CURVED && own.number(291, 1) !== 0);
    read.push(shared);
    for (const tags of branch.lines) {
      const line = fields.part(tags);
      read.push(line);
      const points = [...pointsOf(line, 10), ...end];
      if (points.length === end.length || points.length < 2) continue;
      const name = leaders.length === 0 ? item.name : `${item.name}.${leaders.length + 1}`;
      leaders.push({ name, layer: item.layer, entity: fields.type, points, text: texts[0]?.name ?? null });
    }
  }
  if (read.some((part) => part.bad)) fields.bad = true;
  return { leaders, texts };
};
