/** What the schema cannot see: values of a catalogue that contradict each other, and gear that is missing. */

import { type Finding, finding } from '../ground/findings.js';
import { fixingIds, itemIds, listedItems } from '../ground/gear.js';
import { byNumber, compareText } from '../ground/order.js';
import { plainNumber } from '../ground/units.js';
import type { BraceItem, Catalogue, ClampItem, FormUnit, TieItem } from '../ground/vocabulary.js';

/** Lengths closer than this are equal. */
const EQUAL_MM = 1e-3;

const contradiction = (message: string, subject: string): Finding =>
  finding('catalogue.contradiction', message, { subject });

const duplicateIds = (catalogue: Catalogue): Finding[] => {
  const seen = new Set<string>(fixingIds(catalogue));
  const twice = new Set<string>();
  for (const { id } of listedItems(catalogue)) {
    if (seen.has(id)) twice.add(id);
    seen.add(id);
  }
  return [...twice].sort(compareText).map((id) => contradiction(`The id ${id} stands more than once.`, id));
};

const onGrid = (mm: number, gridMm: number): boolean =>
  Math.abs(mm / gridMm - Math.round(mm / gridMm)) * gridMm <= EQUAL_MM;

/** Lengths along the wall must lie on the grid, since layouts are made of whole steps of it. */
const offGrid = (unit: FormUnit, gridMm: number): Finding[] => {
  const lengths: [string, number][] = [
    ['width', unit.widthMm],
    ['face width', unit.faceWidthMm],
    ...(unit.legsMm ?? []).map((l): [string, number] => ['leg', l]),
    ...unit.holes.map((h): [string, number] => ['hole', h.xMm]),
  ];
  const bad = lengths.find(([, mm]) => !onGrid(mm, gridMm));
  if (!bad) return [];
  const message = `${unit.id}: its ${bad[0]} of ${plainNumber(bad[1])} mm is no multiple of the grid of ${plainNumber(gridMm)} mm.`;
  return [contradiction(message, unit.id)];
};

const unitFaults = (unit: FormUnit, gridMm: number): Finding[] => {
  const found: Finding[] = [];
  const say = (message: string) => found.push(contradiction(`${unit.id}: ${message}`, unit.id));
  const corner = unit.kind === 'inside-corner' || unit.kind === 'hinged-corner';
  const flat = unit.kind === 'panel' || unit.kind === 'filler' || unit.kind === 'bulkhead';
  if (corner && unit.legsMm === null) say(`a unit of kind ${unit.kind} needs its legs.`);
  if (!corner && unit.legsMm !== null) say(`a unit of kind ${unit.kind} has no legs.`);
  if (flat && unit.widthMm <= 0) say(`a unit of kind ${unit.kind} needs a width.`);
  if (!flat && unit.widthMm > 0) say('a corner has no width of its own; give its legs or its face width.');
  if (!flat && unit.holes.length > 0) say('tie holes in corners are not supported.');
  const range = unit.deflectionDeg;
  if (unit.kind === 'hinged-corner' && !range) say('a hinged corner needs the deflections that it takes.');
  if (range && unit.kind !== 'hinged-corner' && unit.kind !== 'outside-corner')
    say(`a unit of kind ${unit.kind} takes no range of deflections.`);
  if (range && range.least > range.most) say('its deflections run from more to less.');
  if (unit.stiffTo !== null && unit.kind !== 'filler') say('only a filler is bolted stiff to a panel.');
  if (unit.stiffTo !== null && unit.momentKnmPerM <= 0) say('a stiff joint needs the moment that it carries.');
  for (const h of unit.holes) {
    if (h.xMm > 0 && h.xMm < unit.widthMm && h.yMm > 0 && h.yMm < unit.heightMm) continue;
    if (flat) say(`the hole at ${plainNumber(h.xMm)}, ${plainNumber(h.yMm)} mm lies outside the unit.`);
  }
  const places = unit.holes.map((h) => `${plainNumber(h.xMm)}, ${plainNumber(h.yMm)}`);
  if (new Set(places).size < places.length) say('two holes lie at the same place.');
  return [...found, ...offGrid(unit, gridMm)];
};

const tieFaults = (tie: TieItem): Finding[] => {
  const found: Finding[] = [];
  if ('fromMm' in tie.wallMm && tie.wallMm.fromMm > tie.wallMm.toMm)
    found.push(contradiction(`${tie.id}: its wall thicknesses run from more to less.`, tie.id));
  if (tie.workingLoadKn > tie.ultimateKn)
    found.push(contradiction(`${tie.id}: its working load is more than its ultimate load.`, tie.id));
  return found;
};

const clampFaults = ({ id, closesMm }: ClampItem): Finding[] =>
  closesMm.least > closesMm.most ? [contradiction(`${id}: the widths that it closes run from more to less.`, id)] : [];

const braceFaults = (brace: BraceItem): Finding[] => {
  const { lengthMm, wallMm, pushKn, pullKn } = brace;
  const say = (message: string) => contradiction(`${brace.id}: ${message}`, brace.id);
  return [
    ...(lengthMm.fromMm > lengthMm.toMm ? [say('its lengths run from more to less.')] : []),
    ...(wallMm.fromMm > wallMm.toMm ? [say('its heights of forms run from more to less.')] : []),
    ...(pushKn === 0 && pullKn === 0 ? [say('it carries neither push nor pull.')] : []),
  ];
};

/** One fixing may serve several aligners, but is one thing. */
const unlikeFixings = ({ aligners = [] }: Catalogue): Finding[] => {
  const masses = new Map<string, number>();
  return aligners.flatMap(({ fixing }) => {
    if (!fixing) return [];
    const known = masses.get(fixing.id) ?? fixing.massKg;
    masses.set(fixing.id, known);
    return known === fixing.massKg ? [] : [contradiction(`${fixing.id}: stands with two masses.`, fixing.id)];
  });
};

