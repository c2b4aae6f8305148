/** What a person should know of a corner although it is laid out: sharp ones, tapered strips, and what rounding drops. */

import { ACUTE_BEYOND_DEG, isBend } from '../ground/cornerAngles.js';
import { type Finding, finding } from '../ground/findings.js';
import { plainNumber } from '../ground/units.js';
import type { FacePlan } from '../ground/vocabulary.js';
import type { Bound } from './bound.js';
import { innerVertexOf, TAPERED_GU } from './cornerEnds.js';
import type { SolvedPlan, SolvedRun } from './plan.js';

/** Residues below this are rounding and not said. */
const RESIDUE_SAID_MM = 0.05;

/** Of one wall: what its outer end zones leave or stand over. */
export const cornerFindings = (plan: FacePlan, run: SolvedRun): Finding[] => {
  const { wall, start, end } = run.model.ctx.run;
  const bounds = [run.zones[0]?.start, run.zones[run.zones.length - 1]?.end];
  return [start, end].flatMap((runEnd, i): Finding[] => {
    const residueMm = (bounds[i] as Bound | undefined)?.residueMm ?? 0;
    if (Math.abs(residueMm) < RESIDUE_SAID_MM) return [];
    const node = plan.nodes.find((n) => n.id === runEnd.node);
    const words = residueMm > 0 ? 'short of' : 'past';
    const message = `At node ${runEnd.node} the outer units of wall ${wall} end ${plainNumber(Math.abs(residueMm), 2)} mm ${words} the concrete's edge.`;
    const at = node ? ([node.at.x, node.at.y, 0] as const) : null;
    return [finding('fit.residue-dropped', message, { at, subject: wall })];
  });
};

/** Of the whole plan: re-entrant vertices with a tapered strip, and sharp ones. */
export const vertexFindings = (plan: FacePlan, solved: SolvedPlan): Finding[] => {
  const tapered = new Map(
    solved.runs.flatMap(({ model }) =>
      [model.ctx.run.start, model.ctx.run.end].flatMap((end) =>
        end.kind === 'corner' && !isBend(end.deflectionDeg) && solved.legOf(innerVertexOf(end)) === TAPERED_GU
          ? [[innerVertexOf(end), end.deflectionDeg] as const]
          : [],
      ),
    ),
  );
  return plan.vertices.flatMap((v): Finding[] => {
    if (v.kind !== 're-entrant') return [];
    const at = [v.at.x, v.at.y, 0] as const;
    const found: Finding[] = [];
    const turn = tapered.get(v.id);
    if (turn !== undefined) {
      const message = `The corner at node ${v.node}, which turns by ${plainNumber(turn, 1)} degrees, gets no hinged corner but a tapered strip of timber on its inner face.`;
      found.push(finding('fit.tapered-strip', message, { at, subject: v.node }));
    }
    if (v.deflectionDeg > ACUTE_BEYOND_DEG) {
      const message = `The walls at node ${v.node} enclose only ${plainNumber(180 - v.deflectionDeg, 1)} degrees.`;
      found.push(finding('fit.sharp-corner', message, { at, subject: v.node }));
    }
    return found;
  });
};

/** Of the returns of jogs that are laid out with units: wide timber, and panels that nothing holds. */
export const returnFindings = (plan: FacePlan, solved: SolvedPlan): Finding[] =>
  solved.jogs.flatMap(({ jog, option }) =>
    option.returns.flatMap(({ at: { face, inner }, back, fill }): Finding[] => {
      const { ctx } = jog.sides[back];
      const vertex = plan.vertices.find((v) => v.id === inner)!;
      const at = [vertex.at.x, vertex.at.y, 0] as const;
      const mm = (gu: number) => plainNumber(gu * ctx.gear.gridMm, 1);
      if (fill.loose) {
        const jogMm = Math.abs(vertex.arms[1].stationMm - otherEdge(plan, face, vertex.arms[1].stationMm));
        const force = plainNumber((ctx.pressureKpa * jogMm) / 1000, 1);
        const message = `A panel closes return ${face} beside its corner unit; nothing of the yard holds it against ${force} kN per m of height along the wall.`;
        return [finding('fit.return-not-held', message, { at, subject: face, assumed: 'the panel is shown' })];
      }
      if (fill.timberGu <= ctx.gear.timberMostGu) return [];
      const message = `A timber strip ${mm(fill.timberGu)} mm wide on return ${face} needs backing that is bolted to the corner unit.`;
      return [finding('fit.timber-wide', message, { at, subject: face })];
    }),
  );

/** The end of a return that lies farther from a place of it. */
const otherEdge = (plan: FacePlan, id: string, stationMm: number): number => {
  const { fromMm, toMm } = plan.faces.find((f) => f.id === id)!;
  return Math.abs(stationMm - fromMm) > Math.abs(stationMm - toMm) ? fromMm : toMm;
};

/** Jogs of the plan that are packed, each once. */
export const jogFindings = (plan: FacePlan, solved: SolvedPlan): Finding[] =>
  solved.runs.flatMap(({ model, zones }) => {
    const { run } = model.ctx;
    const bounds = [zones[0]?.start, zones[zones.length - 1]?.end];
    return [run.start, run.end].flatMap((end, i): Finding[] => {
      const bound = bounds[i];
      const pads = bound ? [...bound.left.pads, ...bound.right.pads] : [];
      if (end.kind !== 'jog' || !pads.some((p) => p.returnFace !== undefined)) return [];
      const depthsMm = [end.leftOutMm, end.rightOutMm].filter((out) => out < 0).map((out) => -out);
      const deep = depthsMm.map((mm) => plainNumber(mm, 1));
      const { gridMm, timberMostGu } = model.ctx.gear;
      const isWide = Math.max(...depthsMm) > timberMostGu * gridMm;
      const node = plan.nodes.find((n) => n.id === end.node);
      const message = `At node ${end.node} wall ${end.other} stands out beyond wall ${run.wall} by ${deep.join(' and ')} mm; timber fills the corner${isWide ? ' and needs backing' : ''}.`;
      return [finding('fit.packed-jog', message, { at: node ? [node.at.x, node.at.y, 0] : null, subject: end.node })];
    });
  });
