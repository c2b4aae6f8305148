/** What layer names say, each name with where it is from. */

import { describe, expect, it } from 'vitest';
import { centreLinePaths } from '../../src/trace/candidates.js';
import { trace } from '../../src/trace/index.js';
import { type LayerKind, readName } from '../../src/trace/layers.js';
import { drawingOf, knownPlan, OPTIONS, pathOf } from './plans.js';

// SEEN: read in public drawings or public code; NCS, ISO, BS: formed after the standard's fields; WORDS: common words, no source.
const NAMES: readonly (readonly [string, LayerKind, string])[] = [
  ['S-FNDN', 'foundation', 'SEEN'],
  ['S-FNDN-FTNG', 'footing', 'SEEN'],
  ['S-FNDN-RBAR-TOP1', 'other', 'SEEN'],
  ['S-FNDN-PRIMARY', 'foundation', 'SEEN'],
  ['S-FNDN-基础', 'foundation', 'SEEN'],
  ['S-CONC-混凝土', 'concrete', 'SEEN'],
  ['S-COLS-PIER', 'other', 'SEEN'],
  ['S-WALL', 'structural-wall', 'SEEN'],
  ['S-WALL-BELW', 'structural-wall', 'SEEN'],
  ['A-WALL-EXTR', 'wall', 'SEEN'],
  ['A-WALL-FINI', 'other', 'SEEN'],
  ['A-WALL-INSU', 'other', 'SEEN'],
  ['A-WALL-PATT', 'other', 'SEEN'],
  ['A-WALL-JAMB', 'wall', 'SEEN'],
  ['A-WALL-HEAD', 'other', 'SEEN'],
  ['A-WALL-GLAZ', 'other', 'SEEN'],
  ['A-WALL-DEMO', 'not-new', 'SEEN'],
  ['A-WALL-EXIST', 'not-new', 'SEEN'],
  ['A-WALL-NEW', 'wall', 'SEEN'],
  ['A-WALL-PART', 'not-cast', 'SEEN'],
  ['A-WALL-1', 'wall', 'SEEN'],
  ['AI-WALL-FULL-DIMS-N', 'other', 'SEEN'],
  ['A210G701_WALL_L1', 'wall', 'SEEN'],
  ['A-G23-M2_Stair', 'other', 'SEEN'],
  ['A-WALL-FULL', 'wall', 'NCS'],
  ['A-WALL-FULL-N', 'wall', 'NCS'],
  ['A-WALL-FULL-E', 'not-new', 'NCS'],
  ['S-FNDN-WALL-D', 'not-new', 'NCS'],
  ['S-FNDN-WALL-X', 'not-new', 'NCS'],
  ['A-WALL-IDEN', 'other', 'NCS'],
  ['A-WALL-DIMS', 'other', 'NCS'],
  ['A-WALL-CNTR', 'other', 'NCS'],
  ['S-GRBM', 'footing', 'NCS'],
  ['A-210---E-', 'silent', 'ISO'],
  ['A-210---T-', 'other', 'ISO'],
  ['A-WALL--E-N', 'wall', 'ISO'],
  ['A-WALL--E-R', 'not-new', 'ISO'],
  ['A-WALL__H_', 'other', 'ISO'],
  ['S-G20-M-Wall', 'structural-wall', 'BS'],
  ['A-G251-M-Walls', 'wall', 'BS'],
  ['A-G251-H-Walls', 'other', 'BS'],
  ['S-Ss_20_05-M-Foundations', 'foundation', 'BS'],
  ['FDN WALL', 'foundation-wall', 'WORDS'],
  ['CONC WALL', 'structural-wall', 'WORDS'],
  ['CONCWALL', 'structural-wall', 'WORDS'],
  ['RC-WALL', 'structural-wall', 'WORDS'],
  ['RCWall', 'structural-wall', 'WORDS'],
  ['BTN', 'concrete', 'WORDS'],
  ['Beton', 'concrete', 'WORDS'],
  ['M_Waende', 'wall', 'WORDS'],
  ['KG-Wände', 'foundation-wall', 'WORDS'],
  ['KG-Wa\u0308nde', 'foundation-wall', 'WORDS, with the umlaut as two characters'],
  ['Wände EG', 'wall', 'WORDS'],
  ['Kelleraussenwand', 'foundation-wall', 'WORDS'],
  ['Stahlbetonwände', 'structural-wall', 'WORDS'],
  ['Tragende Wände', 'structural-wall', 'WORDS'],
  ['Trockenbauwand', 'not-cast', 'WORDS'],
  ['Einzelfundamente', 'footing', 'WORDS'],
  ['mur_fondation', 'foundation-wall', 'WORDS'],
  ['MURS BETON', 'structural-wall', 'WORDS'],
  ['Murs sous-sol', 'foundation-wall', 'WORDS'],
  ['Mur de soutènement', 'foundation-wall', 'WORDS'],
  ['Cloisons', 'not-cast', 'WORDS'],
  ['Muro de contención', 'foundation-wall', 'WORDS'],
  ['Ściany piwnic', 'foundation-wall', 'WORDS'],
  ['Källarvägg', 'foundation-wall', 'WORDS'],
  ['Grunnmur', 'foundation-wall', 'WORDS'],
  ['Betonwanden', 'structural-wall', 'WORDS'],
  ['стены подвала', 'foundation-wall', 'WORDS'],
  ['Перегородки', 'not-cast', 'WORDS'],
  ['挡土墙', 'foundation-wall', 'WORDS'],
  ['幕墙', 'other', 'WORDS'],
  ['WALL (E)', 'not-new', 'WORDS'],
  ['Bestand Wände', 'not-new', 'WORDS'],
  ['Masonry Wall', 'not-cast', 'WORDS'],
  ['FIREWALL', 'other', 'WORDS'],
  ['W-200', 'silent', 'WORDS'],
  ['Overall', 'silent', 'WORDS'],
];

