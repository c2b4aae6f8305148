/** Codes of the findings that check reports. */

import type { FindingKind } from '../findings.js';

export const checkFindings = {
  'check.box-out': {
    severity: 'attention',
    rule: 'T16',
    meaning:
      'A wall has an opening, which a box-out makes: fresh concrete lifts it by the weight of what it displaces, and ties keep clear of it. Where a joint of the forms stands at a jamb, the edge of a unit forms its side there.',
    action:
      'Build the box-out of timber, strut it between its jambs and hold it down for the force named; its own weight counts by 0.9.',
  },
  'check.box-out-units': {
    severity: 'attention',
    rule: 'T11',
    meaning:
      'Units stand across an opening and are held by columns of ties that lack the rows which would pass through it. Their ratings are for all rows; in the opening no concrete presses on them.',
    action: 'Have their stiffness confirmed there, or hold them against the box-out.',
  },
  'check.curve': {
    severity: 'failure',
    rule: 'T1',
    meaning:
      'On a curved wall a form leaves its arc too far, frames collide, tapered fill does not measure what its joint does, forms do not stand opposite each other, or a tie is not square to them.',
    action: 'Do not build it so; report it, since the layout should have prevented it.',
  },
  'check.bend': {
    severity: 'failure',
    rule: 'T1',
    meaning:
      'At a bend the frames of both walls collide, or a strip of timber does not measure what the joint does, is wider than timber may be or does not reach both walls.',
    action: 'Do not build it so; report it, since the layout should have prevented it.',
  },
  'check.below-footing': {
    severity: 'failure',
    rule: 'T9',
    meaning: 'A unit stands deeper than the footing at its place: at a step the upper footing is in its way.',
    action: 'Do not build it so; report it, since the layout should have prevented it.',
  },
  'check.method-limit': {
    severity: 'failure',
    rule: 'T11',
    meaning:
      'A limit or condition of the pressure method that the job asks for is not met, or something that it needs is not given; full fluid pressure was taken in its place.',
    action:
      'Change what is named, give what is missing, choose another method, or take the layout as one for full fluid pressure.',
  },
  'check.concrete-invalid': {
    severity: 'failure',
    rule: 'input',
    meaning: 'A value of the concrete or the pour is impossible, so that no pressure formula holds.',
    action: 'Correct the value in the job file.',
  },
  'check.fluid-pressure': {
    severity: 'attention',
    rule: 'T11',
    meaning: 'A condition of the reduced pressure formula is not met, so full fluid pressure counts.',
    action: 'Accept full fluid pressure, or change the mix, the rate or the way of placing.',
  },
  'check.temperature-range': {
    severity: 'attention',
    rule: 'ACI 347',
    meaning: 'The concrete temperature lies outside the range in which the pressure formula is commonly used.',
    action: 'Have the pressure confirmed, or place at another temperature.',
  },
  'check.slump-assumed': {
    severity: 'note',
    rule: 'ACI 347',
    meaning: 'The slump is not given; it was taken to be within the range of the reduced formula.',
    action: 'Give the slump in the job file.',
  },
  'check.from-memory': {
    severity: 'attention',
    rule: 'T11',
    meaning: 'Coefficients of the pressure method were not confirmed against a copy of the standard.',
    action: 'Compare the coefficients in the report with the edition that governs the job.',
  },
  'check.rate-limit': {
    severity: 'note',
    rule: 'T20',
    meaning:
      'The fastest rise of concrete that every tie, panel, filler and corner of this layout carries, and what fails first beyond it.',
    action:
      'Give the foreman the table of rates by temperature in the report; measure rate and temperature during the pour.',
  },
  'check.rate-floor': {
    severity: 'attention',
    rule: 'T20',
    meaning: 'The concrete would rise so slowly that a layer may stiffen before the next covers it.',
    action:
      'Place more ties or stronger forms, pour fewer walls at once, or have the mix retarded and its pressure worked out anew.',
  },
  'check.rate-supply': {
    severity: 'attention',
    rule: 'T20',
    meaning:
      'The concrete that comes does not agree with the rate of rise: it is more than the forms carry or than was worked out, or too little.',
    action: 'Order less or more concrete an hour, or pour more or fewer walls at once.',
  },
  'check.no-row': {
    severity: 'failure',
    rule: 'T10',
    meaning: 'No tie row lies in the concrete, so nothing holds the forms.',
    action: 'Choose other heights or another base level.',
  },
  'check.course-without-row': {
    severity: 'failure',
    rule: 'T10',
    meaning: 'The courses and their tie rows are a mechanism: a course with concrete behind it has too few rows.',
    action: 'Choose other heights, or a stack whose upper course has a tie row below the pour line.',
  },
  'check.base-held': {
    severity: 'attention',
    rule: 'T10',
    meaning: 'The forms stand only if their foot is held against moving out and in.',
    action: 'Hold the foot by a kicker, cleats or a tie at the foot, for the force that is named.',
  },
  'check.row-pushed': {
    severity: 'failure',
    rule: 'T11',
    meaning:
      'A tie row would be pushed instead of pulled, and its ties are not rated for that; or the foot of the forms would move in, which nothing holds.',
    action: 'Choose other heights, hold the foot, or have the ties rated as spreaders.',
  },
  'check.not-checked': {
    severity: 'failure',
    rule: 'T11',
    meaning: 'A wall could not be checked, since its stack, rows or pressure are missing.',
    action: 'See the other findings of that wall; do not build it from this layout.',
  },
  'check.cover-gap': {
    severity: 'failure',
    rule: 'T1',
    meaning: 'A part of a face between footing and pour line has no form in front of it.',
    action: 'Close it by units or timber.',
  },
  'check.cover-overlap': {
    severity: 'failure',
    rule: 'T1',
    meaning: 'Two pieces stand in the same place.',
    action: 'Move or remove one of them.',
  },
  'check.unit': {
    severity: 'failure',
    rule: 'T2',
    meaning: 'A piece is not the unit that it names: unknown item, other kind, other size, or turned without leave.',
    action: 'Use a unit of the catalogue in its own size.',
  },
  'check.timber-width': {
    severity: 'failure',
    rule: 'T1',
    meaning: 'A strip of timber is narrower than can be cut or wider than timber may be.',
    action: 'Move the joint beside it, or design it as a special form.',
  },
  'check.group': {
    severity: 'failure',
    rule: 'T10',
    meaning: 'Pieces are named as one rigid group, or a support is named, where they are not.',
    action: 'Join only fillers that are bolted stiff to a panel; correct the layout.',
  },
  'check.no-tie-item': {
    severity: 'failure',
    rule: 'T10',
    meaning: 'No tie of the catalogue fits the thickness of the wall.',
    action: 'Add a tie for that thickness, or form the wall without ties as a special form.',
  },
  'check.tie-item': {
    severity: 'failure',
    rule: 'T10',
    meaning: 'A tie is not one of the catalogue that fits this wall.',
    action: 'Use a tie of the right length.',
  },
  'check.bars-cut': {
    severity: 'failure',
    rule: 'T10',
    meaning:
      'The job file states so many bars in one wall that not all were set out, so that some ties were not held against them.',
    action: 'Correct the spacing of the bars, or the length and height of the wall.',
  },
  'check.tie-bar': {
    severity: 'failure',
    rule: 'T10',
    meaning: 'The rod of a tie would meet a reinforcing bar of the model.',
    action: 'Have the bar moved, or the tie set in the hole on the other side of the joint; let the engineer decide.',
  },
  'check.tie-obstacle': {
    severity: 'failure',
    rule: 'T10',
    meaning: 'The rod of a tie would meet a pipe, a sleeve or an opening of the model.',
    action: 'Move the tie or the sleeve; a tie in a void carries nothing.',
  },
  'check.tie-hole': {
    severity: 'failure',
    rule: 'T10',
    meaning: 'A tie does not pass a real hole of the unit on each face at its station and level.',
    action: 'Move the tie to a hole that both faces share.',
  },
  'check.tie-place': {
    severity: 'failure',
    rule: 'T10',
    meaning: 'A tie stands where it cannot: down a crossing wall, beyond the concrete, or above or below it.',
    action: 'Move the tie.',
  },
  'check.turned-joint': {
    severity: 'attention',
    rule: 'T8',
    meaning:
      'A panel on its side stands over other forms and ends between two of their joints, so it cannot be clamped to them there.',
    action: 'Move the panel to the joints of the forms below, or stand forms upright there.',
  },
  'check.tie-row': {
    severity: 'failure',
    rule: 'T11',
    meaning: 'A tie stands at a level for which no row load was formed.',
    action: 'Move the tie to one of the rows of its stack.',
  },
  'check.mechanism': {
    severity: 'failure',
    rule: 'T10',
    meaning:
      'Clamped joints are hinges, and this chain of forms has too few supports, or none beside a joint: it moves.',
    action: 'Place a tie beside each joint.',
  },
  'check.overhang': {
    severity: 'failure',
    rule: 'T10',
    meaning: 'A group stands out beyond its outermost support further than its catalogue or its pressure allows.',
    action: 'Place a tie nearer to the joint.',
  },
  'check.tie-pushed': {
    severity: 'failure',
    rule: 'T11',
    meaning: 'A tie would be pushed instead of pulled, and it is not rated as a spreader.',
    action: 'Use one hole of the narrow panel, or another split of widths.',
  },
  'check.tie-overload': {
    severity: 'failure',
    rule: 'T11',
    meaning: 'A tie carries more than its working load.',
    action:
      'Pour more slowly, place more ties, or use narrower panels or stronger ties; at an opening also a second tie in the form that stands across the jamb, or a joint at the jamb.',
  },
  'check.rating': {
    severity: 'failure',
    rule: 'T11',
    meaning: 'The pressure on a unit is more than its rating for its span and rows.',
    action: 'Pour more slowly, or support the unit more closely.',
  },
  'check.joint-moment': {
    severity: 'failure',
    rule: 'T11',
    meaning: 'The stiff joint between a filler and its panel carries more moment than it is rated for.',
    action: 'Pour more slowly, or split the width in another way.',
  },
  'check.return-not-held': {
    severity: 'failure',
    rule: 'T10',
    meaning:
      'What closes the return of a jog does not stand: no tie can pass a return, so its units must turn as one with the corner unit.',
    action: 'Brace the return along the wall, back its joint with a waler that carries the moment, or change the jog.',
  },
  'check.by-crane': {
    severity: 'note',
    rule: 'T18',
    meaning: 'Units that are heavier than two people set by hand.',
    action: 'Plan the crane for them; the limit is handSetTwoKg under limits in the job file.',
  },
  'check.by-two': {
    severity: 'note',
    rule: 'T18',
    meaning: 'Units that are heavier than one person sets by hand.',
    action: 'Have two people set them; the limit is handSetKg under limits in the job file.',
  },
  'check.lax-weights': {
    severity: 'note',
    rule: 'T18',
    meaning: 'The job allows more weight by hand than is usual.',
    action: 'Compare it with the rules for manual handling where the work is done.',
  },
  'check.clean-out': {
    severity: 'note',
    rule: 'T16',
    meaning: 'Where a unit comes out alone at the foot of a low stretch, so that it can be cleaned before the pour.',
    action: 'Leave that unit out, or set it last, until the foot is washed out; close it before the pour.',
  },
  'check.no-clean-out': {
    severity: 'attention',
    rule: 'T16',
    meaning: 'No unit comes out alone at the foot of a low stretch: what falls between the forms stays there.',
    action:
      'Wash out before the second face closes, or cut a window in timber at the foot and close it before the pour.',
  },
  'check.jamb-ties': {
    severity: 'attention',
    rule: 'T16',
    meaning:
      'Beside a jamb of an opening no tie stands near, so that the forms may gape at the box-out though their ties carry the load.',
    action: 'Hold the box-out against both faces there, by a clamp or a waler across the jamb.',
  },
  'check.strips': {
    severity: 'note',
    rule: 'T17',
    meaning: 'A closed room has strips beside corners that come out first, in two directions.',
    action: 'Strike these strips before any other form of the room, and see that the widest unit has its way out.',
  },
  'check.no-strip': {
    severity: 'attention',
    rule: 'T17',
    meaning: 'The forms all round a closed room hold each other fast when they are to come off.',
    action:
      'Give the room a strip of timber of at least 40 mm beside a corner in two directions, or corner units made for stripping.',
  },
  'check.in-plane': {
    severity: 'note',
    rule: 'T11',
    meaning: 'Pull along the forms per metre of height, which the clamps of that line have to carry.',
    action: 'Compare it with the rating of the clamps.',
  },
  'check.clamp-tie': {
    severity: 'attention',
    rule: 'T12',
    meaning: 'A clamp stands nearer to a tie than the catalogue allows: lock and clamp are in each other’s way.',
    action: 'Shift the clamp along its joint as far as its spacing allows, or use one that is narrower.',
  },
  'check.timber-span': {
    severity: 'failure',
    rule: 'T11',
    meaning: 'The boards of a timber fill are stressed beyond what the catalogue allows for the width that they span.',
    action: 'Use thicker boards or a backing behind them, or pour more slowly.',
  },
  'check.tie-leaves': {
    severity: 'note',
    rule: 'T10',
    meaning: 'What the ties of one item leave in the wall, and what goes back to the yard.',
    action: 'Fill the holes as the specification says; keep it in mind where the wall is to hold water out.',
  },
  'check.break-back-bars': {
    severity: 'attention',
    rule: 'T10',
    meaning: 'The holes in which ties are broken off reach so deep that bars near the face may lie open in them.',
    action: 'Take ties that break off nearer to the face, or ask the engineer for more cover.',
  },
  'check.break-back-cover': {
    severity: 'attention',
    rule: 'T10',
    meaning: 'Steel of a tie stays in the wall nearer to the face than the cover that is asked for.',
    action: 'Ask the engineer whether the filling protects it, or take ties that can be removed.',
  },
  'check.bulkhead': {
    severity: 'note',
    rule: 'T6',
    meaning: 'Push of the concrete on the bulkhead of a wall’s end, and what its supports carry.',
    action: 'Fix the bulkhead to both faces for that force; its boards are not checked.',
  },
  'check.over-lower': {
    severity: 'attention',
    rule: 'T6',
    meaning:
      'A wall goes on over a lower one that meets it. Forms there stand as high as the higher wall, boards close its face over the lower one, and the legs over the lower wall stand free.',
    action:
      'Fix the boards on both sides and hold the free legs for the forces told; let the lower wall set before the concrete rises over it, or cover it. Check that the higher wall is to end as shown.',
  },
  'check.clamp-gap': {
    severity: 'failure',
    rule: 'T12',
    meaning: 'Between two units there is more fill than any clamp of the catalogue reaches over.',
    action: 'Add a clamp with a wider closing range, or have the fill held by walers or ties of its own.',
  },
  'check.clamp-overload': {
    severity: 'failure',
    rule: 'T12',
    meaning: 'A clamp carries more than it may, pull along the forms and shear across the joint taken together.',
    action: 'Use a stronger clamp, more of them, or pour more slowly.',
  },
  'check.clamps-few': {
    severity: 'failure',
    rule: 'T12',
    meaning: 'A joint has too few clamps, or they stand too far apart or too far from its ends.',
    action: 'Set the clamps that are missing before concrete is placed.',
  },
  'check.clamp-lap': {
    severity: 'attention',
    rule: 'T12',
    meaning:
      'Two units beside each other share little of their height, as may be at a step: few clamps hold them together.',
    action: 'Look at the joint: a waler over it, or units that share more height.',
  },
  'check.clamp-shear': {
    severity: 'attention',
    rule: 'T12',
    meaning: 'The catalogue gives no rating of a clamp across its joint, so that part of its load is not checked.',
    action: 'Ask the maker of the gear, and give shearKn in the catalogue.',
  },
  'check.clamps-not-checked': {
    severity: 'attention',
    rule: 'T12',
    meaning: 'The catalogue has no clamps, so the pull along the forms at corners, junctions and ends is not checked.',
    action: 'Check the clamps of the lines that are named for the pulls that are named.',
  },
  'check.one-sided': {
    severity: 'failure',
    rule: 'T21',
    meaning:
      'This wall is formed on one side only: no tie holds its form, and no layout is made of it; the force on it is told.',
    action:
      'Have frame, anchors and footing designed for that force, for uplift too; the walls that meet it end open there.',
  },
  'check.no-seat': {
    severity: 'attention',
    rule: 'T23',
    meaning:
      'The footing projects beyond this face by less than a frame is deep and 25 mm more: the forms have no seat.',
    action: 'Have the footing made wider there, or set the forms on a bearer beside it that cannot settle.',
  },
  'check.seat-unknown': {
    severity: 'note',
    rule: 'T23',
    meaning: 'Beside some walls no footing was read, so that it is not known whether their forms have a seat.',
    action: 'Give footing.projectionMm in the job file, or name the layers of the footings in drawing.footingLayers.',
  },
} satisfies Record<string, FindingKind>;
