/** Codes of the findings about aligners, braces and platforms, which check reports. */

import type { FindingKind } from '../findings.js';

export const checkSiteFindings = {
  'check.aligners': {
    severity: 'attention',
    rule: 'T13',
    meaning:
      'Aligners do not line a face up as they should: a row is missing, lies too low or over a row of ties, a stretch is bare, or no vertical one stands over stacked forms.',
    action: 'Add or move aligners there. They line forms up and carry no concrete pressure.',
  },
  'check.aligner-splice': {
    severity: 'attention',
    rule: 'T13',
    meaning:
      'Two aligners are spliced beside a joint of the forms, in the bay of a brace, or with too short a lap, so that the line can kink there.',
    action: 'Shift the splice, or lay a further length over it.',
  },
  'check.aligner-joint': {
    severity: 'attention',
    rule: 'T13',
    meaning: 'An aligner bridges a joint of the forms that has no tie beside it. It carries no concrete pressure.',
    action: 'Place a tie beside the joint; do not count on the aligner.',
  },
  'check.brace-spacing': {
    severity: 'attention',
    rule: 'T14',
    meaning: 'Braces stand further apart, or further from an end, a corner or a strip, than is usual.',
    action: 'Add a brace there, or clear the ground for one.',
  },
  'check.brace-head': {
    severity: 'attention',
    rule: 'T14',
    meaning:
      'A brace takes hold too low or too high, on no aligner, at too flat or steep an angle, or is not made in that length.',
    action: 'Move its head to an aligner at 2/3 to 3/4 of the height, its foot so that it stands at 30 to 60 degrees.',
  },
  'check.brace-foot': {
    severity: 'failure',
    rule: 'T14',
    meaning:
      'A brace stands in the way of a wall, of its forms or of another brace, or beyond the edge of the excavation.',
    action: 'Shift it, set it steeper, or brace the wall from its other side (`sides.aligners`).',
  },
  'check.brace-overload': {
    severity: 'failure',
    rule: 'T14',
    meaning: 'A brace, or the anchor of its foot, carries more than its working load.',
    action: 'Set braces closer, or use stronger ones.',
  },
  'check.brace-one-way': {
    severity: 'failure',
    rule: 'T14',
    meaning: 'Nothing holds a form that stands alone against falling to one of its two sides.',
    action:
      'Use braces that are pushed and pulled, or set braces on both sides. Nobody works under a form that is not braced.',
  },
  'check.brace-other-side': {
    severity: 'note',
    rule: 'T14',
    meaning:
      'A wall is aligned and braced from the other side than the others, since its braces have no room on the usual one.',
    action: 'Compare it with the site; `sides.aligners` in the job file sets one side for all.',
  },
  'check.brace-base': {
    severity: 'attention',
    rule: 'T14',
    meaning:
      'The foot of a form that stands alone shears outwards or inwards, and pushed braces lift it: neither is held by the braces.',
    action:
      'Hold the foot by a kicker or a sole plate pinned to the footing for the force named, and the form down where it is lifted.',
  },
  'check.brace-space': {
    severity: 'note',
    rule: 'T14',
    meaning: 'How much ground braces outside the walls take; the edge of the excavation is not known.',
    action: 'Compare it with the excavation, or give `access.freeOutsideMm` in the job file.',
  },
  'check.brace-loads': {
    severity: 'note',
    rule: 'T14',
    meaning:
      'For which wind and which least loads the braces are checked, and which of these numbers were not confirmed.',
    action: 'Give `wind` in the job file as the site demands; have numbers from memory compared with the standard.',
  },
  'check.platform': {
    severity: 'failure',
    rule: 'T15',
    meaning: 'An access platform is not as it has to be: floor, brackets, guards, end rails or ladder.',
    action: 'Correct it before anyone steps on it.',
  },
  'check.platform-overload': {
    severity: 'failure',
    rule: 'T15',
    meaning: 'A bracket of a platform carries more than it is made for.',
    action: 'Set brackets closer, or allow less load on the floor (`access` in the job file).',
  },
  'check.platform-none': {
    severity: 'failure',
    rule: 'T15',
    meaning: 'A wall is so high that it needs an access platform, and none can hang on its forms.',
    action: 'Reach it by a scaffold that stands by itself.',
  },
  'check.platform-short': {
    severity: 'attention',
    rule: 'T15',
    meaning:
      'A short stretch of wall, as beside a curve or a step, is so high that it needs access, and its forms, no longer than a floor on two brackets, cannot carry one of their own.',
    action:
      'Reach it by a scaffold that stands by itself, or by a floor from the platforms beside it that someone designs.',
  },
  'check.platform-corner': {
    severity: 'note',
    rule: 'T15',
    meaning:
      'Two platforms meet in an inner corner: the floor of one lies on the other, and a deck closes the hole that stays open.',
    action: 'Lay the decks before the corner is walked on, fixed against sliding, with no gap between the guards.',
  },
  'check.site-gear': {
    severity: 'attention',
    rule: 'T14',
    meaning: 'The catalogue lists no aligners, braces or brackets, or none that fits, so that none are laid out there.',
    action: 'Add them to the catalogue, or align, brace and reach these forms by other means.',
  },
  'check.site-curved': {
    severity: 'attention',
    rule: 'T13',
    meaning: 'A curved wall has no aligners, braces and platforms in this layout: straight tubes do not follow it.',
    action: 'Line it up by templates or bent tubes, brace it at no more than 2.4 m, and reach it by a scaffold.',
  },
  'check.site-one-sided': {
    severity: 'attention',
    rule: 'T21',
    meaning:
      'A wall formed on one side has no aligners, braces and platforms in this layout: its form is a special one.',
    action: 'Design frame, anchors and access for it with the force that is named.',
  },
  'check.rising-foot': {
    severity: 'attention',
    rule: 'T10',
    meaning:
      'While the pour is low its resultant lies below the lowest row of ties, which alone does not hold the forms: their foot is pushed outwards.',
    action:
      'Hold the foot of both faces by a kicker or a sole plate pinned to the footing for the force named, before concrete is placed.',
  },
  'check.gang': {
    severity: 'failure',
    rule: 'T18',
    meaning:
      'A gang cannot be lifted as it is listed: its units, its mass, its length, its lift points or its legs are not what they have to be.',
    action: 'Do not lift it so. Allow more (`gangs` in the job file), or set these forms unit by unit.',
  },
  'check.gang-loose': {
    severity: 'attention',
    rule: 'T18',
    meaning: 'A gang has too few rows of aligners over one of its joints: on the crane it folds there.',
    action: 'Fix tubes over every joint, to every unit, before it is lifted.',
  },
  'check.gang-none': {
    severity: 'attention',
    rule: 'T18',
    meaning: 'The job asks for gangs, and on these faces no units can be lifted together.',
    action: 'Set these forms unit by unit, or allow more mass or length (`gangs` in the job file).',
  },
  'check.gang-bracket': {
    severity: 'attention',
    rule: 'T18',
    meaning: 'The catalogue lists nothing that takes hold of a gang, or nothing strong enough.',
    action: 'Add `liftingBrackets` with their working loads to the catalogue, or choose them for the force named.',
  },
  'check.gang-lift': {
    severity: 'attention',
    rule: 'T18',
    meaning:
      'Panels are lifted in gangs: what the forces count and do not count, and what holds while they are lifted.',
    action:
      'Have the lift planned and checked by the person appointed for lifting: crane, reach, slings, ground, wind, and the way from ground to wall.',
  },
  'check.gang-rest': {
    severity: 'note',
    rule: 'T18',
    meaning: 'How many units stay outside the gangs.',
    action: 'Plan them as single units, by hand or by crane.',
  },
} satisfies Record<string, FindingKind>;
