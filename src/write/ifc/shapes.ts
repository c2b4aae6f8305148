/** Bodies as extrusions, each written once and placed by mapped items; types with their data; colours. */

import { ORIGIN } from '../../ground/space.js';
import type { Vec3 } from '../../ground/vocabulary.js';
import type { Author, Property } from './author.js';
import type { Body } from './bodies.js';
import { KINDS, type Look, type PartKind } from './kinds.js';
import { list, real, type StepRef, type StepValue, text, word } from './step/values.js';

/** A round bar along z from the origin. */
export interface Rod {
  readonly kind: 'rod';
  readonly radiusMm: number;
  readonly heightMm: number;
}

/** A body in the axes of the thing that it is a part of: its origin, and its own z and x where they are turned. */
export interface Placed {
  readonly body: Body | Rod;
  readonly at: Vec3;
  readonly z?: Vec3;
  readonly x?: Vec3;
}

export type AnyBody = Body | Rod | { readonly kind: 'parts'; readonly parts: readonly Placed[] };

const profile = (author: Author, body: Body | Rod): StepRef => {
  const { file } = author;
  const common = { ProfileType: word('AREA') };
  const at = (x: number, y: number) => file.share('IfcAxis2Placement2D', { Location: author.point2(x, y) });
  switch (body.kind) {
    case 'box':
      return file.add('IfcRectangleProfileDef', {
        ...common,
        Position: at(body.widthMm / 2, -body.depthMm / 2),
        XDim: author.length(body.widthMm),
        YDim: author.length(body.depthMm),
      });
    case 'rod':
      return file.add('IfcCircleProfileDef', { ...common, Position: at(0, 0), Radius: author.length(body.radiusMm) });
    case 'prism': {
      const points = body.outline.map((p) => author.point2(p.x, p.y));
      return file.add('IfcArbitraryClosedProfileDef', {
        ...common,
        OuterCurve: file.add('IfcPolyline', { Points: list([...points, points[0]!]) }),
      });
    }
  }
};

/** An extrusion along its z, in the colour of its kind. */
export const coloured = (author: Author, { body, at, z, x }: Placed, kind: PartKind): StepRef => {
  const solid = author.file.add('IfcExtrudedAreaSolid', {
    SweptArea: profile(author, body),
    Position: author.axes(at, z, x),
    ExtrudedDirection: author.direction(0, 0, 1),
    Depth: author.length(body.heightMm),
  });
  author.file.add('IfcStyledItem', {
    Item: solid,
    Styles: list([surface(author, KINDS[kind].look)]),
  });
  return solid;
};

const surface = (author: Author, look: Look): StepRef => {
  const [red, green, blue] = look.rgb.map((c) => real(Math.round((c / 255) * 1e6) / 1e6));
  const colour = author.file.share('IfcColourRgb', {
    Name: text(look.name),
    Red: red!,
    Green: green!,
    Blue: blue!,
  });
  const rendering = author.file.share('IfcSurfaceStyleRendering', {
    SurfaceColour: colour,
    Transparency: real(0),
    ReflectanceMethod: word('NOTDEFINED'),
  });
  return author.file.share('IfcSurfaceStyle', {
    Name: text(look.name),
    Side: word('BOTH'),
    Styles: list([rendering]),
  });
};

/** What a type is: a catalogue's item, or what is cut on site by its size. */
export interface TypeFacts {
  readonly key: string;
  readonly kind: PartKind;
  readonly name: string;
  readonly tag: string;
  readonly description: string;
  /** Made when the type is written: most that are asked for are written already. */
  readonly properties: () => readonly Property[];
  /** Of a tie. */
  readonly nominal?: { readonly diameterMm: number };
}

interface Kept {
  readonly facts: TypeFacts;
  readonly maps: Map<string, StepRef>;
  readonly things: StepRef[];
}

/** Types and shared bodies; layers gather what lies on them. */
export class Types {
  private readonly kept = new Map<string, Kept>();
  private readonly layers = new Map<string, StepRef[]>();

  constructor(
    private readonly author: Author,
    private readonly context: StepRef,
  ) {}

