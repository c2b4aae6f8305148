/** What the layout rests on: value, unit, where it came from, what it does if it is wrong. */

import { LETTERING_MM } from '../../ground/lettering.js';
import { fromMm, plainNumber } from '../../ground/units.js';
import type { Levels, PressureCase, Result } from '../../ground/vocabulary.js';
import { type Content, html, type Markup } from './markup.js';
import { type GearUnit, lengthText } from './sizes.js';
import { findingId } from './svg/marks.js';
import { type Row, table } from './table.js';

type InputRow = readonly [name: string, value: Content, unit: string, source: Content, ifWrong: string];

const SOURCE_WORDS: Readonly<Record<Levels['footingFrom'], string>> = {
  job: 'job file',
  drawing: 'drawing',
  default: 'default: nobody stated it',
};

/** Units by the ending of a key: that is how names in the program carry them. */
const UNIT_ENDINGS: readonly (readonly [RegExp, string])[] = [
  [/KgPerM3$/, 'kg/m³'],
  [/KnPerM3$/, 'kN/m³'],
  [/FtPerH$/, 'ft/h'],
  [/MPerH$/, 'm/h'],
  [/Pcf$/, 'lb/ft³'],
  [/TemperatureC$|^temperatureC$/, '°C'],
  [/TemperatureF$|^temperatureF$/, '°F'],
  [/Kpa$/, 'kPa'],
  [/Psf$/, 'lb/ft²'],
  [/M2$/, 'm²'],
  [/Mm$/, 'mm'],
  [/Ft$/, 'ft'],
  [/[a-z]M$/, 'm'],
  [/TimeH$|[a-z]H$/, 'h'],
];

/** What a person states of concrete and placing, and what it does if it is wrong. Every other entry of a case is worked out by its method. */
const IF_WRONG: Readonly<Record<string, string>> = {
  rateMPerH: 'faster rise presses more',
  rateFtPerH: 'faster rise presses more',
  temperatureC: 'colder concrete presses more',
  temperatureF: 'colder concrete presses more',
  densityKgPerM3: 'heavier concrete presses more',
  densityPcf: 'heavier concrete presses more',
  chemistryCoefficient: 'retarders and blends press more',
  consistency: 'softer concrete presses more',
  slumpMm: 'softer concrete presses more',
  settingTimeH: 'slower setting presses more',
  pourHeightMm: 'a higher pour presses more at the foot',
  pourHeightFt: 'a higher pour presses more at the foot',
  vibrationDepthMm: 'deeper vibration presses more',
  placing: 'pumping from below and outer vibration press more',
  Cc: 'retarders and blends press more',
  C2: 'retarders and blends press more',
  formHeightMm: 'a higher form presses more by CIRIA 108',
};

/** Entries whose name tells too little by itself, and the job file's key where it is another. */
const NAMES: Readonly<Record<string, string>> = {
  Cc: 'chemistry coefficient Cc',
  rateMPerH: 'rate of rise',
  rateFtPerH: 'rate of rise',
  notConfirmed: 'UNVERIFIED, from memory',
  C2: 'coefficient C2 for cement and admixture',
  C1: 'coefficient C1 for the shape of the plan',
  rawKpa: 'pressure by the formula alone',
  rawPsf: 'pressure by the formula alone',
  floorKpa: 'least pressure that the method allows',
  floorPsf: 'least pressure that the method allows',
  fluidKpa: 'pressure as a fluid',
  fluidPsf: 'pressure as a fluid',
  cw: 'unit weight coefficient Cw',
  case: 'case of the method',
};
const JOB_KEYS: Readonly<Record<string, string>> = {
  Cc: 'chemistryCoefficient',
  C2: 'c2',
  rateFtPerH: 'rateMPerH',
  temperatureF: 'temperatureC',
  densityPcf: 'densityKgPerM3',
};
/** Where entries come from that no key of the job file alone gives. */
const OTHER_SOURCES: Readonly<Record<string, string>> = {
  pourHeightMm: 'drawing (levels of the walls), or job file',
  pourHeightFt: 'drawing (levels of the walls), or job file',
  formHeightMm: 'forms laid out, or job file',
};

