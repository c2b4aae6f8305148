/** Elements with their bodies, openings, materials and what is said about them. */

import { IFCDOOR, IFCWINDOW } from 'web-ifc';
import { byText } from '../../ground/order.js';
import type { BodySolid, ElementKind, ModelElement, ModelMaterial, ModelOpening } from '../../ground/vocabulary.js';
import { itemOf, type Line, nameOf } from './attributes.js';
import type { Bodies } from './bodies.js';
import type { Identities } from './identities.js';
import type { Sorted } from './kinds.js';
import type { Lines } from './lines.js';
import type { ModelLog, Subject } from './log.js';
import type { Constituent, Materials } from './materials.js';
import type { Relations } from './relations.js';

/** Kinds that stay elements of their own where they are parts of another. */
const OWN: ReadonlySet<ElementKind> = new Set(['wall', 'footing', 'slab', 'column', 'beam', 'pile', 'service']);

const MOST_DEPTH = 6;

export class Elements {
  private readonly doors: ReadonlySet<number>;
  private readonly windows: ReadonlySet<number>;
  /** Elements that have a body of their own, not that of their parts. */
  private readonly whole = new Set<number>();

  constructor(
    private readonly lines: Lines,
    private readonly relations: Relations,
    private readonly sorted: Sorted,
    private readonly bodies: Bodies,
    private readonly materials: Materials,
    private readonly identities: Identities,
    private readonly storeyOf: (container: number | null) => string | null,
    private readonly log: ModelLog,
  ) {
    this.doors = new Set(lines.ofType(IFCDOOR));
    this.windows = new Set(lines.ofType(IFCWINDOW));
  }

  /** All of them, by GlobalId. */
  read(): ModelElement[] {
    const wholes = this.wholesOfParts();
    const found: ModelElement[] = [];
    for (const [id, kind] of this.sorted.elements) if (!wholes.has(id)) this.readOne(id, kind, found);
    // A part is in the body of its whole, unless that is a body of its own: then what is no piece of it stands beside it.
    const bodied = new Set(this.whole);
    for (const id of wholes.keys()) {
      if (!this.isWithin(id, bodied, wholes)) continue;
      const line = this.lines.get(id);
      if (line === null || !this.bodies.has(line)) continue;
      if (this.lines.entity(line) !== 'IfcBuildingElementPart') this.readOne(id, 'other', found);
      else {
        this.log.add(
          'read.model-parts-left',
          'Parts of elements that have a body themselves were not read',
          this.identities.of(line),
          'the body of the whole',
        );
      }
    }
    return found.sort(byText((element) => element.id));
  }

  /** Is an element, at any depth, part of one of these? */
  private isWithin(id: number, those: ReadonlySet<number>, wholes: ReadonlyMap<number, number>): boolean {
    let whole = wholes.get(id);
    for (let steps = 0; whole !== undefined && steps < MOST_DEPTH; steps++) {
      if (those.has(whole)) return true;
      whole = wholes.get(whole);
    }
    return false;
  }

  private readOne(id: number, kind: ElementKind, into: ModelElement[]): void {
    const line = this.lines.get(id);
    const element = line === null ? null : this.element(line, kind);
    if (element !== null) into.push(element);
  }

  /** Of parts that may belong to the body of the element that they are part of: that element. */
  private wholesOfParts(): ReadonlyMap<number, number> {
    const wholes = new Map<number, number>();
    for (const [id, kind] of this.sorted.elements) {
      if (OWN.has(kind)) continue;
      let whole = this.relations.whole.get(id);
      for (let steps = 0; whole !== undefined && steps < MOST_DEPTH; steps++) {
        if (this.sorted.elements.has(whole) && this.isBuilt(whole)) {
          wholes.set(id, whole);
          break;
        }
        whole = this.relations.whole.get(whole);
      }
    }
    return wholes;
  }

  /** Assemblies hold elements of their own; all others hold parts. */
  private isBuilt(id: number): boolean {
    const line = this.lines.get(id);
    return line !== null && this.lines.entity(line) !== 'IfcElementAssembly';
  }

