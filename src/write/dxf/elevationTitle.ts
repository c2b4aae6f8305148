/** What the title of an elevation says: the face, its wall, what stands at its ends, and what is behind it. */

import type { FaceFrame } from '../../ground/places.js';
import { runsOfWall } from '../../ground/runs.js';
import type { View } from './elevationView.js';
import { levelText } from './lengths.js';
import type { Scene } from './scene.js';

/** A node with the walls that meet the face's own there. */
const nodeName = (scene: Scene, nodeId: string, wallId: string): string => {
  const node = scene.result.plan.nodes.find((n) => n.id === nodeId);
  const others = (node?.walls ?? []).filter((w) => w !== wallId);
  return others.length === 0 ? nodeId : `${nodeId}, with ${others.join(', ')}`;
};

/** The face behind: where a crew finds what its ties go through to. */
const behind = (scene: Scene, { face, wall }: FaceFrame): string[] => {
  const side = face.side === 'left' ? 'right' : 'left';
  const other = scene.result.plan.faces.find((f) => f.wall === wall.id && f.side === side);
  return other ? [`BEHIND IT: FACE ${other.id}, THE OTHER WAY ROUND`] : [];
};

/** What a face's end is called: the node of the wall's start or end. */
const endName = (scene: Scene, wallId: string, end: 'start' | 'end'): string => {
  const node = runsOfWall(scene.result.plan, wallId).at(end === 'start' ? 0 : -1)?.[end].node;
  return `${end === 'start' ? 'START' : 'END'} OF ${wallId}${node ? ` (${nodeName(scene, node, wallId)})` : ''}`;
};

export const titleLines = (scene: Scene, view: View): string[] => {
  const { face, wall, seen } = view.frame;
  const unit = scene.result.catalogue.lengthUnit;
  const thickness = levelText(unit, wall.thicknessMm).slice(1);
  const title = `FACE ${face.id}`;
  const pour = wall.pour === undefined ? '' : `, pour ${wall.pour}`;
  const what = `wall ${wall.id}, ${face.side} face, ${thickness} thick${pour}, as seen standing before it`;
  if (face.side !== 'left' && face.side !== 'right') return [title, what];
  const ends = [endName(scene, wall.id, 'start'), endName(scene, wall.id, 'end')];
  const [left, right] = seen > 0 ? ends : [ends[1], ends[0]];
  return [title, what, `LEFT: ${left}`, `RIGHT: ${right}`, ...behind(scene, view.frame)];
};
