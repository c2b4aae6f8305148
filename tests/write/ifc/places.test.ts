/** The written file read by web-ifc: every piece and every tie lies where the layout has it, and says of itself what the layout says. */

import { describe, expect, it } from 'vitest';
import {
  IFCBUILDINGELEMENTPROXY,
  IFCBUILDINGSTOREY,
  IFCELEMENTASSEMBLY,
  IFCMECHANICALFASTENER,
  IFCMEMBER,
  IFCPLATE,
  IFCRAILING,
  IFCWALL,
} from 'web-ifc';
import { cross, dot, leftOf, meet, sub, unit, type Vec } from '../../../src/ground/plane.js';
import type { Face, Piece, Result, Wall } from '../../../src/ground/vocabulary.js';
import { outlineAreaMm2 } from '../../../src/schedule/concrete.js';
import { exampleResult } from '../../support/exampleResult.js';
import { laidOut, laySheet } from '../../support/lay.js';
import { cornerHouse, inchCellar } from '../../support/scenes.js';
import { type Reread, reread, type Seen } from './reread.js';
import { asModel, bytesOf, FEET_HEADER, moved } from './results.js';

/** web-ifc hands out single precision: a tenth of a mm, as asked for. */
const NEAR_MM = 0.1;

interface Range {
  readonly from: number;
  readonly to: number;
}
const rangeOf = (values: readonly number[]): Range => ({ from: Math.min(...values), to: Math.max(...values) });
const expectRange = (found: Range, from: number, to: number, what: string): void => {
  expect(Math.abs(found.from - Math.min(from, to)), `${what}: from ${found.from}, not ${from}`).toBeLessThan(NEAR_MM);
  expect(Math.abs(found.to - Math.max(from, to)), `${what}: to ${found.to}, not ${to}`).toBeLessThan(NEAR_MM);
};

/** Stations, offsets to the left of the axis and levels of a thing's points, as a wall sees them. */
const asSeenFrom = (wall: Wall, thing: Seen) => {
  const along = unit(sub(wall.end, wall.start));
  const from = (p: readonly [number, number, number]): Vec => sub({ x: p[0], y: p[1] }, wall.start);
  return {
    station: rangeOf(thing.points.map((p) => dot(along, from(p)))),
    offset: rangeOf(thing.points.map((p) => cross(along, from(p)))),
    level: rangeOf(thing.points.map((p) => p[2])),
  };
};

/** Mean station and level of a thing's corners, each taken once. */
const meanOf = (wall: Wall, thing: Seen): { station: number; level: number } => {
  const along = unit(sub(wall.end, wall.start));
  const corners = new Map(
    thing.points.map((p) => {
      const station = dot(along, sub({ x: p[0], y: p[1] }, wall.start));
      return [`${station.toFixed(1)} ${p[2].toFixed(1)}`, { station, level: p[2] }];
    }),
  );
  const mean = (values: readonly number[]) => values.reduce((sum, v) => sum + v, 0) / values.length;
  const all = [...corners.values()];
  return { station: mean(all.map((c) => c.station)), level: mean(all.map((c) => c.level)) };
};

const wallOf = (result: Result, id: string): Wall => result.plan.walls.find((w) => w.id === id)!;
const faceOf = (result: Result, id: string): Face => result.plan.faces.find((f) => f.id === id)!;

