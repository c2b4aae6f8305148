/** Reinforcing bars as centre lines with diameters. */

import { byText } from '../../ground/order.js';
import type { ModelBar, Vec3 } from '../../ground/vocabulary.js';
import { type Line, nameOf, numberOf, refOf } from './attributes.js';
import type { Bodies } from './bodies.js';
import { type Curves, chords } from './curves.js';
import type { Identities, Identity } from './identities.js';
import type { Lines } from './lines.js';
import type { ModelLog, Subject } from './log.js';
import type { Placements } from './placements.js';
import type { Relations } from './relations.js';
import { type Affine, finite3, joined, placed, plus, times, turned, unit3 } from './space.js';

const MOST_BARS = 200_000;

interface Axis {
  readonly path: readonly Vec3[];
  readonly diameterMm: number | null;
}

export class Bars {
  private count = 0;

  constructor(
    private readonly lines: Lines,
    private readonly places: Placements,
    private readonly curves: Curves,
    private readonly bodies: Bodies,
    private readonly relations: Relations,
    private readonly identities: Identities,
    /** Size of the unit of areas. */
    private readonly mm2PerUnit: number,
    private readonly log: ModelLog,
  ) {}

  read(ids: readonly number[]): ModelBar[] {
    const found: ModelBar[] = [];
    for (const id of ids) {
      const line = this.lines.get(id);
      if (line === null) continue;
      const subject = this.identities.of(line);
      if (this.count >= MOST_BARS) {
        this.log.add('read.too-much', `More than ${MOST_BARS} reinforcing bars; the rest was left out`, null);
        break;
      }
      found.push(...this.bar(line, subject));
    }
    return found.sort(byText((bar) => bar.id));
  }

  private bar(line: Line, subject: Identity): ModelBar[] {
    const nominal = this.nominal(line) ?? this.nominal(this.lines.get(this.relations.type.get(line.expressID) ?? null));
    const axes: Axis[] = [];
    for (const item of this.bodies.items(line, subject)) {
      const axis = this.axis(item.line, item.world, subject);
      if (axis === null) {
        this.log.add(
          'read.model-bars',
          `Reinforcing bars with shapes of kind ${this.lines.entity(item.line)} were not read as bars`,
          subject,
        );
      } else axes.push(axis);
    }
    const bars: ModelBar[] = [];
    for (const { path, diameterMm } of axes) {
      const size = nominal ?? diameterMm;
      if (size === null) {
        this.log.add('read.model-bars', 'Reinforcing bars without a diameter were left out', subject);
        continue;
      }
      this.count++;
      const copy = bars.length === 0 ? '' : `#${bars.length + 1}`;
      bars.push({
        id: `${subject.id}${copy}`,
        line: line.expressID,
        name: nameOf(line.Name),
        diameterMm: size,
        path,
      });
    }
    if (axes.length === 0 && !this.bodies.has(line)) {
      this.log.add('read.model-bars', 'Reinforcing bars without a body were left out', subject);
    }
    return bars;
  }

  /** NominalDiameter, else of the cross-section: d = 2 sqrt(A / pi). */
  private nominal(line: Line | null): number | null {
    if (line === null) return null;
    const diameterMm = this.places.lengthMm(line.NominalDiameter);
    if (diameterMm !== null && diameterMm > 0) return diameterMm;
    const area = numberOf(line.CrossSectionArea);
    return area !== null && area > 0 ? 2 * Math.sqrt((area * this.mm2PerUnit) / Math.PI) : null;
  }

  /** The centre line of a swept disk or of an extruded circle. */
  private axis(item: Line, world: Affine, subject: Subject): Axis | null {
    const { lines, places } = this;
    const entity = lines.entity(item);
    if (entity === 'IfcSweptDiskSolid' || entity === 'IfcSweptDiskSolidPolygonal') {
      const pieces = this.curves.pieces(lines.at(item.Directrix));
      if (pieces === null) return null;
      const radius = places.lengthMm(item.Radius);
      return this.sound(
        chords(pieces).map((p) => placed(world, p)),
        radius,
      );
    }
    if (entity === 'IfcExtrudedAreaSolid') {
      const profile = lines.at(item.SweptArea);
      if (profile === null || !/^IfcCircle(Hollow)?ProfileDef$/.test(lines.entity(profile))) return null;
      const place = places.axes(item.Position);
      const along = unit3(places.sweep(item.ExtrudedDirection, subject));
      const depth = places.lengthMm(item.Depth);
      const middle = refOf(profile.Position) === null ? null : places.axes(profile.Position);
      if (place === null || along === null || depth === null || !(depth > 0)) return null;
      const at = joined(world, place);
      const start = middle === null ? at.origin : placed(at, middle.origin);
      return this.sound([start, plus(start, turned(at, times(along, depth)))], places.lengthMm(profile.Radius));
    }
    return null;
  }

  private sound(path: readonly Vec3[], radiusMm: number | null): Axis | null {
    if (path.length < 2 || !path.every(finite3)) return null;
    return { path, diameterMm: radiusMm !== null && radiusMm > 0 ? 2 * radiusMm : null };
  }
}
