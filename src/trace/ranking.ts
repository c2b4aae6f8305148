/**
 * Names are evidence, never the only one: the groups of layers that names give are held against their geometry. Broken lines are left out
 * where solid ones pair by themselves; layers whose lines hardly pair yield to named ones that do; a second face on another layer is
 * fetched. Everything that is done so is said with the group, if it is the one that is taken.
 */

import { type Finding, finding } from '../ground/findings.js';
import { compareText } from '../ground/order.js';
import { type LengthUnit, MM_PER, plainNumber } from '../ground/units.js';
import type { Drawing, DrawingPath, TraceOptions } from '../ground/vocabulary.js';
import { byLayer, type Candidate, countOf, isBroken } from './candidates.js';
import { isThing, type LayerKind, layerKinds } from './layers.js';
import { facesAcross, lengthAway } from './neighbours.js';
import { isUsual, type Pairing, pairingOf } from './pairing.js';
import { boxOfPath, EMPTY, joined, sizeOf } from './views/boxes.js';

/** Shares of a group's line length that pairs. *Practice, no source.* */
const GOOD_SHARE = 0.5;
const POOR_SHARE = 0.25;
/** What pairs at all measures at least this much together. */
const PAIRED_LEAST_MM = 2000;
/** Length of walls that has to stand apart from the taken ones to be worth a question. */
const AWAY_LEAST_MM = 2000;
/** No door or piece of furniture is larger. */
const THING_MOST_MM = 5000;

const pairsWell = (p: Pairing): boolean => p.share >= GOOD_SHARE && p.pairedMm >= PAIRED_LEAST_MM;
const percent = (share: number): string => `${Math.round(100 * share)} %`;
const counted = (paths: readonly DrawingPath[]): string => {
  const groups = byLayer(paths);
  return countOf(groups, [...groups.keys()]);
};

/** First vertex of the leftmost, then lowest path, mm. */
const placeOf = (paths: readonly DrawingPath[], unit: LengthUnit): readonly [number, number, number] | null => {
  const first = paths
    .flatMap((p) => p.vertices.slice(0, 1))
    .filter((v) => Number.isFinite(v.x) && Number.isFinite(v.y))
    .sort((p, q) => p.x - q.x || p.y - q.y)[0];
  return first ? [first.x * MM_PER[unit], first.y * MM_PER[unit], 0] : null;
};

/** Leaves out dashed, hidden and centre lines where the solid ones pair by themselves. A layer that the job file names may be dashed as a whole. */
const withoutBroken = (c: Candidate, drawing: Drawing, unit: LengthUnit): Candidate => {
  const dashedLayers = new Set(drawing.layers.filter((l) => isBroken(l.lineType)).map((l) => l.name));
  const out = (p: DrawingPath) => isBroken(p.lineType) && !(c.kind === 'job' && dashedLayers.has(p.layer));
  const broken = c.paths.filter(out);
  const solid = c.paths.filter((p) => !out(p));
  if (broken.length === 0 || !pairsWell(pairingOf(solid, unit))) return c;
  const types = [...new Set(broken.map((p) => p.lineType))].sort(compareText).join(', ');
  const likeWalls = pairsWell(pairingOf(broken, unit));
  const text = likeWalls
    ? 'they pair like walls, but solid lines make walls without them'
    : 'solid lines make walls without them, and such lines are outlines of footings or of what lies below';
  const said = finding('trace.broken-lines', `Lines drawn as ${types} on ${counted(broken)} were left out: ${text}.`, {
    at: placeOf(broken, unit),
    severity: likeWalls ? 'attention' : 'note',
    assumed: 'they are no faces of walls',
  });
  return { ...c, paths: solid, notes: [...c.notes, said] };
};

/** Where no layer tells, blocks named for doors and furniture hold no walls, unless they are as large as a building. */
const withoutThings = (c: Candidate, unit: LengthUnit): Candidate => {
  const placed = new Map<string, DrawingPath[]>();
  for (const p of c.paths) {
    const depth = p.blocks.findIndex(isThing);
    if (depth < 0) continue;
    const insert = p.source
      .split('/')
      .slice(0, depth + 1)
      .join('/');
    const list = placed.get(insert);
    if (list) list.push(p);
    else placed.set(insert, [p]);
  }
  const small = (list: readonly DrawingPath[]) =>
    sizeOf(list.reduce((b, p) => joined(b, boxOfPath(p)), EMPTY)) * MM_PER[unit] <= THING_MOST_MM;
  const things = [...placed.values()].filter(small).flat();
  if (things.length === 0) return c;
  const names = [...new Set(things.map((p) => p.blocks.find(isThing)!))].sort(compareText).join(', ');
  const text = `Lines of the blocks ${names} (${things.length}) were left out: by their names they are no walls.`;
  const out = new Set(things);
  const said = finding('trace.things', text, { assumed: 'blocks hold what their names say' });
  return { ...c, paths: c.paths.filter((p) => !out.has(p)), notes: [...c.notes, said] };
};