/** A unit on a left or right face: its cover, from the face outwards by the frame's depth. */
const expectOnFace = (result: Result, piece: Piece, thing: Seen): void => {
  const cover = piece.covers[0]!;
  const face = faceOf(result, cover.face);
  const wall = wallOf(result, face.wall);
  const seen = asSeenFrom(wall, thing);
  const half = wall.thicknessMm / 2;
  const depth = result.catalogue.frameDepthMm;
  expectRange(seen.level, cover.baseMm, cover.topMm, `${piece.id} level`);
  if (face.side === 'left' || face.side === 'right') {
    const sign = face.side === 'left' ? 1 : -1;
    expectRange(seen.station, cover.fromMm, cover.toMm, `${piece.id} station`);
    expectRange(seen.offset, sign * half, sign * (half + depth), `${piece.id} offset`);
    return;
  }
  // End faces measure across from the left: station 0 is half the thickness to the left of the axis.
  const run = result.plan.runs.find((r) => r.wall === wall.id)!;
  const end = face.side === 'end' ? run.end.leftMm : run.start.leftMm;
  expectRange(seen.offset, half - cover.fromMm, half - cover.toMm, `${piece.id} offset`);
  expectRange(seen.station, end, end + (face.side === 'end' ? depth : -depth), `${piece.id} station`);
};

/** A corner: as far along each face as its leg, and where the outer sides of its two frames meet. */
const expectAtCorner = (result: Result, piece: Piece, thing: Seen): void => {
  const vertex = result.plan.vertices.find((v) => v.id === piece.vertex)!;
  const depth = result.catalogue.frameDepthMm;
  const unitItem = result.catalogue.units.find((u) => u.id === piece.item)!;
  const arms = vertex.arms.map((arm) => {
    const wall = wallOf(result, arm.wall);
    const u = unit(sub(wall.end, wall.start));
    const out = arm.side === 'left' ? leftOf(u) : { x: -leftOf(u).x, y: -leftOf(u).y };
    const cover = piece.covers.find((c) => faceOf(result, c.face).wall === arm.wall);
    const leg = cover ? cover.toMm - cover.fromMm : unitItem.faceWidthMm;
    return { wall, arm, out, u, leg, through: { x: vertex.at.x + out.x * depth, y: vertex.at.y + out.y * depth } };
  });
  const bend = meet(arms[0]!.through, arms[0]!.u, arms[1]!.through, arms[1]!.u)!;
  arms.forEach(({ wall, arm, leg }) => {
    const seen = asSeenFrom(wall, thing);
    const u = unit(sub(wall.end, wall.start));
    const bendAt = dot(u, sub(bend, wall.start));
    const tip = arm.stationMm + arm.direction * leg;
    const ends = rangeOf([arm.stationMm, tip, bendAt]);
    expectRange(seen.station, ends.from, ends.to, `${piece.id} on ${wall.id}`);
    expectRange(seen.level, piece.baseMm, piece.topMm, `${piece.id} level`);
  });
  const near = (p: Vec) => Math.min(...thing.points.map((q) => Math.hypot(q[0] - p.x, q[1] - p.y)));
  expect(near(bend), `${piece.id} has its bend`).toBeLessThan(NEAR_MM);
  expect(near(vertex.at), `${piece.id} has its vertex`).toBeLessThan(NEAR_MM);
};

const scenes: Readonly<Record<string, () => Result>> = {
  'a result made by hand': () => exampleResult,
  'turned by 37 degrees': () => moved(exampleResult, 37, { x: 1234.5, y: -987.6 }),
  'a house with corners and tees': () => laidOut(laySheet(cornerHouse)).result,
  'a cellar in inches': () => laidOut(laySheet(inchCellar)).result,
  'a model in feet, 850 km from its origin': () =>
    asModel(moved(exampleResult, -63, { x: 8.53e8, y: -4.21e8 }), FEET_HEADER),
};