const plan = knownPlan({ widthMm: 9000, depthMm: 6000, outerMm: 200, partition: null, alone: null });
const on = (layer: string, dx = 0) =>
  plan.rings.map((r, i) =>
    pathOf(
      r.map((v) => ({ x: v.x + dx, y: v.y })),
      `${layer}${i}`,
      { layer },
    ),
  );

describe('layer names and where they are from', () => {
  it.each(NAMES)('%s is %s (%s)', (name, kind) => {
    expect(readName(name).kind).toBe(kind);
    expect(readName(`plan$0$${name}`).kind).toBe(kind);
  });
});

describe('layers that are not taken', () => {
  it.each([
    ['S-FNDN-WALL-E', 'trace.not-new', /standing already/],
    ['S-FNDN-WALL-D', 'trace.not-new', /to come down/],
    ['A-WALL-CMU', 'trace.not-cast', /not cast/],
  ] as const)('%s is left out and said to be', (layer, code, words) => {
    const { value, findings } = trace(drawingOf([...on('S-FNDN-WALL'), ...on(layer, 12000)]), OPTIONS);
    expect(value.stretches.length).toBe(4);
    const found = findings.filter((f) => f.code === code);
    expect(found.map((f) => f.subject)).toEqual([layer]);
    expect(found[0]!.message).toMatch(words);
  });

  it('are taken when the job file names them', () => {
    const { value } = trace(drawingOf(on('S-FNDN-WALL-E')), { ...OPTIONS, wallLayers: ['S-FNDN-WALL-E'] });
    expect(value.stretches.length).toBe(4);
  });

  it('layers of centre lines hold no faces', () => {
    const drawing = drawingOf([...on('S-FNDN-WALL'), ...on('AXES', 12000)]);
    const options = { ...OPTIONS, wallLayers: ['*'], centreLineLayers: ['ax*'] };
    expect(trace(drawing, options).value.stretches.length).toBe(4);
    expect(centreLinePaths(drawing.paths, options).map((p) => p.layer)).toEqual(['AXES', 'AXES']);
  });
});
