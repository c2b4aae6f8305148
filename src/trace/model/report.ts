/** What tracing of a model has to say, each with the element's name and GlobalId. Places local mm; `traceModel` shifts them. */

import { type Finding, finding } from '../../ground/findings.js';
import { compareText } from '../../ground/order.js';
import type { Model, ModelElement, ModelOpening, ModelTraceOptions } from '../../ground/vocabulary.js';
import { LISTED_MOST } from '../limits.js';
import type { ColumnInWall } from './around.js';
import type { Chosen, WallSeen } from './choose.js';
import type { ModelOpenings } from './modelOpenings.js';
import type { OpeningNote } from './openingKinds.js';
import { middleOf, mm, nameOf, openingName, place, shown } from './said.js';
import { matcher } from './patterns.js';
import type { SaidLevels } from './levelsSaid.js';
import type { LevelNote } from './wallLevels.js';

/** Two elements of one wall whose levels differ by more make it thicker than it is over that height: its forms are wrong there. */
const SIDE_BY_SIDE_MOST_MM = 50;

/** The first LISTED_MOST one by one; the rest counted in one finding of the same code. */
const listed = (findings: readonly Finding[]): Finding[] => {
  const more = findings.length - LISTED_MOST;
  if (more <= 0) return [...findings];
  const first = findings[0]!;
  return [
    ...findings.slice(0, LISTED_MOST),
    finding(first.code, `${more} more of this kind.`, { severity: first.severity }),
  ];
};

