/**
 * Papers, scales and sizes of text. Drawn for the large paper; printed at half size (A3 of A1) texts are half as high, so none is less than 3.5 mm and the
 * marks are 5. 2.5 mm is the floor on sheets of A1 to A4 (engineering-drawing textbooks); half size asks for more. *Practice.*
 */

import type { Vec } from '../../../ground/plane.js';
import type { Catalogue } from '../../../ground/vocabulary.js';

export interface Paper {
  readonly name: string;
  /** What a print at half size comes out on. */
  readonly halfName: string;
  /** As plotters call it. */
  readonly media: string;
  readonly widthMm: number;
  readonly heightMm: number;
}

const A1: Paper = {
  name: 'A1',
  halfName: 'A3',
  media: 'ISO_A1_(841.00_x_594.00_MM)',
  widthMm: 841,
  heightMm: 594,
};

const ARCH_D: Paper = {
  name: 'ARCH D (36 x 24 in)',
  halfName: '18 x 12 in',
  media: 'ARCH_D_(36.00_x_24.00_Inches)',
  widthMm: 914.4,
  heightMm: 609.6,
};

export const PAPER_TEXT_MM = { plain: 3.5, mark: 5, title: 7 } as const;

/** Blank edge, and room for binding at the left. */
export const EDGE_MM = 10;
export const BINDING_MM = 20;
/** The strip at the right with title, key plan, legend and cautions. */
export const STRIP_MM = 172;
export const GAP_MM = 8;

export interface Area {
  readonly left: number;
  readonly bottom: number;
  readonly right: number;
  readonly top: number;
}

export const paperOf = (gear: Catalogue['lengthUnit']): Paper => (gear === 'mm' ? A1 : ARCH_D);

/** The frame of a sheet. */
export const frameOfPaper = ({ widthMm, heightMm }: Paper): Area => ({
  left: BINDING_MM,
  bottom: EDGE_MM,
  right: widthMm - EDGE_MM,
  top: heightMm - EDGE_MM,
});

/** What is left of it for drawings. */
export const roomOf = (paper: Paper): Area => {
  const frame = frameOfPaper(paper);
  return {
    left: frame.left + GAP_MM,
    bottom: frame.bottom + GAP_MM,
    right: frame.right - STRIP_MM - GAP_MM,
    top: frame.top - GAP_MM,
  };
};

export const widthOf = (a: Area): number => a.right - a.left;
export const heightOf = (a: Area): number => a.top - a.bottom;
export const middleOfArea = (a: Area): Vec => ({ x: (a.left + a.right) / 2, y: (a.bottom + a.top) / 2 });

/** Scales, largest first. */
const METRIC: readonly number[] = [20, 25, 50, 100, 200, 500, 1000, 2000, 5000];
const IMPERIAL: readonly number[] = [24, 48, 96, 192, 384, 768, 1536, 3072, 6144];

export const scalesOf = (gear: Catalogue['lengthUnit']): readonly number[] => (gear === 'mm' ? METRIC : IMPERIAL);

/** At which the usual heights of the model space come to those of the paper. */
const USUAL_SCALE = 25;

/**
 * The smallest scale at which the texts of the model space still are as high on paper as they must be, `factor` times their usual height: 1:25 (1/2" = 1'-0")
 * for the usual ones, 1:50 (1/4") for twice that.
 */
export const paperScaleOf = (gear: Catalogue['lengthUnit'], factor: number): number =>
  scalesOf(gear).findLast((s) => s <= USUAL_SCALE * factor + 1e-6) ?? scalesOf(gear)[0]!;

/** The first scale from `least` on at which a size (mm of the model) goes into a room; the last where none does. */
export const fittingScale = (
  gear: Catalogue['lengthUnit'],
  widthMm: number,
  heightMm: number,
  room: Area,
  least: number,
): number => {
  const scales = [least, ...scalesOf(gear).filter((s) => s > least)];
  const found = scales.find((s) => widthMm / s <= widthOf(room) + 1e-6 && heightMm / s <= heightOf(room) + 1e-6);
  return found ?? scales.at(-1)!;
};

/** '1:25'; of inch gear '1/2" = 1\'-0"' as far as that is a usual way to say it. */
export const scaleText = (gear: Catalogue['lengthUnit'], scale: number): string => {
  const usual: Readonly<Record<number, string>> = {
    12: '1"',
    24: '1/2"',
    48: '1/4"',
    96: '1/8"',
    192: '1/16"',
    384: '1/32"',
  };
  const inch = gear === 'in' ? usual[scale] : undefined;
  return inch === undefined ? `1:${scale}` : `${inch} = 1'-0"`;
};
