/** Summary with the cautions, concrete, weights. */

import { CAUTIONS } from '../../../ground/cautions.js';
import { KG_PER_LB, M3_PER_YD3, roundTo } from '../../../ground/units.js';
import type { Result } from '../../../ground/vocabulary.js';
import { concreteRows, type WeightRow, weightRows } from '../lists.js';
import { TOTAL_NAMES } from '../totals.js';
import { count, KIND_WORDS, kg, length, lengthHead } from './cells.js';
import { type Cell, type Column, HEAD_ROWS, type NumberFormat, type Row, type Sheet, withTotal } from './sheet.js';

const TOTAL_FORMATS: Readonly<Record<string, NumberFormat>> = { pieces: 'whole', kg: 'two' };

export const summarySheet = (result: Result): Sheet => {
  const { totals, rows: items } = result.schedule;
  const failures = result.findings.filter((f) => f.severity === 'failure').length;
  const inches = result.catalogue.lengthUnit === 'in';
  const line = (name: string, cell: Cell, unit: string): Row => ({ cells: [name, cell, unit] });
  const rows: Row[] = [
    line('drawing', result.source.file, ''),
    line('SHA-256 of the drawing', result.source.sha256, ''),
    line('gear', result.catalogue.name, ''),
    line(
      'failures among the findings',
      count(failures),
      failures === 0 ? '' : 'do not build from this: see the report',
    ),
    ...TOTAL_NAMES.map(([key, name, unit]) => {
      const format = TOTAL_FORMATS[unit] ?? 'three';
      return line(name, { number: roundTo(totals[key], 4), format }, unit);
    }),
    line('pieces of formwork', count(result.layout.pieces.length), 'pieces'),
    line('different items', count(items.length), 'rows'),
    ...(inches
      ? [
          line('mass of all items', { number: totals.massKg / KG_PER_LB, format: 'whole' }, 'lb'),
          line('concrete in the walls', { number: totals.concreteM3 / M3_PER_YD3, format: 'two' }, 'yd3'),
        ]
      : []),
  ];
  return {
    name: 'Summary',
    title: `Wall forms for ${result.source.file}`,
    columns: [
      { head: 'Of the whole', width: 48 },
      { head: 'Value', width: 68, wraps: true },
      { head: 'Unit', width: 34, wraps: true },
    ],
    rows,
    notes: [...CAUTIONS, 'Spares are listed apart, on the last sheet, and are in no total.'],
  };
};

export const concreteSheet = (result: Result): Sheet => {
  const gear = result.catalogue.lengthUnit;
  const hasPours = result.plan.pours !== undefined;
  const columns: Column[] = [
    { head: 'Wall', width: 26 },
    ...(hasPours ? [{ head: 'Pour', width: 14 }] : []),
    lengthHead('Thickness', result),
    lengthHead('Length along the axis', result, 12),
    { head: 'Gross, m3', width: 11 },
    { head: 'Openings, m3', width: 11 },
    { head: 'Net, m3', width: 11 },
    ...(gear === 'in' ? [{ head: 'Net, yd3', width: 11 }] : []),
  ];
  const all = concreteRows(result);
  // The parts add up to the whole only unrounded.
  const exact = (value: number): Cell => ({ number: value, format: 'three' });
  const figures = (grossM3: number, openingsM3: number): Cell[] => [
    exact(grossM3),
    exact(openingsM3),
    exact(grossM3 - openingsM3),
    ...(gear === 'in' ? [{ number: (grossM3 - openingsM3) / M3_PER_YD3, format: 'two' } as const] : []),
  ];
  const rows = all.map(
    (c): Row => ({
      cells: [
        c.wall ?? 'junctions, by the outline of the plan',
        ...(hasPours ? [c.pour] : []),
        c.thicknessMm === null ? null : length(c.thicknessMm, gear),
        c.lengthMm === null ? null : length(c.lengthMm, gear),
        ...figures(c.grossM3, c.openingsM3),
      ],
    }),
  );
  const first = columns.length - figures(0, 0).length;
  const sums = [0, 1, 2, 3]
    .map((i) => ({ column: first + i, format: i === 3 ? ('two' as const) : ('three' as const) }))
    .filter(({ column }) => column < columns.length);
  const pourRows = (result.plan.pours ?? []).map((pour): Row => {
    const own = all.filter((c) => c.pour === pour);
    const sum = (of: 'grossM3' | 'openingsM3') => own.reduce((m, c) => m + c[of], 0);
    return { look: 'group', cells: [`Pour ${pour}`, pour, null, null, ...figures(sum('grossM3'), sum('openingsM3'))] };
  });
  return {
    name: 'Concrete',
    title: 'Concrete, wall by wall',
    columns,
    rows: [...withTotal(rows, 'Whole', sums, columns.length), ...pourRows],
    notes: ['Net of the drawing: no allowance for waste, bulging or what stays in the pump.'],
  };
};

const WEIGHT_WORDS: Readonly<Record<WeightRow['of'], string>> = { kind: 'By kind', wall: 'By wall', pour: 'By pour' };

const weightName = ({ of, name }: WeightRow): string =>
  of === 'kind' ? (KIND_WORDS[name as keyof typeof KIND_WORDS] ?? name) : name === '' ? 'at no wall' : name;

export const weightsSheet = (result: Result): Sheet => {
  const inches = result.catalogue.lengthUnit === 'in';
  const columns: Column[] = [
    { head: 'Part', width: 16 },
    { head: 'Name', width: 26 },
    { head: 'Count', width: 10 },
    { head: 'Mass, kg', width: 13 },
    ...(inches ? [{ head: 'Mass, lb', width: 13 }] : []),
  ];
  const rows = weightRows(result);
  const cells = (of: string, name: string, sums: { count: number; massKg: number }): Cell[] => [
    of,
    name,
    count(sums.count),
    kg(sums.massKg),
    ...(inches ? [{ number: sums.massKg / KG_PER_LB, format: 'whole' } as const] : []),
  ];
  const body = (of: WeightRow['of']): Row[] =>
    rows.filter((r) => r.of === of).map((r) => ({ cells: cells(WEIGHT_WORDS[of], weightName(r), r) }));
  const kinds = body('kind');
  const whole = { count: 0, massKg: 0 };
  for (const r of rows.filter((w) => w.of === 'kind')) {
    whole.count += r.count;
    whole.massKg += r.massKg;
  }
  const to = HEAD_ROWS + kinds.length;
  const sum = (column: string, value: number, format: NumberFormat): Cell => ({
    formula: `SUM(${column}${HEAD_ROWS + 1}:${column}${to})`,
    value,
    format,
  });
  const total: Row = {
    look: 'group',
    cells: [
      'Whole',
      null,
      sum('C', whole.count, 'whole'),
      sum('D', whole.massKg, 'two'),
      ...(inches ? [sum('E', whole.massKg / KG_PER_LB, 'whole')] : []),
    ],
  };
  return {
    name: 'Weights',
    title: 'Weights of gear and timber',
    columns,
    rows: [...kinds, ...(kinds.length > 0 ? [total] : []), ...body('wall'), ...body('pour')],
    notes: [
      'By wall each thing is counted once; by pour what stands between two counts in both.',
      'Timber as solid timber of the frame’s depth at 600 kg/m3 (common practice, no source). Spares are not in.',
    ],
  };
};
