/** Codes of the findings that the fit reports. */

import type { FindingKind } from '../findings.js';

export const fitFindings = {
  'fit.no-stack': {
    severity: 'failure',
    rule: 'T8',
    meaning:
      'No stack of the heights in the catalogue reaches the pour line of this wall, or its height is not positive.',
    action: 'Check the levels of the wall, or give a catalogue with heights that reach it.',
  },
  'fit.top-course': {
    severity: 'failure',
    rule: 'T8',
    meaning:
      'Only panels on their side would stand on a tie row in the top course of this stretch, and none of the yard end on the joints of the forms below.',
    action: 'Move the joints below, or give a catalogue with a height whose tie row lies below the pour line.',
  },
  'fit.stick-up': {
    severity: 'attention',
    rule: 'T8',
    meaning: 'The forms stand more than 300 mm above the pour line, which costs rail height and catches wind.',
    action: 'Check the levels; a catalogue with a lower make-up height avoids it.',
  },
  'fit.special-form': {
    severity: 'failure',
    rule: 'T21',
    meaning:
      'A stretch is too short, too wide or too oddly cut for the units of the yard: no arrangement of panels, stiff fillers and one timber strip stands there.',
    action:
      'Form this place by hand with a detail of its own, checked by a competent person; it is drawn as timber to be designed.',
  },
  'fit.end-not-laid-out': {
    severity: 'failure',
    rule: 'T3',
    meaning:
      'This end of the wall needs something that this version does not lay out, such as a wall that jogs by more than units and timber can close.',
    action: 'Lay this end out by hand; the rest of the wall stands.',
  },
  'fit.ties-not-clear': {
    severity: 'failure',
    rule: 'T10',
    meaning:
      'No arrangement of the yard keeps every tie here clear of the bars, sleeves and pipes in the wall: units are shown that would stand but for that.',
    action:
      'Have the bars start elsewhere (the message says where, if that helps), or move what is in the way; let the engineer decide.',
  },
  'fit.bars-elsewhere': {
    severity: 'attention',
    rule: 'T10',
    meaning:
      'Keeping ties clear of the vertical bars costs units or fill here; if the bars started elsewhere it would not.',
    action: 'Ask the engineer whether the bars may start later by what the message names, before the wall is set.',
  },
  'fit.row-left-out': {
    severity: 'attention',
    rule: 'T10',
    meaning:
      'A row of holes of the forms has no ties along this wall, since horizontal bars run through it; rows, units and ties were chosen and checked without it.',
    action:
      'Leave these holes closed. If the bars can be set as the message says, have the engineer agree and lay out again with their new start.',
  },
  'fit.rows-not-clear': {
    severity: 'attention',
    rule: 'T10',
    meaning:
      'Ties of a row meet bars that run along the wall, whatever courses and phase are taken; the check lists them as failures.',
    action: 'Have the horizontal bars set elsewhere (the message says where, if that helps); let the engineer decide.',
  },
  'fit.load-not-met': {
    severity: 'failure',
    rule: 'T11',
    meaning:
      'No arrangement of the yard carries this pressure here: units are shown that cover the stretch and stand, but ties or panels are overloaded.',
    action: 'Lower the rate of rise, or give ties or panels with a higher rating; do not build it as drawn.',
  },
  'fit.no-tie': {
    severity: 'failure',
    rule: 'T10',
    meaning: 'The catalogue has no tie for this wall thickness; units are drawn, ties are not.',
    action: 'Add a tie item for this thickness to the catalogue, or check the thickness in the drawing.',
  },
  'fit.no-row': {
    severity: 'failure',
    rule: 'T10',
    meaning: 'No row of tie holes lies within the concrete of this wall.',
    action: 'Use another height of panel, or tie over the top with a detail of its own.',
  },
  'fit.no-corner-unit': {
    severity: 'failure',
    rule: 'T3',
    meaning: 'The catalogue has no corner unit for the angle of this corner in the heights of this stack.',
    action: 'Add inside and outside corners of these heights, or hinged ones that take the angle, to the catalogue.',
  },
  'fit.tapered-strip': {
    severity: 'attention',
    rule: 'T3',
    meaning:
      'A corner that turns by little is formed without a hinged corner: a strip of timber, cut to the angle, stands in its re-entrant side, and the outer forms are tied on both sides within the overhang of the edge.',
    action:
      'Cut the strip to the angle and bolt it to both neighbours; have it checked that the joint at the outer edge closes.',
  },
  'fit.bend': {
    severity: 'note',
    rule: 'T3',
    meaning:
      'Two walls meet and turn by less than 10 degrees. No hinged corner stands there: the forms of both walls end square beside the bend, opposite each other, and a strip of timber with a taper over the depth of the frames closes each face. Nothing holds the edge; ties stand beside the strips on both walls.',
    action:
      'Cut the strips to the widths named, their faces planed to the bend, bolt each to both of its neighbours and clamp the frames together over it: the pull along the wall (check.in-plane) goes over the inner one.',
  },
  'fit.sharp-corner': {
    severity: 'attention',
    rule: 'T3',
    meaning:
      'The walls enclose less than 60 degrees: the strip of the outer forms at the corner is out of reach of a tie, and hands and vibrator hardly get in.',
    action: 'Have the corner looked at before it is set; a chamfered tip or a form of its own may be better.',
  },
  'fit.packed-jog': {
    severity: 'attention',
    rule: 'T22',
    meaning:
      'A wall changes its thickness, or jogs, by less than a corner unit is long, or where no corner unit can stand: a post of timber stands in the corner of the return, and the forms of both sides end at the jog with ties close to it.',
    action: 'Cut the post to the jog, bolt it to the panel beside it and to the end of the panel that stands out.',
  },
  'fit.pilaster': {
    severity: 'attention',
    rule: 'T22',
    meaning:
      'A pilaster is formed as a timber box: posts beside it, boards on its sides and its front. No tie passes it; what the concrete pushes with is told, and half of it is counted on the ties to either side.',
    action: 'Design boards and walers for that force; they bear on the forms on either side.',
  },
  'fit.niche': {
    severity: 'failure',
    rule: 'T21',
    meaning:
      'A niche or room is so narrow that no panel with a tie hole stands between its two corner units: they stand back to back, and no tie passes there.',
    action: 'Design a special form for it, such as a box or ties drilled through timber; the force is told.',
  },
  'fit.return-not-held': {
    severity: 'failure',
    rule: 'T10',
    meaning:
      'The return of a jog is closed by a panel that is hinged to the corner unit and to the outside corner: nothing of the yard holds it along the wall.',
    action:
      'Brace the return along the wall, or back its joint with a waler that carries the moment; the force is told.',
  },
  'fit.residue-dropped': {
    severity: 'note',
    rule: 'T1',
    meaning:
      'At a corner that is not square the units end less than 1 mm off the edge of the concrete, which is within the tolerance of cover.',
    action: 'None needed; the difference goes into the joint.',
  },
  'fit.curve-chords': {
    severity: 'attention',
    rule: 'T1',
    meaning:
      'A curved wall is formed by straight forms with tapered timber between them. Both faces become chains of chords: the concrete keeps its thickness, but its faces leave the true arc by the versine.',
    action:
      'Confirm that the faces may leave the arc by that much, or give a smaller limits.chordMm in the job file; cut the timber to the two widths told in the list.',
  },
  'fit.curve-refused': {
    severity: 'failure',
    rule: 'T21',
    meaning:
      'A curved wall on which no forms of the yard stand: too tight for its narrowest panels, or too heavily loaded.',
    action: 'Have a special form made for it, or allow more in limits.chordMm, or pour more slowly.',
  },
  'fit.stacks-differ': {
    severity: 'failure',
    rule: 'T9',
    meaning:
      'Two walls that meet have footings at different levels, or tops at different levels where no corner unit serves both; the corner unit has the courses of one of them.',
    action:
      'Steps of the footing round a corner are not laid out: step the higher footing down before the corner, or lay the corner out by hand.',
  },
  'fit.timber-wide': {
    severity: 'attention',
    rule: 'T7',
    meaning: 'A timber strip is wider than the catalogue allows without backing.',
    action: 'Back the strip as the maker of the gear says, with ties close to it.',
  },
  'fit.dead-fit': {
    severity: 'attention',
    rule: 'T19',
    meaning:
      'Panels gain about 0.5 mm in every joint. This run stands between two fixed corners with more than ten joints and without a strip that could be cut to suit.',
    action: 'Check the length as the panels are set, keep the joints tight, or leave room for a strip beside a corner.',
  },
  'fit.other-order': {
    severity: 'note',
    rule: 'T7',
    meaning: 'The fewest places of timber and the least area of it need not be one layout; both are told.',
    action: 'Put timberAreaM2 before places in costOrder of the job file if area matters more.',
  },
  'fit.item-would-help': {
    severity: 'note',
    rule: 'T7',
    meaning:
      'The one item that the yard does not own and that would lessen the fill of this plan most; the layout does not use it.',
    action: 'Weigh hiring or buying it against the timber and fillers that it saves.',
  },
  'fit.other-pitch': {
    severity: 'note',
    rule: 'T9',
    meaning: 'What the timber would be with flange holes at another pitch, everything else being the same.',
    action: 'Nothing: it tells what the finer or the coarser pitch is worth on this job.',
  },
  'fit.step-overlap': {
    severity: 'attention',
    rule: 'T9',
    meaning: 'At a step the forms on both sides stand beside each other over too little height to be clamped together.',
    action:
      'Line the two sides up by aligners across the joint, or give the lower side a stack that reaches farther up.',
  },
  'fit.cut-short': {
    severity: 'attention',
    rule: 'T7',
    meaning: 'The search was stopped at its step limit: the layout stands, but it is not proven to be the least.',
    action:
      'Read value and bound of each tier in the certificate; raise the step limit in the job file for a longer search.',
  },
  'fit.legs-unused': {
    severity: 'note',
    rule: 'T3',
    meaning: 'Inside corners with unequal legs are in the catalogue but are not used yet.',
    action: 'None needed; the layout stands with the equal ones.',
  },
  'fit.fillers-unused': {
    severity: 'note',
    rule: 'T7',
    meaning: 'Fillers that are not stiff to a panel are in the catalogue but are not used yet.',
    action: 'None needed; the layout stands without them.',
  },
  'fit.short-stock': {
    severity: 'attention',
    rule: 'T2',
    meaning: 'The layout uses more of an item than the yard owns.',
    action:
      'Hire or buy the difference, or split the job into pours; no layout is short of less where the certificate says so.',
  },
  'fit.stock-limits': {
    severity: 'note',
    rule: 'T2',
    meaning: 'The yard has too few of some items for the least layout; what stands in for them costs more.',
    action: 'Weigh the cost against hiring the items that the message names.',
  },
} satisfies Record<string, FindingKind>;
