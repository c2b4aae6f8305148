/** The check of whole layouts: good ones pass, and each fault that is put into a good one is named with its rule and its subject. */

import { beforeAll, describe, expect, it } from 'vitest';
import { demoCatalogue } from '../../src/catalogue/index.js';
import { check } from '../../src/check/index.js';
import { ratedForSpan } from '../../src/check/ratings.js';
import { holeAsSet } from '../../src/check/ties.js';
import type { Finding } from '../../src/ground/findings.js';
import type { Group, Layout, Piece, PressureCase, RunDemand, Tie } from '../../src/ground/vocabulary.js';
import { workedExampleCatalogue } from '../support/exampleCatalogue.js';
import { checked, faults, planOf, roomStretches, type Scene, sceneOf, stretch } from './support.js';

const codes = (findings: readonly Finding[]): string[] => [...new Set(faults(findings).map((f) => f.code))].sort();
const of = (findings: readonly Finding[], code: string): Finding[] => findings.filter((f) => f.code === code);

/** The scene with other lists in its layout. */
const altered = (scene: Scene, change: Partial<Layout>): Scene => ({
  ...scene,
  layout: { ...scene.layout, ...change },
});

const withPiece = (scene: Scene, id: string, change: (p: Piece) => Piece): Scene =>
  altered(scene, { pieces: scene.layout.pieces.map((p) => (p.id === id ? change(p) : p)) });

const withTie = (scene: Scene, id: string, change: (t: Tie) => Tie): Scene =>
  altered(scene, { ties: scene.layout.ties.map((t) => (t.id === id ? change(t) : t)) });

/** Loads and pressure of all walls times a factor. */
const heavier = (scene: Scene, factor: number): Scene => ({
  ...scene,
  demands: new Map(
    [...scene.demands].map(([wall, d]): [string, RunDemand] => [
      wall,
      {
        ...d,
        rows: d.rows.map((r) => ({ ...r, kNPerM: r.kNPerM * factor, stripKnPerM: r.stripKnPerM * factor })),
        designKpa: d.designKpa * factor,
      },
    ]),
  ),
  pressure: new Map(
    [...scene.pressure].map(([wall, p]): [string, PressureCase] => [
      wall,
      {
        ...p,
        designKpa: p.designKpa * factor,
        envelope: { points: p.envelope.points.map(({ depthMm, kpa }) => ({ depthMm, kpa: kpa * factor })) },
      },
    ]),
  ),
});

let room: Scene;
let tee: Scene;
beforeAll(() => {
  room = sceneOf(planOf(roomStretches(6350, 4300, 200), 2350));
  tee = sceneOf(planOf([...roomStretches(8500, 4000, 250), stretch(3700, 0, 3700, 4000, 200)], 2350));
});

describe('layouts that hold', () => {
  it.each<[string, () => Scene]>([
    ['room', () => room],
    ['room with a tee at either side', () => tee],
    [
      'two free ends at a corner',
      () =>
        sceneOf(planOf([stretch(0, 0, 5000, 0, 250, [false, true]), stretch(0, 0, 0, 4000, 250, [false, true])], 2350)),
    ],
    [
      'cross',
      () =>
        sceneOf(
          planOf(
            [...roomStretches(8500, 8000, 200), stretch(3700, 0, 3700, 8000, 200), stretch(0, 4000, 8500, 4000, 200)],
            2350,
          ),
        ),
    ],
    ['two courses', () => sceneOf(planOf(roomStretches(6350, 4300, 200), 2950))],
    ['our own yard', () => sceneOf(planOf(roomStretches(6350, 4300, 200), 2350), demoCatalogue)],
  ])('%s: nothing is found', (_name, make) => {
    const scene = make();
    // Long walls between two corners are said to have no strip that gives way.
    expect(scene.fitFindings.filter((f) => f.code !== 'fit.dead-fit')).toEqual([]);
    const { value, findings } = checked(scene);
    expect(faults(findings)).toEqual([]);
    expect(value.ties.length).toBeGreaterThan(0);
    for (const t of value.ties) {
      expect(t.loadKn).toBeGreaterThan(0);
      expect(t.loadKn).toBeLessThanOrEqual(t.workingLoadKn);
      expect(t.governingFace).not.toBe('');
    }
    expect(value.ratings.every((r) => r.pressureKpa <= r.ratedKpa)).toBe(true);
    expect(value.pressure).toHaveLength(1);
  });

  it('worked layout 1: the governing tie carries 607.5 mm of the lowest row', () => {
    const { value } = checked(room);
    const most = Math.max(...value.ties.map((t) => t.loadKn));
    const row = room.demands.get('W1')!.rows[0]!;
    expect(row.kNPerM).toBeCloseTo(27.27, 2);
    expect(most / row.kNPerM).toBeGreaterThan(0.6);
    expect(most / row.kNPerM).toBeLessThan(0.62);
    expect(Math.max(...value.ties.map((t) => t.stripKn))).toBeCloseTo(15.47, 2);
  });

  it('reports the pull at corners: p (k + a) / 2 outside and the rest inside, and that no clamp was checked', () => {
    const { findings } = checked(room);
    expect(of(findings, 'check.clamps-not-checked').map((f) => f.severity)).toEqual(['attention']);
    const [first] = of(findings, 'check.in-plane');
    // 43.1 kPa x 175 mm = 7.5 kN/m, and 43.1 x 25 = 1.1.
    expect(first?.message).toContain('7.5 and 1.1 kN per m');
  });

  it('the order of pieces, ties and groups does not matter', () => {
    const turned = altered(room, {
      pieces: [...room.layout.pieces].reverse(),
      ties: [...room.layout.ties].reverse(),
      groups: [...room.layout.groups].reverse(),
    });
    const [a, b] = [checked(room), checked(turned)];
    expect(b.findings).toEqual(a.findings);
    expect([...b.value.ties].reverse()).toEqual(a.value.ties);
  });
});

