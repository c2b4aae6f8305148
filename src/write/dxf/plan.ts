/** The plan: every piece and every tie at its true place, once, with marks that do not lie over each other. */

import { sideShare, tieLine } from '../../ground/arcs.js';
import { runsPast, wholeCover } from '../../ground/extent.js';
import { type Finding, finding } from '../../ground/findings.js';
import { postOf } from '../../ground/pilasters.js';
import {
  armFace,
  cornerPlace,
  coverPose,
  degrees,
  direction,
  endFaceAt,
  type FaceFrame,
  frameOfCover,
  onFace,
  type Pose,
  readable,
  vertexOf,
} from '../../ground/places.js';
import { add, angleOf, leftOf, scale, sub, unit, type Vec } from '../../ground/plane.js';
import { planIndex } from '../../ground/planIndex.js';
import { plainNumber } from '../../ground/units.js';
import type { CheckedTie, Cover, Piece, Wall } from '../../ground/vocabulary.js';
import { layerOf, PIECE_TAGS, pieceAttributes, TIE_TAGS, tieAttributes } from './attributes.js';
import type { Bounds } from './bounds.js';
import { drawClamps } from './clamps.js';
import { drawGangs } from './gangs.js';
import { type Box, leaderBox, Places } from './labels.js';
import { lengthText } from './lengths.js';
import { modelOutlines } from './modelOutlines.js';
import { drawPlanDimensions } from './planDimensions.js';
import { drawPlanStarts } from './planStart.js';
import type { Scene } from './scene.js';
import { drawSectionCuts } from './sectionCuts.js';
import type { Section } from './sections.js';
import { line, polyline, type Shape, type TextPose, text, textWidth } from './sheet.js';
import { drawSite, takeSiteGround } from './sitePlan.js';
import { drawSpecialForms } from './specialForms.js';
import {
  bendStripShapes,
  hingeShape,
  insideCornerShapes,
  outsideCornerShapes,
  planShapes,
  TIE_HEAD_MM,
  TIE_PAST_MM,
  tieShapes,
} from './symbols.js';

/** A piece as it stands in plan, before its mark is placed. */
interface Standing {
  readonly piece: Piece;
  readonly pose: Pose;
  readonly block: string;
  /** Where its mark would stand best: from here outwards. */
  readonly outer: Vec;
  readonly away: Vec;
  readonly along: Vec;
  /** How far behind the frame its mark begins: clear of the ties' heads where there can be any. */
  readonly gapMm: number;
  /** The ground that it takes, as obstacles for marks. */
  readonly body: readonly Box[];
}

const GAP_MM = 40;

/** How far a piece stands out from its face: as the frames do, a post beside a pilaster as the pilaster does. */
const depthOf = (scene: Scene, piece: Piece): number =>
  postOf(scene.result.plan, piece)?.depthMm ?? scene.result.catalogue.frameDepthMm;

const coverBlock = (scene: Scene, piece: Piece, widthMm: number, isUnder: boolean): string => {
  const unit = scene.unitOf(piece);
  const depthMm = depthOf(scene, piece);
  const { kind, turned, taper } = piece;
  const shapes = planShapes({
    kind,
    unit,
    turned,
    widthMm,
    depthMm,
    isUnder,
    hatchMm: scene.paperScale,
    taper,
  });
  const deep = postOf(scene.result.plan, piece) ? `-${plainNumber(depthMm, 1)}` : '';
  const size = taper
    ? `${plainNumber(taper.faceMm, 1)}-${plainNumber(taper.backMm, 1)}`
    : plainNumber(widthMm, 1) + deep;
  const name = piece.item ?? `${piece.kind}-${size}${isUnder ? '-UNDER' : ''}`;
  return scene.blocks.ask(`${name}${piece.turned ? '-TURNED' : ''}-PLAN`, shapes, PIECE_TAGS);
};