  private keptOf(facts: TypeFacts): Kept {
    const known = this.kept.get(facts.key);
    if (known) return known;
    const made: Kept = { facts, maps: new Map(), things: [] };
    this.kept.set(facts.key, made);
    return made;
  }

  private representation(type: 'SweptSolid' | 'MappedRepresentation', items: readonly StepRef[]): StepRef {
    return this.author.file.add('IfcShapeRepresentation', {
      ContextOfItems: this.context,
      RepresentationIdentifier: text('Body'),
      RepresentationType: text(type),
      Items: list(items),
    });
  }

  private mapOf(facts: TypeFacts, body: AnyBody): StepRef {
    const { maps } = this.keptOf(facts);
    const shape = JSON.stringify(body);
    const known = maps.get(shape);
    if (known) return known;
    const parts = body.kind === 'parts' ? body.parts : [{ body, at: ORIGIN }];
    const solids = parts.map((part) => coloured(this.author, part, facts.kind));
    const map = this.author.file.add('IfcRepresentationMap', {
      MappingOrigin: this.author.axes(ORIGIN),
      MappedRepresentation: this.representation('SweptSolid', solids),
    });
    maps.set(shape, map);
    return map;
  }

  private onLayer(kind: PartKind, representation: StepRef): StepRef {
    const { layer } = KINDS[kind];
    const items = this.layers.get(layer) ?? [];
    items.push(representation);
    this.layers.set(layer, items);
    return this.author.file.add('IfcProductDefinitionShape', { Representations: list([representation]) });
  }

  /** The shape of one thing: the type's body, mapped; of one that stands for several alike, once at the place of each. */
  mapped(facts: TypeFacts, body: AnyBody, places: readonly Vec3[] = [ORIGIN]): StepRef {
    const { file } = this.author;
    const items = places.map((at) =>
      file.add('IfcMappedItem', {
        MappingSource: this.mapOf(facts, body),
        MappingTarget: file.share('IfcCartesianTransformationOperator3D', {
          LocalOrigin: this.author.point(at),
          Scale: real(1),
        }),
      }),
    );
    return this.onLayer(facts.kind, this.representation('MappedRepresentation', items));
  }

  /** The shape of what has bodies of its own. */
  own(kind: PartKind, solids: readonly StepRef[]): StepRef {
    return this.onLayer(kind, this.representation('SweptSolid', solids));
  }

  /** Says that a thing is of a type. */
  isOf(facts: TypeFacts, thing: StepRef): void {
    this.keptOf(facts).things.push(thing);
  }

  private write(kept: Kept): void {
    const { file, ids } = this.author;
    const { facts, maps, things } = kept;
    const set = this.author.propertySet(`type ${facts.key}`, 'Shutterwright_Item', facts.properties());
    const common: Partial<Record<string, StepValue | null>> = {
      GlobalId: text(ids.make(`type ${facts.key}`)),
      Name: this.author.label(facts.name),
      Description: text(facts.description),
      HasPropertySets: set ? list([set]) : null,
      RepresentationMaps: list([...maps.values()]),
      Tag: this.author.label(facts.tag),
      ElementType: text(KINDS[facts.kind].objectType),
      PredefinedType: word(KINDS[facts.kind].predefined ?? 'USERDEFINED'),
    };
    const entity = KINDS[facts.kind].entity ?? 'IfcBuildingElementProxy';
    const nominal = facts.nominal ? { NominalDiameter: this.author.length(facts.nominal.diameterMm) } : {};
    const type = file.add(`${entity}Type`, { ...common, ...nominal });
    file.add('IfcRelDefinesByType', {
      GlobalId: text(ids.make(`type ${facts.key}/of`)),
      RelatedObjects: list(things),
      RelatingType: type,
    });
  }

  /** Writes the types and the layers, once everything that is of them stands in the file. */
  finish(): void {
    for (const kept of this.kept.values()) this.write(kept);
    for (const [name, items] of [...this.layers].sort(([a], [b]) => (a < b ? -1 : 1))) {
      this.author.file.add('IfcPresentationLayerAssignment', { Name: text(name), AssignedItems: list(items) });
    }
  }
}