describe('stability (T10)', () => {
  it('each column of ties that is taken away makes a mechanism, named at its wall', () => {
    const stations = [...new Set(room.layout.ties.filter((t) => t.wall === 'W1').map((t) => t.stationMm))];
    expect(stations.length).toBeGreaterThan(5);
    for (const s of stations) {
      const scene = altered(room, { ties: room.layout.ties.filter((t) => t.wall !== 'W1' || t.stationMm !== s) });
      const found = of(checked(scene).findings, 'check.mechanism');
      expect(found.length).toBeGreaterThan(0);
      expect(found.every((f) => f.subject === 'W1' && f.severity === 'failure' && f.rule === 'T10')).toBe(true);
    }
  });
  it('one tie missing in one row is found in that row alone', () => {
    const gone = room.layout.ties.find((t) => t.wall === 'W1' && t.row === 2)!;
    const found = of(
      checked(altered(room, { ties: room.layout.ties.filter((t) => t.id !== gone.id) })).findings,
      'check.mechanism',
    );
    expect(found.length).toBeGreaterThan(0);
    expect(found.every((f) => f.message.includes('row 2'))).toBe(true);
    for (const { message } of found) {
      expect(message).toMatch(/(turns|turn on their hinges): \d+ supports? (does|do) not hold/);
      expect(message).toContain('stands at stations ');
    }
  });
  it('a salient edge is held only where an outside corner stands', () => {
    const corner = room.layout.pieces.find((p) => p.kind === 'outside-corner')!;
    const scene = altered(room, { pieces: room.layout.pieces.filter((p) => p.id !== corner.id) });
    expect(codes(checked(scene).findings)).toEqual(['check.group', 'check.mechanism']);
  });
  it('panels that are named as one group are refused, and so are supports that are not there', () => {
    const [a, b] = room.layout.groups.filter((g) => g.face === 'W1-L' || g.face === 'W1-R');
    const joined: Group = {
      ...a!,
      toMm: b!.toMm,
      pieces: [...a!.pieces, ...b!.pieces],
      supports: [...a!.supports, ...b!.supports],
    };
    const groups = [joined, ...room.layout.groups.filter((g) => g !== a && g !== b)];
    const found = of(checked(altered(room, { groups })).findings, 'check.group');
    expect(found.map((f) => f.subject)).toContain(joined.id);
    const claimed = room.layout.groups.map((g) => (g === a ? { ...g, supports: [...g.supports, 'T9999'] } : g));
    expect(of(checked(altered(room, { groups: claimed })).findings, 'check.group').map((f) => f.subject)).toEqual([
      a!.id,
    ]);
  });
  it('a panel in no group is found', () => {
    const groups = room.layout.groups.slice(1);
    expect(codes(checked(altered(room, { groups })).findings)).toContain('check.group');
  });
  it('an overhang that the catalogue does not allow is found', () => {
    const scene = { ...room, catalogue: { ...room.catalogue, overhangMm: 40 } };
    expect(codes(checked(scene).findings)).toEqual(['check.overhang']);
  });
});