const onStraightFace = (scene: Scene, piece: Piece, frame: FaceFrame, cover: Cover, isUnder: boolean): Standing => {
  const { taper } = piece;
  const widthMm = taper ? Math.max(taper.faceMm, taper.backMm) : cover.toMm - cover.fromMm;
  const depthMm = depthOf(scene, piece);
  const pose = coverPose(frame, cover, taper !== undefined);
  const { outward } = frameOfCover(frame, cover, taper !== undefined);
  const along = direction(pose.rotationDeg);
  return {
    piece,
    pose,
    block: coverBlock(scene, piece, widthMm, isUnder),
    outer: add(pose.at, scale(outward, depthMm)),
    away: outward,
    along,
    gapMm: TIE_PAST_MM + GAP_MM,
    body: [
      {
        kind: 'body',
        centre: add(pose.at, scale(outward, depthMm / 2)),
        halfMm: [widthMm / 2, depthMm / 2],
        rotationDeg: pose.rotationDeg,
      },
    ],
  };
};

/** Lengths of a corner unit's legs along the block's x axis and the other: of its covers, or of the catalogue's unit. */
const legsOf = (scene: Scene, piece: Piece, faces: readonly (string | null)[]): readonly [number, number] => {
  const legs = scene.unitOf(piece)?.legsMm ?? [0, 0];
  const leg = (i: 0 | 1): number => {
    const cover = piece.covers.find((c) => c.face === faces[i]);
    return cover ? cover.toMm - cover.fromMm : legs[i];
  };
  return [leg(0), leg(1)];
};

const atCorner = (scene: Scene, piece: Piece): Standing | null => {
  const { plan, catalogue } = scene.result;
  const vertex = vertexOf(plan, piece);
  if (!vertex) return null;
  const place = cornerPlace(plan, vertex);
  const depthMm = catalogue.frameDepthMm;
  const salient = vertex.kind === 'salient';
  const faces = place.order.map((arm) => armFace(plan, vertex, arm));
  const legs = legsOf(scene, piece, faces);
  const unit = scene.unitOf(piece);
  const { taper } = piece;
  const shapes = taper
    ? bendStripShapes(legs, depthMm, place.openingDeg, salient)
    : [
        ...(salient
          ? outsideCornerShapes(unit?.faceWidthMm ?? 0, depthMm, place.openingDeg)
          : insideCornerShapes(legs, depthMm, place.openingDeg)),
        ...(unit?.deflectionDeg ? [hingeShape(place.openingDeg, salient)] : []),
      ];
  const size = taper ? `-${plainNumber(taper.faceMm, 1)}-${plainNumber(taper.backMm, 1)}` : '';
  const name = piece.item ?? `${piece.kind}${size}`;
  const angle = place.openingDeg === 90 ? '' : `-${place.openingDeg}`;
  const reach = depthMm / Math.sin((place.openingDeg * Math.PI) / 360);
  const middle = place.openingDeg / 2 + (salient ? 180 : 0);
  const away = direction(place.rotationDeg + middle);
  const outer = add(place.at, scale(away, reach));
  return {
    piece,
    pose: { at: place.at, rotationDeg: place.rotationDeg },
    block: scene.blocks.ask(`${name}${angle}-PLAN`, shapes, PIECE_TAGS),
    outer,
    away,
    along: direction(place.rotationDeg + middle + 90),
    gapMm: GAP_MM,
    body: [
      {
        kind: 'body',
        centre: add(place.at, scale(away, reach / 2)),
        halfMm: [reach / 2, reach / 2],
        rotationDeg: degrees(angleOf(away)),
      },
    ],
  };
};

/** The place of a piece, null where neither a cover nor a vertex nor an end tells it. */
const standing = (scene: Scene, piece: Piece, isUnder: boolean): Standing | null => {
  const { plan } = scene.result;
  if (piece.kind.endsWith('corner') || piece.vertex !== undefined) return atCorner(scene, piece);
  const cover = wholeCover(plan, piece);
  if (cover) return onStraightFace(scene, piece, scene.frameOf(cover.face), cover, isUnder);
  const face = piece.kind === 'bulkhead' ? endFaceAt(plan, piece.node) : null;
  if (!face) return null;
  const { fromMm, toMm } = face;
  const whole: Cover = { face: face.id, fromMm, toMm, baseMm: piece.baseMm, topMm: piece.topMm };
  return onStraightFace(scene, piece, scene.frameOf(face.id), whole, isUnder);
};

