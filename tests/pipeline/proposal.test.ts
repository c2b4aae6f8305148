/** The proposed job file: YAML that the schema takes as it is and with every proposed line taken, and that then says what was read. */

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parse, parseDocument } from 'yaml';
import { compareFindings, type Finding, finding } from '../../src/ground/findings.js';
import { questionsOf } from '../../src/ground/questions.js';
import type { Foundation } from '../../src/ground/vocabulary.js';
import { answersOf, withAnswers } from '../../src/pipeline/answers.js';
import { type Job, parseJob } from '../../src/pipeline/options.js';
import { isOwnProposal, proposalText } from '../../src/pipeline/proposal.js';
import { sameFoundation } from '../../src/pipeline/sameFoundation.js';
import { traceOptions } from '../../src/pipeline/settings.js';
import { traceOnly } from '../../src/pipeline/traceOnly.js';
import { flow, oneLine } from '../../src/pipeline/yamlText.js';
import { trace } from '../../src/trace/index.js';
import { itWithSamples, read, SAMPLES, sample } from '../read/samples.js';
import { exampleFoundation, exampleTrace } from '../support/exampleTrace.js';
import { sha256 } from '../support/lay.js';
import {
  cornerHouse,
  gardenWall,
  halfTurn,
  inchCellar,
  notedHouse,
  noWalls,
  thicker,
  weirStore,
} from '../support/scenes.js';
import { dxfBytes, type Sheet } from '../support/sheet.js';

const SEED = Number(process.env.FC_SEED ?? 1);

const jobOf = (text: string): Job => {
  const document = parseDocument(text);
  expect(document.errors.map((e) => e.message)).toEqual([]);
  const parsed = parseJob(document.toJS());
  if (!parsed.ok) throw new Error(`${parsed.findings[0]!.message}\n${text}`);
  return parsed.value;
};

/** Without half of a surrogate pair, which no file can hold. */
const isWellFormed = (words: string): boolean => !/\p{Cs}/u.test(words);