describe.each(Object.entries(scenes))('%s', (_, make) => {
  const result = make();
  let kept: Promise<Reread> | null = null;
  const read = () => (kept ??= reread(bytesOf(result)));
  const by = async (set: string, property: string): Promise<ReadonlyMap<unknown, Seen>> =>
    new Map((await read()).things.filter((t) => t.sets[set]).map((t) => [t.sets[set]![property], t]));

  it('has every piece and every tie once, walls of its own only for a drawing', async () => {
    const { count, things } = await read();
    const { pieces, ties } = result.layout;
    const { aligners = [], braces = [], platforms = [], decks = [], clamps } = result.layout;
    const ladders = platforms.filter((p) => p.ladderMm !== null).length;
    const brackets = platforms.reduce((sum, p) => sum + p.brackets.length, 0);
    const joints = new Set(clamps.map((c) => [c.face, c.joint, ...c.pieces, c.item, c.gapMm].join())).size;
    expect(count(IFCBUILDINGELEMENTPROXY)).toBe(pieces.length + ladders);
    expect(count(IFCMECHANICALFASTENER)).toBe(ties.length + joints);
    expect(count(IFCMEMBER)).toBe(aligners.length + braces.length + brackets);
    expect([count(IFCPLATE), count(IFCRAILING)]).toEqual([platforms.length + decks.length, platforms.length]);
    expect(count(IFCWALL)).toBe(result.model ? 0 : result.plan.walls.length);
    expect(count(IFCELEMENTASSEMBLY)).toBe(1 + result.plan.walls.length);
    expect(count(IFCBUILDINGSTOREY)).toBe(result.model?.storeys.length ?? 1);
    const gear = joints + aligners.length + braces.length + brackets + 2 * platforms.length + decks.length + ladders;
    const walls = result.model ? 0 : result.plan.walls.length;
    expect(things.length).toBe(pieces.length + ties.length + gear + walls);
  });

  it('has every piece at its stations, levels and depth', async () => {
    const things = await by('Shutterwright_Piece', 'Piece');
    for (const piece of result.layout.pieces) {
      const thing = things.get(piece.id)!;
      if (piece.kind.endsWith('corner')) expectAtCorner(result, piece, thing);
      else expectOnFace(result, piece, thing);
    }
    expect(things.size).toBe(result.layout.pieces.length);
  });

  it('has every tie square through its wall at its station and level, from form to form', async () => {
    const things = await by('Shutterwright_Tie', 'Tie');
    for (const tie of result.layout.ties) {
      const wall = wallOf(result, tie.wall);
      const seen = asSeenFrom(wall, things.get(tie.id)!);
      const end = wall.thicknessMm / 2 + result.catalogue.frameDepthMm;
      expectRange(seen.offset, -end, end, `${tie.id} length`);
      // A circle is drawn as a regular polygon: the mean of its corners is its centre.
      const middle = meanOf(wall, things.get(tie.id)!);
      expect(Math.abs(middle.station - tie.stationMm)).toBeLessThan(NEAR_MM);
      expect(Math.abs(middle.level - tie.levelMm)).toBeLessThan(NEAR_MM);
      const { diameterMm } = result.catalogue.ties.find((t) => t.id === tie.item)!;
      const across = seen.station.to - seen.station.from;
      // Within the circle: of 8 sides at least.
      expect(across).toBeLessThanOrEqual(diameterMm + NEAR_MM);
      expect(across).toBeGreaterThan(diameterMm * Math.cos(Math.PI / 8) - NEAR_MM);
    }
  });

  it('says of every piece and tie what the layout says, lengths in the unit of the file', async () => {
    const mmPerUnit =
      result.model?.unit.mmPerUnit ?? { mm: 1, cm: 10, m: 1000, in: 25.4, ft: 304.8 }[result.source.lengthUnit];
    const ratings = new Map(result.layout.ratings.map((r) => [r.piece, r]));
    const masses = new Map(result.catalogue.units.map((u) => [u.id, u.massKg]));
    const near = (found: unknown, wanted: number) => expect(found as number).toBeCloseTo(wanted, 9);
    const pieces = await by('Shutterwright_Piece', 'Piece');
    for (const piece of result.layout.pieces) {
      const thing = pieces.get(piece.id)!;
      const set = thing.sets.Shutterwright_Piece!;
      expect([thing.name, set.Kind, set.Course, set.Temporary]).toEqual([set.Mark, piece.kind, piece.course, true]);
      expect(set.Item ?? null).toBe(piece.item);
      if (piece.item !== null) expect(thing.tag).toBe(piece.item);
      near((set.BaseLevel as number) * mmPerUnit, piece.baseMm);
      near((set.TopLevel as number) * mmPerUnit, piece.topMm);
      const [cover] = piece.covers;
      if (cover && piece.covers.length === 1) {
        expect(set.Face).toBe(cover.face);
        near((set.FromStation as number) * mmPerUnit, cover.fromMm);
        near((set.ToStation as number) * mmPerUnit, cover.toMm);
      }
      if (piece.item !== null) near(set.Mass, masses.get(piece.item)!);
      const rating = ratings.get(piece.id);
      expect(set.RatedPressure).toBe(rating?.ratedKpa);
      if (rating) near(set.ActingPressure, rating.pressureKpa);
    }
    const ties = await by('Shutterwright_Tie', 'Tie');
    for (const tie of result.layout.ties) {
      const set = ties.get(tie.id)!.sets.Shutterwright_Tie!;
      expect([set.Row, set.Item, set.Wall, set.LeftPiece, set.RightPiece]).toEqual([
        tie.row,
        tie.item,
        tie.wall,
        ...tie.pieces,
      ]);
      near((set.Station as number) * mmPerUnit, tie.stationMm);
      near((set.Level as number) * mmPerUnit, tie.levelMm);
      near(set.Load, tie.loadKn);
      near(set.WorkingLoad, tie.workingLoadKn);
      const use = tie.loadKn / tie.workingLoadKn;
      expect(set.Utilisation as number).toBeGreaterThan(use - 1e-8);
      expect(set.Utilisation as number).toBeLessThan(use + 0.01);
      if (use > 1) expect(set.Utilisation as number).toBeGreaterThan(1);
    }
  });

  /** What a face's crew sees of a thing: stations, levels, and how far out of the concrete's face. */
  const seenBefore = (faceId: string, thing: Seen) => {
    const face = faceOf(result, faceId);
    const wall = wallOf(result, face.wall);
    const seen = asSeenFrom(wall, thing);
    const sign = face.side === 'left' ? 1 : -1;
    const out = [seen.offset.from, seen.offset.to].map((o) => sign * o - wall.thicknessMm / 2);
    return { station: seen.station, level: seen.level, out: rangeOf(out) };
  };
  const depthMm = result.catalogue.frameDepthMm;

  it('has every aligner and every brace where the layout has it, with what the layout says of it', async () => {
    const { aligners = [], braces = [] } = result.layout;
    const tubes = await by('Shutterwright_Aligner', 'Aligner');
    expect(tubes.size).toBe(aligners.length);
    for (const a of aligners) {
      const thing = tubes.get(a.id)!;
      const { station, level, out } = seenBefore(a.face, thing);
      const isUpright = a.kind === 'vertical';
      const radius = 24;
      if (isUpright) expectRange(level, a.levelMm, a.topMm!, `${a.id} levels`);
      else expectRange(station, a.fromMm, a.toMm, `${a.id} stations`);
      const thick = isUpright ? station : level;
      const middle = isUpright ? a.fromMm : a.levelMm;
      expect(thick.from).toBeGreaterThan(middle - radius - NEAR_MM);
      expect(thick.to).toBeLessThan(middle + radius + NEAR_MM);
      // Behind the frames, never in them.
      expect(out.from).toBeGreaterThan(depthMm);
      expect(out.to).toBeLessThan(depthMm + 2 * 50);
      expect(thing.sets.Shutterwright_Aligner).toMatchObject({ Item: a.item, Face: a.face, Temporary: true });
    }
    const props = await by('Shutterwright_Brace', 'Brace');
    expect(props.size).toBe(braces.length);
    for (const b of braces) {
      const thing = props.get(b.id)!;
      const { station, level, out } = seenBefore(b.face, thing);
      // The plate stands on the ground, and nothing reaches into it; the shaft's end, cut square, reaches past its head by no more than its radius.
      expect(Math.abs(level.from - b.footMm), b.id).toBeLessThan(NEAR_MM);
      expect(level.to).toBeGreaterThan(b.headMm);
      expect(level.to).toBeLessThan(b.headMm + 24 + NEAR_MM);
      expect(Math.abs((station.from + station.to) / 2 - b.stationMm)).toBeLessThan(NEAR_MM);
      expect(out.from).toBeGreaterThan(depthMm);
      expect(out.from).toBeLessThan(depthMm + 50);
      expect(Math.abs(out.to - b.footOffsetMm - 60)).toBeLessThan(NEAR_MM);
      expect(thing.sets.Shutterwright_Brace).toMatchObject({ Item: b.item, Push: b.pushKn, Temporary: true });
    }
  });

  it('has platforms with floor, brackets and guard at their places', async () => {
    const { platforms = [] } = result.layout;
    const things = (await read()).things;
    const part = (type: string, id: string) =>
      things.filter((t) => t.type === type && Object.values(t.sets).some((set) => set.Platform === id));
    for (const p of platforms) {
      const outer = depthMm + 100 + p.widthMm;
      const floor = seenBefore(p.face, part('IFCPLATE', p.id)[0]!);
      expectRange(floor.station, p.fromMm, p.toMm, `${p.id} floor`);
      expectRange(floor.out, depthMm + 100, outer, `${p.id} floor`);
      expectRange(floor.level, p.levelMm - 50, p.levelMm, `${p.id} floor`);
      const guard = seenBefore(p.face, part('IFCRAILING', p.id)[0]!);
      expectRange(guard.level, p.levelMm, p.levelMm + p.rails.topMm, `${p.id} guard`);
      const [from, to] = p.endRails;
      const ends = [from ? p.fromMm - 30 : p.guardMm[0], to ? p.toMm + 30 : p.guardMm[1]] as const;
      expectRange(guard.station, ...ends, `${p.id} guard`);
      const brackets = part('IFCMEMBER', p.id).map((t) => seenBefore(p.face, t));
      const middles = brackets.map((b) => (b.station.from + b.station.to) / 2).sort((a, b) => a - b);
      expect(middles.length).toBe(p.brackets.length);
      for (const [i, m] of middles.entries()) expect(Math.abs(m - p.brackets[i]!)).toBeLessThan(NEAR_MM);
      for (const b of brackets) expectRange(b.out, depthMm, outer, `${p.id} bracket`);
    }
  });

  it('has every deck of an inner corner over the hole that it closes, from the floors upwards', async () => {
    const { decks = [] } = result.layout;
    const things = await by('Shutterwright_Deck', 'Deck');
    expect(things.size).toBe(decks.length);
    for (const d of decks) {
      const seen = seenBefore(d.face, things.get(d.id)!);
      expectRange(seen.level, d.levelMm, d.levelMm + 50, `${d.id} level`);
      expectRange(seen.out, depthMm + 100, depthMm + 100 + d.sizeMm[1], `${d.id} out`);
      expect(Math.abs(seen.station.to - seen.station.from - d.sizeMm[0])).toBeLessThan(NEAR_MM);
    }
  });

  it('has a body at the place of every clamp', async () => {
    const sets = (await read()).things.filter((t) => t.sets.Shutterwright_Clamps);
    const ids = sets.flatMap((t) => t.sets.Shutterwright_Clamps!.Clamps as unknown as string[]);
    expect([...ids].sort()).toEqual(result.layout.clamps.map((c) => c.id).sort());
    const clampOf = new Map(result.layout.clamps.map((c) => [c.id, c]));
    for (const thing of sets) {
      const own = (thing.sets.Shutterwright_Clamps!.Clamps as unknown as string[]).map((id) => clampOf.get(id)!);
      const each = thing.points.length / own.length;
      own.forEach((clamp, i) => {
        const one = seenBefore(clamp.face, { ...thing, points: thing.points.slice(i * each, (i + 1) * each) });
        expect(Math.abs((one.station.from + one.station.to) / 2 - clamp.stationMm), clamp.id).toBeLessThan(NEAR_MM);
        expect(Math.abs((one.level.from + one.level.to) / 2 - clamp.levelMm), clamp.id).toBeLessThan(NEAR_MM);
        const long = clamp.joint === 'upright' ? one.station : one.level;
        expect(long.to - long.from).toBeGreaterThan(clamp.gapMm);
      });
    }
  });

  it('counts as the list does', async () => {
    const { rows } = result.schedule;
    const listed = (kind: string) => rows.filter((r) => r.kind === kind).reduce((sum, r) => sum + r.count, 0);
    const { things } = await read();
    const bodies = things.reduce((sum, t) => sum + Number(t.sets.Shutterwright_Clamps?.Count ?? 0), 0);
    const of = (set: string) => things.filter((t) => t.sets[set]).length;
    const found = [bodies, of('Shutterwright_Aligner'), of('Shutterwright_Brace'), of('Shutterwright_Bracket')];
    if (listed('tie') > 0 && result.layout.aligners)
      expect(found).toEqual(['clamp', 'aligner', 'brace', 'bracket'].map(listed));
  });

  it('names the architect’s walls by their GlobalIds', async () => {
    for (const thing of (await read()).things) {
      const set = thing.sets.Shutterwright_Piece ?? thing.sets.Shutterwright_Tie;
      if (!set) continue;
      const wall = wallOf(result, String(set.Wall));
      expect(set.WallGlobalIds ?? []).toEqual(result.model ? wall.sources : []);
    }
  });

  it('shows kinds in colours that differ', async () => {
    const colours = new Map<string, Set<string>>();
    for (const thing of (await read()).things) {
      const fastener = thing.sets.Shutterwright_Clamps ? 'clamp' : thing.type;
      const kind = String(thing.sets.Shutterwright_Piece?.Kind ?? (thing.type === 'IFCMEMBER' ? thing.name : fastener));
      colours.set(kind, (colours.get(kind) ?? new Set()).add(thing.colour.map((c) => c.toFixed(3)).join()));
    }
    for (const [kind, set] of colours) expect(set.size, kind).toBe(1);
    const of = (kind: string) => [...(colours.get(kind) ?? [])][0];
    expect(of('panel')).not.toBe(of('inside-corner'));
    expect(of('IFCMECHANICALFASTENER')).toBeDefined();
    expect(of('panel')).not.toBe(of('IFCMECHANICALFASTENER'));
  });
});

