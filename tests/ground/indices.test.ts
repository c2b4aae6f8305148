/** What the two indices hand out is what a look at everything finds, in the same order. */

import { describe, expect, it } from 'vitest';
import { layoutIndex } from '../../src/ground/layoutIndex.js';
import { planIndex } from '../../src/ground/planIndex.js';
import { exampleResult } from '../support/exampleResult.js';

const { plan, layout } = exampleResult;

describe('the index of a plan', () => {
  const index = planIndex(plan);

  it('finds by id what the lists have, and nothing else', () => {
    for (const wall of plan.walls) expect(index.walls.get(wall.id)).toBe(wall);
    for (const node of plan.nodes) expect(index.nodes.get(node.id)).toBe(node);
    for (const face of plan.faces) expect(index.faces.get(face.id)).toBe(face);
    for (const vertex of plan.vertices) expect(index.vertices.get(vertex.id)).toBe(vertex);
    expect(index.walls.get('no such wall')).toBeUndefined();
    expect(index.verticesAtNode(undefined)).toEqual([]);
    expect(index.facesOfWall('no such wall')).toEqual([]);
  });

  it('takes the first where two share an id', () => {
    const [first] = plan.walls;
    const twice = { ...plan, walls: [...plan.walls, { ...first!, lengthMm: 1 }] };
    expect(planIndex(twice).walls.get(first!.id)).toBe(first);
  });

  it('lists by wall and by node in the order of the plan', () => {
    for (const { id } of plan.walls) {
      expect(index.facesOfWall(id)).toEqual(plan.faces.filter((f) => f.wall === id));
      expect(index.runsOfWall(id)).toEqual(plan.runs.filter((r) => r.wall === id));
      expect(index.verticesOfWall(id)).toEqual(plan.vertices.filter((v) => v.arms.some((a) => a.wall === id)));
    }
    for (const { id } of plan.nodes)
      expect(index.verticesAtNode(id)).toEqual(plan.vertices.filter((v) => v.node === id));
  });

  it('is another for another plan', () => {
    const less = { ...plan, faces: plan.faces.slice(1) };
    expect(planIndex(less).faces.has(plan.faces[0]!.id)).toBe(false);
    expect(planIndex(plan)).toBe(index);
  });
});

describe('the index of a layout', () => {
  const index = layoutIndex(layout);

  it('lists by face, wall and vertex in the order of the layout', () => {
    for (const { id } of plan.faces) {
      const covers = layout.pieces.flatMap((piece) =>
        piece.covers.flatMap((cover, nth) => (cover.face === id ? [{ piece, cover, nth }] : [])),
      );
      expect(index.onFace(id)).toEqual(covers);
      expect(index.clampsOn(id)).toEqual(layout.clamps.filter((c) => c.face === id));
    }
    for (const { id } of plan.walls) expect(index.tiesOf(id)).toEqual(layout.ties.filter((t) => t.wall === id));
    for (const { id } of plan.vertices)
      expect(index.atVertex(id)).toEqual(layout.pieces.filter((p) => p.vertex === id));
    for (const [i, piece] of layout.pieces.entries())
      expect([index.pieces.get(piece.id), index.orderOf(piece)]).toEqual([piece, i]);
  });

  it('has nothing where nothing was laid out', () => {
    expect([index.alignersOn('F'), index.bracesOn('F'), index.platformsOn('F')]).toEqual([[], [], []]);
  });
});
