/** What is said of walls that are not drawn as two faces. */

import { type Finding, finding } from '../../ground/findings.js';
import { byText, comparePoints, compareText, inOrder } from '../../ground/order.js';
import { distance, type Vec } from '../../ground/plane.js';
import { WALL_LEAST_MM } from '../../ground/tolerance.js';
import { plainNumber } from '../../ground/units.js';
import { listed } from '../listed.js';
import { type LocalFrame, toDrawingMm } from '../segments.js';
import type { ThickPart } from './centreLines.js';
import type { FillLines } from './fillLines.js';
import type { FillArea, JudgedFill } from './fills.js';
import type { Made } from './made.js';
import type { StraightPart } from './parts.js';
import type { ThicknessFrom } from './thickness.js';
import type { WidthGroup } from './widths.js';

const mm = (value: number): string => plainNumber(value, value < 10 ? 2 : 1);
const count = (n: number, one: string, many: string): string => `${n} ${n === 1 ? one : many}`;

export const placeOf = (frame: LocalFrame, p: Vec): readonly [number, number, number] => {
  const q = toDrawingMm(frame, p);
  return [Math.round(q.x * 1000) / 1000 + 0, Math.round(q.y * 1000) / 1000 + 0, 0];
};

/** Where footings are likely on the same layers, what is taken for walls by its shape alone may be one of them. */
const doubt = (footingsLikely: boolean) => (footingsLikely ? { severity: 'attention' as const } : {});

export const widthFindings = (groups: readonly WidthGroup[], footingsLikely: boolean): Finding[] =>
  groups.map((g) => {
    const what = `${count(g.paths.length, 'polyline', 'polylines')} of ${mm(g.widthMm)} mm width on layer ${g.layer}`;
    if (g.isWall) {
      return finding('trace.width-walls', `Taken as walls of that thickness: ${what}, ${mm(g.lengthMm)} mm in all.`, {
        subject: g.layer,
        assumed: `the walls are ${mm(g.widthMm)} mm thick`,
        ...doubt(footingsLikely),
      });
    }
    const why = g.paired
      ? 'they run in pairs at the distance of two wall faces'
      : `${mm(g.widthMm)} mm is no thickness of a wall`;
    return finding('trace.width-no-wall', `Taken as plain lines: ${what}; ${why}.`, {
      subject: g.layer,
      assumed: 'the width is only a heavy pen',
      // A pen too thin for any wall on lines that make walls in pairs leaves nothing to ask.
      ...(g.paired && g.widthMm < WALL_LEAST_MM ? { severity: 'note' as const } : {}),
    });
  });

const FROM: Readonly<Record<ThicknessFrom, string>> = {
  job: 'as the job file says',
  text: 'as texts at them say',
  texts: 'as all texts on thickness in the drawing say',
  layer: "as their layer's name says",
  width: 'as the width of their line says',
};

/** One finding for each layer, thickness and origin; the conflicts one by one. */
export const centreFindings = (thick: readonly ThickPart[], frame: LocalFrame): Finding[] => {
  const groups = new Map<string, ThickPart[]>();
  for (const t of thick) {
    const key = `${t.part.layer}\n${t.thickness.from}\n${mm(t.thickness.thicknessMm)}`;
    groups.set(key, [...(groups.get(key) ?? []), t]);
  }
  const out = [...groups]
    .sort((p, q) => compareText(p[0], q[0]))
    .map(([, list]) => {
      const { part, thickness } = list[0]!;
      const length = list.reduce((sum, t) => sum + distance(t.part.a, t.part.b), 0);
      const lines = count(list.length, 'line', 'lines');
      const text = `Taken as axes of walls ${mm(thickness.thicknessMm)} mm thick, ${FROM[thickness.from]}: ${lines} on layer ${part.layer}, ${mm(length)} mm in all.`;
      const assumed = `the walls are ${mm(thickness.thicknessMm)} mm thick`;
      return finding('trace.centre-walls', text, {
        subject: part.layer,
        assumed,
        ...(thickness.from === 'job' ? { severity: 'note' as const } : {}),
      });
    });
  const against = thick.filter((t) => t.against !== null);
  return [
    ...out,
    ...listed(
      against.map(({ part, thickness, against: note }) =>
        finding(
          'trace.thickness-differs',
          `The text "${note!.text}" stands at a wall that was taken as ${mm(thickness.thicknessMm)} mm thick, ${FROM[thickness.from]}.`,
          {
            at: placeOf(frame, middle(part)),
            subject: part.source,
            assumed: `it is ${mm(thickness.thicknessMm)} mm thick`,
          },
        ),
      ),
    ),
  ];
};