describe('ties (T10, T11)', () => {
  const first = () => room.layout.ties[0]!;
  it('a tie 3 mm off its holes', () => {
    const { findings } = checked(withTie(room, first().id, (t) => ({ ...t, stationMm: t.stationMm + 3 })));
    const found = of(findings, 'check.tie-hole');
    expect(found.map((f) => f.subject)).toEqual([first().id, first().id]);
    expect(found[0]).toMatchObject({ severity: 'failure', rule: 'T10' });
  });
  it('a tie that names another hole on one face', () => {
    const { findings } = checked(
      withTie(room, first().id, (t) => ({ ...t, holes: [t.holes[0], t.holes[1] === 0 ? 1 : 0] })),
    );
    expect(of(findings, 'check.tie-hole').map((f) => f.subject)).toEqual([first().id]);
  });
  it('pieces in the wrong order, and pieces that are not there', () => {
    const swapped = checked(withTie(room, first().id, (t) => ({ ...t, pieces: [t.pieces[1], t.pieces[0]] })));
    expect(of(swapped.findings, 'check.tie-hole')).toHaveLength(2);
    const lost = checked(withTie(room, first().id, (t) => ({ ...t, pieces: ['P0', t.pieces[1]] })));
    expect(of(lost.findings, 'check.tie-hole')).toHaveLength(1);
  });
  it('a tie of another length, and one that is no item', () => {
    for (const item of ['tie-long', 'rope']) {
      const { findings } = checked(withTie(room, first().id, (t) => ({ ...t, item })));
      expect(of(findings, 'check.tie-item').map((f) => f.subject)).toEqual([first().id]);
    }
  });
  it('no tie of the catalogue fits the wall: once for each wall', () => {
    const catalogue = { ...room.catalogue, ties: room.catalogue.ties.filter((t) => t.id === 'tie-long') };
    expect(of(checked({ ...room, catalogue }).findings, 'check.no-tie-item')).toHaveLength(4);
  });
  it('a tie down the stem, one in the corner, one above the pour line', () => {
    const stem = tee.plan.runs.flatMap((r) => r.stems.map((s) => ({ wall: r.wall, at: (s.fromMm + s.toMm) / 2 })))[0]!;
    const own = tee.layout.ties.find((t) => t.wall === stem.wall)!;
    const place = (change: (t: Tie) => Tie) => of(checked(withTie(tee, own.id, change)).findings, 'check.tie-place');
    expect(place((t) => ({ ...t, stationMm: stem.at }))[0]?.message).toContain('runs down wall');
    expect(place((t) => ({ ...t, stationMm: 60 }))[0]?.message).toContain('corner');
    expect(place((t) => ({ ...t, levelMm: 2360 }))[0]?.message).toContain('above or below');
    expect(place((t) => ({ ...t, outsideConcrete: true }))[0]?.message).toContain('marked as beyond');
  });
  it('two ties in one hole', () => {
    const { findings } = checked(altered(room, { ties: [...room.layout.ties, { ...first(), id: 'T9999' }] }));
    expect(of(findings, 'check.tie-place').map((f) => f.subject)).toEqual(['T9999']);
  });
  it('a tie at a level without a row carries no load that is known', () => {
    const top = room.layout.ties.find((t) => t.row === 4)!;
    const { value, findings } = checked(withTie(room, top.id, (t) => ({ ...t, levelMm: 1234 })));
    expect(of(findings, 'check.tie-row')[0]).toMatchObject({ subject: top.id, severity: 'failure' });
    expect(value.ties.find((t) => t.id === top.id)?.loadKn).toBe(0);
  });
  it('overloaded ties are named one by one, with their load', () => {
    const { value, findings } = checked(heavier(room, 1.3));
    const over = value.ties.filter((t) => t.loadKn > 20).map((t) => t.id);
    expect(over.length).toBeGreaterThan(0);
    expect(
      of(findings, 'check.tie-overload')
        .map((f) => f.subject)
        .sort(),
    ).toEqual([...over].sort());
    expect(of(findings, 'check.tie-overload')[0]).toMatchObject({ severity: 'failure', rule: 'T11' });
  });
  it('loads are proportional to the rows', () => {
    const [a, b] = [checked(room).value, checked(heavier(room, 2)).value];
    a.ties.forEach((t, i) => {
      expect(b.ties[i]!.loadKn).toBeCloseTo(2 * t.loadKn, 5);
    });
  });
});

