/** What tracing of curves has to say. */

import { type Finding, finding } from '../../ground/findings.js';
import { byNumber, comparePoints, inOrder } from '../../ground/order.js';
import type { Vec } from '../../ground/plane.js';
import { SAME_POINT_MM } from '../../ground/tolerance.js';
import { plainNumber, roundTo } from '../../ground/units.js';
import type { WallCurve } from '../../ground/vocabulary.js';
import { LONG_MM, STRAIGHTEN_MM } from '../limits.js';
import { listed } from '../listed.js';
import { type LocalFrame, toDrawingMm } from '../segments.js';
import { onCircle, TURN } from './circle.js';
import type { CurveLeftOver } from './leftOver.js';
import type { Arc } from './merge.js';

const mm = (value: number): string => plainNumber(value, value < 10 ? 2 : 0);
const degrees = (rad: number): string => plainNumber((rad * 180) / Math.PI, 1);
const plural = (n: number, one: string, many: string): string => `${n} ${n === 1 ? one : many}`;

/** Rounded, so that it does not carry the noise of sines. */
const spot = (p: Vec): readonly [number, number, number] => [roundTo(p.x, 4), roundTo(p.y, 4), 0];

/** A curved wall with what was evened out to make it one. */
export interface CurveNote {
  readonly curve: WallCurve;
  /** By how much the gap between its faces varies; a finding above SAME_POINT_MM. */
  readonly spreadMm: number;
  /** Lengths of face beyond the two ends, where one face runs on farther than the other. */
  readonly beyondMm: readonly [number, number];
  /** By how much each end stops short of the straight wall that it meets (negative: runs past its face). */
  readonly shortMm: readonly [number, number];
}

const curveFindings = ({ curve, spreadMm, beyondMm, shortMm }: CurveNote): Finding[] => {
  const by = curve.toRad - curve.fromRad;
  const middle = onCircle({ centre: curve.centre, radius: curve.radiusMm }, curve.fromRad + by / 2);
  const at = spot(middle);
  const subject = curve.sources[0]!;
  const shape =
    by >= TURN - 1e-9 ? 'a full ring' : `${degrees(by)} degrees, ${mm(by * curve.radiusMm)} mm along its axis`;
  const inner = mm(curve.radiusMm - curve.thicknessMm / 2);
  const uneven = beyondMm.filter((b) => b > STRAIGHTEN_MM);
  const ends =
    uneven.length > 0
      ? ` One face runs on beyond the other by ${uneven.map(mm).join(' and ')} mm; the wall was taken as far as both go.`
      : '';
  const text = `A curved wall ${mm(curve.thicknessMm)} mm thick: inner radius ${inner} mm, ${shape}.${ends}`;
  const out = [finding('trace.curved', text, { at, subject })];
  if (spreadMm > SAME_POINT_MM) {
    const off = `The two faces of this curved wall are not quite concentric: their distance varies by ${mm(spreadMm)} mm.`;
    out.push(
      finding('trace.curve-centred', off, {
        at,
        subject,
        assumed: `they are concentric, ${mm(curve.thicknessMm)} mm apart`,
      }),
    );
  }
  shortMm.forEach((short, i) => {
    if (Math.abs(short) <= SAME_POINT_MM) return;
    const end = onCircle({ centre: curve.centre, radius: curve.radiusMm }, i === 0 ? curve.fromRad : curve.toRad);
    const place = { at: spot(end) };
    out.push(
      short > 0
        ? finding(
            'trace.gap-closed',
            `A curved wall that stops ${mm(short)} mm short of a wall was taken as meeting it.`,
            place,
          )
        : finding(
            'trace.overrun-cut',
            `A curved wall that runs ${mm(-short)} mm into a wall was cut at its face.`,
            place,
          ),
    );
  });
  return out;
};

const place = (frame: LocalFrame, p: Vec): readonly [number, number, number] => {
  return spot(toDrawingMm(frame, p));
};

