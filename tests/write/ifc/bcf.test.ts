/** Findings as BCF 2.1: against the facts of its schemas, and what a coordinator's viewer needs of it. */

import { spawnSync } from 'node:child_process';
import { strFromU8, unzipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import type { Result } from '../../../src/ground/vocabulary.js';
import { writeBcf } from '../../../src/write/ifc/index.js';
import { itNeeds } from '../../read/samples.js';
import { exampleResult, sampleFinding } from '../../support/exampleResult.js';
import { bcfBreaches } from './bcfSchema.js';
import { ARCHITECTS, asModel, textOf } from './results.js';
import { type Node, xmlTree } from './xmlTree.js';

const bytesOf = (result: Result): Uint8Array => {
  const written = writeBcf(result);
  if (!written.ok) throw new Error('refused');
  return written.value;
};
const filesOf = (result: Result): Readonly<Record<string, string>> =>
  Object.fromEntries(Object.entries(unzipSync(bytesOf(result))).map(([name, bytes]) => [name, strFromU8(bytes)]));

interface Topic {
  readonly folder: string;
  readonly markup: Node;
  readonly view: Node;
}
const child = (node: Node, ...path: readonly string[]): Node =>
  path.reduce((n, name) => n.children.find((c) => c.name === name)!, node);
const textAt = (node: Node, ...path: readonly string[]): string => child(node, ...path).text;
const topicsOf = (result: Result): Topic[] => {
  const files = filesOf(result);
  return Object.keys(files)
    .filter((name) => name.endsWith('/markup.bcf'))
    .map((name) => {
      const folder = name.replace('/markup.bcf', '');
      return { folder, markup: xmlTree(files[name]!), view: xmlTree(files[`${folder}/viewpoint.bcfv`]!) };
    })
    .sort((a, b) => Number(textAt(a.markup, 'Topic', 'Index')) - Number(textAt(b.markup, 'Topic', 'Index')));
};
const selected = (topic: Topic): string[] =>
  (child(topic.view, 'Components').children.find((c) => c.name === 'Selection')?.children ?? []).map(
    (c) => c.attributes.IfcGuid!,
  );
const triple = (node: Node): number[] => node.children.map((c) => Number(c.text));

const HOSTILE = sampleFinding(
  'trace.unit-inferred',
  'attention',
  'input',
  [500, 0, 0],
  '<W1> & "co"',
  `Layer "A&B" <x> ]]> \u0000\u0008\ud800 ${'long '.repeat(100)}`,
  'a < b',
);
const withHostile: Result = { ...exampleResult, findings: [...exampleResult.findings, HOSTILE] };
const many: Result = {
  ...exampleResult,
  findings: Array.from({ length: 1000 }, (_, i) =>
    sampleFinding('check.tie-overloaded', 'failure', 'T11', [i, 0, 0], `T${i + 1}`, `Tie T${i + 1} carries too much.`),
  ),
};

const scenes: readonly (readonly [string, Result])[] = [
  ['a drawing', exampleResult],
  ['a model', asModel(exampleResult)],
  ['texts that try to break out', withHostile],
  ['a thousand findings', many],
  ['no findings', { ...exampleResult, findings: [] }],
  [
    'no walls',
    {
      ...exampleResult,
      plan: { ...exampleResult.plan, walls: [], faces: [], nodes: [], vertices: [], runs: [] },
      layout: { ...exampleResult.layout, pieces: [], ties: [] },
    },
  ],
];

describe.each(scenes)('%s', (_, result) => {
  it('keeps to the schemas in every file', () => {
    const files = filesOf(result);
    expect(bcfBreaches(xmlTree(files['bcf.version']!))).toEqual([]);
    for (const { folder, markup, view } of topicsOf(result)) {
      expect([...bcfBreaches(markup), ...bcfBreaches(view)]).toEqual([]);
      expect(child(markup, 'Topic').attributes.Guid).toBe(folder);
      expect(child(markup, 'Viewpoints').attributes.Guid).toBe(view.attributes.Guid);
    }
    expect(Object.keys(files).length).toBe(1 + 2 * topicsOf(result).length);
  });

  it('has cameras with unit vectors square to each other', () => {
    for (const { view } of topicsOf(result)) {
      const camera = child(view, 'PerspectiveCamera');
      const [look, up] = [triple(child(camera, 'CameraDirection')), triple(child(camera, 'CameraUpVector'))];
      expect(Math.hypot(...look)).toBeCloseTo(1, 5);
      expect(Math.hypot(...up)).toBeCloseTo(1, 5);
      expect(look.reduce((sum, v, i) => sum + v * up[i]!, 0)).toBeCloseTo(0, 5);
      expect(up[2]).toBeGreaterThan(0);
    }
  });
});

describe('the checker itself', () => {
  const good = filesOf(exampleResult);
  const markup = good[Object.keys(good).find((n) => n.endsWith('markup.bcf'))!]!;
  it.each([
    [/<CreationAuthor>.*<\/CreationAuthor>/, '', /CreationAuthor 0 times/],
    [/ Guid="[^"]*"/, '', /lacks Guid/],
    [/<Priority>/, '<Prio/><Priority>', /has Prio/],
    [/(<Title>.*<\/Title>)(<Priority>.*<\/Priority>)/, '$2$1', /another order/],
    [/<CreationDate>[^<]*/, '<CreationDate>today', /CreationDate is today/],
  ])('finds what is broken: %s', (pattern, by, message) => {
    const broken = markup.replace(pattern, by);
    expect(broken).not.toBe(markup);
    expect(bcfBreaches(xmlTree(broken)).join('\n')).toMatch(message);
  });
});

describe('topics', () => {
  it('are one for each failure and attention, and one for all notes', () => {
    const topics = topicsOf(exampleResult);
    const facts = topics.map(({ markup }) => {
      const topic = child(markup, 'Topic');
      return [
        topic.attributes.TopicType,
        topic.attributes.TopicStatus,
        ...topic.children.filter((c) => c.name === 'Labels').map((c) => c.text),
      ];
    });
    expect(facts).toEqual([
      ['Issue', 'Open', 'check.tie-overloaded', 'T11'],
      ['Request', 'Open', 'trace.unit-inferred', 'input'],
      ['Comment', 'Open', 'shutterwright'],
    ]);
    expect(textAt(topics[1]!.markup, 'Topic', 'Description')).toContain('Assumed: mm.');
    expect(textAt(topics[1]!.markup, 'Topic', 'Description')).toContain('What to do: ');
    expect(textAt(topics[2]!.markup, 'Topic', 'Description')).toContain('The pour line was not stated.');
  });

  it('select what they are about by the GlobalIds of the model of the forms and of the architect', () => {
    const model = asModel(exampleResult);
    const [tie] = topicsOf(model);
    const forms = textOf(model);
    const [own, theirs] = selected(tie!);
    expect(forms).toContain(`=IFCMECHANICALFASTENER('${own}',$,'T37',`);
    expect(theirs).toBe(ARCHITECTS[1]);
    const [ofDrawing] = topicsOf(exampleResult);
    expect(textOf(exampleResult)).toContain(`=IFCMECHANICALFASTENER('${selected(ofDrawing!)[0]}',$,'T37',`);
  });

  it('select the element of the model that a finding names', () => {
    const finding = sampleFinding(
      'trace.unit-inferred',
      'attention',
      'input',
      null,
      ARCHITECTS[2],
      'A wall was left out.',
    );
    const [topic] = topicsOf({ ...asModel(exampleResult), findings: [finding] });
    expect(selected(topic!)).toEqual([ARCHITECTS[2]]);
  });

  it('look at their place, in metres', () => {
    const [topic] = topicsOf(exampleResult);
    const camera = child(topic!.view, 'PerspectiveCamera');
    const [eye, look] = [triple(child(camera, 'CameraViewPoint')), triple(child(camera, 'CameraDirection'))];
    // The finding stands at 0, 1500, 625 mm: the ray from the eye passes there.
    const to = [0, 1.5, 0.625].map((v, i) => v - eye[i]!);
    const far = Math.hypot(...to);
    to.forEach((v, i) => {
      expect(v / far).toBeCloseTo(look[i]!, 5);
    });
    expect(far).toBeLessThan(6);
    // W2 is the left wall of the plan: it is looked at from outside.
    expect(eye[0]).toBeLessThan(-0.1);
  });

  it('name the files that they are about', () => {
    const [topic] = topicsOf(asModel(exampleResult));
    const files = child(topic!.markup, 'Header').children;
    expect(files.map((f) => [textAt(f, 'Filename'), textAt(f, 'Date')])).toEqual([
      ['house.ifc', '2024-03-05T08:15:30'],
      ['house.forms.ifc', '2024-03-05T08:15:30'],
    ]);
    expect(files[0]!.attributes.IfcProject).toBe('0M6o7Znnv7hxsbWgeu7oQq');
    const project = /IFCPROJECT\('([^']*)'/.exec(textOf(asModel(exampleResult)))![1];
    expect(files[1]!.attributes.IfcProject).toBe(project);
  });

  it('bring texts through whole, but for characters that XML has not, and keep titles short', () => {
    const topic = topicsOf(withHostile).find(({ markup }) => textAt(markup, 'Topic', 'Title').startsWith('Layer'))!;
    const description = textAt(topic.markup, 'Topic', 'Description');
    expect(description).toContain('Layer "A&B" <x> ]]> \uFFFD\uFFFD\uFFFD long');
    expect(description).toContain('about <W1> & "co"');
    expect([...textAt(topic.markup, 'Topic', 'Title')].length).toBeLessThanOrEqual(120);
  });

  it('are no more than a person goes through; the rest is named together and said', () => {
    const written = writeBcf(many);
    expect(written.findings).toMatchObject([{ code: 'write.ifc-topics-gathered', severity: 'note' }]);
    const topics = topicsOf(many);
    expect(topics.length).toBe(201);
    // The ties that there are share a topic for each wall; those stand first.
    const { ties } = exampleResult.layout;
    const single = 200 - new Set(ties.map((t) => t.wall)).size;
    expect(textAt(topics.at(-1)!.markup, 'Topic', 'Title')).toBe(`${1000 - ties.length - single} further findings`);
    expect(textAt(topics.at(-1)!.markup, 'Topic', 'Description')).toContain(
      `Tie T${single + ties.length + 1} carries too much.`,
    );
  });

  it('of one kind on one wall are one where they are many: it lists them and selects what they are about', () => {
    const [first] = exampleResult.layout.ties;
    const ties = exampleResult.layout.ties.filter((t) => t.wall === first!.wall);
    expect(ties.length).toBeGreaterThan(3);
    const findings = ties.map((t) =>
      sampleFinding('check.tie-overload', 'failure', 'T11', null, t.id, `Tie ${t.id} carries too much.`),
    );
    const few = topicsOf({ ...exampleResult, findings: findings.slice(0, 3) });
    expect(few).toHaveLength(3);
    const [one, ...more] = topicsOf({ ...exampleResult, findings });
    expect(more).toEqual([]);
    expect(textAt(one!.markup, 'Topic', 'Title')).toMatch(new RegExp(`^${ties.length} alike: `));
    for (const t of ties)
      expect(textAt(one!.markup, 'Topic', 'Description')).toContain(`Tie ${t.id} carries too much.`);
  });

  it('of a face are seen from its own side', () => {
    const { plan } = exampleResult;
    const sideOf = (face: string): number => {
      const findings = [sampleFinding('check.cover-gap', 'failure', 'T1', null, face, 'No form.')];
      const [topic] = topicsOf({ ...exampleResult, findings });
      const wall = plan.walls.find((w) => w.id === plan.faces.find((f) => f.id === face)!.wall)!;
      const eye = triple(child(topic!.view, 'PerspectiveCamera', 'CameraViewPoint')).map((metres) => 1000 * metres);
      return Math.sign(
        (wall.end.x - wall.start.x) * (eye[1]! - wall.start.y) - (wall.end.y - wall.start.y) * (eye[0]! - wall.start.x),
      );
    };
    const face = (side: string): string => plan.faces.find((f) => f.side === side)!.id;
    expect(sideOf(face('left'))).toBe(1);
    expect(sideOf(face('right'))).toBe(-1);
  });

  it('keep their GUIDs over a revision that numbers ties anew', () => {
    const renamed = exampleResult.layout.ties.map((t) => ({ ...t, id: t.id.replace('T', 'T1') }));
    const findings = exampleResult.findings.map((f) => ({ ...f, subject: f.subject.replace(/^T/, 'T1') }));
    const later: Result = { ...exampleResult, findings, layout: { ...exampleResult.layout, ties: renamed } };
    expect(topicsOf(later)[0]!.folder).toBe(topicsOf(exampleResult)[0]!.folder);
  });
});

const EXPAT = 'import sys, xml.parsers.expat as e; e.ParserCreate().Parse(sys.stdin.buffer.read(), True)';
const hasPython = spawnSync('python3', ['-c', 'import xml.parsers.expat']).status === 0;
itNeeds(hasPython, 'python3')('expat reads every file as well-formed XML', () => {
  for (const result of [withHostile, asModel(withHostile)]) {
    for (const [name, xml] of Object.entries(filesOf(result))) {
      const run = spawnSync('python3', ['-c', EXPAT], { input: xml, encoding: 'utf8' });
      expect([name, run.status, run.stderr]).toEqual([name, 0, '']);
    }
  }
  expect(spawnSync('python3', ['-c', EXPAT], { input: '<a>&</a>' }).status).not.toBe(0);
});
