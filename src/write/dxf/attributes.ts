/** The attributes that the blocks carry, so that a CAD program can count and schedule them and anyone can check the drawing from the DXF alone. */

import type { Mark } from '../../ground/marks.js';
import type { Vec } from '../../ground/plane.js';
import { plainNumber } from '../../ground/units.js';
import type { Aligner, CheckedBrace, CheckedPlatform, Clamp, Piece, Tie } from '../../ground/vocabulary.js';
import type { LayerKey } from './layers.js';
import type { Attribute, TextPose } from './sheet.js';

export const PIECE_TAGS = ['PIECE', 'MARK', 'ITEM', 'SIZE', 'FACE', 'COURSE', 'VIEW'] as const;
export const TIE_TAGS = ['TIE', 'WALL', 'STATION', 'LEVEL', 'ITEM', 'PIECES', 'VIEW'] as const;

export const CLAMP_TAGS = ['CLAMPS', 'ITEM', 'COUNT', 'FACE', 'STATION', 'LEVELS', 'GAP', 'PIECES', 'VIEW'] as const;
export const ALIGNER_TAGS = ['ALIGNER', 'ITEM', 'FACE', 'STATION', 'LEVEL', 'VIEW'] as const;
export const BRACE_TAGS = ['BRACE', 'ITEM', 'FACE', 'STATION', 'HEAD', 'FOOT', 'AXIAL', 'VIEW'] as const;
export const PLATFORM_TAGS = ['PLATFORM', 'ITEM', 'FACE', 'STATION', 'LEVEL', 'BRACKETS', 'VIEW'] as const;

/** Height of attributes that are not shown. */
const HIDDEN_MM = 50;

const LAYER_OF: Readonly<Record<Piece['kind'], LayerKey>> = {
  panel: 'PANL',
  filler: 'FILL',
  timber: 'TIMB',
  strip: 'TIMB',
  'inside-corner': 'CRNR',
  'outside-corner': 'CRNR',
  'hinged-corner': 'CRNR',
  bulkhead: 'BKHD',
  'box-out': 'BKHD',
};

export const layerOf = (piece: Piece): LayerKey => LAYER_OF[piece.kind];

const hidden = (at: Vec): TextPose => ({
  at,
  heightMm: HIDDEN_MM,
  rotationDeg: 0,
  across: 'left',
  upright: 'baseline',
});

/** Attributes of a piece's insert at `at`; the mark shows where a pose for it is given. */
export const pieceAttributes = (
  piece: Piece,
  mark: Mark,
  faces: readonly string[],
  view: 'PLAN' | 'ELEV',
  at: Vec,
  shown: TextPose | null,
): Attribute[] => {
  const values: Record<(typeof PIECE_TAGS)[number], string> = {
    PIECE: piece.id,
    MARK: mark.mark,
    ITEM: piece.item ?? piece.kind,
    SIZE: mark.size,
    FACE: faces.join(','),
    COURSE: String(piece.course),
    VIEW: view,
  };
  return PIECE_TAGS.map((tag) => {
    const visible = tag === 'MARK' && shown !== null;
    return { tag, text: values[tag], visible, ...(visible ? shown : hidden(at)) };
  });
};

/** Attributes of a tie's insert in plan; station and level in mm. None is shown. */
export const tieAttributes = (tie: Tie, at: Vec): Attribute[] => {
  const values: Record<(typeof TIE_TAGS)[number], string> = {
    TIE: tie.id,
    WALL: tie.wall,
    STATION: plainNumber(tie.stationMm),
    LEVEL: plainNumber(tie.levelMm),
    ITEM: tie.item,
    PIECES: tie.pieces.join(','),
    VIEW: 'PLAN',
  };
  return unseen(TIE_TAGS, values, at);
};

/** Attributes of the one insert in plan that stands for all clamps of an upright joint; station, levels and gap in mm. None is shown. */
export const clampAttributes = (clamps: readonly [Clamp, ...Clamp[]], at: Vec): Attribute[] => {
  const [first] = clamps;
  const values: Record<(typeof CLAMP_TAGS)[number], string> = {
    CLAMPS: clamps.map((c) => c.id).join(','),
    ITEM: first.item,
    COUNT: String(clamps.length),
    FACE: first.face,
    STATION: plainNumber(first.stationMm),
    LEVELS: clamps.map((c) => plainNumber(c.levelMm)).join(','),
    GAP: plainNumber(first.gapMm),
    PIECES: first.pieces.join(','),
    VIEW: 'PLAN',
  };
  return CLAMP_TAGS.map((tag) => ({ tag, text: values[tag], visible: false, ...hidden(at) }));
};

/** Attributes none of which is shown. */
const unseen = <Tag extends string>(
  tags: readonly Tag[],
  values: Readonly<Record<Tag, string>>,
  at: Vec,
): Attribute[] => tags.map((tag) => ({ tag, text: values[tag], visible: false, ...hidden(at) }));

type View = 'PLAN' | 'ELEV';

/** '600-6600', of an upright '600'; mm. */
const stationsText = (fromMm: number, toMm: number): string =>
  fromMm === toMm ? plainNumber(fromMm, 1) : `${plainNumber(fromMm, 1)}-${plainNumber(toMm, 1)}`;

/** Stations and levels of all of these in mm, forces in kN. */
export const alignerAttributes = (a: Aligner, view: View, at: Vec): Attribute[] =>
  unseen(
    ALIGNER_TAGS,
    {
      ALIGNER: a.id,
      ITEM: a.item,
      FACE: a.face,
      STATION: stationsText(a.fromMm, a.toMm),
      LEVEL: stationsText(a.levelMm, a.topMm ?? a.levelMm),
      VIEW: view,
    },
    at,
  );

export const braceAttributes = (b: CheckedBrace, view: View, at: Vec): Attribute[] =>
  unseen(
    BRACE_TAGS,
    {
      BRACE: b.id,
      ITEM: b.item,
      FACE: b.face,
      STATION: plainNumber(b.stationMm, 1),
      HEAD: plainNumber(b.headMm, 1),
      FOOT: plainNumber(b.footOffsetMm, 1),
      AXIAL: plainNumber(Math.max(b.pushKn, b.pullKn), 2),
      VIEW: view,
    },
    at,
  );

export const platformAttributes = (p: CheckedPlatform, view: View, at: Vec): Attribute[] =>
  unseen(
    PLATFORM_TAGS,
    {
      PLATFORM: p.id,
      ITEM: p.item,
      FACE: p.face,
      STATION: stationsText(p.fromMm, p.toMm),
      LEVEL: plainNumber(p.levelMm, 1),
      BRACKETS: p.brackets.map((s) => plainNumber(s, 1)).join(' '),
      VIEW: view,
    },
    at,
  );
