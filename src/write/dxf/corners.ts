/**
 * Details of the corners, one of each kind, at 1:10: the units round the vertex at their true places, with marks, the legs along the inner faces and the
 * length of the outer face from its edge to the first joint; a course that stands otherwise has a detail of its own. Units are drawn as lines, so that nobody counts them twice.
 */

import { byText } from '../../ground/order.js';
import {
  armFace,
  cornerPlace,
  coverPose,
  degrees,
  direction,
  onFace,
  type Pose,
  readable,
  vertexOf,
} from '../../ground/places.js';
import { add, angleOf, distance, leftOf, scale, sub, unit, type Vec } from '../../ground/plane.js';
import type { Cover, Piece, Vertex } from '../../ground/vocabulary.js';
import { layerOf } from './attributes.js';
import { type Box, Places } from './labels.js';
import { lengthText } from './lengths.js';
import type { Scene } from './scene.js';
import { line, polyline, type Shape, text, textWidth } from './sheet.js';
import { insideCornerShapes, outsideCornerShapes, planShapes } from './symbols.js';

export const DETAIL_SCALE = { mm: 10, in: 12 } as const;
/** Sized for 1:10. */
const TEXT_MM = 38;
/** How far round the vertex a detail shows whole units, mm. */
const REACH_MM = 750;
const TICK_MM = 18;

export interface Detail {
  readonly name: string;
  readonly says: readonly string[];
  readonly shapes: readonly Shape[];
}

const inPose = (shapes: readonly Shape[], pose: Pose, piece: Piece, about: readonly string[]): Shape[] => {
  const rad = (pose.rotationDeg * Math.PI) / 180;
  const x = { x: Math.cos(rad), y: Math.sin(rad) };
  const put = (v: Vec): Vec => add(pose.at, add(scale(x, v.x), scale(leftOf(x), v.y)));
  const layer = layerOf(piece);
  return shapes.flatMap((s): Shape[] => {
    if (s.type === 'line') return [{ ...s, layer, about, from: put(s.from), to: put(s.to) }];
    if (s.type === 'polyline') return [{ ...s, layer, about, vertices: s.vertices.map(put) }];
    if (s.type === 'solid') return [{ ...s, layer, about, corners: s.corners.map(put) }];
    if (s.type === 'hatch') return [{ ...s, layer, about, paths: s.paths.map((path) => path.map(put)) }];
    return [];
  });
};

/** A dimension of a stretch of face, drawn off the forms. */
const measure = (from: Vec, to: Vec, outward: Vec, offMm: number, words: string, about: readonly string[]): Shape[] => {
  const [a, b] = [add(from, scale(outward, offMm)), add(to, scale(outward, offMm))];
  const u = unit(sub(b, a));
  const stroke = scale(unit(add(u, outward)), TICK_MM);
  const middle = add(scale(add(a, b), 0.5), scale(outward, Math.sign(offMm) * TEXT_MM * 0.8));
  return [
    line('DIMS', a, b, about),
    ...[a, b].map((p) => line('DIMS', sub(p, stroke), add(p, stroke), about)),
    line('DIMS', add(from, scale(outward, offMm * 0.35)), a, about),
    line('DIMS', add(to, scale(outward, offMm * 0.35)), b, about),
    text('DIMS', words, middle, TEXT_MM, {
      rotationDeg: (readable(degrees(angleOf(u))) + 360) % 360,
      across: 'centre',
      upright: 'middle',
      about,
    }),
  ];
};

interface Standing {
  readonly piece: Piece;
  readonly cover: Cover;
}

const TRIES = 8;

/** The first of some places, further and further out, at which a mark lies over no other text. */
const freePlace = (places: Places, mark: string, rotationDeg: number, at: (k: number) => Vec): Vec => {
  const halfMm = [textWidth(mark, TEXT_MM) / 2 + 4, TEXT_MM / 2 + 4] as const;
  const tries = Array.from({ length: TRIES }, (_, k) => {
    const centre = at(k);
    return { centre, boxes: [{ kind: 'text', centre, halfMm, rotationDeg }] as const satisfies readonly [Box] };
  });
  return places.firstFree(tries).centre;
};

/** The two arms of a vertex with the units of a course on them, nearest first. */
const armsOf = (scene: Scene, vertex: Vertex, course: number) =>
  ([0, 1] as const).flatMap((i) => {
    const id = armFace(scene.result.plan, vertex, i);
    if (id === null) return [];
    const arm = vertex.arms[i];
    const frame = scene.frameOf(id);
    const standing: Standing[] = scene.result.layout.pieces
      .filter((p) => p.course === course)
      .flatMap((piece) => piece.covers.filter((c) => c.face === id).map((cover) => ({ piece, cover })));
    const near = standing
      .map((s) => {
        const ends = [s.cover.fromMm, s.cover.toMm]
          .map((mm) => (mm - arm.stationMm) * arm.direction)
          .sort((a, b) => a - b);
        return { ...s, fromMm: ends[0]!, toMm: ends[1]! };
      })
      .filter((s) => s.toMm > 0.5 && s.fromMm < REACH_MM)
      .sort((a, b) => a.fromMm - b.fromMm || byText((s: Standing) => s.piece.id)(a, b));
    return [{ arm, frame, near }];
  });

