/** What a traced group has to say: its repairs, pads, leftovers and unread kinds of linework as findings. */

import { type Finding, finding } from '../ground/findings.js';
import { compareText } from '../ground/order.js';
import { distance, type Vec } from '../ground/plane.js';
import { plainNumber } from '../ground/units.js';
import type { UnreadEntities, WallStretch } from '../ground/vocabulary.js';
import type { GroupPad, LeftOver, SkewEnd, TracedGroup } from './group.js';
import { LONG_MM } from './limits.js';
import type { Repair } from './lines.js';
import { listed } from './listed.js';
import { type LocalFrame, toDrawingMm } from './segments.js';

const mm = (value: number): string => plainNumber(value, value < 10 ? 2 : 0);
const place = (p: Vec): readonly [number, number, number] => [p.x, p.y, 0];
const plural = (n: number, one: string, many: string): string => `${n} ${n === 1 ? one : many}`;

const repairFindings = (repairs: readonly Repair[]): Finding[] =>
  (['gap', 'overrun'] as const).flatMap((kind) => {
    const code = kind === 'gap' ? 'trace.gap-closed' : 'trace.overrun-cut';
    const text = (size: string) =>
      kind === 'gap'
        ? `A gap of ${size} mm in the linework was closed.`
        : `A line that runs ${size} mm past its corner was cut.`;
    const items = repairs.filter((r) => r.kind === kind).sort((p, q) => q.sizeMm - p.sizeMm);
    return listed(
      items.map((r) => finding(code, text(mm(r.sizeMm)), { at: place(r.at) })),
      (n) => `${n} more of this kind, all smaller.`,
    );
  });

const padFindings = (pads: readonly GroupPad[]): Finding[] =>
  listed(
    pads.map((p) => {
      const size = `${mm(p.widthMm)} by ${mm(p.lengthMm)} mm`;
      const text = `A separate rectangle of ${size} is a pad or column and is not in the layout.`;
      return finding('trace.pad', text, { at: place(p.at), subject: p.source });
    }),
    (n) => `${n} more separate rectangles of this kind are not in the layout.`,
  );

/** The reasons that have a code of their own. */
const OWN_CODE = {
  'outline of a footing': 'trace.footing-outline',
  'centre line': 'trace.centre-line',
} as const;

const leftFindings = (left: readonly LeftOver[], oneByOne: boolean, anyWall: boolean): Finding[] => {
  const out: Finding[] = [];
  const groups = new Map<string, LeftOver[]>();
  for (const l of left) {
    const key = `${l.layer}\n${l.reason}`;
    groups.set(key, [...(groups.get(key) ?? []), l]);
  }
  for (const [, list] of [...groups].sort((p, q) => compareText(p[0], q[0]))) {
    const { layer, reason } = list[0]!;
    const length = list.reduce((s, l) => s + l.lengthMm, 0);
    const text = `On layer ${layer} ${plural(list.length, 'line or part of one is', 'lines or parts of lines are')} no wall (${reason}), ${mm(length)} mm in all.`;
    out.push(finding('trace.left-out', text, { subject: layer }));
  }
  // Without a wall there is nothing that these lines could belong to; the notes above count them.
  for (const reason of anyWall ? (['outline of a footing', 'centre line'] as const) : []) {
    const code = OWN_CODE[reason];
    out.push(
      ...listed(
        left
          .filter((l) => l.reason === reason)
          .map((l) =>
            finding(code, `This line was taken as the ${reason}.`, {
              at: place(l.at),
              subject: l.sources[0]!,
              assumed: `it is the ${reason}`,
            }),
          ),
        (n) => `${n} more lines were taken as the ${reason}.`,
      ),
    );
  }
  const alone = left
    .filter((l) => l.lengthMm > LONG_MM && !(l.reason in OWN_CODE) && l.reason !== 'pad or column')
    .sort((p, q) => q.lengthMm - p.lengthMm);
  if (alone.length === 0) return out;
  if (!oneByOne) {
    const text = `${plural(alone.length, 'line', 'lines')} of more than ${LONG_MM} mm on the layers taken ${alone.length === 1 ? 'is' : 'are'} part of no wall.`;
    return [...out, finding('trace.line-alone', text)];
  }
  return [
    ...out,
    ...listed(
      alone.map((l) =>
        finding(
          'trace.line-alone',
          `A line of ${mm(l.lengthMm)} mm on layer ${l.layer} is part of no wall: ${l.reason}.`,
          {
            at: place(l.at),
            subject: l.sources[0]!,
          },
        ),
      ),
      (n) => `${n} more lines of more than ${LONG_MM} mm are part of no wall.`,
    ),
  ];
};

const apartFindings = (apart: readonly WallStretch[]): Finding[] =>
  listed(
    [...apart]
      .sort((p, q) => distance(q.start, q.end) - distance(p.start, p.end))
      .map((s) => {
        const size = `${mm(distance(s.start, s.end))} mm long, ${mm(s.thicknessMm)} mm apart`;
        const text = `A pair of lines ${size}, stands apart from the walls and was left out; no layer name says what it is.`;
        return finding('trace.apart', text, {
          at: place({ x: (s.start.x + s.end.x) / 2, y: (s.start.y + s.end.y) / 2 }),
          subject: s.sources[0]!,
          assumed: 'it is no wall',
        });
      }),
    (n) => `${n} more pairs of lines that stand apart from the walls were left out.`,
  );

