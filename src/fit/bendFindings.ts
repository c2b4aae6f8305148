/** What a person should know of the bends of a layout: the strips that close each, and those that need backing. */

import { type Finding, finding } from '../ground/findings.js';
import { plainNumber } from '../ground/units.js';
import type { Catalogue, FacePlan, Piece, PlanNode } from '../ground/vocabulary.js';

/** Edges that a flat strip would cut off by less are not worth planing. */
const FLAT_MM = 1;

const mm = (n: number): string => plainNumber(n, 1);

/** How far the vertex stands out before a strip with a flat face: the height of the triangle between its two arms. */
const cutOffMm = ({ covers, taper }: Piece, deflectionDeg: number): number => {
  const [a, b] = covers.map((c) => c.toMm - c.fromMm) as [number, number];
  return (a * b * Math.sin((deflectionDeg * Math.PI) / 180)) / taper!.faceMm;
};

const nodeFindings = (
  plan: FacePlan,
  { timberMostMm }: Catalogue,
  node: PlanNode,
  strips: readonly Piece[],
): Finding[] => {
  const at = [node.at.x, node.at.y, 0] as const;
  const of = (kind: string) => strips.find((p) => plan.vertices.some((v) => v.id === p.vertex && v.kind === kind));
  const [inner, outer] = [of('re-entrant'), of('salient')];
  if (!inner || !outer) return [];
  const size = ({ taper }: Piece) => `${mm(taper!.faceMm)} mm at the concrete and ${mm(taper!.backMm)} at the back`;
  const flatMm = Math.max(cutOffMm(inner, node.angleDeg), cutOffMm(outer, node.angleDeg));
  const planed = flatMm < FLAT_MM ? '' : ` Strips with a flat face would round the edge off by ${mm(flatMm)} mm.`;
  const message = `Walls ${node.walls.join(' and ')} turn by ${plainNumber(node.angleDeg, 2)} degrees at node ${node.id}: tapered timber closes the inner face, ${size(inner)}, and the outer one, ${size(outer)}.${planed}`;
  const wide = [inner, outer].filter((p) => p.taper!.faceMm > timberMostMm);
  return [
    finding('fit.bend', message, { at, subject: node.id }),
    ...wide.map((p) =>
      finding('fit.timber-wide', `The strip at node ${node.id}, ${mm(p.taper!.faceMm)} mm wide, needs backing.`, {
        at,
        subject: node.id,
      }),
    ),
  ];
};

export const bendFindings = (plan: FacePlan, catalogue: Catalogue, pieces: readonly Piece[]): Finding[] =>
  plan.nodes
    .filter((n) => n.kind === 'bend')
    .flatMap((node) =>
      nodeFindings(
        plan,
        catalogue,
        node,
        pieces.filter((p) => p.node === node.id && p.taper && p.course === 1),
      ),
    );
