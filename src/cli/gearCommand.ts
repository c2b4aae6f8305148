/** `gear`: prints a catalogue as the program understands it, and checks it. */

import { demoCatalogue, demoInchCatalogue, loadCatalogue } from '../catalogue/index.js';
import type { Finding } from '../ground/findings.js';
import { byNumber, byText, inOrder } from '../ground/order.js';
import { plainNumber } from '../ground/units.js';
import type { Catalogue, FormUnit, TieItem } from '../ground/vocabulary.js';
import { readSettings } from '../jobs/files.js';
import { EXIT, type ExitCode, Refusal } from '../jobs/refusal.js';
import { findingLines } from '../jobs/words.js';

/** Columns set flush, two blanks apart; numbers to the right. */
const table = (rows: readonly (readonly string[])[]): string[] => {
  const widths = (rows[0] ?? []).map((_, i) => Math.max(...rows.map((row) => (row[i] ?? '').length)));
  const isNumber = (text: string) => /^-?[\d.]+$/.test(text);
  return rows.map((row) =>
    row
      .map((cell, i) => (isNumber(cell) ? cell.padStart(widths[i]!) : cell.padEnd(widths[i]!)))
      .join('  ')
      .trimEnd(),
  );
};

const mm = (value: number): string => plainNumber(value, 4);

const unitRow = (unit: FormUnit): string[] => [
  unit.id,
  unit.kind,
  unit.legsMm ? unit.legsMm.map(mm).join(' x ') : mm(unit.widthMm),
  mm(unit.heightMm),
  String(unit.holes.length),
  mm(unit.ratedKpa),
  mm(unit.massKg),
];

const tieRow = (tie: TieItem): string[] => [
  tie.id,
  tie.kind,
  'fromMm' in tie.wallMm ? `${mm(tie.wallMm.fromMm)} to ${mm(tie.wallMm.toMm)}` : tie.wallMm.map(mm).join(', '),
  mm(tie.workingLoadKn),
  mm(tie.ultimateKn),
  mm(tie.diameterMm),
];

const inUnitsOrder = inOrder<FormUnit>(
  byText((u) => u.kind),
  byNumber((u) => -u.heightMm),
  byNumber((u) => -u.widthMm),
  byText((u) => u.id),
);

const catalogueText = (catalogue: Catalogue, findings: readonly Finding[]): string => {
  const stock = Object.keys(catalogue.stock).length;
  const lines = [
    `${catalogue.name}: gear in ${catalogue.lengthUnit === 'in' ? 'inches' : 'mm'}, all lengths below in mm`,
    `flange pitch ${mm(catalogue.pitchMm)}, frame ${mm(catalogue.frameDepthMm)} deep, overhang to ${mm(catalogue.overhangMm)}, timber ${mm(catalogue.timberLeastMm)} to ${mm(catalogue.timberLimitMm)} (backing beyond ${mm(catalogue.timberMostMm)})`,
    stock === 0 ? 'stock: not limited' : `stock: ${stock} items are limited`,
    '',
    ...table([
      ['unit', 'kind', 'width or legs', 'height', 'holes', 'kPa', 'kg'],
      ...[...catalogue.units].sort(inUnitsOrder).map(unitRow),
    ]),
    '',
    ...table([['tie', 'kind', 'walls', 'working kN', 'ultimate kN', 'diameter'], ...catalogue.ties.map(tieRow)]),
    '',
    findings.length === 0 ? 'nothing found' : 'found:',
    ...findingLines(findings, ['failure', 'attention', 'note']).map((line) => `  ${line}`),
  ];
  return `${lines.join('\n')}\n`;
};

/** Prints the catalogue in `file`, or our own yard by name. Exit code 1 when a finding is a failure. */
export const gearCommand = async (file: string | undefined): Promise<ExitCode> => {
  const ours = file === undefined || file === 'demo' ? demoCatalogue : file === 'demo-inch' ? demoInchCatalogue : null;
  if (ours !== null) {
    process.stdout.write(catalogueText(ours, []));
    return EXIT.laidOut;
  }
  const loaded = loadCatalogue(await readSettings(file!));
  if (!loaded.ok) throw new Refusal(loaded.findings.map((f) => `${file}: ${f.message}`).join('\n'));
  process.stdout.write(catalogueText(loaded.value, loaded.findings));
  return loaded.findings.some((f) => f.severity === 'failure') ? EXIT.failures : EXIT.laidOut;
};