const wholeFaults = (catalogue: Catalogue): Finding[] => {
  const found: Finding[] = [];
  const { timberLeastMm, timberMostMm, timberLimitMm } = catalogue;
  if (timberLeastMm > timberMostMm || timberMostMm > timberLimitMm) {
    const text = [timberLeastMm, timberMostMm, timberLimitMm].map((x) => plainNumber(x)).join(', ');
    found.push(contradiction(`The timber widths least, most and limit must not fall: ${text} mm.`, ''));
  }
  if (!catalogue.units.some((u) => u.kind === 'panel')) found.push(contradiction('The catalogue has no panel.', ''));
  const ids = itemIds(catalogue);
  for (const id of Object.keys(catalogue.stock).sort(compareText))
    if (!ids.has(id)) found.push(contradiction(`The stock names ${id}, which is no item of the catalogue.`, id));
  return found;
};

/** Contradictions: any one of them refuses the catalogue. */
export const contradictions = (catalogue: Catalogue): Finding[] => [
  ...wholeFaults(catalogue),
  ...duplicateIds(catalogue),
  ...catalogue.units.flatMap((u) => unitFaults(u, catalogue.gridMm)),
  ...catalogue.ties.flatMap(tieFaults),
  ...(catalogue.clamps ?? []).flatMap(clampFaults),
  ...(catalogue.braces ?? []).flatMap(braceFaults),
  ...unlikeFixings(catalogue),
];

const missing = (message: string, subject = ''): Finding => finding('catalogue.gear-missing', message, { subject });

const list = (values: readonly number[]): string => values.map((v) => plainNumber(v)).join(', ');

const distinct = (values: readonly number[]): number[] => [...new Set(values)].sort(byNumber((v) => v));

/** Widths and corners that some heights have and others lack. */
const heightGaps = (catalogue: Catalogue): Finding[] => {
  const found: Finding[] = [];
  const panels = catalogue.units.filter((u) => u.kind === 'panel');
  const heights = distinct(panels.map((u) => u.heightMm));
  const sizesOf: [string, (u: FormUnit) => number | null][] = [
    ['panels of width', (u) => (u.kind === 'panel' ? u.widthMm : null)],
    ['fillers of width', (u) => (u.kind === 'filler' ? u.widthMm : null)],
    ['inside corners with a leg of', (u) => (u.kind === 'inside-corner' ? (u.legsMm?.[0] ?? null) : null)],
    ['outside corners of face width', (u) => (u.kind === 'outside-corner' ? u.faceWidthMm : null)],
  ];
  for (const [words, sizeOf] of sizesOf) {
    const sizes = (units: readonly FormUnit[]) => distinct(units.map(sizeOf).filter((x): x is number => x !== null));
    const all = sizes(catalogue.units);
    if (all.length === 0)
      found.push(missing(`The catalogue has no ${words.split(' of ')[0]!.replace(' with a leg', '')}.`));
    for (const height of heights) {
      const own = sizes(catalogue.units.filter((u) => Math.abs(u.heightMm - height) < EQUAL_MM));
      const lacking = all.filter((x) => !own.includes(x));
      if (lacking.length > 0)
        found.push(missing(`The height ${plainNumber(height)} mm has no ${words} ${list(lacking)} mm.`));
    }
  }
  return found;
};

/** Holes of one unit that have no partner when the unit is mirrored, as on the other face of the wall. */
const unlikeHoles = (catalogue: Catalogue): Finding[] => {
  const found: Finding[] = [];
  const panels = catalogue.units.filter((u) => u.kind === 'panel');
  for (const u of panels) {
    if (u.holes.length === 0) {
      found.push(missing(`${u.id} has no tie hole.`, u.id));
      continue;
    }
    const mirrored = (x: number, y: number) =>
      u.holes.some((h) => Math.abs(u.widthMm - h.xMm - x) < EQUAL_MM && Math.abs(h.yMm - y) < EQUAL_MM);
    if (!u.holes.every((h) => mirrored(h.xMm, h.yMm))) {
      const message = `${u.id}: its tie holes are not the same seen from either face.`;
      found.push(finding('catalogue.holes-unlike', message, { subject: u.id }));
    }
  }
  for (const height of distinct(panels.map((u) => u.heightMm))) {
    const rows = panels
      .filter((u) => u.heightMm === height && u.holes.length > 0)
      .map((u) => list(distinct(u.holes.map((h) => h.yMm))));
    if (new Set(rows).size > 1) {
      const message = `Panels ${plainNumber(height)} mm high have their tie rows at different levels; only the common ones are used.`;
      found.push(finding('catalogue.holes-unlike', message));
    }
  }
  return found;
};

const weakTies = (catalogue: Catalogue): Finding[] =>
  catalogue.ties
    .filter((t) => t.workingLoadKn > t.ultimateKn / 2 + 1e-9)
    .map((t) => {
      const factor = plainNumber(t.ultimateKn / t.workingLoadKn, 2);
      const message = `${t.id}: working load ${plainNumber(t.workingLoadKn)} kN of ultimate ${plainNumber(t.ultimateKn)} kN is a factor of ${factor}, below 2.`;
      return finding('catalogue.tie-factor', message, { subject: t.id });
    });

/** What a person should know of a catalogue that can be used. */
export const remarks = (catalogue: Catalogue): Finding[] => [
  ...weakTies(catalogue),
  ...(catalogue.ties.length === 0 ? [missing('The catalogue has no tie.')] : []),
  ...heightGaps(catalogue),
  ...unlikeHoles(catalogue),
];