/** Takes every proposed line, as a person does: '# ' away, '##' stays. */
const allTaken = (text: string): string => text.replace(/^( *)# /gm, '$1');

/** A group or list with nothing under it is as good as none. */
const tidy = (value: unknown): unknown =>
  value !== null && typeof value === 'object' && !Array.isArray(value)
    ? Object.fromEntries(
        Object.entries(value).flatMap(([key, inner]) => {
          const kept = tidy(inner);
          const isEmpty = kept === null || (typeof kept === 'object' && Object.keys(kept as object).length === 0);
          return isEmpty ? [] : [[key, kept]];
        }),
      )
    : value;

const traced = (bytes: Uint8Array, job: Job = {}, fileName = 'plan.dxf') => {
  const outcome = traceOnly({ fileName, bytes, sha256: sha256(bytes), job });
  if (outcome.kind === 'refused') throw new Error('refused');
  const file = outcome.files.find((f) => f.name.endsWith('.job.proposed.yaml'))!;
  return { result: outcome.result, text: new TextDecoder().decode(file.bytes) };
};

/** What tracing makes of the drawing under a job. */
const foundationUnder = (bytes: Uint8Array, job: Job): Foundation =>
  trace(read(bytes).drawing, traceOptions(job)).value;

const holds = (bytes: Uint8Array, job: Job = {}): string => {
  const { result, text } = traced(bytes, job);
  expect(tidy(jobOf(text))).toEqual(tidy(job));
  const taken = jobOf(allTaken(text));
  expect(sameFoundation(result.foundation, foundationUnder(bytes, taken))).toBe(true);
  return text;
};

describe('for our own drawings', () => {
  const scenes: Readonly<Record<string, Sheet>> = {
    cornerHouse,
    gardenWall,
    halfTurn,
    inchCellar,
    noWalls,
    notedHouse,
    thicker,
    weirStore,
  };
  for (const [name, scene] of Object.entries(scenes)) {
    it(`passes as it is and with every line taken, and then gives the same foundation: ${name}`, () => {
      holds(dxfBytes(scene));
    });
  }

  it('asks about what nothing says, with place, evidence, assumption and key', () => {
    const text = holds(dxfBytes(weirStore));
    expect(text).toMatch(
      /## \?\d Is this break an opening in one wall, or do two walls end here\?\n +## At 2950, 125\. A break of 1100 mm/,
    );
    expect(text).toMatch(/## Assumed: .*both walls end there\./);
    expect(text).toContain('\n    # - { near: [2950, 125], wallEnds: true }\n');
    expect(text).toContain('\n  # unit: mm\n');
    expect(text).toContain('\n  # footingMm: 0\n');
  });

  it('proposes what texts of the drawing say, by place', () => {
    const text = traced(dxfBytes(notedHouse)).text;
    // The levels, the step and the garden wall's place are those of the scene; the section is left out of the area.
    expect(text).toContain('\n  # footingMm: -300\n');
    expect(text).toContain('\n  # topMm: 2350\n');
    expect(text).toMatch(/The drawing says: T\.O\.W\. \+1\.200\.\n {4}# - \{ near: \[\d+, -2\d\d\d\], topMm: 1200 \}/);
    expect(text).toMatch(/The drawing says: STEP FTG 300\.\n {4}# - \{ at: \[8\d\d\d, 2000\], kind: footing \}/);
    const [x0, y0, x1, y1] = jobOf(allTaken(text)).drawing!.area!;
    expect(x0 < -250 && y0 < -2600 && x1 > 9250 && x1 < 20000 && y1 > 7450).toBe(true);
  });

  it('tells axes from faces, and proposes the thickness that a text gives', () => {
    const axis = (from: [number, number], to: [number, number]) => ({
      kind: 'line' as const,
      layer: 'S-CNTR',
      from: { x: from[0], y: from[1] },
      to: { x: to[0], y: to[1] },
    });
    const words = { kind: 'text' as const, layer: 'S-ANNO-NOTE', at: { x: 21000, y: 150 }, height: 180 };
    const scene: Sheet = {
      ...gardenWall,
      marks: [
        ...gardenWall.marks,
        axis([20000, 0], [26000, 0]),
        axis([26000, 0], [26000, 4000]),
        { ...words, text: '250 THK' },
      ],
    };
    const text = holds(dxfBytes(scene), { drawing: { centreLineLayers: ['S-CNTR'] } });
    expect(text).toContain('\n  # wallLayers: [S-FNDN-WALL]\n');
    expect(text).toContain('\n  centreLineLayers: [S-CNTR]\n');
    expect(text).toContain('\n  # thicknessMm: 250\n');
  });

  it('does not depend on the order in which the drawing was drawn', () => {
    for (const scene of [weirStore, notedHouse]) {
      const turned = { ...scene, marks: [...scene.marks].reverse() };
      expect(traced(dxfBytes(turned)).text).toBe(traced(dxfBytes(scene)).text);
    }
  });

  it('keeps what was given as given, and then neither asks for it nor proposes it', () => {
    const job = jobOf(
      'drawing: { unit: mm, wallLayers: [S-FNDN-*], openings: [ { near: [2950, 125], wallEnds: true } ] }\n' +
        'levels: { footingMm: 0, topMm: 2350, at: [ { near: [0, 0], topMm: 2000 } ] }\n' +
        'concrete: { rateMPerH: 1.5, method: din-18218 }\ncatalogue: demo\nstock: { panel-600x2400: 4 }\n' +
        'costOrder: [places]\noutput: { layerNames: { TRCE-AXIS: "Z 1" } }\nrates: { anything: [1, "two: 3"] }\n',
    );
    const text = holds(dxfBytes(weirStore), job);
    expect(text).not.toMatch(/^ *# /m);
  });

  it('when its lines are taken has nothing more to propose', () => {
    for (const scene of [weirStore, cornerHouse]) {
      const first = traced(dxfBytes(scene));
      const second = traced(dxfBytes(scene), jobOf(allTaken(first.text)));
      expect(second.text).not.toMatch(/^ *# /m);
      expect(second.result.questions.length).toBeLessThan(first.result.questions.length);
    }
  });

  it('keeps the job as its file has it where the run changed it', () => {
    const bytes = dxfBytes(gardenWall);
    const outcome = traceOnly({
      fileName: 'plan.dxf',
      bytes,
      sha256: sha256(bytes),
      job: { output: { mode: 'merged' }, catalogue: 'demo' },
      jobAsGiven: { catalogue: 'demo' },
    });
    if (outcome.kind === 'refused') throw new Error('refused');
    const text = new TextDecoder().decode(outcome.files.at(-1)!.bytes);
    expect(tidy(jobOf(text))).toEqual({ catalogue: 'demo' });
  });
});

describe('for drawings by others', () => {
  for (const file of SAMPLES) {
    itWithSamples(`passes as it is and with every line taken, and then gives the same foundation: ${file}`, () => {
      holds(sample(file));
    });
  }
});

/** The example's answers, with a drawing that has none of its linework. */
const drawing = read(dxfBytes(gardenWall)).drawing;
const proposalFor = (
  job: Job,
  foundation: Foundation,
  findings: readonly Finding[],
  layers: readonly string[],
): string => {
  const answers = answersOf(job, { kind: 'dxf', drawing }, { foundation, layers, findings });
  const questions = questionsOf(findings);
  return proposalText({
    fileName: 'plan.dxf',
    jobName: 'plan.job.yaml',
    unit: foundation.lengthUnit,
    job,
    answers,
    unsafe: [],
    isUntried: false,
    questions,
    findings,
  });
};

describe('for one of everything', () => {
  const { findings, layers } = exampleTrace;

  it('has a line for each thing that nobody gave', () => {
    const job = jobOf(allTaken(proposalFor({}, exampleFoundation, findings, layers)));
    expect(job).toEqual({
      drawing: {
        unit: 'mm',
        wallLayers: ['S-FNDN-WALL'],
        area: [-501, -1201, 8601, 2601],
        openings: [
          { near: [1450, 0], sillMm: 900, headMm: 2100 },
          { near: [3150, 0], wallEnds: true },
        ],
      },
      levels: {
        footingMm: 0,
        topMm: 2350,
        at: [{ near: [0, 1700], footingMm: 310 }],
        steps: [
          { at: [0, 1450], kind: 'footing' },
          { at: [2000, 0], kind: 'top' },
        ],
      },
    });
  });

  it('gives places in drawing units that come back to within a hundredth of a millimetre', () => {
    for (const lengthUnit of ['ft', 'in', 'm', 'cm'] as const) {
      const text = proposalFor({}, { ...exampleFoundation, lengthUnit }, findings, layers);
      const options = traceOptions(jobOf(allTaken(text)));
      const perUnit = { ft: 304.8, in: 25.4, m: 1000, cm: 10 }[lengthUnit];
      expect(Math.abs(options.steps[0]!.at.y * perUnit - 1450)).toBeLessThan(0.01);
      expect(Math.abs(options.openings[0]!.near.x * perUnit - 1450)).toBeLessThan(0.01);
    }
  });

  it('leaves out what the job file has answered by place', () => {
    const given: Job = {
      drawing: { openings: [{ near: [1400, 30], sillMm: 850 }] },
      levels: { steps: [{ at: [0, 1450], kind: 'footing' }] },
    };
    const job = withAnswers(
      given,
      answersOf(given, { kind: 'dxf', drawing }, { foundation: exampleFoundation, layers, findings }),
    );
    expect(job.drawing!.openings).toEqual([
      { near: [1400, 30], sillMm: 850 },
      { near: [3150, 0], wallEnds: true },
    ]);
    expect(job.levels!.steps).toHaveLength(2);
  });

  it('asks, and proposes nothing that the schema would refuse, where the top does not lie above the footing', () => {
    const upsideDown: Foundation = {
      ...exampleFoundation,
      levels: { footingMm: 3000, topMm: 2350, footingFrom: 'drawing', topFrom: 'drawing' },
    };
    const text = proposalFor({}, upsideDown, findings, layers);
    expect(jobOf(allTaken(text)).levels).not.toHaveProperty('topMm');
    expect(text).toContain('Answer with topMm.');
  });

  it('tells every question, once in full', () => {
    const text = proposalFor({}, exampleFoundation, findings, layers);
    for (const f of [...findings].sort(compareFindings).filter((f) => f.severity !== 'note')) {
      expect(text.split(oneLine(f.message)).length - 1, f.message).toBe(1);
    }
  });

  it('stays one comment a line and one value a key, whatever names and texts the drawing has', () => {
    const hostile = fc.oneof(
      fc.string({ unit: 'binary' }),
      fc.constantFrom(
        'yes',
        'null',
        '~',
        '# a',
        'a: b',
        '- x',
        '&a',
        '*a',
        '!t',
        '%d',
        '@',
        '`',
        '"',
        "'",
        '\n# unit: ft',
        '\r\nwind: 1',
        '{}',
        '[',
        '1e3',
        '0x1',
        '.inf',
        '\u2028# x: 1',
        '\u0085y',
      ),
    );
    fc.assert(
      fc.property(fc.uniqueArray(hostile, { minLength: 1, maxLength: 4 }), hostile, (names, words) => {
        const usable = names.filter((n) => isWellFormed(n) && n !== '');
        const said = [
          finding('trace.layers-guessed', `Layers ${words}`, { assumed: words }),
          finding('read.mended', words, { at: [1, 2, 3] }),
        ];
        const foundation: Foundation = {
          ...exampleFoundation,
          levelsAt: [{ near: { x: 1, y: 2 }, footingMm: null, topMm: 2000, from: 'drawing', text: words }],
        };
        const text = proposalFor({}, foundation, said, usable);
        expect(tidy(jobOf(text))).toEqual({});
        const taken = jobOf(allTaken(text));
        expect(taken.drawing?.wallLayers).toEqual(usable.length > 0 ? usable : undefined);
        expect(taken.levels?.at).toEqual([{ near: [1, 2], topMm: 2000 }]);
        expect(taken.drawing?.unit).toBe('mm');
        expect(Object.keys(taken).sort()).toEqual(['drawing', 'levels']);
      }),
      { seed: SEED, numRuns: 300 },
    );
  });
});

describe('values on one line', () => {
  it('are read by YAML as they were', () => {
    const value = fc.letrec((tie) => ({
      any: fc.oneof(
        { maxDepth: 3 },
        fc.string().filter((s) => isWellFormed(s)),
        fc.double({ noNaN: true, noDefaultInfinity: true }).map((n) => (Object.is(n, -0) ? 0 : n)),
        fc.integer(),
        fc.boolean(),
        fc.constant(null),
        fc.array(tie('any')),
        fc.dictionary(
          fc.string().filter((s) => s !== '__proto__'),
          tie('any'),
          { noNullPrototype: true },
        ),
      ),
    })).any;
    fc.assert(
      fc.property(value, (v) => {
        expect(parse(flow(v))).toEqual(v);
      }),
      { seed: SEED, numRuns: 1000 },
    );
  });
});

describe('a proposed job file is known again', () => {
  const { text } = traced(dxfBytes(weirStore));
  it('as it was written, also with the line ends of another system', () => {
    expect(isOwnProposal(text)).toBe(true);
    expect(isOwnProposal(text.replaceAll('\n', '\r\n'))).toBe(true);
  });
  it('but not once a line was taken, a value changed or a word added', () => {
    expect(isOwnProposal(text.replace('# unit: mm', 'unit: mm'))).toBe(false);
    expect(isOwnProposal(text.replace('footingMm: 0', 'footingMm: 1'))).toBe(false);
    expect(isOwnProposal(`${text}# mine\n`)).toBe(false);
    expect(isOwnProposal(`# mine\n${text}`)).toBe(false);
    expect(isOwnProposal('levels: { topMm: 2000 }\n')).toBe(false);
    expect(isOwnProposal('')).toBe(false);
  });
});