/** 'densityKgPerM3' → 'density': the name without its unit, in words. */
const words = (key: string): string =>
  NAMES[key] ??
  key
    .replace(/(KgPerM3|KnPerM3|FtPerH|MPerH|Pcf|Kpa|Psf|Mm|M2|[a-z]Ft)$/, (unit) =>
      unit.endsWith('Ft') ? unit.slice(0, 1) : '',
    )
    .replace(/(temperature|Temperature)[CF]$/, '$1')
    .replace(/TimeH$/, 'Time')
    .replace(/([a-z0-9])([A-Z])/g, '$1 $2')
    .toLowerCase();

/** Where an input came from, as far as the findings tell: an assumed one has a finding whose subject is its key. */
const sourceOf = (result: Result, key: string): Content => {
  const i = result.findings.findIndex(
    (f) => f.assumed !== null && f.subject.split('.').at(-1) === (JOB_KEYS[key] ?? key),
  );
  if (i < 0) return OTHER_SOURCES[key] ?? 'job file';
  const n = plainNumber(i + 1, 0);
  return html`default, <a href="#${findingId(i + 1)}">finding ${n}</a>`;
};

const unitSource = (result: Result): Content => {
  const i = result.findings.findIndex((f) => f.code.startsWith('trace.unit'));
  if (i < 0) return 'drawing or job file';
  return html`see <a href="#${findingId(i + 1)}">finding ${plainNumber(i + 1, 0)}</a>`;
};

/** Lengths of a crew in inches are told in inches, by whatever unit the method works in; all else as the method has it. */
const isCrewLength = (key: string, gear: GearUnit): boolean => gear === 'in' && key.endsWith('Mm');
const valueText = (value: number | string, key: string, gear: GearUnit): string =>
  typeof value !== 'number' ? value : isCrewLength(key, gear) ? lengthText(value, gear) : plainNumber(value, 3);
const unitOf = (key: string, gear: GearUnit): string =>
  isCrewLength(key, gear) ? gear : (UNIT_ENDINGS.find(([ending]) => ending.test(key))?.[1] ?? '');

/** Values of a key that pours share, each with the pours that have it: what all pours have alike stands once. */
const foldedOf = (
  cases: readonly PressureCase[],
  key: string,
  readValue: (pressure: PressureCase) => number | string | undefined,
  gear: GearUnit,
): readonly { readonly value: number | string; readonly of: string }[] => {
  const byValue = new Map<number | string, PressureCase[]>();
  for (const p of cases) {
    const value = readValue(p);
    if (value !== undefined) byValue.set(value, [...(byValue.get(value) ?? []), p]);
  }
  return [...byValue].map(([value, same]) => {
    const heights = [...new Set(same.map((p) => lengthText(p.pourHeightMm, gear)))];
    const isAll = same.length === cases.length || key === 'pourHeightMm';
    return { value, of: isAll ? '' : `, ${heights.length === 1 ? 'pour' : 'pours'} of ${heights.join(', ')} ${gear}` };
  });
};

/** The keys of all pours, in the order in which they first stand. */
const keysOf = (cases: readonly PressureCase[]): string[] => [...new Set(cases.flatMap((p) => Object.keys(p.inputs)))];

const caseRows = (result: Result, gear: GearUnit): readonly InputRow[] => {
  const cases = result.layout.pressure;
  const methods = foldedOf(cases, 'method', (p) => p.method, gear).map(
    ({ value, of }): InputRow => [
      `pressure method${of}`,
      valueText(value, 'method', gear),
      '',
      sourceOf(result, 'method'),
      'another method, another pressure',
    ],
  );
  const stated = keysOf(cases)
    .filter((key) => Object.hasOwn(IF_WRONG, key))
    .flatMap((key) =>
      foldedOf(cases, key, (p) => p.inputs[key], gear).map(
        ({ value, of }): InputRow => [
          `${words(key)}${of}`,
          valueText(value, key, gear),
          typeof value === 'number' ? unitOf(key, gear) : '',
          value === 'not given' ? 'not stated, taken as the method presupposes' : sourceOf(result, key),
          IF_WRONG[key]!,
        ],
      ),
    );
  return [...methods, ...stated];
};

/** What the method made of the inputs: case, formula, intermediate values, what it holds from memory. */
const workedOut = (result: Result, gear: GearUnit): Markup => {
  const cases = result.layout.pressure;
  const rows = keysOf(cases)
    .filter((key) => !Object.hasOwn(IF_WRONG, key))
    .flatMap((key) =>
      foldedOf(cases, key, (p) => p.inputs[key], gear).map(({ value, of }) => ({
        cells: [`${words(key)}${of}`, valueText(value, key, gear), typeof value === 'number' ? unitOf(key, gear) : ''],
      })),
    );
  const columns = [{ head: 'Step' }, { head: 'Value' }, { head: 'Unit' }];
  return rows.length === 0 ? html`` : table('Worked out by the pressure method', columns, rows, '');
};

