import { it } from 'vitest';
import { standAndLay, allUpright, compareCosts } from '../support/standing.js';
import { workedExampleCatalogue } from '../support/exampleCatalogue.js';
import { planOf, roomStretches, stretch } from '../check/support.js';
import { demoCatalogue, demoInchCatalogue } from '../../src/catalogue/index.js';
import { freeEnd, onePlan } from '../support/straightPlan.js';
it('ex5', () => {
  const plan = onePlan(6000, 200, 2660, freeEnd(0, 'start'), freeEnd(6000, 'end'), [], [[0, 0], [2430, 310]]);
  const r = standAndLay(plan, workedExampleCatalogue);
  console.log(r.standing, [...r.stacks.values()].map((x) => `${x.stack.baseMm}+${x.stack.heightsMm}|${x.turnedTop?.heightMm ?? '-'} ${x.rowLevelsMm} / ${x.turnedTop?.rowLevelsMm}`));
  console.log(r.layout.tiers.map((t) => `${t.name} ${t.value} ${t.bound}`).join('; '));
  console.log(r.layout.pieces.filter((p) => p.covers[0]?.face === 'W1-L').map((p) => `${p.item}${p.turned ? 'T' : ''} ${p.covers[0]!.fromMm}-${p.covers[0]!.toMm} ${p.baseMm}-${p.topMm}`).join('\n'));
  console.log(r.checked.ties.map((t) => `${t.stationMm}@${t.levelMm} R${t.row} ${t.loadKn.toFixed(2)}`).join(', '));
  console.log(r.findings.filter(f=>f.severity!=='note').map((f) => `${f.severity} ${f.code} ${f.message}`).join('\n'));
});
it.skipIf(process.env.ONLY)('x', () => {
  for (const [ci, c] of [workedExampleCatalogue, demoCatalogue, demoInchCatalogue].entries())
    for (const top of [450, 2450, 2660, 2900, 3000, 3048, 3300])
      for (const s of [roomStretches(4000, 5325, 300), [stretch(0, 0, 6000, 0, 250, [true, true])], [stretch(0, 0, 6000, 0, 200, [true, false]), stretch(6000, 0, 6000, 4000, 200, [false, true])]]) {
        const plan = planOf(s, top, c.gridMm);
        const t0 = Date.now();
        const r = standAndLay(plan, c);
        const t1 = Date.now();
        const u = standAndLay(plan, allUpright(c));
        const t2 = Date.now();
        const d = compareCosts(r.layout.tiers, u.layout.tiers);
        const show = (x: typeof r) => x.layout.tiers.filter((t) => t.name === 'failures' || t.name === 'places' || t.name === 'steelFillers' || t.name === 'tiesAndUnits').map((t) => t.value).join('/');
        console.log(ci, top, s.length, 'turned', r.layout.pieces.filter((p) => p.turned).length, show(r), show(u), [...r.stacks.values()].map((x) => `${x.stack.heightsMm}|${x.turnedTop?.heightMm ?? '-'}`)[0], [...u.stacks.values()][0]!.stack.heightsMm.join(), [...new Set(r.failures.map((f) => f.code))].join(), '| upright:', [...new Set(u.failures.map((f) => f.code))].join(), d > 0 ? 'WORSE' : '', t1 - t0, t2 - t1);
      }
});
