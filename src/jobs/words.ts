/** Results in words, for stdout. */

import type { Finding, Severity } from '../ground/findings.js';
import { plainNumber } from '../ground/units.js';
import type { CostTier } from '../ground/vocabulary.js';
import type { Summary } from '../pipeline/index.js';
import type { JobDone } from './messages.js';

export const countOf = (findings: readonly Finding[], severity: Severity): number =>
  findings.filter((f) => f.severity === severity).length;

export const plural = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`;

/** Timber and its places, whether less was proven impossible, and what stands in for units where none fit. */
const timberLine = (summary: Summary): string => {
  const tierOf = (name: CostTier['name']) => summary.tiers.find((tier) => tier.name === name);
  const [places, area] = [tierOf('places'), tierOf('timberAreaM2')];
  const totalM2 = summary.totals.timberAreaM2;
  if (places === undefined || area === undefined) return `timber: ${plainNumber(totalM2, 3)} m2`;
  const bound = (tier: CostTier) => (tier.bound === null ? 'unknown' : plainNumber(tier.bound, 3));
  const proof =
    places.optimal && area.optimal && !summary.cutShort
      ? 'proven least'
      : summary.cutShort
        ? 'not proven least: a search was cut short'
        : places.bound === null && area.bound === null
          ? 'not proven least'
          : `the least possible is not below ${bound(places)} places, ${bound(area)} m2`;
  const beyond = totalM2 - area.value;
  const failed = beyond > 0.0005 ? `, and ${plainNumber(beyond, 3)} m2 where no units fit` : '';
  return `timber: ${plural(places.value, 'place')}, ${plainNumber(area.value, 3)} m2 (${proof})${failed}`;
};

const figures = (summary: Summary): string[] => {
  const { totals } = summary;
  const lines = [
    `${plural(summary.walls, 'wall')}, ${plainNumber(totals.wallLengthM, 2)} m, ${summary.isLevel ? 'from level' : 'at several levels, from'} ${plainNumber(summary.footingMm, 0)} to ${plainNumber(summary.topMm, 0)} mm; drawing in ${summary.lengthUnit}`,
    `${plural(summary.pieces, 'piece')} and ${plural(totals.tieCount, 'tie')} of the catalogue '${summary.catalogue}', ${plainNumber(totals.massKg, 0)} kg, on ${plainNumber(totals.contactAreaM2, 1)} m2 of concrete face`,
    timberLine(summary),
  ];
  for (const { method, rateMPerH, designKpa } of summary.pressure) {
    const [most, ...less] = designKpa.map((kpa) => plainNumber(kpa, 1));
    const least = less.length === 0 ? '' : `, ${less.length === 1 ? '' : 'down to '}${less.at(-1)} in lower pours`;
    lines.push(`concrete pressure ${most} kPa${least} (${method}, ${plainNumber(rateMPerH, 2)} m/h)`);
  }
  const tie = summary.worstTie;
  if (tie !== null) {
    // Rounded up: a tie at 1.004 of its load must never read as 1.00.
    const use = Math.ceil((tie.loadKn / tie.workingLoadKn) * 100 - 1e-9);
    lines.push(
      `most loaded tie ${tie.id}: ${plainNumber(tie.loadKn, 1)} of ${plainNumber(tie.workingLoadKn, 1)} kN (${use} %)`,
    );
  }
  return lines;
};

/** One line for each kind of finding: its first sentence, and how many more there are. */
export const findingLines = (findings: readonly Finding[], severities: readonly Severity[]): string[] => {
  const lines: string[] = [];
  const shown = findings.filter((f) => severities.includes(f.severity));
  for (const code of new Set(shown.map((f) => f.code))) {
    const same = shown.filter((f) => f.code === code);
    const first = same[0]!;
    const assumed = first.assumed === null ? '' : ` Assumed: ${first.assumed}.`;
    const more = same.length > 1 ? ` (and ${same.length - 1} more)` : '';
    lines.push(`${first.severity.padEnd(9)} ${code}: ${first.message}${assumed}${more}`);
  }
  return lines;
};

const headline = (drawing: string, done: JobDone): string => {
  const { exitCode, findings } = done;
  if (exitCode === 2) return `${drawing}: refused. ${findings.at(-1)?.message ?? ''}`;
  if (exitCode === 1) return `${drawing}: laid out, with ${plural(countOf(findings, 'failure'), 'failure')}`;
  return `${drawing}: laid out, no failures`;
};

/** The whole result of one drawing, for a person. */
export const resultText = (
  drawing: string,
  done: JobDone,
  files: readonly string[],
  older: readonly string[],
): string => {
  const lines = [headline(drawing, done)];
  if (done.summary !== null) {
    if (done.summary.walls > 0) lines.push(...figures(done.summary).map((line) => `  ${line}`));
    lines.push(
      `  findings: ${plural(countOf(done.findings, 'failure'), 'failure')}, ${countOf(done.findings, 'attention')} for attention, ${plural(countOf(done.findings, 'note'), 'note')}`,
    );
    lines.push(...findingLines(done.findings, ['failure', 'attention']).map((line) => `    ${line}`));
    lines.push('  files:', ...files.map((file) => `    ${file}`));
  }
  lines.push(...older.map((file) => `  ${file} is older: it is not of this run`));
  return `${lines.join('\n')}\n`;
};
