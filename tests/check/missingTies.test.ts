/** What comes of one tie that is missing, and that the strips of the rows are all of the pressure: against plain statics of levers, springs solved otherwise, and plain integration. */

import { describe, expect, it } from 'vitest';
import { demoCatalogue } from '../../src/catalogue/index.js';
import { chainReactions, check, isFixed, pressureAt } from '../../src/check/index.js';
import { springReactions } from '../../src/check/springs.js';
import { diagramArea } from '../../src/check/stripSums.js';
import { planOf, roomStretches, sceneOf } from './support.js';

const scene = sceneOf(planOf(roomStretches(6350, 4000, 200), 2350), demoCatalogue);
const { value } = check(scene);
const missing = value.missingTies!;
const tieOf = new Map(value.ties.map((t) => [t.id, t]));

describe('springs along a chain', () => {
  it('give what the dense solution gives, with supports to spare and without, in long chains and short', () => {
    let seed = 7;
    const random = () => {
      seed = (seed * 48271) % 2147483647;
      return seed / 2147483647;
    };
    let stood = 0;
    for (let k = 0; k < 300; k++) {
      const joints = [0];
      const count = 2 + Math.floor(random() * 12);
      for (let i = 0; i < count; i++) joints.push(joints[i]! + 200 + Math.round(random() * 400));
      const supports: number[] = [];
      for (const [i, x] of joints.entries()) {
        const isLow = i > 0 && (i === joints.length - 1 || random() < 0.5);
        supports.push(isLow ? x - 50 : x + 50);
        if (random() < 0.2 && i + 1 < joints.length) supports.push(x + 100);
      }
      const supportsMm = [...new Set(supports)].sort((a, b) => a - b);
      const chain = { jointsMm: joints, supportsMm, startShearMm: 150, endShearMm: 40 };
      const dense = chainReactions(chain);
      const found = springReactions(chain);
      expect(found === null).toBe(dense === null);
      if (!dense || !found) continue;
      stood++;
      for (const [i, r] of found.entries()) expect(r).toBeCloseTo(dense.reactionsMm[i]!, 4);
    }
    expect(stood).toBeGreaterThan(250);
  });
});

describe('one tie missing', () => {
  // Four rows at 300, 900, 1500, 2100 under 43.1 kPa and a pour of 2350 (worked example 1): the resultant of 61.82 kN/m lies at 835, below the second row.
  const envelope = scene.pressure.get('W1')!.envelope;
  let [force, moment] = [0, 0];
  for (let z = 0.5; z < 2350; z++) {
    const kn = pressureAt(envelope, 2350 - z) / 1000;
    force += kn;
    moment += kn * z;
  }

  it('of the lowest row leaves the foot to swing out: none of them may be missing, and of no other row', () => {
    expect(moment / force).toBeLessThan(900);
    const none = missing.ties.filter((m) => m.use === null);
    expect(new Set(none.map((m) => tieOf.get(m.tie)!.row))).toEqual(new Set([1]));
    expect(none).toHaveLength(value.ties.filter((t) => t.row === 1).length);
  });

  it('of the top row leaves three rows, and by levers of two of them no less than what the worst is told to carry', () => {
    for (const m of missing.ties.filter((x) => tieOf.get(x.tie)!.row === 4)) {
      const tie = tieOf.get(m.tie)!;
      const column = value.ties.filter((t) => t.stationMm === tie.stationMm && t.wall === tie.wall);
      const row = scene.demands.get(tie.run)!.rows.find((r) => r.row === column[0]!.row)!;
      const strip = Math.max(
        ...column.map((t) => t.loadKn / scene.demands.get(t.run)!.rows.find((r) => r.row === t.row)!.kNPerM),
      );
      // Equilibrium of any way of carrying: no row gets more than all of the force, and the worst of three at least a third.
      expect(m.use! * tie.workingLoadKn).toBeGreaterThan((force / 3) * strip - 1e-6);
      expect(m.use! * tie.workingLoadKn).toBeLessThan(force * strip);
      expect(row.kNPerM).toBeGreaterThan(0);
      expect(m.neighbour).not.toBe(m.tie);
    }
  });

  it('of the second row is carried by the first and the third as a lever says', () => {
    const [m] = missing.ties.filter((x) => tieOf.get(x.tie)!.row === 2);
    const tie = tieOf.get(m!.tie)!;
    const column = value.ties.filter((t) => t.stationMm === tie.stationMm && t.wall === tie.wall);
    const strip = Math.max(
      ...column.map((t) => t.loadKn / scene.demands.get(t.run)!.rows.find((r) => r.row === t.row)!.kNPerM),
    );
    // The top row lets go: force at its height about 300 and 1500.
    const high = (force * (moment / force - 300)) / 1200;
    const low = force - high;
    expect(m!.use! * tie.workingLoadKn).toBeCloseTo(Math.max(low, high) * strip, 1);
  });

  it('is a mechanism along its row wherever a chain has as many ties as it needs, and so is every column', () => {
    expect(missing.ties.every((m) => m.along === null)).toBe(true);
    expect(missing.columnsNeeded).toBe(new Set(value.ties.map((t) => `${t.wall} ${t.stationMm}`)).size);
    expect(missing.columnsSpare).toBe(0);
    // Two panels on three ties fold without any one of them; on four they stand.
    expect(isFixed([0, 600, 1200], [50, 650])).toBe(false);
    expect(isFixed([0, 600, 1200], [550, 650, 1150])).toBe(true);
  });

  it('is told of every tie that was checked, worst first', () => {
    expect(missing.ties).toHaveLength(value.ties.length);
    expect(missing.notLooked).toBe(0);
    const uses = missing.ties.map((m) => m.use ?? Number.POSITIVE_INFINITY);
    expect(uses).toEqual([...uses].sort((a, b) => b - a));
  });
});

describe('strips', () => {
  it('of rows add up to the area of the diagram, by integration in steps, and those of every column to the area times its strip', () => {
    for (const s of value.stripSums!) {
      const { envelope } = scene.pressure.get(s.run)!;
      let area = 0;
      for (let z = 0.5; z < 2350; z++) area += pressureAt(envelope, z) / 1000;
      expect(s.areaKnPerM).toBeCloseTo(area, 2);
      expect(s.rowsKnPerM.reduce((a, b) => a + b, 0)).toBeCloseTo(s.areaKnPerM, 5);
      expect(s.columns).toBeGreaterThan(0);
      expect(s.offKn).toBeLessThan(1e-4);
    }
  });

  it('areas of diagrams are those of a triangle above and a rectangle below', () => {
    const envelope = { points: [{ depthMm: 2000, kpa: 48 }] };
    expect(diagramArea(envelope, 2000)).toBeCloseTo(48, 9);
    expect(diagramArea(envelope, 1000)).toBeCloseTo(12, 9);
    expect(diagramArea(envelope, 3000)).toBeCloseTo(48 + 48, 9);
  });
});