/** Repairs to the arcs that are walls. */
const arcFindings = (arcs: readonly Arc[], frame: LocalFrame): Finding[] => {
  const out: Finding[] = [];
  for (const gap of arcs.flatMap((a) => a.gaps)) {
    out.push(
      finding('trace.gap-closed', `A gap of ${mm(gap.sizeMm)} mm in an arc was closed.`, { at: place(frame, gap.at) }),
    );
  }
  const doubles = arcs.reduce((n, a) => n + a.doubles, 0);
  if (doubles > 0) {
    const text = `${plural(doubles, 'arc lies', 'arcs lie')} wholly on another and ${doubles === 1 ? 'was' : 'were'} taken with it.`;
    out.push(finding('trace.duplicate', text));
  }
  const chords = arcs.flatMap((a) => a.pieces).filter((p) => p.chords > 0);
  if (chords.length > 0) {
    const count = chords.reduce((n, p) => n + p.chords, 0);
    const most = chords.reduce((m, p) => Math.max(m, p.offMm), 0);
    const text = `${count} short lines were taken as ${plural(chords.length, 'arc', 'arcs')}; their ends lie up to ${mm(most)} mm off.`;
    out.push(finding('trace.curve-fitted', text, { assumed: 'the short lines stand for arcs' }));
  }
  return out;
};

const countText = (n: number, one: string, many: string): string =>
  `${plural(n, one, many)} of more than ${LONG_MM} mm on the layers taken ${n === 1 ? 'is' : 'are'} part of no wall.`;

const leftFindings = (left: readonly CurveLeftOver[], frame: LocalFrame, oneByOne: boolean): Finding[] => {
  const out: Finding[] = [];
  const long = left
    .filter((l) => l.lengthMm > LONG_MM && l.reason !== 'a door swing')
    .sort(
      inOrder<CurveLeftOver>(
        byNumber((l) => -Math.round(l.lengthMm)),
        (p, q) => comparePoints(p.at, q.at),
      ),
    );
  if (oneByOne) {
    const alone = long.map((l) => {
      const what = l.radiusMm === 0 ? `A curve (${l.entity})` : `An arc of radius ${mm(l.radiusMm)} mm`;
      const text = `${what}, ${mm(l.lengthMm)} mm long on layer ${l.layer}, is part of no wall: ${l.reason}.`;
      return finding('trace.curve-alone', text, { at: place(frame, l.at), subject: l.sources[0]! });
    });
    out.push(...listed(alone, (n) => countText(n, 'more curve', 'more curves')));
  } else if (long.length > 0) out.push(finding('trace.curve-alone', countText(long.length, 'curve', 'curves')));
  const small = new Map<string, CurveLeftOver[]>();
  for (const l of left) {
    if (long.includes(l)) continue;
    const key = `${l.layer}\n${l.reason}`;
    small.set(key, [...(small.get(key) ?? []), l]);
  }
  for (const key of [...small.keys()].sort()) {
    const list = small.get(key)!;
    const length = list.reduce((s, l) => s + l.lengthMm, 0);
    const text = `On layer ${list[0]!.layer} ${plural(list.length, 'curve or part of one is', 'curves or parts of curves are')} no wall (${list[0]!.reason}), ${mm(length)} mm in all.`;
    out.push(finding('trace.curve-left-out', text, { subject: list[0]!.layer }));
  }
  return out;
};

/** Findings of the curves of one group, unsorted. `oneByOne`: name every long curve that is no wall, else only their count. */
export const findingsOfCurves = (
  notes: readonly CurveNote[],
  arcsUsed: readonly Arc[],
  left: readonly CurveLeftOver[],
  frame: LocalFrame,
  oneByOne: boolean,
): Finding[] => [
  ...notes.flatMap(curveFindings),
  ...arcFindings(arcsUsed, frame),
  ...leftFindings(left, frame, oneByOne),
];
