/** Parts a wall's run at its steps: each part has one footing and one top, and ends at a riser where the next one begins. */

import type { LevelBand, Run, RunEnd, Wall } from '../ground/vocabulary.js';
import { levelAt } from './levels.js';

interface Part {
  readonly fromMm: number;
  readonly toMm: number;
  readonly footingMm: number;
  readonly topMm: number;
}

const inner = (bands: readonly LevelBand[]): number[] => bands.slice(1).map((b) => b.fromMm);

/** Stretches of one footing and one top, in order of station. */
const partsOf = ({ base, top }: Pick<Wall, 'base' | 'top'>): Part[] => {
  const cuts = [...new Set([...inner(base), ...inner(top)])].sort((a, b) => a - b);
  const ends = [Number.NEGATIVE_INFINITY, ...cuts, Number.POSITIVE_INFINITY];
  return ends.slice(1).map((toMm, i) => {
    const fromMm = ends[i]!;
    const middle = Number.isFinite(fromMm) ? fromMm : Number.isFinite(toMm) ? toMm - 1e-6 : 0;
    return { fromMm, toMm, footingMm: levelAt(base, middle), topMm: levelAt(top, middle) };
  });
};

/** The run itself where the wall does not step. A stem stands on the part in which its middle lies. */
export const partAtSteps = (run: Omit<Run, 'id' | 'footingMm' | 'topMm'>, wall: Pick<Wall, 'base' | 'top'>): Run[] => {
  const parts = partsOf(wall);
  const idOf = (i: number) => (parts.length === 1 ? run.wall : `${run.wall}.${i + 1}`);
  const stepTo = (i: number, riserMm: number): RunEnd => ({
    kind: 'step',
    node: null,
    beyond: idOf(i),
    beyondFootingMm: parts[i]!.footingMm,
    beyondTopMm: parts[i]!.topMm,
    leftMm: riserMm,
    rightMm: riserMm,
  });
  return parts.map(({ fromMm, toMm, footingMm, topMm }, i): Run => {
    const stems = run.stems.filter((s) => {
      const middle = (s.fromMm + s.toMm) / 2;
      return middle >= fromMm && middle < toMm;
    });
    return {
      id: idOf(i),
      wall: run.wall,
      thicknessMm: run.thicknessMm,
      footingMm,
      topMm,
      start: i === 0 ? run.start : stepTo(i - 1, fromMm),
      end: i === parts.length - 1 ? run.end : stepTo(i + 1, toMm),
      stems,
    };
  });
};
