/** Decides at each joint which wall runs through, and cuts the others there: each segment becomes one wall. */

import { byNumber, inOrder } from '../ground/order.js';
import { type Bar, type BarEnd, crossingOf, endOf, type Joint, lengthOf, pointOf } from './model.js';

export interface Segment {
  readonly bar: Bar;
  readonly barIndex: number;
  /** Joints at its two ends. */
  readonly lo: number;
  readonly hi: number;
  /** Joints that it runs through. */
  readonly through: readonly number[];
}

export interface SegmentEnd {
  readonly segment: number;
  readonly end: BarEnd;
}

/** What comes together at a joint, in segments. */
export interface Meeting {
  readonly through: number | null;
  readonly ends: readonly SegmentEnd[];
}

export interface Cut {
  readonly segments: readonly Segment[];
  /** One for each joint, in their order. */
  readonly meetings: readonly Meeting[];
}

/** Of walls that cross, the thicker runs through, then the longer, then the one that starts at lower x, then y. */
const throughOf = (joint: Joint, bars: readonly Bar[], stepMm: number): number | null => {
  const first = [...joint.passes].sort(
    inOrder(
      byNumber((i) => -Math.round(bars[i]!.thicknessMm / stepMm)),
      byNumber((i) => -Math.round(lengthOf(bars[i]!) / stepMm)),
      byNumber((i) => pointOf(bars[i]!, bars[i]!.loMm).x),
      byNumber((i) => pointOf(bars[i]!, bars[i]!.loMm).y),
      byNumber((i) => i),
    ),
  )[0];
  return first ?? null;
};

interface Event {
  readonly joint: number;
  readonly along: number;
  readonly cuts: boolean;
}

/** Where along a bar a joint stands that it passes: at the axis of another bar that comes there. */
const placeAlong = (bars: readonly Bar[], bar: number, joint: Joint): number => {
  const others = [...joint.passes, ...joint.ends.map((e) => e.bar)].filter((b) => b !== bar);
  for (const other of others) {
    const crossing = crossingOf(bars[bar]!, bars[other]!);
    if (crossing) return crossing.along[0];
  }
  throw new Error('a joint that a bar passes has no other bar across it');
};

const eventsOf = (bars: readonly Bar[], joints: readonly Joint[], through: readonly (number | null)[]): Event[][] => {
  const events: Event[][] = bars.map(() => []);
  joints.forEach((joint, j) => {
    for (const bar of joint.passes)
      events[bar]!.push({ joint: j, along: placeAlong(bars, bar, joint), cuts: through[j] !== bar });
  });
  return events.map((list) =>
    list.sort(
      inOrder(
        byNumber((e) => e.along),
        byNumber((e) => e.joint),
      ),
    ),
  );
};

/** Cuts the bars at the joints where another one runs through. Segments in order of their bars, then along them. */
export const cutAtJoints = (bars: readonly Bar[], joints: readonly Joint[], stepMm: number): Cut => {
  const through = joints.map((j) => throughOf(j, bars, stepMm));
  const events = eventsOf(bars, joints, through);
  const endJoint = new Map<string, number>();
  joints.forEach((joint, j) => {
    for (const e of joint.ends) endJoint.set(`${e.bar}${e.end}`, j);
  });
  const segments: Segment[] = [];
  bars.forEach((bar, barIndex) => {
    let lo = endJoint.get(`${barIndex}lo`)!;
    let loMm = endOf(bar, 'lo');
    let passed: number[] = [];
    for (const event of events[barIndex]!) {
      if (!event.cuts) {
        passed.push(event.joint);
        continue;
      }
      segments.push({ bar: { ...bar, loMm, hiMm: event.along }, barIndex, lo, hi: event.joint, through: passed });
      [lo, loMm, passed] = [event.joint, event.along, []];
    }
    const hi = endJoint.get(`${barIndex}hi`)!;
    segments.push({ bar: { ...bar, loMm }, barIndex, lo, hi, through: passed });
  });
  return { segments, meetings: meetingsOf(segments, joints.length) };
};

const meetingsOf = (segments: readonly Segment[], count: number): Meeting[] => {
  const meetings = Array.from({ length: count }, () => ({ through: null as number | null, ends: [] as SegmentEnd[] }));
  segments.forEach((s, segment) => {
    meetings[s.lo]!.ends.push({ segment, end: 'lo' });
    meetings[s.hi]!.ends.push({ segment, end: 'hi' });
    for (const joint of s.through) meetings[joint]!.through = segment;
  });
  return meetings;
};
