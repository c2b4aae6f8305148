/** Little yards of gear of one height, invented for comparisons: few enough widths for plain enumeration. */

import type { Catalogue, FormUnit } from '../../../src/ground/vocabulary.js';

export const HEIGHT_MM = 2400;

export interface Yard {
  readonly widths: readonly number[];
  readonly fillers: readonly number[];
  readonly legs?: readonly number[];
  /** Tie holes from each vertical edge. */
  readonly holeMm?: number;
  readonly overhangMm?: number;
  readonly ratedKpa?: number;
  /** 0: a panel's own width. */
  readonly ratedSpanMm?: number;
  /** Fillers alone; their own by the rule above where it is not said. */
  readonly fillerSpanMm?: number;
  readonly ratingIs?: 'deflection' | 'strength';
  readonly momentKnmPerM?: number;
  readonly timberLeastMm?: number;
}

export const TIE_KN = 20;

export const yardOf = (yard: Yard): Catalogue => {
  const hole = yard.holeMm ?? 50;
  const base = {
    heightMm: HEIGHT_MM,
    legsMm: null,
    faceWidthMm: 0,
    holes: [],
    turnable: false,
    ratedKpa: yard.ratedKpa ?? 60,
    ratedSpanMm: yard.ratedSpanMm ?? 600,
    ratingIs: yard.ratingIs ?? 'deflection',
    stiffTo: null,
    momentKnmPerM: 0,
    massKg: 10,
  } as const;
  const units: FormUnit[] = [
    ...yard.widths.map(
      (w): FormUnit => ({
        ...base,
        id: `panel-${w}`,
        kind: 'panel',
        widthMm: w,
        holes: [hole, w - hole].map((xMm) => ({ xMm, yMm: 300 })),
      }),
    ),
    ...yard.fillers.map(
      (w): FormUnit => ({
        ...base,
        id: `filler-${w}`,
        kind: 'filler',
        widthMm: w,
        ratedSpanMm: yard.fillerSpanMm ?? base.ratedSpanMm,
        stiffTo: 'panel',
        momentKnmPerM: yard.momentKnmPerM ?? 0.8,
      }),
    ),
    ...(yard.legs ?? [150]).map(
      (a): FormUnit => ({ ...base, id: `inside-${a}`, kind: 'inside-corner', widthMm: 0, legsMm: [a, a] }),
    ),
    { ...base, id: 'outside', kind: 'outside-corner', widthMm: 0 },
  ];
  return {
    name: 'little yard',
    lengthUnit: 'mm',
    gridMm: 1,
    pitchMm: 25,
    frameDepthMm: 100,
    overhangMm: yard.overhangMm ?? 150,
    timberLeastMm: yard.timberLeastMm ?? 20,
    timberMostMm: 100,
    timberLimitMm: 300,
    units,
    ties: [
      {
        id: 'tie',
        wallMm: { fromMm: 100, toMm: 600 },
        workingLoadKn: TIE_KN,
        ultimateKn: 2 * TIE_KN,
        diameterMm: 12,
        kind: 'removable',
        breakBackMm: 0,
        massKg: 1,
      },
    ],
    stock: {},
  };
};