/** A corner in one course. */
interface Corner {
  readonly node: string;
  readonly vertices: readonly Vertex[];
  readonly course: number;
}

const thicknessOf = (scene: Scene, wall: string): number =>
  scene.result.plan.walls.find((w) => w.id === wall)?.thicknessMm ?? 0;

/** A corner's kind in a course: its angle, and the units beside its vertices; null where the course has none there. */
const kindOf = (scene: Scene, vertices: readonly Vertex[], course: number): string | null =>
  vertices.every((v) => armsOf(scene, v, course).every(({ near }) => near.length === 0))
    ? null
    : vertices
        .map((v) => {
          const words = armsOf(scene, v, course).map(({ frame, near }) =>
            [frame.wall.thicknessMm, ...near.slice(0, 2).map((s) => scene.marks.ofPiece(s.piece).mark)].join(' '),
          );
          return `${v.kind} ${v.deflectionDeg} ${words.sort().join(' / ')}`;
        })
        .sort()
        .join(' | ');

const drawOne = (scene: Scene, { node, vertices, course }: Corner, name: string): Detail | null => {
  const { plan, catalogue, layout } = scene.result;
  const about = ['detail', node];
  const unitText = (mm: number): string => lengthText(catalogue.lengthUnit, mm);
  const depthMm = catalogue.frameDepthMm;
  const shapes: Shape[] = [];
  const drawn = new Set<string>();
  /** A corner unit stands on two faces and is named once. */
  const named = new Set<string>();
  const places = new Places();
  const hasNoSalient = vertices.every((v) => v.kind === 're-entrant') && vertices.length === 2;
  const otherMm = Math.max(...vertices.flatMap((v) => v.arms.map((a) => thicknessOf(scene, a.wall))));
  for (const vertex of vertices) {
    const corner = layout.pieces.find(
      (p) => p.course === course && p.kind.endsWith('corner') && vertexOf(plan, p) === vertex,
    );
    if (corner) {
      const place = cornerPlace(plan, vertex);
      const legs = place.order.map((i) => {
        const id = armFace(plan, vertex, i);
        const cover = corner.covers.find((c) => c.face === id);
        return cover ? cover.toMm - cover.fromMm : 0;
      });
      const outline =
        vertex.kind === 'salient'
          ? outsideCornerShapes(scene.unitOf(corner)?.faceWidthMm ?? 0, depthMm, place.openingDeg)
          : insideCornerShapes([legs[0] ?? 0, legs[1] ?? 0], depthMm, place.openingDeg);
      shapes.push(...inPose(outline, place, corner, about));
      // Behind the angle of its legs, where no other unit lies.
      const { mark } = scene.marks.ofPiece(corner);
      const away = direction(place.rotationDeg + place.openingDeg / 2 + (vertex.kind === 'salient' ? 180 : 0));
      const reach = depthMm / Math.sin((place.openingDeg * Math.PI) / 360);
      const half = (Math.abs(away.x) * textWidth(mark, TEXT_MM)) / 2;
      const at = freePlace(places, mark, 0, (k) =>
        add(place.at, scale(away, reach + half + TEXT_MM * (0.7 + 1.1 * k))),
      );
      shapes.push(text('NOTE', mark, at, TEXT_MM, { across: 'centre', upright: 'middle', about }));
      named.add(corner.id);
    }
    for (const { arm, frame, near } of armsOf(scene, vertex, course)) {
      const point = (mm: number, outMm = 0): Vec => onFace(frame, arm.stationMm + arm.direction * mm, outMm);
      // On inner faces within the concrete, where nothing else stands: outside the strings of two arms would cross.
      const isInner = vertex.kind === 're-entrant';
      const { thicknessMm } = frame.wall;
      const off = (lane: number): number =>
        isInner ? -Math.min(30 + lane * 75, thicknessMm * (0.15 + lane * 0.4)) : depthMm + 130 + lane * 110;
      if (hasNoSalient) {
        const [low, high] = [-otherMm, Math.max(REACH_MM, near.at(-1)?.toMm ?? 0)];
        shapes.push(line('CONC', point(low, -thicknessMm), point(high, -thicknessMm), about));
      }
      shapes.push(polyline('CONC', [point(0), point(Math.max(REACH_MM, near.at(-1)?.toMm ?? 0))], false, about));
      for (const s of near) {
        const key = `${s.piece.id} ${s.cover.face}`;
        if (drawn.has(key)) continue;
        drawn.add(key);
        const mark = scene.marks.ofPiece(s.piece).mark;
        const isCorner = s.piece.kind.endsWith('corner');
        if (!isCorner) {
          const { kind, turned } = s.piece;
          const widthMm = s.toMm - s.fromMm;
          const outline = planShapes({
            kind,
            unit: scene.unitOf(s.piece),
            turned,
            widthMm,
            depthMm,
            isUnder: false,
            hatchMm: DETAIL_SCALE[catalogue.lengthUnit],
          });
          shapes.push(...inPose(outline, coverPose(frame, s.cover), s.piece, about));
        }
        const middle = (Math.max(0, s.fromMm) + s.toMm) / 2;
        const isNamed = named.has(s.piece.id);
        named.add(s.piece.id);
        const rotationDeg = (readable(degrees(angleOf(frame.along))) + 360) % 360;
        if (!isNamed) {
          const at = freePlace(places, mark, rotationDeg, (k) => point(middle, depthMm + TEXT_MM * (1.1 + 1.3 * k)));
          shapes.push(text('NOTE', mark, at, TEXT_MM, { rotationDeg, across: 'centre', upright: 'middle', about }));
        }
        const from = Math.max(0, s.fromMm);
        shapes.push(...measure(point(from), point(s.toMm), frame.outward, off(0), unitText(s.toMm - from), about));
      }
      const last = near.at(-1);
      // Within a stem the strings of both its faces share the room.
      if (last && near.length > 1 && !hasNoSalient) {
        const words = unitText(last.toMm);
        shapes.push(...measure(point(0), point(last.toMm), frame.outward, off(1), words, about));
      }
    }
  }
  const ofCourse = new Set(layout.pieces.filter((p) => p.course === course).map((p) => p.id));
  const ties = new Map(
    layout.ties.filter((t) => t.pieces.some((p) => ofCourse.has(p))).map((t) => [`${t.wall} ${t.stationMm}`, t]),
  ).values();
  const middle = scale(
    vertices.reduce((sum, v) => add(sum, v.at), { x: 0, y: 0 }),
    1 / vertices.length,
  );
  for (const t of ties) {
    const wall = plan.walls.find((w) => w.id === t.wall);
    const face = plan.faces.find((f) => f.wall === t.wall && f.side === 'left');
    if (!wall || !face || wall.arc) continue;
    const frame = scene.frameOf(face.id);
    const outer = onFace(frame, t.stationMm, depthMm);
    const inner = onFace(frame, t.stationMm, -wall.thicknessMm - depthMm);
    if (distance(outer, middle) > REACH_MM + 300) continue;
    shapes.push(line('TIES', outer, inner, about));
  }
  if (shapes.length === 0) return null;
  const walls = [...new Set(vertices.flatMap((v) => v.arms.map((a) => a.wall)))].sort();
  return { name, says: [`node ${node}, walls ${walls.join(' and ')}`], shapes };
};

