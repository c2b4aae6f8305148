/** What there is to say of which walls were taken, and of names of the job file that match nothing. Places local mm. */

import { type Finding, finding } from '../../ground/findings.js';
import { compareText } from '../../ground/order.js';
import type { Model, ModelTraceOptions } from '../../ground/vocabulary.js';
import type { By, Chosen } from './choose.js';
import { namesHeard } from './concrete.js';
import { type Matcher, matcher, matchesElement } from './patterns.js';
import { nameOf } from './said.js';

/** 'not concrete: masonry 12, above the foundation 40', most first. */
const countedReasons = (chosen: Chosen): string => {
  const counts = new Map<string, number>();
  for (const reason of chosen.reasons.values()) counts.set(reason, (counts.get(reason) ?? 0) + 1);
  return [...counts]
    .sort((p, q) => q[1] - p[1] || compareText(p[0], q[0]))
    .map(([reason, n]) => `${n} ${reason}`)
    .join('; ');
};

/** Shown of those left out. */
const SHOWN_MOST = 10;

const upstandFindings = (chosen: Chosen): Finding[] => {
  const { upstands } = chosen;
  if (upstands.length === 0) return [];
  const names = upstands.slice(0, SHOWN_MOST).map(({ element, what }) => `${nameOf(element)}, ${what}`);
  const more = upstands.length > SHOWN_MOST ? `; and ${upstands.length - SHOWN_MOST} more` : '';
  return [
    finding('trace.upstands-left-out', `Concrete that may want forms and is no wall: ${names.join('; ')}${more}.`, {
      subject: upstands[0]!.element.id,
      assumed: 'none of it is formed',
    }),
  ];
};

/** What says which walls are the foundation's where nothing carries them. */
const GUESSES: ReadonlyMap<By, string> = new Map([
  ['name', 'names say which walls these are'],
  ['lowest', 'the lowest walls were taken'],
]);
const IDS_MOST = 5;

export const choiceFindings = (model: Model, chosen: Chosen): Finding[] => {
  const taken = chosen.taken.length;
  if (taken === 0) {
    const walls = chosen.reasons.size;
    const why =
      walls === 0
        ? 'The model has no walls'
        : `None of the ${walls} walls of the model was taken: ${countedReasons(chosen)}`;
    const parts = model.elements.length === 0 ? ' It has no element with a body at all.' : '';
    return [finding('trace.no-wall-in-model', `${why}.${parts}`), ...upstandFindings(chosen)];
  }
  const left = chosen.reasons.size;
  const rest = left === 0 ? 'none was left out' : `${left} were left out: ${countedReasons(chosen)}`;
  const text = `${taken} ${taken === 1 ? 'element was' : 'elements were'} taken, ${rest}.`;
  const out = [finding('trace.model-walls', text), ...upstandFindings(chosen)];
  const guessed = chosen.taken.map((t) => t.measured.element.id).filter((id) => GUESSES.has(chosen.by.get(id)!));
  if (guessed.length > 0) {
    const how = GUESSES.get(chosen.by.get(guessed[0]!)!)!;
    out.push(
      finding('trace.model-storeys', `No wall stands on a footing or raft of the model; ${how}.`, {
        assumed: `the foundation is ${guessed.slice(0, IDS_MOST).join(', ')}${guessed.length > IDS_MOST ? ' and others' : ''}`,
      }),
    );
  }
  return out;
};

/** Names of the job file that nothing heeds: those in no place of the model, and those of elements that they do not concern. */
export const unmatchedFindings = (model: Model, options: ModelTraceOptions, chosen: Chosen): Finding[] => {
  const upstands = new Set([...chosen.upstands, ...chosen.ignored].map((u) => u.element));
  // As chooseWalls heeds them: names mean walls, and a GlobalId alone takes another element.
  const hits = {
    takeElements: (pattern: string, m: Matcher) =>
      model.elements.some((e) => e.id === pattern || (e.kind === 'wall' && matchesElement(m, e))),
    ignoreElements: (_: string, m: Matcher) =>
      model.elements.some((e) => (e.kind === 'wall' || upstands.has(e)) && matchesElement(m, e)),
    storeys: (_: string, m: Matcher) => model.storeys.some((s) => m(s.id, s.name)),
    concreteMaterials: (_: string, m: Matcher) => model.elements.some((e) => namesHeard(e).some((n) => m(n, n))),
  };
  const others = {
    takeElements: 'is taken by its GlobalId alone',
    ignoreElements: 'is not formed anyway',
    storeys: null,
    concreteMaterials: null,
  };
  return (['takeElements', 'ignoreElements', 'storeys', 'concreteMaterials'] as const).flatMap((key) =>
    options[key]
      .map((pattern) => ({ pattern, matches: matcher([pattern]) }))
      .filter(({ pattern, matches }) => !hits[key](pattern, matches))
      .map(({ pattern, matches }) => {
        const other = others[key] && model.elements.find((e) => matchesElement(matches, e));
        const where = other
          ? `which no wall is called; ${nameOf(other)} ${others[key]}`
          : 'which is in no place of the model';
        return finding('trace.element-unmatched', `drawing.${key} names "${pattern}", ${where}.`, {
          subject: pattern,
          assumed: 'nothing was changed by it',
        });
      }),
  );
};
