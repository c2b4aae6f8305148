/** Codes of the findings on walls that are not drawn as two faces: wide polylines, centre lines, fills. */

import type { FindingKind } from '../findings.js';

export const traceHabitFindings = {
  'trace.width-walls': {
    severity: 'note',
    rule: 'input',
    meaning: 'Polylines with width were taken as walls of that thickness on their axis.',
    action: 'Look the thicknesses over; turn the width off where it is only a heavy pen.',
  },
  'trace.width-no-wall': {
    severity: 'attention',
    rule: 'input',
    meaning: 'The width of polylines on a wall layer is no thickness of a wall, so they were taken as plain lines.',
    action:
      'See that their walls are drawn as two faces, or give drawing.centreLineLayers and drawing.thicknessMm in the job file.',
    ask: {
      keys: ['drawing.centreLineLayers', 'drawing.thicknessMm'],
      question: 'Are these polylines the axes of walls?',
    },
  },
  'trace.centre-walls': {
    severity: 'attention',
    rule: 'input',
    meaning:
      'Lines were taken as the axes of walls, with a thickness from the job file, a text, the layer or the line itself.',
    action: 'Look the thicknesses over; the job file decides with drawing.centreLineLayers and drawing.thicknessMm.',
    ask: {
      keys: ['drawing.centreLineLayers', 'drawing.thicknessMm'],
      question: 'Are these lines the axes of walls, and are the walls this thick?',
    },
  },
  'trace.centre-thickness': {
    severity: 'failure',
    rule: 'input',
    meaning:
      'How thick is the wall on this centre line? Neither the job file nor the drawing says it, so there is no wall.',
    action: 'Give drawing.thicknessMm in the job file, or write the thickness at the line, for example 200 THK.',
    ask: {
      keys: ['drawing.thicknessMm'],
      question: 'How thick is the wall on this centre line?',
    },
  },
  'trace.centre-curve': {
    severity: 'attention',
    rule: 'input',
    meaning: 'A curved centre line is too tight for its wall, or is drawn in pieces too short to tell a direction.',
    action: 'Correct the thickness or the curve.',
  },
  'trace.single-lines': {
    severity: 'attention',
    rule: 'input',
    meaning: 'Are these single lines the axes of walls, and how thick are these? Without an answer they are no walls.',
    action:
      'If they are, name their layers under drawing.centreLineLayers in the job file and give drawing.thicknessMm.',
    ask: {
      keys: ['drawing.centreLineLayers', 'drawing.thicknessMm'],
      question: 'Are these single lines the axes of walls, and how thick are the walls?',
    },
  },
  'trace.thickness-differs': {
    severity: 'attention',
    rule: 'input',
    meaning: 'Two things in the drawing or the job file give one wall different thicknesses.',
    action: 'Look at the place; correct the text, the line or drawing.thicknessMm.',
    ask: {
      keys: ['drawing.thicknessMm'],
      question: 'How thick is this wall?',
    },
  },
  'trace.axis-moved': {
    severity: 'note',
    rule: 'input',
    meaning:
      'An axis was led on or cut back to the axis of the wall that it meets, or put in line with the one that it goes on.',
    action: 'Look at the place in the drawing.',
  },
  'trace.axes-alongside': {
    severity: 'attention',
    rule: 'input',
    meaning: 'Two axes run so near to each other that their walls lie in one another.',
    action: 'Delete one of the lines if the wall is drawn twice, or correct the thickness.',
  },
  'trace.fill-walls': {
    severity: 'note',
    rule: 'input',
    meaning: 'Hatches or solids without lines round them were taken as the cut through walls.',
    action: 'Look the walls over; name other layers under drawing.wallLayers in the job file if they are none.',
  },
  'trace.fill-drawn': {
    severity: 'note',
    rule: 'input',
    meaning: 'Hatches or solids with lines round them told which side of the lines is concrete.',
    action: 'Nothing to do.',
  },
  'trace.fill-edge': {
    severity: 'attention',
    rule: 'input',
    meaning:
      'A wall that is drawn with lines is filled farther than its lines run, so the edge of the fill was taken as its face.',
    action: 'Look at the place; draw the missing line, or mend the fill.',
  },
  'trace.fill-seam': {
    severity: 'note',
    rule: 'input',
    meaning: 'Two fills stop short of each other by less than any joint and were taken as one body of concrete.',
    action: 'Look at the place in the drawing.',
  },
  'trace.fill-no-wall': {
    severity: 'note',
    rule: 'input',
    meaning: 'Hatches or solids on wall layers that are no cut through a wall, with the reason.',
    action: 'See that no wall is among them.',
  },
  'trace.fill-left': {
    severity: 'attention',
    rule: 'input',
    meaning: 'There are more edges of fills than tracing works through, so the fills were not looked at.',
    action: 'Name the layers of the foundation walls, or an area, in the job file.',
    ask: {
      keys: ['drawing.wallLayers', 'drawing.area'],
      question: 'Which layers hold the walls, and within which area?',
    },
  },
} satisfies Record<string, FindingKind>;
