/**
 * The sample drawings by others against the walls that a person would trace: read off the pictures and coordinates by eye, never from what the
 * program found. Each truth file has numbers in the drawing's own unit.
 */

import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { type LengthUnit, MM_PER } from '../../../src/ground/units.js';
import { traceOptions } from '../../../src/pipeline/settings.js';
import { trace } from '../../../src/trace/index.js';
import { read, sample } from '../../read/samples.js';
import { type Score, score } from '../../support/drawings/score.js';
import { NO_WALLS, type Truth } from '../../support/drawings/truth.js';

interface Stretch {
  readonly from: readonly [number, number];
  readonly to: readonly [number, number];
  readonly thickness: number;
  readonly why?: string;
}

export interface SampleTruth {
  readonly file: string;
  readonly unit: LengthUnit;
  readonly walls: readonly Stretch[];
  /** Gaps with a door or window; a find that runs across counts neither way. */
  readonly openings: readonly Stretch[];
  /** What may be a wall; found or not, it counts neither way. */
  readonly doubtful: readonly Stretch[];
  readonly notes: readonly string[];
  readonly missedBecause?: string;
  readonly falseBecause?: string;
}

const FOLDER = fileURLToPath(new URL('.', import.meta.url));

export const SAMPLE_TRUTHS: readonly SampleTruth[] = readdirSync(FOLDER)
  .filter((name) => name.endsWith('.json'))
  .sort()
  .map((name) => JSON.parse(readFileSync(FOLDER + name, 'utf8')) as SampleTruth);

export const truthOf = (s: SampleTruth): Truth => {
  const mm = MM_PER[s.unit];
  const inMm = ({ from, to, thickness }: Stretch) => ({
    start: { x: from[0] * mm, y: from[1] * mm },
    end: { x: to[0] * mm, y: to[1] * mm },
    thicknessMm: thickness * mm,
  });
  return { ...NO_WALLS, walls: s.walls.map(inMm), openings: [...s.openings, ...s.doubtful].map(inMm) };
};

export interface SampleScore {
  readonly truth: SampleTruth;
  readonly unitFound: LengthUnit;
  readonly score: Score;
}

/** Traces a sample without any job file. */
export const scoreSample = (truth: SampleTruth): SampleScore => {
  const { value } = trace(read(sample(truth.file)).drawing, traceOptions({ levels: { footingMm: 0, topMm: 2400 } }));
  return { truth, unitFound: value.lengthUnit, score: score(truthOf(truth), value) };
};