interface MarkPlace {
  readonly centre: Vec;
  readonly leader: readonly [Vec, Vec] | null;
  readonly boxes: readonly [Box, ...Box[]];
}

/** Where a mark is tried: straight out from its unit, then beside that, then further out; moved ones with a leader. */
function* markPlaces(s: Standing, home: Box, widthMm: number, heightMm: number): Generator<MarkPlace> {
  const step = heightMm * 0.6;
  yield { centre: home.centre, leader: null, boxes: [home] };
  for (let row = 0; row < 14; row++) {
    for (let k = 0; k <= 20; k++) {
      const shift = (k % 2 === 1 ? 1 : -1) * Math.ceil(k / 2) * step;
      const out = row * heightMm * 1.5;
      const centre = add(home.centre, add(scale(s.along, shift), scale(s.away, out)));
      const start = add(s.outer, scale(s.away, 10));
      const end = add(centre, scale(s.away, -widthMm / 2 - 25));
      yield { centre, leader: [start, end], boxes: [{ ...home, centre }, leaderBox(start, end)] };
    }
  }
}

/** Places the mark of a piece beyond its frame, along the joint line, and a leader where it had to move aside. */
const placeMark = (
  places: Places,
  s: Standing,
  mark: string,
  heightMm: number,
): { readonly pose: TextPose; readonly leader: Shape[] } => {
  const widthMm = textWidth(mark, heightMm);
  const rotationDeg = readable(degrees(angleOf(s.away)));
  const home: Box = {
    kind: 'text',
    centre: add(s.outer, scale(s.away, s.gapMm + widthMm / 2)),
    halfMm: [widthMm / 2 + 15, heightMm / 2 + 10],
    rotationDeg,
  };
  const { centre, leader } = places.firstFree(markPlaces(s, home, widthMm, heightMm));
  const pose: TextPose = { at: centre, heightMm, rotationDeg, across: 'centre', upright: 'middle' };
  return { pose, leader: leader ? [line('NOTE', leader[0], leader[1], ['leader', s.piece.id])] : [] };
};

/** Marks are placed for the straight units first, whose places are tightest, then for corners and bulkheads; each in the layout's order. */
const labelOrder = (items: readonly Standing[]): Standing[] => [
  ...items.filter((s) => s.piece.covers.length === 1 || runsPast(s.piece)),
  ...items.filter((s) => s.piece.covers.length !== 1 && !runsPast(s.piece)),
];

/** Whether the piece stands lowest over its stations: its mark is the one that shows. */
const lowest = (pieces: readonly Piece[]): Set<string> => {
  const best = new Map<string, Piece>();
  for (const piece of pieces) {
    const cover = piece.covers[0];
    const place = cover ? `${cover.face} ${cover.fromMm} ${cover.toMm}` : `${piece.kind} ${piece.vertex ?? piece.node}`;
    const known = best.get(place);
    if (!known || rank(piece) < rank(known)) best.set(place, piece);
  }
  return new Set([...best.values()].map((p) => p.id));
};

/** Low pieces first; fill under a column (timber) after the unit that stands on it. */
const rank = (piece: Piece): number => (piece.kind === 'timber' ? 1e9 : 0) + piece.baseMm;

export interface PlanDrawing {
  readonly shapes: readonly Shape[];
  readonly places: Places;
  readonly findings: readonly Finding[];
}