describe('cover and units (T1, T2)', () => {
  const panel = () => room.layout.pieces.find((p) => p.kind === 'panel' && p.covers[0]!.face === 'W1-L')!;
  it('a piece that is missing leaves a gap of its size', () => {
    const { findings } = checked(altered(room, { pieces: room.layout.pieces.filter((p) => p.id !== panel().id) }));
    const [gap] = of(findings, 'check.cover-gap');
    const { fromMm, toMm } = panel().covers[0]!;
    expect(gap).toMatchObject({ severity: 'failure', rule: 'T1', subject: 'W1-L' });
    expect(gap!.message).toContain(`stations ${fromMm} to ${toMm}, levels 0 to 2350`);
  });
  it('a gap of 1 mm is covered, one of 2 is not', () => {
    const shorter = (mm: number) =>
      withPiece(room, panel().id, (p) => ({ ...p, covers: [{ ...p.covers[0]!, toMm: p.covers[0]!.toMm - mm }] }));
    expect(codes(checked(shorter(1)).findings)).not.toContain('check.cover-gap');
    expect(codes(checked(shorter(2)).findings)).toContain('check.cover-gap');
  });
  it('forms that end below the pour line leave a gap', () => {
    const low = room.layout.pieces.map((p) => ({
      ...p,
      topMm: 2300,
      covers: p.covers.map((c) => ({ ...c, topMm: 2300 })),
    }));
    const found = of(checked(altered(room, { pieces: low })).findings, 'check.cover-gap');
    expect(found).toHaveLength(8);
    expect(found[0]!.message).toContain('levels 2300 to 2350');
  });
  it('a wider piece overlaps its neighbour and is not its unit', () => {
    const scene = withPiece(room, panel().id, (p) => ({
      ...p,
      covers: [{ ...p.covers[0]!, toMm: p.covers[0]!.toMm + 30 }],
    }));
    expect(codes(checked(scene).findings)).toEqual(expect.arrayContaining(['check.cover-overlap', 'check.unit']));
  });
  it('a piece past the vertex stands where another wall is', () => {
    const corner = room.layout.pieces.find((p) => p.kind === 'inside-corner')!;
    const scene = withPiece(room, corner.id, (p) => ({
      ...p,
      covers: p.covers.map((c, i) => (i === 0 ? { ...c, fromMm: c.fromMm - 50, toMm: c.toMm - 50 } : c)),
    }));
    const found = of(checked(scene).findings, 'check.cover-overlap');
    expect(found.map((f) => f.message).join()).toContain('where another wall is');
  });
  it('an unknown item, another kind, a turn that is not allowed', () => {
    const units = (change: Partial<Piece>) =>
      of(checked(withPiece(room, panel().id, (p) => ({ ...p, ...change }))).findings, 'check.unit').map(
        (f) => f.subject,
      );
    expect(units({ item: 'panel-601x2400' })).toEqual([panel().id]);
    expect(units({ item: 'filler-50x2400' })).toEqual([panel().id]);
    expect(units({ item: null })).toEqual([panel().id]);
    expect(units({ turned: true })).toEqual([panel().id]);
  });
  it('timber of 10, and of 400', () => {
    for (const [from, to] of [
      [0, 10],
      [0, 400],
    ] as const) {
      const strip: Piece = {
        id: 'P9999',
        kind: 'timber',
        item: null,
        turned: false,
        course: 1,
        covers: [{ face: 'W1-L', fromMm: from, toMm: to, baseMm: 0, topMm: 2400 }],
        baseMm: 0,
        topMm: 2400,
      };
      const found = of(
        checked(altered(room, { pieces: [...room.layout.pieces, strip] })).findings,
        'check.timber-width',
      );
      expect(found.map((f) => f.subject)).toEqual(['P9999']);
    }
  });
});