/** 'not concrete: masonry 12, above the foundation 40', most first. */
export const countedReasons = (chosen: Chosen): string => {
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

export const choiceFindings = (model: Model, chosen: Chosen): Finding[] => {
  const taken = chosen.taken.length;
  if (taken === 0) {
    const walls = chosen.reasons.size;
    const why =
      walls === 0
        ? 'The model has no walls'
        : `None of the ${walls} walls of the model was taken: ${countedReasons(chosen)}`;
    const parts = model.elements.length === 0 ? ' It has no element with a body at all.' : '';
    return [finding('trace.no-wall-in-model', `${why}.${parts}`)];
  }
  const left = chosen.reasons.size;
  const rest = left === 0 ? 'none was left out' : `${left} were left out: ${countedReasons(chosen)}`;
  const text = `${taken} ${taken === 1 ? 'element was' : 'elements were'} taken, ${rest}.`;
  const out = [finding('trace.model-walls', text), ...upstandFindings(chosen)];
  const byName = chosen.choices.filter((c) => c.taken && /^(?:its name|among the lowest)/u.test(c.why));
  if (byName.length > 0) {
    const how = byName[0]!.why.startsWith('its name')
      ? 'names say which walls these are'
      : 'the lowest walls were taken';
    out.push(
      finding('trace.model-storeys', `No wall stands on a footing or raft of the model; ${how}.`, {
        assumed: `the foundation is ${byName
          .map((c) => c.id)
          .slice(0, 5)
          .join(', ')}${byName.length > 5 ? ' and others' : ''}`,
      }),
    );
  }
  return out;
};

/** What the walls taken, and those that cannot be used, have about them. */
export const wallFindings = (chosen: Chosen): Finding[] => {
  const about = (seen: WallSeen, z = seen.measured.baseMm) => {
    const at = middleOf(seen.measured);
    return { subject: seen.measured.element.id, at: at && place(at, z) };
  };
  const { taken, left } = chosen;
  const job = (t: WallSeen) =>
    chosen.choices.find((c) => c.id === t.measured.element.id)?.why.startsWith('the job file') === true;
  const unknown = taken.filter((t) => t.concrete.is === 'unknown' && !job(t));
  const unusable = left.filter((l) => l.measured.bands.length === 0 && l.concrete.is !== 'other');
  const inPart = taken.filter((t) => t.measured.unusable > 0);
  const inTriangles = taken.filter((t) => t.measured.element.body.some((b) => b.from === 'engine'));
  return [
    ...listed(
      inTriangles.map((t) =>
        finding(
          'trace.body-in-triangles',
          `${shown(t.measured)} has a shape that was taken as flat triangles: where it is curved, its faces are chords that may lie far off the true ones.`,
          { ...about(t), assumed: 'the chords' },
        ),
      ),
    ),
    ...listed(
      unknown.map((t) =>
        finding('trace.material-unknown', `Nothing says what ${shown(t.measured)} is made of.`, {
          ...about(t),
          assumed: 'it is concrete cast in place',
        }),
      ),
    ),
    ...listed(
      unusable.map((l) => {
        const { element, unusable: bad } = l.measured;
        const why =
          element.body.length === 0
            ? 'has no body'
            : bad > 0
              ? 'has a body whose numbers are no usable numbers'
              : 'has a body of no height or no plan';
        return finding('trace.body-unusable', `${nameOf(element)} ${why}.`, {
          subject: element.id,
          assumed: 'there is no wall there',
        });
      }),
    ),
    ...listed(
      inPart.map((t) =>
        finding('trace.body-unusable', `${t.measured.unusable} of the bodies of ${shown(t.measured)} cannot be used.`, {
          ...about(t),
          assumed: 'the rest is all of it',
        }),
      ),
    ),
    ...listed(
      taken
        .filter((t) => t.measured.isOpen)
        .map((t) =>
          finding('trace.body-open', `The faces of ${shown(t.measured)} do not close.`, {
            ...about(t),
            assumed: 'what is missing is straight',
          }),
        ),
    ),
    ...listed(
      taken
        .filter((t) => t.measured.footMm !== null)
        .map((t) =>
          finding('trace.wall-foot', `${shown(t.measured)} has a wider foot up to level ${mm(t.measured.footMm!)}.`, {
            ...about(t),
            assumed: 'the foot is cast first and the forms stand on it',
          }),
        ),
    ),
    ...listed(
      taken.flatMap((t) => {
        const { lean } = t.measured;
        if (lean === null) return [];
        const text = `${shown(t.measured)} is not plumb: its faces run ${mm(lean.byMm)} mm sideways from level ${mm(lean.fromMm)} to ${mm(lean.toMm)}.`;
        return [
          finding('trace.not-plumb', text, {
            ...about(t),
            assumed: 'an upright wall on its lowest section, as thick as that',
          }),
        ];
      }),
    ),
    ...listed(
      taken.flatMap((t) => {
        const { headMm, topMm } = t.measured;
        if (headMm === null) return [];
        const text = `${shown(t.measured)} has a head that stands out of its faces from level ${mm(headMm)} to ${mm(topMm)}.`;
        return [
          finding('trace.wall-head', text, {
            ...about(t, headMm),
            assumed: `the faces under it go on to level ${mm(topMm)}; what stands out is not formed`,
          }),
        ];
      }),
    ),
    ...listed(
      chosen.bodilessSupports.map((e) =>
        finding('trace.body-unusable', `${nameOf(e)} has no body that can be used.`, {
          subject: e.id,
          assumed: 'no wall stands on it',
          severity: 'attention',
        }),
      ),
    ),
    ...layerFindings(taken),
  ];
};

const layerFindings = (taken: readonly WallSeen[]): Finding[] => {
  const withOthers = taken.filter((t) => t.concrete.others.length > 0);
  const one = (t: WallSeen): Finding => {
    const { element } = t.measured;
    const at = middleOf(t.measured);
    const detail = { subject: element.id, at: at && place(at, t.measured.baseMm) };
    const others = t.concrete.others.join(', ');
    const bodies = element.body.length;
    if (t.concrete.isWhole && bodies > 1)
      return finding(
        'trace.layers-unclear',
        `${nameOf(element)} has ${bodies} bodies, and nothing tells which of them are concrete and which are ${others}.`,
        { ...detail, assumed: 'the forms stand at the faces of all of them together' },
      );
    return t.concrete.isWhole
      ? finding('trace.layers-in-one', `${nameOf(element)} has one body for its concrete and ${others}.`, {
          ...detail,
          assumed: 'the forms stand at the faces of the whole body',
        })
      : finding(
          'trace.layers-left-out',
          `Of ${nameOf(element)} the concrete was taken, and left out: ${others}.`,
          detail,
        );
  };
  const split = withOthers.filter((t) => !t.concrete.isWhole).map(one);
  const whole = withOthers.filter((t) => t.concrete.isWhole).map(one);
  return [
    ...listed(split),
    ...['trace.layers-unclear', 'trace.layers-in-one'].flatMap((code) => listed(whole.filter((f) => f.code === code))),
  ];
};

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
  const all = notes.map(one);
  const codes = [...new Set(all.map((f) => f.code))].sort(compareText);
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
  return [...codes.flatMap((code) => listed(all.filter((f) => f.code === code))), ...overruled];
};

