/** Pieces of curved walls: on both faces the same forms, what tapers between them, bulkheads at free ends, and what closes the gap under them. */

import type { SolvedArc } from './arcs.js';
import type { Emitter } from './emit.js';
import type { Group } from './groups.js';
import { gapAreaMm2, LEAST_GAP_MM } from './phases.js';

const SIDES = ['left', 'right'] as const;
const ENDS = ['start', 'end'] as const;

const forms = (emitter: Emitter, { run, gear, forms: all, joints }: SolvedArc): void => {
  const gu = (mm: number) => mm / gear.gridMm;
  const isOutside = (s: number) => run.start.kind === 'free' && (s < run.start.leftMm || s > run.end.leftMm);
  for (const { panel, fromMm, tiesMm } of all) {
    const plain: Group = { lengthGu: panel.widthGu, panel, low: null, high: null, fillerCount: 0, holesGu: [] };
    const ties = tiesMm.map((t) => gu(t - fromMm));
    for (const side of SIDES) emitter.addGroup(gear, run, side, plain, gu(fromMm), ties, false);
    for (const t of tiesMm) emitter.ties.push({ run: run.id, stationGu: gu(t), outside: isOutside(t), rows: 'stack' });
  }
  for (const { fromMm, toMm, inner, outer } of joints) {
    emitter.taper(run, 'left', gu(fromMm), gu(toMm), inner);
    emitter.taper(run, 'right', gu(fromMm), gu(toMm), outer);
  }
  for (const side of ENDS) {
    const end = run[side];
    if (end.kind === 'free') emitter.bulkhead(run, gear, side, end.node);
  }
};

const under = (emitter: Emitter, { run, demand, gear }: SolvedArc): void => {
  const levels = { lowMm: run.footingMm, highMm: demand.stack.baseMm };
  if (levels.highMm - levels.lowMm < LEAST_GAP_MM) return;
  const gu = (mm: number) => mm / gear.gridMm;
  for (const side of SIDES) emitter.hang(run, side, { fromGu: 0, toGu: gu(run.end.leftMm), ...levels });
  for (const side of ENDS)
    if (run[side].kind === 'free') emitter.hang(run, side, { fromGu: 0, toGu: gu(run.thicknessMm), ...levels });
  emitter.gapAreaMm2 += gapAreaMm2(run, levels.highMm);
};

export const emitArc = (emitter: Emitter, arc: SolvedArc): void => {
  if (arc.refused !== null) return;
  forms(emitter, arc);
  under(emitter, arc);
};
