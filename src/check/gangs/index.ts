/** Lifts of ganged panels: chosen, given what they need, judged, and what is told of them as a whole. */

import { type Finding, finding } from '../../ground/findings.js';
import { plainNumber } from '../../ground/units.js';
import type { Gang, Piece } from '../../ground/vocabulary.js';
import type { FormLine } from '../bracing/formLines.js';
import type { Context } from '../context.js';
import { chooseGangs, type GangSpan } from './choose.js';
import { judgeGang, placeOfGang } from './judge.js';
import { gangsOf } from './layOut.js';
import type { GangOptions } from './options.js';
import type { Hanging } from './weights.js';

export type { GangSpan } from './choose.js';
export { cutLines } from './cutLines.js';
export { gangTubes } from './layOut.js';

const kg = (n: number): string => plainNumber(n, 0);
const kn = (n: number): string => plainNumber(n, 2);

/** Units that no gang takes: of a wall's long faces, with an item of the catalogue. */
const handSet = (ctx: Context, gangs: readonly Gang[]): Piece[] => {
  const lifted = new Set(gangs.flatMap((g) => g.pieces));
  return ctx.layout.pieces.filter((p) => p.item !== null && !lifted.has(p.id));
};

/** Faces on which nothing is ganged, though it stands in their way alone that it is too heavy, too long or too short. */
const noneFindings = (ctx: Context, lines: readonly FormLine[], gangs: readonly Gang[], o: GangOptions): Finding[] => {
  const bare = lines.filter((l) => !gangs.some((g) => g.face === l.face.id && g.run === l.run.id));
  if (bare.length === 0) return [];
  const names = [...new Set(bare.map((l) => l.face.id))];
  const listed = names.length > 8 ? `${names.slice(0, 8).join(', ')} and ${names.length - 8} more` : names.join(', ');
  const why = `three units or more side by side between joints of both faces, on one level, without corner units, strips and timber, within ${plainNumber(o.longestMm, 0)} mm and ${kg(o.craneKg)} kg, with two joints symmetrical about the centre of gravity`;
  const [first] = bare;
  const words = `No gang can be lifted on ${names.length === 1 ? 'face' : 'faces'} ${listed}: there are not ${why}. What stands there is set unit by unit.`;
  const at = placeOfGang(ctx, { face: first!.face.id, fromMm: first!.fromMm, toMm: first!.toMm, topMm: first!.topMm });
  return [finding('check.gang-none', words, { at, subject: names[0]! })];
};

const bracketFindings = (ctx: Context, gangs: readonly Gang[]): Finding[] => {
  if (gangs.length === 0 || gangs.every((g) => g.bracket !== null)) return [];
  const most = Math.max(...gangs.flatMap((g) => g.legs.map((l) => l.forceKn)));
  const { liftingBrackets = [] } = ctx.catalogue;
  const lacking = liftingBrackets.length === 0 ? 'lists no lifting bracket' : 'has no lifting bracket that strong';
  const words = `The catalogue ${lacking}: what takes hold of the gangs is not laid out. It has to carry ${kn(most)} kN along each leg.`;
  return [finding('check.gang-bracket', words, { subject: 'catalogue' })];
};

const liftFindings = (ctx: Context, gangs: readonly Gang[], o: GangOptions): Finding[] => {
  const [first] = gangs;
  if (!first) return [];
  const heaviest = gangs.reduce((a, b) => (b.massKg > a.massKg ? b : a));
  const area = Math.max(...gangs.map((g) => ((g.toMm - g.fromMm) * (g.topMm - g.baseMm)) / 1e6));
  const wind =
    o.windMPerS === null
      ? 'the wind limit of the crane and of the site counts, none is given here'
      : `not in gusts above ${plainNumber(o.windMPerS, 1)} m/s`;
  const words = `${gangs.length === 1 ? 'One gang is' : `${gangs.length} gangs are`} lifted on two legs, at most ${plainNumber(o.legAngleDeg, 1)} degrees to each other; the heaviest, ${heaviest.id}, weighs ${kg(heaviest.massKg)} kg. Forces are static, without a factor for jerks and without what sticks to the concrete. The largest catches the wind with ${plainNumber(area, 1)} m2: ${wind}, never over people, on tag lines, unhooked only when braced. Clamps are not rated for units that slide along their joints: the aligners, fixed to every unit, carry that. The lift is planned and checked by whoever is appointed for lifting.`;
  const set = handSet(ctx, gangs);
  const single = `${set.length} units stay outside gangs and are set one by one.`;
  return [
    finding('check.gang-lift', words, { subject: heaviest.id }),
    finding('check.gang-rest', single, { subject: set[0]?.id ?? '' }),
  ];
};

/** Everything that is told of the gangs. `lines`: the whole lines, not cut where gangs end. */
export const gangFindings = (
  ctx: Context,
  lines: readonly FormLine[],
  gangs: readonly Gang[],
  hanging: Hanging,
  options: GangOptions,
): Finding[] => [
  ...gangs.flatMap((g) => judgeGang(ctx, g, hanging, options)),
  ...noneFindings(ctx, lines, gangs, options),
  ...bracketFindings(ctx, gangs),
  ...liftFindings(ctx, gangs, options),
];

/** Choices that are tried before one that weighs too much is handed over, with its failure. */
const TRIES = 4;

/**
 * Chooses again with less while some gang weighs too much with the aligners that `hangingOn` gives its stretch: they are chosen to the gangs' lengths.
 */
export const layOutGangs = <T extends Hanging>(
  ctx: Context,
  lines: readonly FormLine[],
  before: Hanging,
  options: GangOptions,
  hangingOn: (spans: readonly GangSpan[]) => T,
): { readonly gangs: readonly Gang[]; readonly laid: T } => {
  let craneKg = options.craneKg;
  for (let turn = 1; ; turn++) {
    const spans = lines.flatMap((line) => chooseGangs(ctx, line, before, { ...options, craneKg }));
    const laid = hangingOn(spans);
    const gangs = gangsOf(ctx, spans, laid, options);
    const most = Math.max(0, ...gangs.map((g) => g.massKg));
    if (most <= options.craneKg || turn === TRIES) return { gangs, laid };
    craneKg = Math.min(craneKg - 1, (craneKg * options.craneKg) / most);
  }
};