const drawPieces = (scene: Scene, places: Places, shapes: Shape[]): Finding[] => {
  const { pieces } = scene.result.layout;
  const findings: Finding[] = [];
  const items: Standing[] = [];
  const shown = lowest(pieces);
  for (const piece of pieces) {
    const s = standing(scene, piece, !shown.has(piece.id));
    if (s) items.push(s);
    else
      findings.push(
        finding(
          'write.no-place',
          `Piece ${piece.id} (${piece.kind}) names no face, vertex or wall end and is not in the plan.`,
          {
            subject: piece.id,
          },
        ),
      );
  }
  for (const s of items) for (const box of s.body) places.take(box);
  for (const box of tieHeads(scene)) places.take(box);
  takeSiteGround(scene, places);
  const marks = new Map<string, TextPose>();
  for (const s of labelOrder(items)) {
    if (!shown.has(s.piece.id)) continue;
    const { pose, leader } = placeMark(places, s, scene.marks.ofPiece(s.piece).mark, scene.sizes.mark);
    marks.set(s.piece.id, pose);
    shapes.push(...leader);
  }
  for (const { piece, pose, block } of items) {
    const mark = scene.marks.ofPiece(piece);
    shapes.push({
      type: 'insert',
      layer: layerOf(piece),
      block,
      ...pose,
      attributes: pieceAttributes(piece, mark, scene.facesOf(piece), 'PLAN', pose.at, marks.get(piece.id) ?? null),
      about: ['piece', piece.id],
    });
  }
  return findings;
};

/** The axis point of a tie and the direction of its wall. */
const tiePlace = (scene: Scene, tie: CheckedTie): { readonly wall: Wall; readonly at: Vec; readonly along: Vec } => {
  const wall = planIndex(scene.result.plan).walls.get(tie.wall);
  if (!wall) throw new Error(`tie ${tie.id} names wall ${tie.wall}, which the plan does not have`);
  const [left, right] = tieLine(wall, tie, scene.coverOf);
  const across = unit(sub(left, right));
  return { wall, at: scale(add(left, right), 0.5), along: { x: across.y, y: -across.x } };
};

/** Boxes of the ties' heads behind the frames; rows over each other take the same. */
const tieHeads = (scene: Scene): Box[] => {
  const { layout, catalogue } = scene.result;
  const heads = new Map<string, Box>();
  for (const tie of layout.ties) {
    const { wall, at, along } = tiePlace(scene, tie);
    for (const out of [1, -1]) {
      const middle = out * (wall.thicknessMm / 2 + catalogue.frameDepthMm + TIE_PAST_MM / 2);
      heads.set(`${tie.wall} ${tie.stationMm} ${out}`, {
        kind: 'body',
        centre: add(at, scale(leftOf(along), middle)),
        halfMm: [TIE_HEAD_MM, TIE_PAST_MM / 2],
        rotationDeg: degrees(angleOf(along)),
      });
    }
  }
  return [...heads.values()];
};

const tieShape = (scene: Scene, tie: CheckedTie): Shape => {
  const { wall, at, along } = tiePlace(scene, tie);
  const shapes = tieShapes(wall.thicknessMm, scene.result.catalogue.frameDepthMm);
  return {
    type: 'insert',
    layer: 'TIES',
    block: scene.blocks.ask(`${tie.item}-${plainNumber(wall.thicknessMm, 1)}-PLAN`, shapes, TIE_TAGS),
    at,
    rotationDeg: degrees(angleOf(leftOf(along))),
    attributes: tieAttributes(tie, at),
    about: ['tie', tie.id],
  };
};

/** Where a face's name is tried: at its middle, then beside it, then further out. */
function* faceNamePlaces(
  home: Box,
  heightMm: number,
  along: Vec,
  outward: Vec,
): Generator<{ readonly boxes: readonly [Box] }> {
  for (let row = 0; row < 14; row++) {
    for (let k = 0; k <= 16; k++) {
      const shift = (k % 2 === 1 ? 1 : -1) * Math.ceil(k / 2) * 300;
      const by = add(scale(along, shift), scale(outward, row * 2 * heightMm));
      yield { boxes: [{ ...home, centre: add(home.centre, by) }] };
    }
  }
}

/** A face's name, with that of its pour, of a curved one with radius and length. */
const nameOf = (scene: Scene, { face, wall }: FaceFrame): string => {
  const name = wall.pour === undefined ? face.id : `${face.id}  POUR ${wall.pour}`;
  if (!wall.arc) return name;
  const mm = (lengthMm: number) => lengthText(scene.result.catalogue.lengthUnit, lengthMm);
  const radius = wall.arc.innerRadiusMm + (face.side === 'left' ? 0 : wall.thicknessMm);
  return `${name}  R ${mm(radius)}  ARC ${mm((face.toMm - face.fromMm) * sideShare(wall, face.side))}`;
};

