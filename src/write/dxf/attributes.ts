/** The attributes that the blocks carry, so that a CAD program can count and schedule them and anyone can check the drawing from the DXF alone. */

import type { Mark } from '../../ground/marks.js';
import type { Vec } from '../../ground/plane.js';
import { plainNumber } from '../../ground/units.js';
import type { Clamp, Piece, Tie } from '../../ground/vocabulary.js';
import type { LayerKey } from './layers.js';
import type { Attribute, TextPose } from './sheet.js';

export const PIECE_TAGS = ['PIECE', 'MARK', 'ITEM', 'SIZE', 'FACE', 'COURSE', 'VIEW'] as const;
export const TIE_TAGS = ['TIE', 'WALL', 'STATION', 'LEVEL', 'ITEM', 'PIECES', 'VIEW'] as const;

export const CLAMP_TAGS = ['CLAMPS', 'ITEM', 'COUNT', 'FACE', 'STATION', 'LEVELS', 'GAP', 'PIECES', 'VIEW'] as const;

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
  return TIE_TAGS.map((tag) => ({ tag, text: values[tag], visible: false, ...hidden(at) }));
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
