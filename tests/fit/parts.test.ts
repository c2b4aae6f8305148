/** Buildings that share no corner cost together what they cost apart. */

import { describe, expect, it } from 'vitest';
import type { WallStretch } from '../../src/ground/vocabulary.js';
import { planOf, roomStretches, sceneOf } from '../check/support.js';

const shifted = (stretches: readonly WallStretch[], dx: number): WallStretch[] =>
  stretches.map((s) => ({
    ...s,
    start: { x: s.start.x + dx, y: s.start.y },
    end: { x: s.end.x + dx, y: s.end.y },
    sources: [`${dx} ${s.sources.join()}`],
  }));

describe('buildings apart from each other', () => {
  it('cost what they cost by themselves, tier by tier', () => {
    const [a, b] = [roomStretches(3100, 2450, 200), roomStretches(2725, 4000, 200)];
    const tiers = (stretches: readonly WallStretch[]) => {
      const { layout } = sceneOf(planOf(stretches, 2350));
      return Object.fromEntries(
        layout.tiers.flatMap((t) => [
          [t.name, t.value],
          [`bound of ${t.name}`, t.bound],
        ]),
      );
    };
    const [first, second, both] = [tiers(a), tiers(b), tiers([...a, ...shifted(b, 20_000)])];
    for (const tier of ['failures', 'places', 'timberAreaM2', 'steelFillers', 'tiesAndUnits', 'runPast'])
      for (const name of [tier, `bound of ${tier}`])
        expect(both[name], name).toBeCloseTo(first[name]! + second[name]!, 6);
    expect(first['bound of tiesAndUnits']).toBeGreaterThan(0);
  });
});
