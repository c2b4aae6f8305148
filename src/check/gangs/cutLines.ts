/** Lines of forms cut where gangs end, so that each gang has aligners of its own; short remainders go with the gang beside them. */

import type { FormLine } from '../bracing/formLines.js';
import type { GangSpan } from './choose.js';
import { GANG_RULES } from './options.js';

const SAME_MM = 1;

const endsOf = (line: FormLine, spans: readonly GangSpan[]): number[] => {
  const { fromMm, toMm, run, face } = line;
  const own = spans.filter(
    (s) => s.face === face.id && s.run === run.id && s.fromMm >= fromMm - SAME_MM && s.toMm <= toMm + SAME_MM,
  );
  const cuts: number[] = [];
  own.forEach((s, i) => {
    const before = own[i - 1]?.toMm ?? fromMm;
    // A remainder in the middle goes with the gang before it.
    const isLong = s.fromMm - before > GANG_RULES.remainderMm;
    if (i > 0) cuts.push(...(isLong ? [before, s.fromMm] : [s.fromMm]));
    else if (isLong) cuts.push(s.fromMm);
  });
  const last = own.at(-1);
  if (last && toMm - last.toMm > GANG_RULES.remainderMm) cuts.push(last.toMm);
  return cuts;
};

export const cutLines = (lines: readonly FormLine[], spans: readonly GangSpan[]): FormLine[] =>
  lines.flatMap((line) => {
    const cuts = endsOf(line, spans);
    const edges = [line.fromMm, ...cuts, line.toMm];
    return edges.slice(1).map((toMm, i): FormLine => {
      const fromMm = edges[i]!;
      return {
        ...line,
        fromMm,
        toMm,
        ends: [i === 0 ? line.ends[0] : 'free', i === edges.length - 2 ? line.ends[1] : 'free'],
        covers:
          cuts.length === 0
            ? line.covers
            : line.covers.filter(({ cover }) => cover.fromMm >= fromMm - SAME_MM && cover.toMm <= toMm + SAME_MM),
      };
    });
  });