/** Name of each face along it, at its middle, with an arrow in the direction in which a person looks at it. */
const faceName = (scene: Scene, places: Places, frame: FaceFrame): Shape[] => {
  const { face } = frame;
  const depthMm = scene.result.catalogue.frameDepthMm;
  const heightMm = scene.sizes.table;
  const name = nameOf(scene, frame);
  const widthMm = textWidth(name, heightMm);
  const along = unit(frame.along);
  const outMm = depthMm + TIE_PAST_MM + GAP_MM + 6 * scene.sizes.mark;
  const rotationDeg = readable(degrees(angleOf(along)));
  const home: Box = {
    kind: 'text',
    centre: onFace(frame, (face.fromMm + face.toMm) / 2, outMm),
    halfMm: [widthMm / 2 + 2 * heightMm, heightMm],
    rotationDeg,
  };
  const chosen = places.firstFree(faceNamePlaces(home, heightMm, along, frame.outward)).boxes[0]!;
  const reading = direction(rotationDeg);
  const tail = add(chosen.centre, add(scale(reading, widthMm / 2 + heightMm), scale(frame.outward, heightMm)));
  const tip = add(tail, scale(frame.outward, -2 * heightMm));
  const barb = scale(along, heightMm / 3);
  const back = add(tip, scale(frame.outward, heightMm * 0.6));
  const about = ['face', face.id];
  return [
    text('FACE', name, chosen.centre, heightMm, { rotationDeg, across: 'centre', upright: 'middle', about }),
    polyline('FACE', [tail, tip], false, about),
    { type: 'solid', layer: 'FACE', about, corners: [tip, add(back, barb), sub(back, barb)] },
  ];
};

/** Outlines of the concrete as it was understood, so that a person can compare them with the drawing. */
const concrete = (scene: Scene): Shape[] =>
  scene.result.plan.concrete
    .filter((ring) => ring.length > 1)
    .map((ring, i) => polyline('CONC', ring, true, ['concrete', String(i + 1)]));

/** A text of the drawing, on which nothing of ours is to lie. */
const textBox = (b: Bounds): Box => ({
  kind: 'text',
  centre: { x: (b.minX + b.maxX) / 2, y: (b.minY + b.maxY) / 2 },
  halfMm: [(b.maxX - b.minX) / 2, (b.maxY - b.minY) / 2],
  rotationDeg: 0,
});

/** A text so large that keeping clear of it would leave no room (mm) is not heeded: it stands behind the plan. *Practice, no source.* */
const LARGEST_TEXT_MM = 20_000;

/** Draws the plan; `texts`: boxes of the drawing's own texts; `sections`: what is cut, and where. Findings: pieces that name no place. */
export const drawPlan = (scene: Scene, texts: readonly Bounds[], sections: readonly Section[]): PlanDrawing => {
  const { plan, layout } = scene.result;
  const places = new Places();
  for (const b of texts)
    if (b.maxX - b.minX < LARGEST_TEXT_MM && b.maxY - b.minY < LARGEST_TEXT_MM) places.take(textBox(b));
  const shapes: Shape[] = [...modelOutlines(scene.result.foundation), ...concrete(scene)];
  shapes.push(...drawSpecialForms(scene, places));
  const findings = drawPieces(scene, places, shapes);
  shapes.push(...layout.ties.map((tie) => tieShape(scene, tie)), ...drawClamps(scene));
  shapes.push(...drawSite(scene, places), ...drawGangs(scene, places));
  shapes.push(...drawPlanStarts(scene, places));
  shapes.push(...drawPlanDimensions(scene, places));
  for (const face of plan.faces) {
    if (face.side !== 'left' && face.side !== 'right') continue;
    shapes.push(...faceName(scene, places, scene.frameOf(face.id)));
  }
  shapes.push(...drawSectionCuts(scene, places, sections));
  return { shapes, places, findings };
};