describe('the concrete of a drawing', () => {
  it('tiles the outline that shape made, wall by wall, from base to top', async () => {
    const result = laidOut(laySheet(cornerHouse)).result;
    const walls = (await reread(bytesOf(result))).things.filter((t) => t.type === 'IFCWALL');
    const heights = walls.map((w) => rangeOf(w.points.map((p) => p[2])));
    for (const height of heights) expectRange(height, 0, result.plan.runs[0]!.topMm, 'wall');
    const area = walls.reduce((sum, wall) => sum + topArea(wall), 0);
    expect(area / outlineAreaMm2(result.plan)).toBeCloseTo(1, 6);
  });
});

/** Area in plan of a thing's upper side: hull of a convex outline. */
const topArea = (thing: Seen): number => {
  const top = Math.max(...thing.points.map((p) => p[2]));
  const points = [
    ...new Map(
      thing.points.filter((p) => p[2] > top - 1).map((p) => [`${p[0].toFixed(1)} ${p[1].toFixed(1)}`, p]),
    ).values(),
  ];
  const [cx, cy] = [0, 1].map((i) => points.reduce((s, p) => s + p[i as 0 | 1], 0) / points.length) as [number, number];
  const ring = points.sort((a, b) => Math.atan2(a[1] - cy, a[0] - cx) - Math.atan2(b[1] - cy, b[0] - cx));
  return (
    Math.abs(
      ring.reduce((s, p, i) => s + p[0] * ring[(i + 1) % ring.length]![1] - ring[(i + 1) % ring.length]![0] * p[1], 0),
    ) / 2
  );
};
