/** Ties against bars and obstacles of a model: what meets is named, what misses by a hair is not. */

import { beforeAll, describe, expect, it } from 'vitest';
import { check, type InTheWay } from '../../src/check/index.js';
import { facePoint } from '../../src/ground/arcs.js';
import type { ModelBar, Obstacle, Tie, Vec3 } from '../../src/ground/vocabulary.js';
import { boxSleeve } from '../support/obstacles.js';
import { planOf, roomStretches, type Scene, sceneOf } from './support.js';

let room: Scene;
beforeAll(() => {
  room = sceneOf(planOf(roomStretches(6350, 4300, 200), 2350));
});

const tieAndPlace = (): {
  readonly tie: Tie;
  readonly at: Vec3;
  readonly radius: number;
  readonly isAlongX: boolean;
} => {
  const tie = room.layout.ties.find((t) => !t.outsideConcrete)!;
  const wall = room.plan.walls.find((w) => w.id === tie.wall)!;
  const radius = room.catalogue.ties.find((t) => t.id === tie.item)!.diameterMm / 2;
  const at = { ...facePoint(wall, 'axis', tie.stationMm), z: tie.levelMm };
  return { tie, at, radius, isAlongX: Math.abs(wall.end.x - wall.start.x) > Math.abs(wall.end.y - wall.start.y) };
};

const upright = (at: Vec3, along: number, isAlongX: boolean, diameterMm: number): ModelBar => {
  const [x, y] = isAlongX ? [at.x + along, at.y] : [at.x, at.y + along];
  return { id: 'bar-1', line: 1, name: 'V12', diameterMm, path: [0, 2350].map((z) => ({ x, y, z })) };
};

const box = (at: Vec3, half: number): Obstacle => {
  const corner = (k: 1 | -1): Vec3 => ({ x: at.x + k * half, y: at.y + k * half, z: at.z + k * half });
  return boxSleeve(corner(-1), corner(1));
};

const said = (more: Partial<InTheWay>) =>
  check({ ...room, inTheWay: { bars: [], obstacles: [], clearMm: 0, ...more } })
    .findings.filter((f) => f.code === 'check.tie-bar' || f.code === 'check.tie-obstacle')
    .map((f) => ({ code: f.code, subject: f.subject, severity: f.severity, message: f.message }));

describe('bars', () => {
  it('through a tie fail it, with bar and place named', () => {
    const { tie, at, isAlongX } = tieAndPlace();
    const found = said({ bars: [upright(at, 0, isAlongX, 12)] });
    const own = found.filter((f) => f.subject === tie.id);
    expect(own).toHaveLength(1);
    expect(own[0]).toMatchObject({ code: 'check.tie-bar', severity: 'failure' });
    expect(own[0]!.message).toContain('V12 (bar-1)');
  });

  it('fail it up to the sum of the radii and not beyond', () => {
    const { tie, at, radius, isAlongX } = tieAndPlace();
    // Ribs make the bar of 12 one of 13.2.
    const touching = radius + 6.6;
    const of = (along: number) =>
      said({ bars: [upright(at, along, isAlongX, 12)] }).filter((f) => f.subject === tie.id);
    expect(of(touching - 1)).toHaveLength(1);
    expect(of(touching + 1)).toEqual([]);
    expect(of(-touching - 1)).toEqual([]);
  });

  it('keep the clear distance that is wanted, and the message says how near they come', () => {
    const { tie, at, radius, isAlongX } = tieAndPlace();
    const of = (along: number) =>
      said({ bars: [upright(at, along, isAlongX, 12)], clearMm: 20 }).filter((f) => f.subject === tie.id);
    expect(of(radius + 6.6 + 21)).toEqual([]);
    expect(of(radius + 6.6 + 12)[0]!.message).toMatch(/comes within 12 mm \(20 are wanted\) of bar V12/);
  });

  it('along a whole row are one finding for the row', () => {
    const { tie } = tieAndPlace();
    const wall = room.plan.walls.find((w) => w.id === tie.wall)!;
    const path = (['start', 'end'] as const).map((end) => ({ ...wall[end], z: tie.levelMm }));
    const found = said({ bars: [{ id: 'bar-2', line: 1, name: 'H12', diameterMm: 12, path }] }).filter((f) =>
      f.message.includes(`row ${tie.row} of wall ${wall.id}`),
    );
    expect(found).toHaveLength(1);
    expect(found[0]!.message).toMatch(/^Every tie of row/);
  });

  it('in the wall but below or above the tie do not', () => {
    const { tie, at, isAlongX } = tieAndPlace();
    const short = { ...upright(at, 0, isAlongX, 12), path: [0, tie.levelMm - 40].map((z) => ({ ...at, z })) };
    expect(said({ bars: [short] }).filter((f) => f.subject === tie.id)).toEqual([]);
  });
});

describe('obstacles', () => {
  it('fail a tie that passes their skin, and one that lies wholly inside', () => {
    const { tie, at } = tieAndPlace();
    for (const half of [30, 500]) {
      const own = said({ obstacles: [box(at, half)] }).filter((f) => f.subject === tie.id);
      expect(own, `half ${half}`).toHaveLength(1);
      expect(own[0]!.message).toContain('sleeve DN 100 (sleeve-1)');
    }
  });

  it('beside a tie do not', () => {
    const { tie, at, radius, isAlongX } = tieAndPlace();
    const aside = 50 + radius + 1;
    const beside = isAlongX ? { ...at, x: at.x + aside } : { ...at, y: at.y + aside };
    expect(said({ obstacles: [box(beside, 50)] }).filter((f) => f.subject === tie.id)).toEqual([]);
    expect(said({ obstacles: [box(beside, 55)] }).filter((f) => f.subject === tie.id)).toHaveLength(1);
  });
});

it('says nothing where there is nothing', () => {
  expect(said({})).toEqual([]);
});
