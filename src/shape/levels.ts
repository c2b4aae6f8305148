/**
 * Gives each wall its footing and top levels: the plan's, unless a note of levels stands nearest to it. Steps part a wall into bands; a note is about
 * the band that it stands beside.
 */

import { type Finding, finding } from '../ground/findings.js';
import { byNumber, inOrder } from '../ground/order.js';
import type { Vec } from '../ground/plane.js';
import { plainNumber } from '../ground/units.js';
import type { FoundStep, LevelBand, Levels, LevelsAt, PlanNode, Wall } from '../ground/vocabulary.js';
import { nearestWall, shareAlong } from './nearest.js';
import { LEVEL_NOTE_MM } from './tolerances.js';

/** Bands over the wall's axis, from station 0 to its length; at least one of each kind. */
export interface WallLevels {
  readonly footing: readonly LevelBand[];
  readonly top: readonly LevelBand[];
}

interface GeneralLevels {
  readonly footingMm: number;
  readonly topMm: number;
}

export interface Levelled {
  /** In the order of the walls. */
  readonly levels: readonly WallLevels[];
  readonly findings: readonly Finding[];
}

interface Claim {
  readonly note: LevelsAt;
  readonly wall: number;
  readonly awayMm: number;
}

const place = (p: Vec): readonly [number, number, number] => [p.x, p.y, 0];

const claimOf = (note: LevelsAt, walls: readonly Wall[]): Claim => ({ note, ...nearestWall(note.near, walls) });

interface PlacedStep {
  readonly step: FoundStep;
  readonly wall: number;
  readonly stationMm: number;
}

/** Where each step stands on its wall; those at a wall's end or far from all walls are said and left out. */
const placeSteps = (
  steps: readonly FoundStep[],
  walls: readonly Wall[],
  gridMm: number,
  findings: Finding[],
): PlacedStep[] =>
  steps.flatMap((step) => {
    if (!Number.isFinite(step.at.x) || !Number.isFinite(step.at.y)) {
      findings.push(finding('shape.levels-refused', 'A step has a place that is no usable number.'));
      return [];
    }
    const { wall, awayMm } = nearestWall(step.at, walls);
    const { id, lengthMm } = walls[wall]!;
    const stationMm = Math.round((shareAlong(step.at, walls[wall]!) * lengthMm) / gridMm) * gridMm;
    const at = place(step.at);
    if (awayMm > LEVEL_NOTE_MM) {
      const message = `A step of the ${step.kind} is ${plainNumber(awayMm, 0)} mm from the nearest wall, ${id}.`;
      findings.push(finding('shape.step-unused', message, { at, subject: id, assumed: 'no wall steps there' }));
      return [];
    }
    if (stationMm <= 0 || stationMm >= lengthMm) {
      const message = `A step of the ${step.kind} stands at the end of wall ${id}.`;
      findings.push(finding('shape.step-unused', message, { at, subject: id, assumed: 'each wall has its own level' }));
      return [];
    }
    return [{ step, wall, stationMm }];
  });

const isUsable = (note: LevelsAt): boolean =>
  [note.near.x, note.near.y, note.footingMm ?? 0, note.topMm ?? 0].every(Number.isFinite);

const refusedNote = (note: LevelsAt): Finding =>
  finding('shape.levels-refused', 'A note of levels has a value that is no usable number.', {
    at: Number.isFinite(note.near.x) && Number.isFinite(note.near.y) ? place(note.near) : null,
    assumed: 'the note is not there',
  });

const KEY = { footing: 'footingMm', top: 'topMm' } as const;

/** Bands of one kind: the wall cut at its steps, each part with the value of the nearest note beside it, else the general one. */
const bandsOf = (
  wall: Wall,
  kind: FoundStep['kind'],
  claims: readonly Claim[],
  steps: readonly PlacedStep[],
  general: GeneralLevels,
  findings: Finding[],
): LevelBand[] => {
  const key = KEY[kind];
  const mine = steps.filter((s) => s.step.kind === kind);
  // A wall between two others may have an axis of no length; it has one band all the same.
  const inner = mine.map((s) => s.stationMm).filter((s) => s > 0 && s < wall.lengthMm);
  const cuts = [0, ...[...new Set(inner)].sort((p, q) => p - q), wall.lengthMm];
  const given = claims.filter((c) => c.note[key] !== null);
  const bands = cuts.slice(1).map((toMm, i): LevelBand => {
    const fromMm = cuts[i]!;
    const own = given.filter((c) => {
      const s = shareAlong(c.note.near, wall) * wall.lengthMm;
      return (s >= fromMm || i === 0) && (s < toMm || i === cuts.length - 2);
    });
    // What the job file says counts before any note of the drawing.
    const first = own.find((c) => c.note.from === 'job') ?? own[0];
    if (!first) return { fromMm, toMm, levelMm: general[key] };
    const other = own.find((c) => c.note.from === first.note.from && c.note[key] !== first.note[key]);
    const levelMm = first.note[key]!;
    if (other) {
      const values = `${plainNumber(levelMm, 1)} and ${plainNumber(other.note[key]!, 1)}`;
      const message = `Two notes give wall ${wall.id} the ${kind} levels ${values}.`;
      const assumed = `${kind} level ${plainNumber(levelMm, 1)}`;
      findings.push(
        finding('shape.levels-conflict', message, { at: place(first.note.near), subject: wall.id, assumed }),
      );
    }
    return { fromMm, toMm, levelMm };
  });
  bands.slice(1).forEach((band, i) => {
    const before = bands[i]!;
    const at = place(mine.find((s) => s.stationMm === band.fromMm)!.step.at);
    const levels = `${plainNumber(before.levelMm, 1)} before it and ${plainNumber(band.levelMm, 1)} after it`;
    if (before.levelMm === band.levelMm) {
      const message = `A step of the ${kind} is marked on wall ${wall.id}, but its levels are ${levels}.`;
      findings.push(finding('shape.step-flat', message, { at, subject: wall.id, assumed: 'no step' }));
      return;
    }
    const message = `The ${kind} of wall ${wall.id} steps at ${plainNumber(band.fromMm, 1)} mm from its start, ${levels}.`;
    findings.push(finding('shape.step', message, { at, subject: wall.id }));
  });
  return bands
    .filter((band, i) => i === 0 || band.levelMm !== bands[i - 1]!.levelMm)
    .map((band, i, kept) => ({
      ...band,
      toMm: kept[i + 1]?.fromMm ?? wall.lengthMm,
    }));
};