const INPUT_COLUMNS = [
  { head: 'Input' },
  { head: 'Value', figures: false },
  { head: 'Unit' },
  { head: 'Came from' },
  { head: 'If it is wrong' },
];

/** What the pressure rests on, by itself. */
export const pressureInputs = (result: Result): Markup =>
  table(
    'What the pressure rests on',
    INPUT_COLUMNS,
    caseRows(result, result.catalogue.lengthUnit).map((cells) => ({ cells })),
    'No inputs.',
  );

/** The lettering that marks and dimensions of the returned drawing follow; the findings tell what height they took. */
const letteringRow = ({ lettering, catalogue }: Result): InputRow => {
  const gear = catalogue.lengthUnit;
  const whence = {
    job: 'job file',
    dimensions: `drawing: ${lettering?.count} dimensions`,
    texts: `drawing: ${lettering?.count} texts`,
    usual: 'default: too few texts',
  }[lettering?.from ?? 'usual'];
  const heightMm = lettering?.statedMm ?? lettering?.heightMm ?? LETTERING_MM.usual;
  return [
    'height of lettering',
    gear === 'in' ? lengthText(heightMm, gear) : plainNumber(heightMm, 2),
    gear,
    whence,
    'marks are too large or small beside others',
  ];
};

const drawingRows = (result: Result): readonly InputRow[] => {
  const { source, foundation } = result;
  const gear = result.catalogue.lengthUnit;
  const { levels } = foundation;
  const near = foundation.levelsAt.map((at): InputRow => {
    const place = [at.near.x, at.near.y].map((v) => plainNumber(fromMm(v, source.lengthUnit), 3)).join(', ');
    const parts = [
      at.footingMm === null ? null : `footing ${lengthText(at.footingMm, gear)}`,
      at.topMm === null ? null : `pour line ${lengthText(at.topMm, gear)}`,
    ];
    return [
      `levels near ${place}`,
      parts.filter((p) => p !== null).join(', '),
      gear,
      'job file',
      'forms too high or low',
    ];
  });
  return [
    ['drawing', source.file, '', source.kind.toUpperCase(), ''],
    [
      'digest of the drawing, SHA-256',
      html`<span class="hash">${source.sha256}</span>`,
      '',
      'drawing',
      'another drawing',
    ],
    ['unit of the drawing', source.lengthUnit, '', unitSource(result), 'every length is wrong'],
    letteringRow(result),
    [
      'footing level',
      lengthText(levels.footingMm, gear),
      gear,
      SOURCE_WORDS[levels.footingFrom],
      'forms too high or low',
    ],
    ['pour line', lengthText(levels.topMm, gear), gear, SOURCE_WORDS[levels.topFrom], 'height and pressure are wrong'],
    ...near,
  ];
};

const catalogueRows = (result: Result): readonly InputRow[] => {
  const { catalogue } = result;
  const gear = catalogue.lengthUnit;
  const length = (name: string, valueMm: number, ifWrong: string): InputRow => [
    name,
    lengthText(valueMm, gear),
    gear,
    'catalogue',
    ifWrong,
  ];
  return [
    ['catalogue', catalogue.name, '', sourceOf(result, 'catalogue'), 'units that the yard does not have'],
    length('pitch of the flange holes', catalogue.pitchMm, 'steps do not meet'),
    length('overhang allowed beyond a support', catalogue.overhangMm, 'forms bend or turn'),
    length('least timber', catalogue.timberLeastMm, 'strips that cannot be cut'),
    length('timber without backing up to', catalogue.timberMostMm, 'timber bends'),
  ];
};

export const inputsSection = (result: Result): Markup => {
  const gear = result.catalogue.lengthUnit;
  const rows: readonly InputRow[] = [...drawingRows(result), ...caseRows(result, gear), ...catalogueRows(result)];
  const asRows: readonly Row[] = rows.map((cells) => ({ cells }));
  return html`<section id="inputs">
<h2>What it rests on</h2>
${table('Inputs', INPUT_COLUMNS, asRows, 'No inputs.')}
${workedOut(result, gear)}
</section>`;
};
