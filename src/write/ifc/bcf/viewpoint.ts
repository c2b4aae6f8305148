/** The view of a topic: a camera that looks at its place from outside and from above, coordinates in metres as BCF wants them (BCF 2.1, visinfo.xsd). */

import { reachPoints } from '../../../ground/arcs.js';
import { scale3, sub3, unit3 } from '../../../ground/space.js';
import { plainNumber } from '../../../ground/units.js';
import type { FacePlan, Vec3 } from '../../../ground/vocabulary.js';
import { middle } from '../extent.js';
import type { Topic } from './topics.js';
import { document, element, type Xml } from './xml.js';

/** Degrees; BCF 2.1 allows 45 to 60. */
const FIELD_OF_VIEW_DEG = 60;
/** How far the camera stands from a place: out from it, aside, and above it (mm): a form and its neighbours fill the view. *Practice, no source.* */
const AWAY_MM = { out: 4000, aside: 1500, up: 2500 };

interface Camera {
  readonly eye: Vec3;
  readonly target: Vec3;
}

/** The whole plan from its lower left, as far away as it is wide. */
const overview = (plan: FacePlan): Camera => {
  const points = plan.walls.flatMap(reachPoints);
  const levels = plan.walls.flatMap((w) => [...w.base, ...w.top].map((b) => b.levelMm));
  if (points.length === 0) return { eye: { x: -10000, y: -10000, z: 10000 }, target: { x: 0, y: 0, z: 0 } };
  const xs = points.map((p) => p.x);
  const ys = points.map((p) => p.y);
  const size = Math.max(Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys), AWAY_MM.out);
  const target = { x: middle(xs), y: middle(ys), z: middle(levels) };
  return { eye: { x: target.x - size * 0.7, y: target.y - size * 0.9, z: target.z + size * 0.8 }, target };
};

const cameraOf = (topic: Topic, plan: FacePlan): Camera => {
  if (!topic.at) return overview(plan);
  const [x, y, z] = topic.at;
  const out = topic.subject?.outward ?? { x: -Math.SQRT1_2, y: -Math.SQRT1_2 };
  return {
    target: { x, y, z },
    eye: {
      x: x + out.x * AWAY_MM.out - out.y * AWAY_MM.aside,
      y: y + out.y * AWAY_MM.out + out.x * AWAY_MM.aside,
      z: z + AWAY_MM.up,
    },
  };
};

const triple = (name: string, p: Vec3): Xml =>
  element(name, [
    element('X', plainNumber(p.x, 6)),
    element('Y', plainNumber(p.y, 6)),
    element('Z', plainNumber(p.z, 6)),
  ]);

/** visualization info of a topic. */
export const viewpoint = (topic: Topic, plan: FacePlan): string => {
  const { eye, target } = cameraOf(topic, plan);
  const look = unit3(sub3(target, eye));
  // The camera's own up: what is left of 'up' square to the direction of view, which is never upright.
  const up = unit3(sub3({ x: 0, y: 0, z: 1 }, scale3(look, look.z)));
  const components = topic.components.map((IfcGuid) => element('Component', '', { IfcGuid }));
  return document(
    element(
      'VisualizationInfo',
      [
        element('Components', [
          components.length > 0 ? element('Selection', components) : null,
          element('Visibility', '', { DefaultVisibility: 'true' }),
        ]),
        element('PerspectiveCamera', [
          triple('CameraViewPoint', scale3(eye, 1e-3)),
          triple('CameraDirection', look),
          triple('CameraUpVector', up),
          element('FieldOfView', String(FIELD_OF_VIEW_DEG)),
        ]),
      ],
      { Guid: topic.viewUuid },
    ),
  );
};