export const openingFindings = (
  openings: ModelOpenings,
  bodiless: readonly { readonly opening: ModelOpening; readonly owner: WallSeen }[],
): Finding[] => {
  const without = bodiless.map(({ opening, owner }) => {
    const at = middleOf(owner.measured);
    return finding(
      'trace.opening-not-placed',
      `${openingName(opening)} in ${shown(owner.measured)} has no body that can be used.`,
      {
        subject: opening.id,
        at: at && place(at, owner.measured.baseMm),
        assumed: 'there is no opening',
      },
    );
  });
  const note = (n: OpeningNote): Finding => {
    const text = `${n.name} ${n.text}.`;
    const detail = { subject: n.id, at: place(n.at, n.levelMm) };
    if (n.kind === 'small')
      return finding('trace.opening-small', text, { ...detail, assumed: 'a sleeve, not boxed out by the layout' });
    const assumed = 'there is no opening';
    return finding(n.kind === 'recess' ? 'trace.recess' : 'trace.opening-not-placed', text, { ...detail, assumed });
  };
  const round = openings.placed.filter((o) => !o.isBox);
  const notes = [...openings.notes.map(note), ...without];
  return [
    ...(['trace.opening-small', 'trace.recess', 'trace.opening-not-placed'] as const).flatMap((code) =>
      listed(notes.filter((f) => f.code === code)),
    ),
    ...listed(
      round.map((o) => {
        const [w, h] = [o.toMm - o.fromMm, o.found.headMm! - o.found.sillMm!];
        const at = { x: (o.found.from.x + o.found.to.x) / 2, y: (o.found.from.y + o.found.to.y) / 2 };
        return finding('trace.opening-not-box', `${o.name} is no rectangle.`, {
          subject: o.found.sources[0]!,
          at: place(at, o.found.sillMm!),
          assumed: `a box of ${mm(w)} by ${mm(h)} mm`,
        });
      }),
    ),
  ];
};

export const columnFindings = (columns: readonly ColumnInWall[]): Finding[] =>
  listed(
    columns.map((c) =>
      finding('trace.column-in-wall', `Column ${shown(c.measured)} stands in or against wall ${c.wall}.`, {
        subject: c.measured.element.id,
        at: place(c.at, c.measured.baseMm),
        assumed: 'it is formed apart',
      }),
    ),
  );

/** Names of the job file that match nothing. */
export const unmatchedFindings = (model: Model, options: ModelTraceOptions): Finding[] => {
  const names = (e: ModelElement) => [e.name, e.typeName, e.objectType, e.tag];
  const hits = {
    takeElements: (m: ReturnType<typeof matcher>) => model.elements.some((e) => m(e.id, ...names(e))),
    ignoreElements: (m: ReturnType<typeof matcher>) => model.elements.some((e) => m(e.id, ...names(e))),
    storeys: (m: ReturnType<typeof matcher>) => model.storeys.some((s) => m(s.id, s.name)),
    concreteMaterials: (m: ReturnType<typeof matcher>) =>
      model.elements.some((e) =>
        [...e.materials.map((x) => x.name), ...e.body.flatMap((b) => b.material ?? []), ...names(e)].some(
          (n) => n !== null && m(n, n),
        ),
      ),
  };
  return (['takeElements', 'ignoreElements', 'storeys', 'concreteMaterials'] as const).flatMap((key) =>
    options[key]
      .filter((pattern) => !hits[key](matcher([pattern])))
      .map((pattern) =>
        finding('trace.element-unmatched', `drawing.${key} names "${pattern}", which is in no place of the model.`, {
          subject: pattern,
          assumed: 'nothing was changed by it',
        }),
      ),
  );
};
