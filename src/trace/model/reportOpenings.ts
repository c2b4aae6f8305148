/** What there is to say of openings. Places local mm. */

import { type Finding, finding } from '../../ground/findings.js';
import { listed } from '../listed.js';
import type { ModelOpenings, OpeningBody, UnusableOpening } from './modelOpenings.js';
import type { OpeningNote } from './openingKinds.js';
import { middleOf, mm, openingName, place, shown } from './said.js';

export const openingFindings = (
  openings: ModelOpenings,
  bodies: readonly OpeningBody[],
  unusable: readonly UnusableOpening[],
): Finding[] => {
  const without = unusable.map(({ opening, owner, unusable: bad }): Finding => {
    const at = middleOf(owner.measured);
    const name = `${openingName(opening)} in ${shown(owner.measured)}`;
    const isAll = bad === opening.body.length;
    const text = isAll ? `${name} has no body that can be used.` : `Of the bodies of ${name} ${bad} cannot be used.`;
    return finding('trace.opening-not-placed', text, {
      subject: opening.id,
      at: at && place(at, owner.measured.baseMm),
      assumed: isAll ? 'there is no opening' : 'the rest is all of it',
    });
  });
  const open = bodies
    .filter((b) => b.isOpen)
    .map((b) =>
      finding(
        'trace.body-open',
        `${openingName(b.opening)} in ${shown(b.owner.measured)}: the faces of this opening do not close.`,
        {
          subject: b.opening.id,
          at: place(b.middle, b.baseMm),
          assumed: 'what is missing is straight',
        },
      ),
    );
  const note = (n: OpeningNote): Finding => {
    const text = `${n.name} ${n.text}.`;
    const detail = { subject: n.id, at: place(n.at, n.levelMm) };
    if (n.kind === 'small')
      return finding('trace.opening-small', text, { ...detail, assumed: 'a sleeve, not boxed out by the layout' });
    const assumed = 'there is no opening';
    return finding(n.kind === 'recess' ? 'trace.recess' : 'trace.opening-not-placed', text, { ...detail, assumed });
  };
  const round = openings.placed.filter((o) => !o.isBox);
  return [
    ...listed([...openings.notes.map(note), ...without, ...open]),
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
