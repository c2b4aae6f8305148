/** An open model as values: the parts of reading joined. */

import { IFCPRODUCT, IFCRIGIDOPERATION } from 'web-ifc';
import { byText } from '../../ground/order.js';
import type { Model } from '../../ground/vocabulary.js';
import { Aspects } from './aspects.js';
import { nameOf, refOf } from './attributes.js';
import { Bars } from './bars.js';
import { Bodies } from './bodies.js';
import { Curves } from './curves.js';
import { Elements } from './elements.js';
import type { EngineModel } from './engine.js';
import { Faces } from './faces.js';
import { Identities } from './identities.js';
import { type Sorted, sortElements } from './kinds.js';
import type { Lines } from './lines.js';
import type { ModelLog } from './log.js';
import { Materials } from './materials.js';
import { Placements } from './placements.js';
import { Profiles } from './profiles.js';
import { Relations } from './relations.js';
import { buildingsOf, georeferenceOf, projectOf, sitesOf, storeysOf } from './site.js';
import { Solids } from './solids.js';
import type { StepText } from './step.js';
import { Tessellation } from './tessellate.js';
import { readUnits } from './units.js';

export const readModel = (lines: Lines, engineModel: EngineModel, text: StepText, log: ModelLog): Model => {
  const project = projectOf(lines);
  if (project === null)
    log.add(
      'read.model-project',
      'The model has no IfcProject',
      null,
      'its units are those of the first unit assignment',
    );
  const units = readUnits(lines, project, log);
  const places = new Placements(lines, units.length.mmPerUnit, log);
  const identities = new Identities(lines, log);
  const relations = new Relations(lines);
  const sorted = sortElements(lines);
  const storeys = storeysOf(lines, places, identities, log);
  const georeference = georeferenceOf(lines, places, log);
  if (lines.ofType(IFCRIGIDOPERATION).length > 0) {
    log.add('read.model-georeference', 'The model is placed on its map by a rigid operation, which is not read', null);
  }

  const curves = new Curves(places, units.radPerUnit);
  const profiles = new Profiles(places, curves, log);
  const engine = new Tessellation(lines, engineModel, curves, places.mmPerUnit, log);
  const solids = new Solids(places, curves, profiles, new Faces(places, log), engine, log);
  const materials = new Materials(places, relations);
  const aspects = new Aspects(lines);
  const bodies = new Bodies(places, solids, log, (item, product) => aspects.materialOf(item, materials.of(product)));
  const storeyAt = new Map(storeys.map(({ line, id }) => [line, id]));
  // What stands in a space stands in the storey of the space.
  const storeyOf = (container: number | null): string | null => {
    let at = container ?? undefined;
    for (let steps = 0; at !== undefined && steps < 20; steps++) {
      const storey = storeyAt.get(at);
      if (storey !== undefined) return storey;
      at = relations.whole.get(at);
    }
    return null;
  };
  const elements = new Elements(lines, relations, sorted, bodies, materials, identities, storeyOf, log).read();
  const bars = new Bars(lines, places, curves, bodies, relations, identities, units.mm2PerUnit, log).read(sorted.bars);
  for (const id of sorted.otherReinforcement) {
    const line = lines.get(id);
    if (line === null) continue;
    log.add('read.model-bars', `Reinforcement of kind ${lines.entity(line)} is not read as bars`, identities.of(line));
  }
  const unread = unreadOf(lines, sorted, identities);
  if (unread.length > 0) {
    const kinds = unread.map(([entity, count]) => `${count} ${entity}`).join(', ');
    log.add(
      'read.model-unread',
      `Not read, since of kinds that are neither walls nor in their way, or without a solid body: ${kinds}`,
      null,
    );
  }
  const { schemaName, schema, timeStamp } = text.header;
  return {
    kind: 'ifc',
    schema: schema ?? 'IFC4',
    schemaName: schemaName ?? '',
    timeStamp,
    unit: units.length,
    project: {
      id: project === null ? '' : identities.of(project).id,
      name: project === null ? null : nameOf(project.Name),
    },
    sites: sitesOf(lines, identities),
    buildings: buildingsOf(lines, identities),
    storeys: storeys.map(({ line: _, ...storey }) => storey),
    georeference,
    elements,
    bars,
    unread: Object.fromEntries(unread),
  };
};

/** Products with a shape that were not read, by entity: of kinds that are not wanted, and those whose shape is no body. */
const unreadOf = (lines: Lines, sorted: Sorted, identities: Identities): readonly (readonly [string, number])[] => {
  for (const id of lines.ofType(IFCPRODUCT)) {
    if (sorted.elements.has(id) || sorted.within.has(id)) continue;
    const line = lines.get(id);
    if (line !== null && refOf(line.Representation) !== null) identities.without(lines.entity(line));
  }
  return Object.entries(identities.unread).sort(byText(([entity]) => entity));
};
