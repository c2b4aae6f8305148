/** From the value of a catalogue file (parsed JSON or YAML) to the catalogue that the stages take. */

import { type Finding, finding, type Refusable } from '../ground/findings.js';
import { byNumber, byText, inOrder } from '../ground/order.js';
import { MM_PER } from '../ground/units.js';
import type { BraceItem, Catalogue, ClampItem, FormUnit, TieItem } from '../ground/vocabulary.js';
import { contradictions, remarks } from './crossChecks.js';
import { inMillimetres, pathText } from './lengths.js';
import { type CatalogueFile, catalogueSchema } from './schema.js';

/** Layouts of inch gear lie on sixteenths. */
export const INCH_GRID_MM = MM_PER.in / 16;

/** More faults than this are counted, not listed. */
const MOST_LISTED = 50;

const refuse = (faults: readonly Finding[]): Refusable<Catalogue> => {
  const [first] = faults;
  const count = faults.length === 1 ? 'a fault' : `${faults.length} faults`;
  const message = `The catalogue has ${count} and was not used: ${first?.message ?? ''}`;
  return { ok: false, findings: [...faults.slice(0, MOST_LISTED), finding('catalogue.refused', message)] };
};

type Issue = { readonly code: string; readonly path: readonly PropertyKey[]; readonly message: string };

/** One finding for each unknown key, with the whole path of each. */
const issueFindings = (issue: Issue, written: ReadonlyMap<string, string>): Finding[] => {
  const say = (path: string, text: string) => {
    const shown = written.get(path) ?? path;
    const where = shown === '' ? 'the file' : shown;
    return finding('catalogue.invalid', `${where}: ${text}.`, { subject: shown });
  };
  if (issue.code === 'unrecognized_keys' && 'keys' in issue) {
    return (issue.keys as string[]).map((key) => say(pathText([...issue.path, key]), 'this key is not known'));
  }
  return [say(pathText(issue.path), issue.message.charAt(0).toLowerCase() + issue.message.slice(1))];
};

const toUnit = (u: CatalogueFile['units'][number]): FormUnit => {
  const { strips: _notUsed, deflectionDeg, ...unit } = u;
  return deflectionDeg ? { ...unit, deflectionDeg } : unit;
};

const toTie = (t: CatalogueFile['ties'][number]): TieItem => ({
  ...t,
  wallMm: Array.isArray(t.wallMm) ? t.wallMm : { fromMm: t.wallMm.from, toMm: t.wallMm.to },
});

const toClamp = ({ closesMm, ...clamp }: CatalogueFile['clamps'][number]): ClampItem => ({
  ...clamp,
  closesMm: { least: closesMm.from, most: closesMm.to },
});

const byWidths = inOrder<ClampItem>(
  byNumber((c) => c.closesMm.most),
  byNumber((c) => c.closesMm.least),
  byText((c) => c.id),
);

const toBrace = ({ lengthMm, wallMm, ...b }: CatalogueFile['braces'][number]): BraceItem => ({
  ...b,
  lengthMm: { fromMm: lengthMm.from, toMm: lengthMm.to },
  wallMm: { fromMm: wallMm.from, toMm: wallMm.to },
});

/** Lists that hold something. */
const siteLists = (
  file: CatalogueFile,
): Pick<Catalogue, 'aligners' | 'braces' | 'brackets' | 'planks' | 'rails' | 'liftingBrackets'> => {
  const lists = {
    aligners: file.aligners,
    braces: file.braces.map(toBrace),
    brackets: file.brackets,
    planks: file.planks,
    rails: file.rails,
    liftingBrackets: file.liftingBrackets,
  };
  return Object.fromEntries(Object.entries(lists).filter(([, list]) => list.length > 0));
};

const toCatalogue = (file: CatalogueFile): Catalogue => ({
  name: file.name,
  lengthUnit: file.lengthUnit,
  gridMm: file.lengthUnit === 'in' ? INCH_GRID_MM : 1,
  pitchMm: file.pitchMm,
  frameDepthMm: file.frameDepthMm,
  overhangMm: file.overhangMm,
  timberLeastMm: file.timberLeastMm,
  timberMostMm: file.timberMostMm,
  timberLimitMm: file.timberLimitMm,
  timber: file.timber,
  units: file.units.map(toUnit),
  ties: file.ties.map(toTie),
  clamps: file.clamps.map(toClamp).sort(byWidths),
  ...siteLists(file),
  stock: file.stock,
});

const notUsed = (file: CatalogueFile): Finding[] => {
  const key = 'units[].strips';
  const isGiven = file.units.some((u) => u.strips);
  return isGiven ? [finding('catalogue.not-used', `${key}: read, but not used yet.`, { subject: key })] : [];
};

/**
 * Validates the value of a catalogue file and turns it into a catalogue. Lengths in inches (`…In`) become mm; defaults are filled in.
 *
 * Refused, with one finding for each fault: unknown keys, values that are missing or out of range, and contradictions. What can be used but
 * should be known (a tie's safety factor below 2, gear that is missing in one height) comes as findings beside the catalogue.
 */
export const loadCatalogue = (value: unknown): Refusable<Catalogue> => {
  const { value: inMm, twice, written } = inMillimetres(value);
  if (twice.length > 0) {
    return refuse(
      twice.map((path) => finding('catalogue.invalid', `${path}: given in both units.`, { subject: path })),
    );
  }
  const parsed = catalogueSchema.safeParse(inMm);
  if (!parsed.success) return refuse(parsed.error.issues.flatMap((issue) => issueFindings(issue, written)));
  const catalogue = toCatalogue(parsed.data);
  const faults = contradictions(catalogue);
  if (faults.length > 0) return refuse(faults);
  return { ok: true, value: catalogue, findings: [...remarks(catalogue), ...notUsed(parsed.data)] };
};