const unstraightFindings = (group: TracedGroup, frame: LocalFrame): Finding[] => {
  const curves = group.segmentSet.unstraight.filter((u) => u.kind === 'curve');
  const fills = group.segmentSet.unstraight.filter((u) => u.kind === 'fill');
  const out = listed(
    curves.map((u) =>
      finding('trace.curved', `A curve (${u.entity}) on layer ${u.layer}: curved walls are not yet traced.`, {
        at: place(toDrawingMm(frame, u.at)),
        subject: u.source,
      }),
    ),
    (n) => `${n} more curves lie on the layers taken.`,
  );
  if (fills.length > 0) {
    const layers = [...new Set(fills.map((u) => u.layer))].sort().join(', ');
    out.push(
      finding(
        'trace.filled',
        `${plural(fills.length, 'filled area or hatch', 'filled areas and hatches')} on ${layers} left out.`,
      ),
    );
  }
  return out;
};

/** Free ends that are squared; `of`: the wall that it is the end of, as a sentence begins, and the finding's subject. */
export const skewEndFindings = (
  ends: readonly SkewEnd[],
  of: (end: SkewEnd) => { readonly name: string; readonly subject: string },
): Finding[] =>
  listed(
    ends.map((e) => {
      const { name, subject } = of(e);
      return finding('trace.skew-end', `${name} ends aslant: one face runs ${mm(e.offMm)} mm past the other.`, {
        at: place(e.at),
        subject,
        assumed: 'the wall ends square at its longer face',
      });
    }),
    (n) => `${n} more walls end aslant.`,
  );

/** Findings of one group, unsorted. `oneByOne`: name every long line that is no wall (else only their count). */
export const groupFindings = (group: TracedGroup, frame: LocalFrame, oneByOne: boolean): Finding[] => {
  const out = [
    ...unstraightFindings(group, frame),
    ...repairFindings(group.repairs),
    ...padFindings(group.pads),
    ...apartFindings(group.apart),
  ];
  out.push(...skewEndFindings(group.skewEnds, () => ({ name: 'A wall', subject: '' })));
  const { zeroLength, outsideArea, unusable } = group.segmentSet;
  if (zeroLength.length > 0) {
    const text = `${plural(zeroLength.length, 'line of no length was', 'lines of no length were')} dropped.`;
    out.push(finding('trace.zero-length', text, { subject: zeroLength[0]! }));
  }
  if (unusable.length > 0) {
    const text = `Left out for coordinates that are no usable numbers: ${plural(unusable.length, 'entity', 'entities')}.`;
    out.push(finding('trace.unusable', text, { subject: unusable[0]! }));
  }
  if (outsideArea.length > 0) {
    const text = `${plural(outsideArea.length, 'entity has', 'entities have')} lines that are not wholly inside the area.`;
    out.push(finding('trace.area', text, { subject: outsideArea[0]! }));
  }
  if (group.duplicateCount > 0) {
    const text = `${plural(group.duplicateCount, 'line lies', 'lines lie')} wholly on another and ${group.duplicateCount === 1 ? 'was' : 'were'} taken with it.`;
    out.push(finding('trace.duplicate', text));
  }
  if (group.straightened.count > 0) {
    const text = `${plural(group.straightened.count, 'line was', 'lines were')} up to ${mm(group.straightened.mostMm)} mm off the direction of the others and taken as parallel.`;
    out.push(finding('trace.straightened', text));
  }
  out.push(...leftFindings(group.leftOver, oneByOne, group.stretches.length > 0));
  return out;
};

/** Kinds of entity that may be walls in a form that is not read. */
const MAY_BE_WALL = /SOLID|REGION|BODY|SURFACE|MESH|PROXY|POLYLINE|WALL/;

/** Entities on the layers taken that could not be turned into linework: what may be a wall by name and number, the rest counted. */
export const unreadFindings = (unread: readonly UnreadEntities[], layers: readonly string[]): Finding[] => {
  const here = unread.filter((u) => layers.includes(u.layer));
  const walls = here.filter((u) => MAY_BE_WALL.test(u.entity));
  const others = here.filter((u) => !MAY_BE_WALL.test(u.entity));
  const list = (some: readonly UnreadEntities[]) => some.map((u) => `${u.count} ${u.entity} on ${u.layer}`).join(', ');
  return [
    ...(walls.length === 0
      ? []
      : [
          finding('trace.unread-on-wall-layer', `Not read, and perhaps walls: ${list(walls)}.`, {
            assumed: 'there is no wall in them',
          }),
        ]),
    ...(others.length === 0
      ? []
      : [finding('trace.left-out', `On the layers taken, no linework and left out: ${list(others)}.`)]),
  ];
};