const middle = (p: { readonly a: Vec; readonly b: Vec }): Vec => ({ x: (p.a.x + p.b.x) / 2, y: (p.a.y + p.b.y) / 2 });

export const unknownFindings = (parts: readonly Omit<StraightPart, 'path'>[], frame: LocalFrame): Finding[] =>
  listed(
    parts.map((p) =>
      finding(
        'trace.centre-thickness',
        `How thick is the wall on this centre line of ${mm(distance(p.a, p.b))} mm on layer ${p.layer}? It is not laid out.`,
        { at: placeOf(frame, middle(p)), subject: p.source, assumed: 'there is no wall' },
      ),
    ),
  );

/** Single lines on wall layers that are not taken for walls: one question a layer, at the longest. */
export const singleFindings = (parts: readonly StraightPart[], why: string, frame: LocalFrame): Finding[] => {
  const layers = new Map<string, StraightPart[]>();
  for (const p of parts) layers.set(p.layer, [...(layers.get(p.layer) ?? []), p]);
  return [...layers]
    .sort((p, q) => compareText(p[0], q[0]))
    .map(([layer, list]) => {
      const [longest] = [...list].sort(
        inOrder<StraightPart>(
          (p, q) => distance(q.a, q.b) - distance(p.a, p.b),
          (p, q) => comparePoints(p.a, q.a),
          byText((p) => p.source),
        ),
      );
      const length = list.reduce((sum, p) => sum + distance(p.a, p.b), 0);
      const text = `On layer ${layer} ${count(list.length, 'line has', 'lines have')} no second face beside ${list.length === 1 ? 'it' : 'them'} (${mm(length)} mm in all; the longest is here). Axes of walls, and how thick? ${why}`;
      return finding('trace.single-lines', text, {
        at: placeOf(frame, middle(longest!)),
        subject: layer,
        assumed: 'they are no walls',
      });
    });
};

