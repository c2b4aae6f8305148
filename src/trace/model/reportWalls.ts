/** What there is to say of the bodies of walls taken, of those that cannot be used, and of columns beside them. Places local mm. */

import { type Finding, finding } from '../../ground/findings.js';
import { listed } from '../listed.js';
import type { ColumnInWall } from './around.js';
import type { Chosen, WallSeen } from './choose.js';
import { middleOf, mm, nameOf, place, shown } from './said.js';

/** Subject and place of what is said of a wall: its middle, at its foot unless said otherwise. */
const about = (seen: Pick<WallSeen, 'measured'>, z = seen.measured.baseMm) => {
  const at = middleOf(seen.measured);
  return { subject: seen.measured.element.id, at: at && place(at, z) };
};

/** What the walls taken, and those that cannot be used, have about them. */
export const wallFindings = (chosen: Chosen): Finding[] => {
  const { taken, left } = chosen;
  const unknown = taken.filter((t) => t.concrete.is === 'unknown' && chosen.by.get(t.measured.element.id) !== 'job');
  const unusable = left.filter((l) => l.measured.bands.length === 0 && l.concrete.is !== 'other');
  const inPart = taken.filter((t) => t.measured.unusable > 0);
  const inTriangles = taken.filter((t) => t.measured.element.body.some((b) => b.from === 'engine'));
  return listed([
    ...inTriangles.map((t) =>
      finding(
        'trace.body-in-triangles',
        `${shown(t.measured)} has a shape that was taken as flat triangles: where it is curved, its faces are chords that may lie far off the true ones.`,
        { ...about(t), assumed: 'the chords' },
      ),
    ),
    ...unknown.map((t) =>
      finding('trace.material-unknown', `Nothing says what ${shown(t.measured)} is made of.`, {
        ...about(t),
        assumed: 'it is concrete cast in place',
      }),
    ),
    ...unusable.map((l) => {
      const { element, unusable: bad } = l.measured;
      const why =
        element.body.length === 0
          ? 'has no body'
          : bad > 0
            ? 'has a body whose numbers are no usable numbers'
            : 'has a body of no height or no plan';
      return finding('trace.body-unusable', `${nameOf(element)} ${why}.`, {
        subject: element.id,
        assumed: 'there is no wall there',
      });
    }),
    ...inPart.map((t) =>
      finding('trace.body-unusable', `${t.measured.unusable} of the bodies of ${shown(t.measured)} cannot be used.`, {
        ...about(t),
        assumed: 'the rest is all of it',
      }),
    ),
    ...chosen.supports
      .filter((c) => c.measured.unusable > 0)
      .map((c) =>
        finding('trace.body-unusable', `${c.measured.unusable} of the bodies of ${shown(c.measured)} cannot be used.`, {
          ...about(c),
          assumed: 'walls stand on the rest of it alone',
          severity: 'attention',
        }),
      ),
    ...[...taken, ...chosen.supports]
      .filter((t) => t.measured.isOpen)
      .map((t) =>
        finding('trace.body-open', `The faces of ${shown(t.measured)} do not close.`, {
          ...about(t),
          assumed: 'what is missing is straight',
        }),
      ),
    ...taken
      .filter((t) => t.measured.footMm !== null)
      .map((t) =>
        finding('trace.wall-foot', `${shown(t.measured)} has a wider foot up to level ${mm(t.measured.footMm!)}.`, {
          ...about(t),
          assumed: 'the foot is cast first and the forms stand on it',
        }),
      ),
    ...taken.flatMap((t) => {
      const { lean } = t.measured;
      if (lean === null) return [];
      const text = `${shown(t.measured)} is not plumb: its faces run ${mm(lean.byMm)} mm sideways from level ${mm(lean.fromMm)} to ${mm(lean.toMm)}.`;
      return [
        finding('trace.not-plumb', text, {
          ...about(t),
          assumed: 'an upright wall on its lowest section, as thick as that',
        }),
      ];
    }),
    ...taken.flatMap((t) => {
      const { headMm, topMm } = t.measured;
      if (headMm === null) return [];
      const text = `${shown(t.measured)} has a head that stands out of its faces from level ${mm(headMm)} to ${mm(topMm)}.`;
      return [
        finding('trace.wall-head', text, {
          ...about(t, headMm),
          assumed: `the faces under it go on to level ${mm(topMm)}; what stands out is not formed`,
        }),
      ];
    }),
    ...chosen.bodilessSupports.map((e) =>
      finding('trace.body-unusable', `${nameOf(e)} has no body that can be used.`, {
        subject: e.id,
        assumed: 'no wall stands on it',
        severity: 'attention',
      }),
    ),
    ...layerFindings(taken),
  ]);
};

const layerFindings = (taken: readonly WallSeen[]): Finding[] => {
  const withOthers = taken.filter((t) => t.concrete.others.length > 0);
  const one = (t: WallSeen): Finding => {
    const { element } = t.measured;
    const detail = about(t);
    const others = t.concrete.others.join(', ');
    const bodies = element.body.length;
    if (t.concrete.isWhole && bodies > 1)
      return finding(
        'trace.layers-unclear',
        `${nameOf(element)} has ${bodies} bodies, and nothing tells which of them are concrete and which are ${others}.`,
        { ...detail, assumed: 'the forms stand at the faces of all of them together' },
      );
    return t.concrete.isWhole
      ? finding('trace.layers-in-one', `${nameOf(element)} has one body for its concrete and ${others}.`, {
          ...detail,
          assumed: 'the forms stand at the faces of the whole body',
        })
      : finding(
          'trace.layers-left-out',
          `Of ${nameOf(element)} the concrete was taken, and left out: ${others}.`,
          detail,
        );
  };
  return withOthers.map(one);
};

export const columnFindings = (columns: readonly ColumnInWall[]): Finding[] =>
  listed(
    columns.map((c) =>
      finding('trace.column-in-wall', `Column ${shown(c.measured)} stands in or against wall ${c.wall}.`, {
        subject: c.measured.element.id,
        at: place(c.at, c.measured.baseMm),
        assumed: 'it is formed apart',
      }),
    ),
  );