describe('ratings (T11)', () => {
  it('worked layout 4, stem 400: 600 over a span of 700 rates 44.1 by strength and 37.8 by deflection', () => {
    const panel = workedExampleCatalogue.units.find((u) => u.id === 'panel-600x2400')!;
    expect(ratedForSpan(panel, 700)).toBeCloseTo(37.8, 1);
    expect(ratedForSpan({ ...panel, ratingIs: 'strength' }, 700)).toBeCloseTo(44.1, 1);
    expect(ratedForSpan(panel, 600)).toBe(60);
  });
  it('pressure above the rating is named for every unit that it meets', () => {
    const { value, findings } = checked(heavier(room, 1.5));
    const over = value.ratings.filter((r) => r.pressureKpa > r.ratedKpa).map((r) => r.piece);
    expect(over.length).toBeGreaterThan(20);
    expect(
      of(findings, 'check.rating')
        .map((f) => f.subject)
        .sort(),
    ).toEqual([...over].sort());
  });
  it('an upper course takes the pressure at its own foot', () => {
    const { value } = checked(sceneOf(planOf(roomStretches(6350, 4300, 200), 2950)));
    const levels = new Set(value.ratings.map((r) => r.pressureKpa.toFixed(2)));
    // 23.536 kN/m3 x 0.55 m above the joint at 2400.
    expect(levels).toContain('12.94');
  });
  it('a stiff joint of a filler that is too weak', () => {
    const units = room.catalogue.units.map((u) => (u.kind === 'filler' ? { ...u, momentKnmPerM: 0.3 } : u));
    const found = of(checked({ ...room, catalogue: { ...room.catalogue, units } }).findings, 'check.joint-moment');
    // 300 + 50 at each of the eight outer ends: 43.1 x 0.05 x 0.30 / 2 = 0.32 kNm/m.
    expect(found).toHaveLength(8);
    expect(found[0]!.message).toContain('0.32');
  });
  it('rows that are not tied lower the rating by the cube of the gap', () => {
    const demands = new Map(
      [...room.demands].map(([wall, d]): [string, RunDemand] => [
        wall,
        { ...d, rows: d.rows.filter((r) => r.row !== 2) },
      ]),
    );
    const ties = room.layout.ties.filter((t) => t.row !== 2);
    const { value } = check({ ...altered(room, { ties }), demands });
    const panel = room.layout.pieces.find((p) => p.item === 'panel-600x2400')!;
    expect(value.ratings.find((r) => r.piece === panel.id)?.ratedKpa).toBeCloseTo(60 / 8, 6);
  });
});

describe('what cannot be checked', () => {
  it('a wall without pressure or rows is a failure, and its ties carry nothing', () => {
    const pressure = new Map([...room.pressure].filter(([wall]) => wall !== 'W1'));
    const { value, findings } = check({ ...room, pressure });
    expect(of(findings, 'check.not-checked')).toMatchObject([{ subject: 'W1', severity: 'failure' }]);
    expect(value.ties.filter((t) => t.wall === 'W1').every((t) => t.loadKn === 0)).toBe(true);
  });
  it('an empty layout: gaps everywhere, no throw', () => {
    const empty = altered(room, { pieces: [], ties: [], groups: [] });
    expect(codes(checked(empty).findings)).toEqual(['check.cover-gap', 'check.mechanism']);
  });
  it('a layout of nonsense does not throw', () => {
    const scene = altered(room, {
      pieces: room.layout.pieces.map((p, i) => ({ ...p, covers: i % 3 === 0 ? [] : p.covers, course: i % 5 })),
      ties: room.layout.ties.map((t, i) => ({ ...t, wall: i % 2 === 0 ? 'W99' : t.wall, stationMm: i * 37 - 500 })),
      groups: room.layout.groups.map((g, i) => ({
        ...g,
        fromMm: g.fromMm + (i % 7) * 100,
        pieces: [...g.pieces, 'P0'],
      })),
    });
    expect(codes(checked(scene).findings).length).toBeGreaterThan(4);
  });
});

describe('turned units', () => {
  it('holes of a unit turned 90 degrees anticlockwise: its foot becomes its right edge', () => {
    const unit = workedExampleCatalogue.units.find((u) => u.id === 'panel-600x2400')!;
    expect(unit.holes[1]).toEqual({ xMm: 550, yMm: 300 });
    expect(holeAsSet(unit, true, 1)).toEqual({ xMm: 2100, yMm: 550 });
    expect(holeAsSet(unit, false, 1)).toEqual({ xMm: 550, yMm: 300 });
    expect(holeAsSet(unit, false, 99)).toBeNull();
  });
});
