/** The workbook read back by openpyxl, a reader that no one here wrote: what the lists add up to, how they print, and that text stays text. */

import { spawnSync } from 'node:child_process';
import { strFromU8, unzipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { CAUTIONS } from '../../src/ground/cautions.js';
import type { Result } from '../../src/ground/vocabulary.js';
import { schedule } from '../../src/schedule/index.js';
import { scheduleCsv, scheduleXlsx } from '../../src/write/tables/index.js';
import { itNeeds } from '../read/samples.js';
import { exampleResult } from '../support/exampleResult.js';
import { renamed } from './renamed.js';

const PYTHON =
  ['python3', '/usr/bin/python3'].find((python) => spawnSync(python, ['-c', 'import openpyxl']).status === 0) ?? null;
const itWithOpenpyxl = itNeeds(PYTHON !== null, 'python3 with openpyxl');

/** Values and formulas of every sheet; each SUBTOTAL and SUM is added up again over the values that stand in its range. */
const READ = `
import sys, json, io, re, base64, openpyxl
def sheets(data):
    values = openpyxl.load_workbook(io.BytesIO(data), data_only=True)
    formulas = openpyxl.load_workbook(io.BytesIO(data))
    for ws in values:
        fs = formulas[ws.title]
        wrong = []
        for row in fs.iter_rows():
            for c in row:
                if c.data_type != 'f': continue
                m = re.fullmatch(r'=(SUBTOTAL\\(9,|SUM\\()([A-Z]+)(\\d+):([A-Z]+)(\\d+)\\)', c.value)
                column = [fs[m[2] + str(i)] for i in range(int(m[3]), int(m[5]) + 1)]
                plain = [x.value for x in column if isinstance(x.value, (int, float))]
                if abs(sum(plain) - ws[c.coordinate].value) > 1e-6: wrong.append(c.coordinate)
        yield {
            'name': ws.title, 'rows': [list(r) for r in ws.iter_rows(values_only=True)], 'wrong': wrong,
            'formulas': sum(1 for row in fs.iter_rows() for c in row if c.data_type == 'f'),
            'frozen': ws.freeze_panes, 'titles': ws.print_title_rows, 'orientation': ws.page_setup.orientation,
            'paper': ws.page_setup.paperSize, 'fit': [ws.sheet_properties.pageSetUpPr.fitToPage, ws.page_setup.fitToWidth, ws.page_setup.fitToHeight],
            'footer': [ws.oddFooter.left.text, ws.oddFooter.center.text],
            'formats': sorted({c.number_format for row in ws.iter_rows(min_row=3) for c in row if isinstance(c.value, (int, float))}),
        }
books = json.load(sys.stdin)
print(json.dumps([list(sheets(base64.b64decode(b))) for b in books]))
`;

interface SeenSheet {
  readonly name: string;
  readonly rows: readonly (readonly (string | number | null)[])[];
  readonly wrong: readonly string[];
  readonly formulas: number;
  readonly frozen: string;
  readonly titles: string;
  readonly orientation: string;
  readonly paper: number;
  readonly fit: readonly unknown[];
  readonly footer: readonly (string | null)[];
  readonly formats: readonly string[];
}

/** The example poured in two parts: what a job file's `pours` makes of it. */
const poured = ((): Result => {
  const walls = exampleResult.plan.walls.map((w, i) => ({ ...w, pour: i === 0 ? 'first' : 'rest' }));
  const plan = { ...exampleResult.plan, walls, pours: ['first', 'rest'] };
  const { catalogue, layout } = exampleResult;
  return { ...exampleResult, plan, schedule: schedule({ plan, catalogue, layout }).value };
})();
const inches: Result = { ...exampleResult, catalogue: { ...exampleResult.catalogue, lengthUnit: 'in' } };
const HOSTILE = '=1+1 & <x> "q" \u0001 é漢';
const hostile = renamed(exampleResult, (name) => `${HOSTILE}${name}`);

const seen: readonly (readonly SeenSheet[])[] = ((): SeenSheet[][] => {
  if (PYTHON === null) return [];
  const input = JSON.stringify(
    [poured, inches, hostile, exampleResult].map((r) => Buffer.from(scheduleXlsx(r)).toString('base64')),
  );
  const run = spawnSync(PYTHON, ['-c', READ], { input, encoding: 'utf8', maxBuffer: 1 << 28 });
  if (run.status !== 0) throw new Error(run.stderr);
  return JSON.parse(run.stdout) as SeenSheet[][];
})();

const sheetOf = (book: number, name: string): SeenSheet => seen[book]!.find((s) => s.name === name)!;
/** Cells under a heading, of the rows whose first cell is not one of `not`. */
const column = (sheet: SeenSheet, head: string | RegExp, not: readonly string[] = ['Total', 'Whole']): unknown[] => {
  const at = sheet.rows[1]!.findIndex((h) => (typeof head === 'string' ? h === head : head.test(String(h))));
  return sheet.rows
    .slice(2)
    .filter((row) => typeof row[at] === 'number' && !not.includes(String(row[0])))
    .map((row) => row[at]);
};
const sum = (values: readonly unknown[]): number => values.reduce<number>((a, v) => a + (v as number), 0);
const total = (sheet: SeenSheet, head: string, label = 'Total'): unknown =>
  sheet.rows.find((row) => row[0] === label)?.[sheet.rows[1]!.indexOf(head)];

describe('workbook', () => {
  itWithOpenpyxl('has its sheets in the order of use, with title and header that stay', () => {
    const names = [
      'Summary',
      'Units',
      'Ties',
      'Accessories',
      'Timber',
      'Concrete',
      'Weights',
      'By pour',
      'By wall',
      'Setting',
      'Spares',
    ];
    expect(seen[0]!.map((s) => s.name)).toEqual(names);
    expect(seen[1]!.map((s) => s.name)).toEqual(names.filter((n) => n !== 'By pour'));
    for (const sheet of seen.flat()) {
      expect([sheet.frozen, sheet.titles, sheet.orientation, sheet.fit]).toEqual([
        'A3',
        '$1:$2',
        'landscape',
        [true, 1, 0],
      ]);
      expect(sheet.footer[1]).toBe('Page &P of &N');
      expect(sheet.wrong).toEqual([]);
    }
    expect(new Set(seen[0]!.map((s) => s.paper)).size).toBeGreaterThan(0);
    expect(seen[0]!.every((s) => s.paper === 8 || s.paper === 9)).toBe(true);
    expect(seen[1]!.every((s) => s.paper === 1 || s.paper === 3)).toBe(true);
    expect(sum(seen[0]!.map((s) => s.formulas))).toBeGreaterThan(15);
  });

  itWithOpenpyxl('adds up to the totals of the schedule', () => {
    const { rows, totals } = poured.schedule;
    const lists = ['Units', 'Ties', 'Accessories']
      .map((name) => sheetOf(0, name))
      .filter((s) => total(s, 'Count') !== undefined);
    expect(sum(lists.map((s) => total(s, 'Mass, kg')))).toBeCloseTo(totals.massKg, 6);
    expect(sum(lists.map((s) => total(s, 'Count')))).toBe(sum(rows.map((r) => r.count)));
    const walls = sheetOf(0, 'By wall');
    expect(total(walls, 'Count', 'Whole')).toBe(sum(rows.map((r) => r.count)));
    expect(total(walls, 'Mass, kg', 'Whole')).toBeCloseTo(totals.massKg, 1);
    expect(total(sheetOf(0, 'Weights'), 'Mass, kg', 'Whole')).toBeCloseTo(totals.massKg, 1);
    expect(total(sheetOf(0, 'Concrete'), 'Net, m3', 'Whole')).toBeCloseTo(totals.concreteM3, 5);
    const told = new Map(sheetOf(0, 'Summary').rows.map((row) => [row[0], row[1]]));
    expect(told.get('mass of all items')).toBeCloseTo(totals.massKg, 4);
    expect(told.get('concrete in the walls')).toBeCloseTo(totals.concreteM3, 4);
    expect(told.get('ties')).toBe(poured.layout.ties.length);
    for (const caution of CAUTIONS) expect(told.has(caution)).toBe(true);
  });

  itWithOpenpyxl('counts each wall from what stands at it, and each pour from its walls', () => {
    const walls = sheetOf(0, 'By wall');
    const ofWall = (wall: string, kind: string) =>
      sum(walls.rows.filter((row) => row[0] === wall && row[2] === kind).map((row) => row[5]));
    for (const { id } of poured.plan.walls) {
      expect(ofWall(id, 'tie'), id).toBe(poured.layout.ties.filter((t) => t.wall === id).length);
      const own = new Set(poured.plan.faces.filter((f) => f.wall === id).map((f) => f.id));
      const panels = poured.layout.pieces.filter((p) => p.kind === 'panel' && p.covers.every((c) => own.has(c.face)));
      expect(ofWall(id, 'panel'), id).toBe(panels.length);
    }
    const pours = sheetOf(0, 'By pour');
    const first = pours.rows.filter((row) => row[0] === 'first' && row[2] === 'tie');
    expect(sum(first.map((row) => row[5]))).toBe(poured.layout.ties.filter((t) => t.wall === 'W1').length);
    expect(first.length).toBeGreaterThan(0);
  });

  itWithOpenpyxl('lists every piece in setting order, every cut with its net size, and spares apart', () => {
    const setting = sheetOf(0, 'Setting').rows.slice(2, 2 + poured.layout.pieces.length);
    expect(setting.map((row) => row[1])).toEqual(poured.schedule.setting!.map((s) => s.piece));
    expect(setting.map((row) => row[0])).toEqual(setting.map((_, i) => i + 1));
    const cuts = poured.layout.pieces.filter((p) => p.item === null);
    const timber = sheetOf(0, 'Timber');
    expect(total(timber, 'Count')).toBe(cuts.length);
    const ids = timber.rows.slice(2).flatMap((row) => (typeof row[11] === 'string' ? row[11].split(', ') : []));
    expect([...ids].sort()).toEqual(cuts.map((p) => p.id).sort());
    const spares = sheetOf(0, 'Spares').rows.filter((row) => row[1] === 'tie');
    for (const [, , needed, spare] of spares) {
      expect(spare).toBe(Math.max(5, Math.ceil((needed as number) * 0.03)));
    }
    expect(spares.length).toBeGreaterThan(0);
  });

  itWithOpenpyxl(
    'tells inch gear in inches and fractions, and weight and concrete in pounds and cubic yards too',
    () => {
      const units = sheetOf(1, 'Units');
      expect(units.rows[1]).toContain('Width, in');
      expect(units.formats).toContain('# ?/??');
      const widths = inches.schedule.rows
        .filter((r) => r.kind === 'panel')
        .map((r) => Math.round((r.widthMm / 25.4) * 16) / 16);
      expect(column(units, 'Width, in').slice(0, widths.length)).toEqual(widths);
      const net = total(sheetOf(1, 'Concrete'), 'Net, m3', 'Whole') as number;
      expect(total(sheetOf(1, 'Concrete'), 'Net, yd3', 'Whole')).toBeCloseTo(net / 0.764554857984, 5);
      const kg = total(sheetOf(1, 'Weights'), 'Mass, kg', 'Whole') as number;
      expect(total(sheetOf(1, 'Weights'), 'Mass, lb', 'Whole')).toBeCloseTo(kg * 2.2046226218, 4);
    },
  );

  itWithOpenpyxl('takes no name from outside for a formula or for markup', () => {
    const asRead = HOSTILE.replace('\u0001', '\ufffd');
    const told = sheetOf(2, 'Summary').rows.find((row) => row[0] === 'drawing')!;
    expect(told[1]).toBe(`${asRead}ell.dxf`);
    expect(seen[2]!.map((s) => s.formulas)).toEqual(seen[3]!.map((s) => s.formulas));
    expect(sheetOf(2, 'Setting').rows[2]![1]).toBe(`${asRead}${exampleResult.schedule.setting![0]!.piece}`);
  });

  it('is the same for the same result, whatever the time zone', () => {
    const first = scheduleXlsx(exampleResult);
    const zone = process.env.TZ;
    process.env.TZ = 'Pacific/Auckland';
    const second = scheduleXlsx(structuredClone(exampleResult));
    if (zone === undefined) delete process.env.TZ;
    else process.env.TZ = zone;
    expect(Buffer.compare(first, second)).toBe(0);
    // What looks like the format's own escape of a character is escaped.
    const escaped = scheduleXlsx({ ...exampleResult, source: { ...exampleResult.source, file: '_x000D_.dxf' } });
    expect(strFromU8(unzipSync(escaped)['xl/worksheets/sheet1.xml']!)).toContain('_x005F_x000D_.dxf');
    expect(Object.keys(unzipSync(first)).filter((name) => name.startsWith('xl/worksheets/'))).toHaveLength(10);
  });

  it('tells what the CSV tells', () => {
    const lines = scheduleCsv(poured).split('\r\n');
    const list = (name: string) => lines.filter((line) => line.startsWith(`${name},`));
    expect(list('setting')).toHaveLength(poured.layout.pieces.length);
    expect(list('wall').length).toBeGreaterThan(list('item').length);
    const field = (line: string, at: number) => Number(line.split(',')[at]);
    expect(sum(list('wall').map((line) => field(line, 5)))).toBe(sum(poured.schedule.rows.map((r) => r.count)));
    expect(sum(list('concrete').map((line) => field(line, 9)))).toBeCloseTo(poured.schedule.totals.concreteM3, 3);
    for (const pour of ['first', 'rest']) {
      const own = list('pour').filter((line) => line.split(',')[13] === pour);
      const counts = poured.schedule.rows.map((r) => r.inPours!.find((p) => p.name === pour)!.count);
      expect(sum(own.map((line) => field(line, 5))), pour).toBe(sum(counts));
    }
  });
});
