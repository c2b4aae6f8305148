/** What there is to say of bases and tops. Places local mm. */

import { type Finding, finding } from '../../ground/findings.js';
import type { ModelTraceOptions } from '../../ground/vocabulary.js';
import { listed } from '../listed.js';
import type { SaidLevels } from './levelsSaid.js';
import { mm, nameOf, place, shown } from './said.js';
import type { LevelNote } from './wallLevels.js';

/** Two elements of one wall whose levels differ by more make it thicker than it is over that height: its forms are wrong there. */
const SIDE_BY_SIDE_MOST_MM = 50;

export const levelFindings = (notes: readonly LevelNote[], said: SaidLevels, options: ModelTraceOptions): Finding[] => {
  const one = (n: LevelNote): Finding => {
    const { element, baseMm } = n.part.seen.measured;
    const at = (z: number) => ({ subject: element.id, at: place(n.at, z) });
    switch (n.kind) {
      case 'sloping-top':
        return finding(
          'trace.sloping-top',
          `The top of ${nameOf(element)} runs from level ${mm(n.lowMm)} to ${mm(n.highMm)}.`,
          { ...at(n.highMm), assumed: `the wall is poured to ${mm(n.highMm)}` },
        );
      case 'sloping-base':
        return finding(
          'trace.sloping-base',
          `The base of ${nameOf(element)} runs from level ${mm(n.lowMm)} to ${mm(n.highMm)}.`,
          { ...at(n.lowMm), assumed: `the wall begins at ${mm(n.lowMm)}` },
        );
      case 'gap':
        return finding(
          'trace.footing-gap',
          `${nameOf(element)} stands ${mm(n.byMm)} mm over ${shown(n.contact.support.measured)}.`,
          { ...at(baseMm), assumed: 'the forms stand at the base of the wall' },
        );
      case 'buried': {
        const { support, shelf, how } = n.contact;
        const text =
          how === 'through'
            ? `${nameOf(element)} goes through ${shown(support.measured)}, down to ${mm(baseMm)} under its underside at ${mm(support.measured.baseMm)}.`
            : `${nameOf(element)} reaches ${mm(n.byMm)} mm into ${shown(support.measured)}.`;
        return finding('trace.footing-reached-into', text, {
          ...at(shelf.topMm),
          assumed: `over it the forms stand at level ${mm(shelf.topMm)}`,
          severity: how === 'through' ? 'attention' : 'note',
        });
      }
      case 'crossed': {
        const { measured } = n.contact.support;
        return finding(
          'trace.footing-in-wall',
          `${shown(measured)}, from level ${mm(measured.baseMm)} to ${mm(n.contact.shelf.topMm)}, lies within ${nameOf(element)}, which begins at ${mm(baseMm)}.`,
          { ...at(measured.baseMm), assumed: `the wall is formed from ${mm(baseMm)}, as if nothing lay in it` },
        );
      }
      case 'bare': {
        const what = n.over
          ? `hangs ${mm(n.over.gapMm)} mm over ${shown(n.over.support.measured)}`
          : 'stands on no footing or raft of the model';
        return finding(
          'trace.footing-missing',
          `${nameOf(element)} ${what} over ${mm(n.lengthMm)} mm of its length: concrete would run out under the forms${n.over ? '' : ', unless the ground carries it'}.`,
          {
            ...at(baseMm),
            assumed: `its forms stand at level ${mm(baseMm)}`,
            severity: n.over ? 'failure' : 'attention',
          },
        );
      }
      case 'differ': {
        const text = `The ${n.what} of ${nameOf(element)} and of ${shown(n.other.seen.measured)}, which make one wall, are ${mm(n.byMm)} mm apart.`;
        return finding('trace.levels-side-by-side', text, {
          ...at(baseMm),
          assumed: n.what === 'base' ? 'the lower one' : 'the higher one',
          severity: n.byMm > SIDE_BY_SIDE_MOST_MM ? 'failure' : 'attention',
        });
      }
    }
  };
  const overruled = (
    [
      ['footingMm', 'bases'],
      ['topMm', 'tops'],
    ] as const
  ).flatMap(([key, what]): Finding[] => {
    const job = options.levels[key];
    if (job === null || Math.abs(job - said.most[key]) <= 2) return [];
    const text = `levels.${key} of the job file is ${mm(job)}; most ${what} of walls in the model are at ${mm(said.most[key])}.`;
    return [
      finding('trace.levels-overruled', text, { assumed: `${mm(job)}, wherever the model has ${mm(said.most[key])}` }),
    ];
  });
  return [...listed(notes.map(one)), ...overruled];
};
