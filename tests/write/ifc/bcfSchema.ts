/**
 * What the schemas of BCF 2.1 demand of the parts that are written: order of elements, how often each may stand, required attributes, forms of values.
 * Facts from buildingSMART, BCF-XML: visinfo.xsd at commit 07a78768 and markup.xsd of release 2.1 (as IfcOpenShell ships it, src/bcf/bcf/v2/xsd).
 */

import type { Node } from './xmlTree.js';

const GUID = /^[a-f0-9]{8}-[a-f0-9]{4}-[a-f0-9]{4}-[a-f0-9]{4}-[a-f0-9]{12}$/;
const IFC_GUID = /^[0-9A-Za-z_$]{22}$/;
const DATE_TIME = /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d+)?(Z|[+-]\d\d:\d\d)?$/;
const DOUBLE = /^-?\d+(\.\d+)?$/;
const INT = /^-?\d+$/;
const ANY = /^/;

/** Least and most, and what stands inside: a form of text, or the name of an element below. */
type Child = readonly [name: string, least: number, most: number, form: RegExp | null];

interface Element {
  readonly children: readonly Child[];
  /** Form of each attribute; those with a bang are required. */
  readonly attributes: Readonly<Record<string, RegExp>>;
}

const MANY = Number.POSITIVE_INFINITY;
const POINT: Element = {
  children: [
    ['X', 1, 1, DOUBLE],
    ['Y', 1, 1, DOUBLE],
    ['Z', 1, 1, DOUBLE],
  ],
  attributes: {},
};

const ELEMENTS: Readonly<Record<string, Element>> = {
  Version: { children: [['DetailedVersion', 0, 1, ANY]], attributes: { 'VersionId!': /^2\.1$/ } },
  Markup: {
    children: [
      ['Header', 0, 1, null],
      ['Topic', 1, 1, null],
      ['Comment', 0, MANY, null],
      ['Viewpoints', 0, MANY, null],
    ],
    attributes: {},
  },
  Header: { children: [['File', 1, MANY, null]], attributes: {} },
  File: {
    children: [
      ['Filename', 0, 1, ANY],
      ['Date', 0, 1, DATE_TIME],
      ['Reference', 0, 1, ANY],
    ],
    attributes: { IfcProject: IFC_GUID, IfcSpatialStructureElement: IFC_GUID, isExternal: /^(true|false)$/ },
  },
  Topic: {
    children: [
      ['ReferenceLink', 0, MANY, ANY],
      ['Title', 1, 1, /\S/],
      ['Priority', 0, 1, ANY],
      ['Index', 0, 1, INT],
      ['Labels', 0, MANY, ANY],
      ['CreationDate', 1, 1, DATE_TIME],
      ['CreationAuthor', 1, 1, ANY],
      ['ModifiedDate', 0, 1, DATE_TIME],
      ['ModifiedAuthor', 0, 1, ANY],
      ['DueDate', 0, 1, DATE_TIME],
      ['AssignedTo', 0, 1, ANY],
      ['Stage', 0, 1, ANY],
      ['Description', 0, 1, ANY],
    ],
    attributes: { 'Guid!': GUID, TopicType: ANY, TopicStatus: ANY },
  },
  Viewpoints: {
    children: [
      ['Viewpoint', 0, 1, ANY],
      ['Snapshot', 0, 1, ANY],
      ['Index', 0, 1, INT],
    ],
    attributes: { 'Guid!': GUID },
  },
  VisualizationInfo: {
    children: [
      ['Components', 0, 1, null],
      ['OrthogonalCamera', 0, 1, null],
      ['PerspectiveCamera', 0, 1, null],
    ],
    attributes: { 'Guid!': GUID },
  },
  Components: {
    children: [
      ['ViewSetupHints', 0, 1, null],
      ['Selection', 0, 1, null],
      ['Visibility', 1, 1, null],
      ['Coloring', 0, 1, null],
    ],
    attributes: {},
  },
  Selection: { children: [['Component', 1, MANY, null]], attributes: {} },
  Component: {
    children: [
      ['OriginatingSystem', 0, 1, ANY],
      ['AuthoringToolId', 0, 1, ANY],
    ],
    attributes: { IfcGuid: IFC_GUID },
  },
  Visibility: { children: [['Exceptions', 0, 1, null]], attributes: { DefaultVisibility: /^(true|false)$/ } },
  PerspectiveCamera: {
    children: [
      ['CameraViewPoint', 1, 1, null],
      ['CameraDirection', 1, 1, null],
      ['CameraUpVector', 1, 1, null],
      // FieldOfView is a double from 45 to 60.
      ['FieldOfView', 1, 1, /^(4[5-9]|5\d|60)$/],
    ],
    attributes: {},
  },
  CameraViewPoint: POINT,
  CameraDirection: POINT,
  CameraUpVector: POINT,
};

const breachesOfAttributes = (node: Node, known: Element): string[] => {
  const forms = new Map(Object.entries(known.attributes).map(([name, form]) => [name.replace('!', ''), form]));
  const missing = Object.keys(known.attributes).filter((n) => n.endsWith('!') && !(n.slice(0, -1) in node.attributes));
  return [
    ...missing.map((name) => `${node.name} lacks ${name.slice(0, -1)}`),
    ...Object.entries(node.attributes).flatMap(([name, value]) =>
      forms.get(name)?.test(value) ? [] : [`${node.name}.${name} is ${value}`],
    ),
  ];
};

/** Everything in which a document breaks the schema. */
export const bcfBreaches = (node: Node): string[] => {
  const known = ELEMENTS[node.name];
  if (!known) return [`${node.name} is no element`];
  const names = node.children.map((c) => c.name);
  const order = known.children.map(([name]) => name);
  const sorted = [...names].sort((a, b) => order.indexOf(a) - order.indexOf(b));
  const found = breachesOfAttributes(node, known);
  if (names.join() !== sorted.join()) found.push(`${node.name} has its elements in another order: ${names.join()}`);
  if (node.text.trim() !== '') found.push(`${node.name} has text: ${node.text}`);
  for (const [name, least, most] of known.children) {
    const times = names.filter((n) => n === name).length;
    if (times < least || times > most) found.push(`${node.name} has ${name} ${times} times`);
  }
  for (const child of node.children) {
    const kind = known.children.find(([name]) => name === child.name);
    if (!kind) found.push(`${node.name} has ${child.name}`);
    else if (kind[3] === null) found.push(...bcfBreaches(child));
    else if (!kind[3].test(child.text) || child.children.length > 0) found.push(`${child.name} is ${child.text}`);
  }
  return found;
};