const generalLevels = (levels: Levels, findings: Finding[]): GeneralLevels => {
  const usable = (n: number) => (Number.isFinite(n) ? n : 0);
  if (!Number.isFinite(levels.footingMm) || !Number.isFinite(levels.topMm))
    findings.push(
      finding('shape.levels-refused', 'The level of the footing or of the top is no usable number.', {
        assumed: 'level 0',
      }),
    );
  return { footingMm: usable(levels.footingMm), topMm: usable(levels.topMm) };
};

/** Levels of each wall; places in the drawing's axes, mm. Steps go onto the grid. */
export const levelWalls = (
  walls: readonly Wall[],
  levels: Levels,
  levelsAt: readonly LevelsAt[],
  foundSteps: readonly FoundStep[],
  gridMm: number,
): Levelled => {
  const findings: Finding[] = levelsAt.filter((n) => !isUsable(n)).map(refusedNote);
  const general = generalLevels(levels, findings);
  if (walls.length === 0) return { levels: [], findings };
  const steps = placeSteps(foundSteps, walls, gridMm, findings);
  const claims = levelsAt
    .filter(isUsable)
    .map((note) => claimOf(note, walls))
    .sort(
      inOrder(
        byNumber((c) => c.wall),
        byNumber((c) => c.awayMm),
        byNumber((c) => c.note.near.x),
        byNumber((c) => c.note.near.y),
        byNumber((c) => c.note.footingMm ?? Number.NEGATIVE_INFINITY),
        byNumber((c) => c.note.topMm ?? Number.NEGATIVE_INFINITY),
      ),
    );
  for (const c of claims)
    if (c.awayMm > LEVEL_NOTE_MM)
      findings.push(
        finding('shape.levels-far', `A note of levels is ${plainNumber(c.awayMm, 0)} mm from the nearest wall.`, {
          at: place(c.note.near),
          subject: walls[c.wall]!.id,
          assumed: `it is for wall ${walls[c.wall]!.id}`,
        }),
      );
  const settled = walls.map((wall, w): WallLevels => {
    const own = claims.filter((c) => c.wall === w);
    const stepped = steps.filter((s) => s.wall === w);
    return {
      footing: bandsOf(wall, 'footing', own, stepped, general, findings),
      top: bandsOf(wall, 'top', own, stepped, general, findings),
    };
  });
  findings.push(...upsideDown(walls, settled));
  return { levels: settled, findings };
};

export const levelAt = (bands: readonly LevelBand[], stationMm: number): number =>
  (bands.find((b) => stationMm < b.toMm) ?? bands.at(-1)!).levelMm;

/** Walls whose top is not above their footing, somewhere. */
const upsideDown = (walls: readonly Wall[], levels: readonly WallLevels[]): Finding[] =>
  walls.flatMap((wall, w) => {
    const { footing, top } = levels[w]!;
    const low = [...footing, ...top].find((b) => levelAt(top, b.fromMm) <= levelAt(footing, b.fromMm));
    if (!low) return [];
    const [topMm, footingMm] = [levelAt(top, low.fromMm), levelAt(footing, low.fromMm)];
    const message = `Wall ${wall.id} has its top at ${plainNumber(topMm, 1)}, not above its footing at ${plainNumber(footingMm, 1)}.`;
    return [finding('shape.levels-refused', message, { at: place(wall.start), subject: wall.id })];
  });

/** Nodes at which walls of different levels meet. */
export const steppedNodes = (
  nodes: readonly PlanNode[],
  walls: readonly Wall[],
  levels: readonly WallLevels[],
): Finding[] => {
  const placeOfWall = new Map(walls.map((w, i) => [w.id, i]));
  return nodes.flatMap((node) => {
    const own = node.walls.map((id) => {
      const w = placeOfWall.get(id)!;
      const stationMm = shareAlong(node.at, walls[w]!) * walls[w]!.lengthMm;
      return { footingMm: levelAt(levels[w]!.footing, stationMm), topMm: levelAt(levels[w]!.top, stationMm) };
    });
    const differs = (key: keyof GeneralLevels) => own.some((l) => l[key] !== own[0]![key]);
    const what = [...(differs('footingMm') ? ['footings'] : []), ...(differs('topMm') ? ['tops'] : [])];
    if (what.length === 0) return [];
    const values = node.walls.map(
      (id, k) => `${id} from ${plainNumber(own[k]!.footingMm, 1)} to ${plainNumber(own[k]!.topMm, 1)}`,
    );
    const message = `Walls of different ${what.join(' and ')} meet: ${values.join(', ')}.`;
    return [
      finding('shape.levels-differ', message, {
        at: place(node.at),
        subject: node.id,
        assumed: differs('footingMm')
          ? 'each wall is formed at its own levels'
          : 'each wall is formed at its own levels, the corner as high as the higher one',
      }),
    ];
  });
};
