/** Moving entities about: turned, mirrored, scaled, shifted. */

import type { Vec } from '../../../src/ground/plane.js';
import type { Entity, Knot } from './dxfEntities.js';

/** p → scale · turn(mirror(p)) + (dx, dy); the mirror is in the y axis. */
export interface Move {
  readonly mirrored: boolean;
  readonly turnDeg: number;
  readonly scale: number;
  readonly dx: number;
  readonly dy: number;
}

export const STAY: Move = { mirrored: false, turnDeg: 0, scale: 1, dx: 0, dy: 0 };

const turned = (p: Vec, deg: number): Vec => {
  const c = Math.cos((deg * Math.PI) / 180);
  const s = Math.sin((deg * Math.PI) / 180);
  return { x: p.x * c - p.y * s, y: p.x * s + p.y * c };
};

export const movedPoint = (p: Vec, m: Move): Vec => {
  const q = turned({ x: m.mirrored ? -p.x : p.x, y: p.y }, m.turnDeg);
  return { x: q.x * m.scale + m.dx, y: q.y * m.scale + m.dy };
};

/** The move that undoes another one. */
export const undone = (m: Move): Move => {
  // (dx, dy) goes back first, then the turn, then the mirror: mirror · turn(-a) = turn(a) · mirror.
  const turnDeg = m.mirrored ? m.turnDeg : -m.turnDeg;
  const linear: Move = { ...STAY, mirrored: m.mirrored, turnDeg, scale: 1 / m.scale };
  const back = movedPoint({ x: -m.dx, y: -m.dy }, linear);
  return { ...linear, dx: back.x, dy: back.y };
};

export const moved = (e: Entity, m: Move): Entity => {
  const to = (p: Vec) => movedPoint(p, m);
  const knot = (p: Knot): Knot => ({ ...to(p), ...(p.bulge ? { bulge: m.mirrored ? -p.bulge : p.bulge } : {}) });
  const direction = (deg: number) => (m.mirrored ? 180 - deg : deg) + m.turnDeg;
  switch (e.kind) {
    case 'line':
      return { ...e, a: to(e.a), b: to(e.b) };
    case 'poly':
      return { ...e, points: e.points.map(knot), ...(e.width ? { width: e.width * m.scale } : {}) };
    case 'hatch':
      return { ...e, loops: e.loops.map((l) => l.map(knot)) };
    case 'mline':
      return { ...e, points: e.points.map(to), offsets: e.offsets.map((o) => (m.mirrored ? -o : o) * m.scale) };
    case 'arc': {
      const [a, b] = [direction(e.fromDeg), direction(e.toDeg)];
      const [fromDeg, toDeg] = m.mirrored ? [b, a] : [a, b];
      return { ...e, centre: to(e.centre), radius: e.radius * m.scale, fromDeg, toDeg };
    }
    case 'circle':
      return { ...e, centre: to(e.centre), radius: e.radius * m.scale };
    case 'text': {
      // Lettering stays readable: it turns with the plan but is not mirrored.
      return { ...e, at: to(e.at), height: e.height * m.scale, turnDeg: e.turnDeg + m.turnDeg };
    }
    case 'dim':
      return { ...e, from: to(e.from), to: to(e.to), line: to(e.line) };
    case 'insert':
      return {
        ...e,
        at: to(e.at),
        turnDeg: (m.mirrored ? -e.turnDeg : e.turnDeg) + m.turnDeg,
        sx: e.sx * m.scale * (m.mirrored ? -1 : 1),
        sy: e.sy * m.scale,
      };
  }
};
