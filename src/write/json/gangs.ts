/** Gangs in layout.json: only where the job asks for them. */

import { z } from 'zod';
import { roundTo } from '../../ground/units.js';
import type { CheckedLayout, Gang } from '../../ground/vocabulary.js';

const leg = z.object({
  stationMm: z.number().describe('joint on whose upper end its lifting bracket sits'),
  lengthMm: z.number(),
  leanDeg: z.number().describe('from plumb'),
  forceKn: z.number().describe('along the leg, static'),
});

const gang = z.object({
  id: z.string(),
  face: z.string(),
  run: z.string(),
  fromMm: z.number(),
  toMm: z.number(),
  baseMm: z.number(),
  topMm: z.number(),
  pieces: z.array(z.string()).describe('by station, then level'),
  aligners: z.array(z.string()).describe('lifted with it'),
  ties: z.int().describe('through its units'),
  massKg: z.number().describe('with clamps, aligners, platforms and lifting brackets'),
  unitsKg: z.number(),
  clampsKg: z.number(),
  alignersKg: z.number(),
  platformsKg: z.number(),
  centreMm: z
    .tuple([z.number(), z.number(), z.number()])
    .describe('centre of gravity: station, level, distance behind the face of the concrete'),
  bracket: z.string().nullable().describe('lifting bracket; null: the catalogue has none that carries it'),
  legs: z.tuple([leg, leg]),
  hookMm: z.number().describe('height of the hook over the lift points'),
});

export const gangsSchema = z
  .array(gang)
  .describe('panels that are joined on the ground and lifted as one; pieces in none are set one by one');

type GangEntry = z.infer<typeof gang>;

const mm = (n: number): number => roundTo(n, 4);
const three = (n: number): number => roundTo(n, 3);

const entryOf = (g: Gang): GangEntry => {
  const legOf = ({ stationMm, lengthMm, leanDeg, forceKn }: Gang['legs'][0]) => ({
    stationMm: mm(stationMm),
    lengthMm: mm(lengthMm),
    leanDeg: mm(leanDeg),
    forceKn: three(forceKn),
  });
  return {
    id: g.id,
    face: g.face,
    run: g.run,
    fromMm: mm(g.fromMm),
    toMm: mm(g.toMm),
    baseMm: mm(g.baseMm),
    topMm: mm(g.topMm),
    pieces: [...g.pieces],
    aligners: [...g.aligners],
    ties: g.ties,
    massKg: three(g.massKg),
    unitsKg: three(g.unitsKg),
    clampsKg: three(g.clampsKg),
    alignersKg: three(g.alignersKg),
    platformsKg: three(g.platformsKg),
    centreMm: [mm(g.centreMm[0]), mm(g.centreMm[1]), mm(g.centreMm[2])],
    bracket: g.bracket,
    legs: [legOf(g.legs[0]), legOf(g.legs[1])],
    hookMm: mm(g.hookMm),
  };
};

export const gangsSection = ({ gangs }: CheckedLayout): { readonly gangs?: GangEntry[] } =>
  gangs ? { gangs: gangs.map(entryOf) } : {};