/** 'course 1', 'courses 1 and 2', 'courses 1, 2, 3' of courses rising. */
const coursesText = (courses: readonly number[]): string => {
  if (courses.length === 1) return `course ${courses[0]}`;
  return `courses ${courses.join(courses.length === 2 ? ' and ' : ', ')}`;
};

/** One detail of each kind of corner and junction and of each course that stands otherwise, in the order of the nodes. */
export const drawCornerDetails = (scene: Scene): Detail[] => {
  const { vertices, nodes } = scene.result.plan;
  const courses = [...new Set(scene.result.layout.pieces.map((p) => p.course))]
    .filter((c) => c >= 1)
    .sort((a, b) => a - b);
  const known = new Map<string, Corner[]>();
  for (const node of nodes) {
    const own = vertices.filter((v) => v.node === node.id && v.deflectionDeg > 0);
    if (own.length === 0) continue;
    for (const course of courses) {
      const kind = kindOf(scene, own, course);
      if (kind !== null) known.set(kind, [...(known.get(kind) ?? []), { node: node.id, vertices: own, course }]);
    }
  }
  let n = 0;
  return [...known.values()].flatMap((corners) => {
    const detail = drawOne(scene, corners[0]!, `DETAIL ${n + 1}`);
    if (!detail) return [];
    n++;
    const at = [...new Set(corners.map((c) => c.node))].map((node) => {
      const text = coursesText(corners.filter((c) => c.node === node).map((c) => c.course));
      return { node, text };
    });
    const [first, ...rest] = at;
    const says = [...detail.says, `${first!.text} from below`];
    if (rest.length > 0) {
      const same = rest.map((r) => (r.text === first!.text ? r.node : `${r.node} (${r.text})`));
      says.push(`likewise at ${same.join(', ')}`);
    }
    return [{ ...detail, says }];
  });
};