  private element(line: Line, kind: ElementKind): ModelElement | null {
    const { relations } = this;
    const entity = this.lines.entity(line);
    const subject = this.identities.of(line);
    const body = this.bodyOf(line, subject);
    const openings = this.openingsOf(line, 0);
    if (body.length === 0 && kind === 'other' && openings.length === 0) {
      if (this.bodies.has(line)) this.identities.without(entity);
      return null;
    }
    if (body.length === 0 && kind !== 'other' && !this.hasOwnParts(line.expressID)) {
      this.log.add('read.model-no-body', `Elements of kind ${entity} have no body that can be read`, subject);
    }
    const typeLine = this.lines.get(relations.type.get(line.expressID) ?? null);
    return {
      id: subject.id,
      line: line.expressID,
      kind,
      entity,
      name: nameOf(line.Name),
      tag: nameOf(line.Tag),
      objectType: nameOf(line.ObjectType),
      predefinedType: predefined(line) ?? (typeLine === null ? null : predefined(typeLine)),
      typeName: typeLine === null ? null : nameOf(typeLine.Name),
      storey: this.storeyOf(relations.containerOf(line.expressID)),
      materials: this.materials.of(line).map(plainMaterial),
      body,
      openings,
    };
  }

  /** The element's own body, else the bodies of its parts. */
  private bodyOf(line: Line, subject: Subject): BodySolid[] {
    const body = this.bodies.read(line, subject, null);
    if (body.length === 0) this.partBodies(line.expressID, body, 0);
    else this.whole.add(line.expressID);
    for (const id of this.relations.projections.get(line.expressID) ?? []) {
      const projection = this.lines.get(id);
      if (projection !== null) body.push(...this.bodies.read(projection, this.identities.of(projection), null));
    }
    return body;
  }

  private partBodies(whole: number, into: BodySolid[], depth: number): void {
    if (depth > MOST_DEPTH) return;
    for (const id of this.relations.parts.get(whole) ?? []) {
      const kind = this.sorted.elements.get(id);
      if (kind === undefined || OWN.has(kind)) continue;
      const part = this.lines.get(id);
      if (part === null) continue;
      const subject = this.identities.of(part);
      const [own] = this.materials.of(part);
      for (const solid of this.bodies.read(part, subject, subject.id)) {
        into.push(solid.material === null && own !== undefined ? { ...solid, material: own.name } : solid);
      }
      this.partBodies(id, into, depth + 1);
    }
  }

  private hasOwnParts(id: number): boolean {
    return (this.relations.parts.get(id) ?? []).some((part) => this.sorted.elements.has(part));
  }

  /** Openings of the element and of its parts. */
  private openingsOf(line: Line, depth: number): ModelOpening[] {
    const found: ModelOpening[] = [];
    for (const id of this.relations.openings.get(line.expressID) ?? []) {
      const opening = this.lines.get(id);
      if (opening === null) continue;
      const subject = this.identities.of(opening);
      const body = this.bodies.read(opening, subject, null);
      if (body.length === 0) {
        this.log.add('read.model-opening', 'Openings have no body that can be read', subject, 'nothing is cut out');
      }
      found.push({
        id: subject.id,
        line: id,
        name: nameOf(opening.Name),
        predefinedType: predefined(opening),
        filling: this.fillingOf(id),
        body,
      });
    }
    if (depth < MOST_DEPTH) {
      for (const id of this.relations.parts.get(line.expressID) ?? []) {
        const kind = this.sorted.elements.get(id);
        const part = kind === undefined || OWN.has(kind) ? null : this.lines.get(id);
        if (part !== null) found.push(...this.openingsOf(part, depth + 1));
      }
    }
    return depth > 0 ? found : found.sort(byText((opening) => opening.id));
  }

  private fillingOf(opening: number): ModelOpening['filling'] {
    const filled = this.relations.fillings.get(opening) ?? [];
    if (filled.some((id) => this.doors.has(id))) return 'door';
    if (filled.some((id) => this.windows.has(id))) return 'window';
    return filled.length > 0 ? 'other' : null;
  }
}

const plainMaterial = ({ name, category, thicknessMm }: Constituent): ModelMaterial => ({
  name,
  category,
  thicknessMm,
});

const predefined = (line: Line): string | null => {
  const item = itemOf(line.PredefinedType);
  return item === 'NOTDEFINED' ? null : item;
};
