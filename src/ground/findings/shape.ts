/** Codes of the findings that shape reports. */

import type { FindingKind } from '../findings.js';

export const shapeFindings = {
  'shape.no-walls': {
    severity: 'failure',
    rule: 'input',
    meaning: 'No stretch of wall is left to be joined, so there is nothing to form.',
    action: 'Look at the findings of tracing: name the wall layers, the unit or the area in the job file.',
  },
  'shape.stretch-refused': {
    severity: 'failure',
    rule: 'input',
    meaning: 'A stretch of wall has a coordinate or thickness that is no usable number; it is left out of the layout.',
    action: 'Repair the named entities in the drawing.',
  },
  'shape.line-refused': {
    severity: 'attention',
    rule: 'input',
    meaning: 'A face line has a coordinate that is no usable number; the outline is not held against it.',
    action: 'Repair the named entity in the drawing.',
  },
  'shape.stretch-dropped': {
    severity: 'attention',
    rule: 'input',
    meaning: 'A stretch of wall has no length, or lies wholly inside the body of another wall; it is left out.',
    action: 'Check at the place that no wall of its own was meant.',
  },
  'shape.duplicate': {
    severity: 'attention',
    rule: 'input',
    meaning: 'Two stretches of wall lie over each other on one axis; they are taken as one wall.',
    action: 'Delete the doubled linework, or confirm that one wall is meant.',
  },
  'shape.gap-closed': {
    severity: 'note',
    rule: 'input',
    meaning: 'A wall was interrupted by a gap within the joining tolerance; it is taken as running through.',
    action: 'Nothing, unless a joint was meant there.',
  },
  'shape.end-moved': {
    severity: 'note',
    rule: 'input',
    meaning: 'A wall stopped short of the wall that it meets, or ran past it, by a few mm; it is taken to meet it.',
    action: 'Check the drawing at the place if exact lengths matter.',
  },
  'shape.face-missing': {
    severity: 'attention',
    rule: 'T1',
    meaning:
      'One face of a wall runs through while the other is interrupted with nothing standing there; the wall is taken as whole.',
    action: 'Draw what interrupts the face, or close the face.',
  },
  'shape.squared': {
    severity: 'attention',
    rule: 'input',
    meaning:
      'A wall was a little off the direction of its neighbours and was turned into it, moving its faces by more than 1 mm.',
    action: 'Confirm that the wall is meant to be square, or draw the true angle.',
  },
  'shape.rounded': {
    severity: 'attention',
    rule: 'input',
    meaning: 'Aligning a wall with its other stretches and with the grid of the gear moved a face by more than 1 mm.',
    action: 'Confirm the length or thickness at the place.',
  },
  'shape.half-grid': {
    severity: 'note',
    rule: 'input',
    meaning:
      'A wall is an odd number of grid steps thick, so the axes of walls that meet it start half a step beside the crossing, to keep stations whole.',
    action: 'Nothing: faces and vertices stand at their true places.',
  },
  'shape.open-end': {
    severity: 'attention',
    rule: 'T6',
    meaning: 'A wall ends without a closing line and without meeting another wall; it is taken as a free end.',
    action: 'Close the end in the drawing, or draw the wall that it should meet.',
  },
  'shape.gap-in-line': {
    severity: 'attention',
    rule: 'T6',
    meaning: 'Two free ends face each other in line: a doorway, or a wall that was not found.',
    action: 'Confirm the opening, or draw the wall between.',
    ask: {
      keys: ['drawing.openings'],
      question: 'Is this gap an opening in one wall, or do two walls end here?',
    },
  },
  'shape.near-miss': {
    severity: 'attention',
    rule: 'T4',
    meaning: 'A free end stops close to another wall without meeting it.',
    action: 'Extend the wall in the drawing if it should meet, or confirm the gap.',
  },
  'shape.thickness-change': {
    severity: 'failure',
    rule: 'T3',
    meaning:
      'The wall changes its thickness or jogs sideways where another wall meets it; the fit does not lay that out yet and leaves the faces open there.',
    action: 'Form the place by hand: an inside corner where the jog is as long as a leg, else timber packing.',
  },
  'shape.junction-not-laid-out': {
    severity: 'failure',
    rule: 'T4',
    meaning: 'Walls meet in a way that the fit does not lay out yet; the faces are left open there.',
    action: 'Form the place by hand, or draw it as corners, tees or crosses.',
  },
  'shape.drawn-through': {
    severity: 'note',
    rule: 'T4',
    meaning: 'Two walls are drawn running through each other; they are taken as a cross.',
    action: 'Confirm that both are walls of one pour.',
  },
  'shape.wall-too-short': {
    severity: 'failure',
    rule: 'T1',
    meaning: 'The walls at both ends of a wall leave no face between them on one side.',
    action: 'Form the place by hand, or draw the short wall as part of its neighbours.',
  },
  'shape.bodies-overlap': {
    severity: 'failure',
    rule: 'T1',
    meaning:
      'Two walls that do not meet at a junction lie over each other, so forms of one would stand in the concrete of the other.',
    action: 'Correct the drawing, or name the layers that hold the walls.',
    ask: {
      keys: ['drawing.wallLayers'],
      question: 'Which of these lines are walls?',
    },
  },
  'shape.walls-touching': {
    severity: 'failure',
    rule: 'T1',
    meaning: 'Two walls lie face against face: no form can stand between them.',
    action: 'Draw them as one thick wall, or as two pours.',
  },
  'shape.outline-differs': {
    severity: 'attention',
    rule: 'T1',
    meaning: 'A line that was taken as a wall face does not lie on the outline of the concrete that the walls make.',
    action: 'Compare drawing and outline at the place; the wall may have been understood wrongly.',
  },
  'shape.outline-added': {
    severity: 'attention',
    rule: 'T1',
    meaning: 'The outline of the concrete has an edge where the drawing has no line.',
    action: 'Compare drawing and outline at the place; a face may be missing in the drawing.',
  },
  'shape.levels-differ': {
    severity: 'attention',
    rule: 'T9',
    meaning:
      'Walls that meet have different footing levels or tops. Each is formed at its own levels; where their forms stand on one level, those of the corner are as high as the higher wall.',
    action: 'Confirm both levels, and that the higher wall ends as the forms show it.',
  },
  'shape.levels-conflict': {
    severity: 'attention',
    rule: 'T9',
    meaning: 'Two notes of levels name the same wall with different values; the nearer one counts.',
    action: 'Remove one of them, or move it to the wall that it is for.',
    ask: {
      keys: ['levels.at'],
      question: 'Which of these levels is right for this wall?',
    },
  },
  'shape.levels-far': {
    severity: 'attention',
    rule: 'T9',
    meaning: 'A note of levels is far from every wall; the nearest wall takes it.',
    action: 'Move the note to the wall that it is for.',
    ask: {
      keys: ['levels.at'],
      question: 'Which wall is this level for?',
    },
  },
  'shape.levels-refused': {
    severity: 'failure',
    rule: 'T9',
    meaning: 'A level is no usable number, or the top of a wall is not above its footing.',
    action: 'Correct the levels in the drawing or the job file.',
    ask: {
      keys: ['levels.footingMm', 'levels.topMm', 'levels.at'],
      question: 'At which levels are the footing and the top here?',
    },
  },
  'shape.no-room': {
    severity: 'failure',
    rule: 'T21',
    meaning: 'Two walls stand so near to each other that no forms fit between them: a joint, or two leaves.',
    action: 'Cast one wall against the other with a filler board, or form them one after the other by hand.',
  },
  'shape.step': {
    severity: 'note',
    rule: 'T9',
    meaning: 'The footing or the top of a wall steps within its length: the forms are shifted there by whole pitches.',
    action:
      'Check place and height of the step against the drawing; forms on both sides of it stand by their own ties.',
  },
  'shape.step-flat': {
    severity: 'attention',
    rule: 'T9',
    meaning: 'A step is marked on a wall, but the levels on both sides of it are the same.',
    action: 'Give the levels on both sides under levels.at in the job file.',
    ask: {
      keys: ['levels.at'],
      question: 'What are the levels on both sides of this step?',
    },
  },
  'shape.step-unused': {
    severity: 'attention',
    rule: 'T9',
    meaning: 'A step stands at the end of a wall or far from all walls, and parts no wall.',
    action: 'Check the place; give it under levels.steps in the job file if a wall steps.',
    ask: {
      keys: ['levels.steps'],
      question: 'Where does a wall step?',
    },
  },
  'shape.pilaster': {
    severity: 'failure',
    rule: 'T21',
    meaning:
      'A pilaster stands where it is not laid out: in a corner, at an end of its wall, over a step or an opening, or where another stands. The forms drawn run through as if it were not there.',
    action: 'Form the pilaster by hand: the face is interrupted there.',
  },
  'shape.curved': {
    severity: 'failure',
    rule: 'T21',
    meaning:
      'A curved wall was found that is not laid out: another wall meets it otherwise than in line with its end at the same thickness, or its size is no usable number.',
    action: 'Form that wall by hand.',
  },
  'shape.curved-wall': {
    severity: 'note',
    rule: 'input',
    meaning: 'A curved wall as it was understood: radii of its faces, angle and thickness.',
    action: 'Compare the measures with the drawing.',
  },
  'shape.opening': {
    severity: 'failure',
    rule: 'T16',
    meaning:
      'An opening lies in no wall that is laid out, or in one that cannot end at its jambs though no concrete stands over and under it.',
    action: 'Check the place of the opening; where the wall ends at its jambs, draw or answer it so.',
  },
  'shape.parted': {
    severity: 'note',
    rule: 'T16',
    meaning: 'An opening leaves no concrete over and under it: the wall is two walls, which end at its jambs.',
    action: 'Check the place and the height of the opening against the drawing.',
  },
  'shape.box-out': {
    severity: 'note',
    rule: 'T16',
    meaning: 'A wall has an opening, which is boxed out: units run across it, ties keep clear of it.',
    action: 'Check place, sill and head against the drawing.',
  },
  'shape.surveyed': {
    severity: 'note',
    rule: 'T9',
    meaning:
      'The levels of this footing were measured: forms stand on the highest, the gap under them is as deep as the lowest.',
    action: 'Nothing; the report compares the drawn levels with the measured ones.',
  },
  'shape.survey-off': {
    severity: 'attention',
    rule: 'ACI 117',
    meaning:
      'The footing lies farther over or under its drawn level than the tolerance for the top of footings, +13 and -50 mm.',
    action:
      'Tell the engineer; the wall is that much lower or higher than drawn, and its starter bars stick out by so much more or less.',
  },
  'shape.survey-missing': {
    severity: 'attention',
    rule: 'T9',
    meaning: 'Other footings of this drawing were measured, this one was not: its drawn level was kept.',
    action: 'Measure it before the forms are set.',
  },
  'shape.survey-thin': {
    severity: 'attention',
    rule: 'T9',
    meaning:
      'A wall stands on a footing that was measured, but not along this wall: its highest place may not be known.',
    action: 'Measure along each wall, at its ends and at least once between.',
  },
  'shape.survey-conflict': {
    severity: 'attention',
    rule: 'T9',
    meaning: 'Two levels measured at one place of the footing differ by more than 10 mm; both are heeded.',
    action: 'Measure again, and take the wrong one out of the list.',
  },
  'shape.survey-doubtful': {
    severity: 'failure',
    rule: 'T9',
    meaning:
      'A measured level is so far off the drawn one that another datum, another unit or another footing must be meant; it was not used.',
    action:
      'Give the levels in mm in the datum of the drawing; where the footing is meant to lie there, say so in levels.',
  },
  'shape.survey-not-used': {
    severity: 'attention',
    rule: 'T9',
    meaning: 'A measured level stands at no wall, or is no usable number; it was not used.',
    action: 'Give places in the coordinates of the drawing, within 1000 mm of the wall.',
  },
  'shape.one-sided-unclear': {
    severity: 'failure',
    rule: 'T21',
    meaning: 'The job file names a wall that is formed on one side, but not clearly which wall, or which of its faces.',
    action: 'Give in oneSided a point beside the wall on the side where the forms stand, or say formed: left or right.',
  },
  'shape.footing-unused': {
    severity: 'attention',
    rule: 'T23',
    meaning: 'The job file tells how far a footing projects at a place where no wall is.',
    action: 'Give in footing.at a point beside the wall, in the coordinates of the drawing.',
  },
} satisfies Record<string, FindingKind>;