/** What became of the fills: one finding a layer and fate; long edges without a line and cracks one by one. */
export const fillFindings = (
  judged: readonly JudgedFill[],
  made: FillLines | null,
  frame: LocalFrame,
  footingsLikely: boolean,
): Finding[] => {
  const byLayer = (fills: readonly FillArea[], say: (what: string, layer: string, first: FillArea) => Finding) => {
    const layers = new Map<string, FillArea[]>();
    for (const f of fills) layers.set(f.layer, [...(layers.get(f.layer) ?? []), f]);
    return [...layers]
      .sort((p, q) => compareText(p[0], q[0]))
      .map(([layer, list]) => say(`${count(list.length, 'fill', 'fills')} on layer ${layer}`, layer, list[0]!));
  };
  const verdicts = [...new Set(judged.map((j) => j.verdict))].filter((v) => v !== 'wall').sort(compareText);
  const out = verdicts.flatMap((verdict) =>
    byLayer(
      judged.filter((j) => j.verdict === verdict).map((j) => j.area),
      (what, layer, first) =>
        finding(
          'trace.fill-no-wall',
          `Not taken for ${verdict === 'its outline is not closed' ? 'walls, though they may be' : 'walls'}: ${what}; ${verdict}, as the one here.`,
          {
            at: placeOf(frame, first.at),
            subject: layer,
          },
        ),
    ),
  );
  if (made === null) {
    const walls = judged.filter((j) => j.verdict === 'wall');
    if (walls.length === 0) return out;
    const text = `${count(walls.length, 'fill', 'fills')} with more edges than tracing works through left out.`;
    return [...out, finding('trace.fill-left', text, { assumed: 'their walls are also drawn as lines' })];
  }
  return [
    ...out,
    ...byLayer(made.drawn, (what, layer) =>
      finding('trace.fill-drawn', `${what} with lines round them: taken to show which side of the lines is concrete.`, {
        subject: layer,
      }),
    ),
    ...byLayer(made.alone, (what, layer) =>
      finding('trace.fill-walls', `${what} without lines round them: their edges were taken as the faces of walls.`, {
        subject: layer,
        assumed: 'they are the cut through walls',
        ...doubt(footingsLikely),
      }),
    ),
    ...listed(
      made.edges.map((e) =>
        finding('trace.fill-edge', `The edge of a fill has no line over ${mm(distance(e.a, e.b))} mm.`, {
          at: placeOf(frame, middle(e)),
          subject: e.source,
          assumed: 'the edge of the fill is the face of the wall',
        }),
      ),
    ),
    ...listed(
      made.cracks.map((c) =>
        finding('trace.fill-seam', `Two fills stop ${mm(c.widthMm)} mm short of each other.`, {
          at: placeOf(frame, c.at),
          assumed: 'the concrete runs on',
        }),
      ),
    ),
  ];
};

/** What was mended on the way from axes to bodies. */
export const madeFindings = (made: Made, frame: LocalFrame): Finding[] => {
  const { axisSet } = made;
  const how = {
    'led on': 'led on to where it meets another',
    cut: 'cut back to where it meets another',
    'put in line': 'put in line with the one that it goes on',
  };
  const moved = [
    ...axisSet.moved,
    ...axisSet.lines.repairs.map((r) => ({
      ...r,
      source: '',
      kind: r.kind === 'gap' ? ('led on' as const) : ('cut' as const),
    })),
  ].sort((p, q) => q.sizeMm - p.sizeMm || comparePoints(p.at, q.at));
  const out = listed(
    moved.map((m) =>
      finding('trace.axis-moved', `The axis of a wall was ${how[m.kind]}, by ${mm(m.sizeMm)} mm.`, {
        at: placeOf(frame, m.at),
        subject: m.source,
      }),
    ),
  );
  out.push(
    ...listed(
      axisSet.clashes.map((c) =>
        finding(
          'trace.thickness-differs',
          `One axis is drawn as a wall of ${mm(c.takenMm)} mm and of ${mm(c.leftMm)} mm.`,
          { at: placeOf(frame, c.at), subject: c.source, assumed: `it is ${mm(c.takenMm)} mm thick` },
        ),
      ),
    ),
    ...listed(
      made.alongside.map((a) =>
        finding('trace.axes-alongside', `This wall and that of ${a.other} lie in one another.`, {
          at: placeOf(frame, a.at),
          subject: a.source,
          assumed: 'they are one body of concrete',
        }),
      ),
    ),
    ...listed(
      made.tight.map((p) =>
        finding('trace.centre-curve', `A curved axis on layer ${p.layer} is too tight for its wall.`, {
          subject: p.source,
          assumed: 'there is no wall',
        }),
      ),
    ),
  );
  const lost = axisSet.lines.offDirection.length;
  if (lost > 0) {
    const text = `${count(lost, 'short piece', 'short pieces')} of axes without a direction of their own left out.`;
    const { source } = axisSet.lines.offDirection[0]!;
    out.push(finding('trace.centre-curve', text, { subject: source, assumed: 'there is no wall' }));
  }
  return out;
};