/** Named groups whose lines hardly pair go behind the first named group whose lines do. */
const poorLast = (list: readonly { c: Candidate; p: Pairing }[]): Candidate[] => {
  const named = list.filter((x) => x.c.kind !== 'silent' && x.c.kind !== 'job');
  const first = named[0];
  const better = named.find((x) => pairsWell(x.p));
  if (!first || !better || first === better || first.p.share >= POOR_SHARE) return list.map((x) => x.c);
  const behind = named.slice(0, named.indexOf(better)).filter((x) => x.p.share < POOR_SHARE);
  const names = behind.flatMap((x) => x.c.layers).join(', ');
  const shares = behind.map((x) => percent(x.p.share)).join(', ');
  const text = `The names of ${names} say more of a foundation wall, but only ${shares} of their lines' length has a facing line; on ${better.c.layers.join(', ')} it is ${percent(better.p.share)}.`;
  const said = finding('trace.layers-doubtful', text, { assumed: 'the lines that pair are the walls' });
  const moved = behind.map((x) => x.c);
  const rest = list.map((x) => x.c).filter((c) => !moved.includes(c) && c !== better.c);
  return [{ ...better.c, notes: [...better.c.notes, said] }, ...moved, ...rest].sort(
    (p, q) =>
      // The lines alone stay last.
      Number(p.kind === 'silent') - Number(q.kind === 'silent'),
  );
};

const MAY_FACE: ReadonlySet<LayerKind> = new Set([
  'foundation-wall',
  'structural-wall',
  'foundation',
  'concrete',
  'wall',
  'silent',
]);

/** Takes lines of other layers that are the missing second faces of the group's lines. */
const withOtherFaces = (
  c: Candidate,
  groups: ReadonlyMap<string, DrawingPath[]>,
  kindOf: (layer: string) => LayerKind,
  unit: LengthUnit,
): Candidate => {
  const own = pairingOf(c.paths, unit);
  if (own.share >= 0.75) return c;
  const added: DrawingPath[] = [];
  for (const [layer, paths] of groups) {
    if (c.layers.includes(layer) || !MAY_FACE.has(kindOf(layer))) continue;
    const lines = paths.filter((p) => p.fill === null && !isBroken(p.lineType));
    if (lines.length === 0 || pairingOf(lines, unit).share >= GOOD_SHARE) continue;
    added.push(...facesAcross(c.paths, lines, unit));
  }
  if (added.length === 0) return c;
  const both = pairingOf([...c.paths, ...added], unit);
  const alone = pairingOf(added, unit);
  const gainMm = (both.pairedMm - own.pairedMm - alone.pairedMm) / 2;
  if (gainMm < PAIRED_LEAST_MM || gainMm < 0.3 * (own.lengthMm - own.pairedMm) || !isUsual(both.usualMm)) return c;
  const text = `Lines on ${counted(added)} face lines on ${c.layers.join(', ')} at a wall's thickness and were taken with them.`;
  const said = finding('trace.faces-shared', text, {
    at: placeOf(added, unit),
    assumed: 'walls have one face on each of these layers',
  });
  return { ...c, paths: [...c.paths, ...added], notes: [...c.notes, said] };
};

/** Layers of structural walls whose walls stand where the taken ones do not. */
const elsewhere = (c: Candidate, rest: readonly { c: Candidate; p: Pairing }[], unit: LengthUnit): Finding[] =>
  rest.flatMap(({ c: other, p }) => {
    if (other.kind === 'wall' || other.kind === 'silent' || other === c || !pairsWell(p)) return [];
    const away = lengthAway(other.paths, c.paths, unit);
    if (away.lengthMm < AWAY_LEAST_MM) return [];
    const text = `On ${counted(other.paths)}, left out, ${plainNumber(away.lengthMm / 1000, 1)} m of lines that pair like walls stand where ${c.layers.join(', ')} has none.`;
    return [finding('trace.walls-elsewhere', text, { at: away.at, assumed: 'they are not to be formed' })];
  });

/**
 * The groups in the order in which they are tried, with the lines that they are tried with.
 *
 * @param list by the names alone (candidates.ts)
 * @param groups visible linework by layer
 */
export const rankCandidates = (
  list: readonly Candidate[],
  groups: ReadonlyMap<string, DrawingPath[]>,
  drawing: Drawing,
  options: TraceOptions,
  unit: LengthUnit,
): Candidate[] => {
  const judged = list.map((c) => {
    const solid = withoutBroken(c.cautious ? withoutThings(c, unit) : c, drawing, unit);
    return { c: solid, p: pairingOf(solid.paths, unit) };
  });
  // Walls drawn as single lines with a given thickness pair with nothing, and need not.
  const single = options.thicknessMm !== null || options.centreLineLayers.length > 0;
  const ordered = single ? judged.map((x) => x.c) : poorLast(judged);
  const [first, ...rest] = ordered;
  if (!first || first.kind === 'silent' || first.kind === 'job' || single) return ordered;
  const faced = withOtherFaces(first, groups, layerKinds(options), unit);
  const said = elsewhere(
    faced,
    judged.filter((x) => !x.c.layers.some((l) => faced.layers.includes(l))),
    unit,
  );
  return [{ ...faced, notes: [...faced.notes, ...said] }, ...rest];
};
