/** Codes of the findings that trace reports. */

import type { FindingKind } from '../findings.js';

export const traceFindings = {
  'trace.no-wall': {
    severity: 'failure',
    rule: 'input',
    meaning: 'No pair of parallel lines in the drawing could be taken as the two faces of a wall.',
    action:
      'Name the layers of the foundation walls under drawing.wallLayers in the job file, and the unit if it is wrong.',
    ask: {
      keys: ['drawing.wallLayers', 'drawing.centreLineLayers', 'drawing.thicknessMm', 'drawing.unit'],
      question: 'Which layers hold the faces of the walls, or their centre lines, and is the unit right?',
    },
  },
  'trace.too-much': {
    severity: 'failure',
    rule: 'input',
    meaning: 'The layers in question hold more lines than tracing works through.',
    action: 'Name the layers of the foundation walls, or an area, in the job file.',
    ask: {
      keys: ['drawing.wallLayers', 'drawing.area'],
      question: 'Which layers hold the walls, and within which area?',
    },
  },
  'trace.layers': {
    severity: 'note',
    rule: 'input',
    meaning: 'Which layers were taken as wall linework, and which were left out.',
    action: 'Look the list over; name the layers under drawing.wallLayers in the job file if it is wrong.',
    ask: {
      keys: ['drawing.wallLayers'],
      question: 'Are these the layers that hold the faces of the walls?',
    },
  },
  'trace.layers-guessed': {
    severity: 'attention',
    rule: 'input',
    meaning: 'No layer name says wall, or only a general one does, so the lines themselves decided what is a wall.',
    action: 'Compare every wall with the drawing, or name the layers under drawing.wallLayers in the job file.',
    ask: {
      keys: ['drawing.wallLayers'],
      question: 'Are these the layers that hold the faces of the walls, and nothing else?',
    },
  },
  'trace.pattern-unmatched': {
    severity: 'attention',
    rule: 'input',
    meaning: 'A layer pattern of the job file matches no visible layer with linework.',
    action: 'Correct the pattern, or turn the layer on in the drawing.',
    ask: {
      keys: ['drawing.wallLayers'],
      question: 'What is this layer called in the drawing?',
    },
  },
  'trace.invisible': {
    severity: 'note',
    rule: 'input',
    meaning: 'Linework on layers that are off or frozen was left out.',
    action: 'Turn the layer on in the drawing if its lines belong to the foundation.',
  },
  'trace.unit-agreed': {
    severity: 'note',
    rule: 'input',
    meaning: 'The unit in the header agrees with what the drawing shows.',
    action: 'Nothing to do.',
    ask: {
      keys: ['drawing.unit'],
      question: 'In which unit are the numbers of the drawing?',
    },
  },
  'trace.unit-inferred': {
    severity: 'attention',
    rule: 'input',
    meaning: 'The header names no unit, or one that the drawing belies, so the unit was taken from the evidence.',
    action: 'Check one known length; set drawing.unit in the job file if the unit is wrong.',
    ask: {
      keys: ['drawing.unit'],
      question: 'In which unit are the numbers of the drawing?',
    },
  },
  'trace.unit-contradicted': {
    severity: 'attention',
    rule: 'input',
    meaning: 'The unit of the job file was used although the drawing speaks for another.',
    action: 'Check one known length against the drawing.',
    ask: {
      keys: ['drawing.unit'],
      question: 'Is the unit in the job file right?',
    },
  },
  'trace.area': {
    severity: 'note',
    rule: 'input',
    meaning: 'Lines that are not wholly inside the area of the job file were left out.',
    action: 'Draw the area so that no wall crosses its border.',
    ask: {
      keys: ['drawing.area'],
      question: 'Does the area hold every wall whole?',
    },
  },
  'trace.filled': {
    severity: 'note',
    rule: 'input',
    meaning: 'Filled areas and hatches on a wall layer were left out: only lines are traced.',
    action: 'See that each wall under them also has its faces drawn as lines.',
  },
  'trace.zero-length': {
    severity: 'note',
    rule: 'input',
    meaning: 'Lines of no length on a wall layer were dropped.',
    action: 'Nothing to do.',
  },
  'trace.unusable': {
    severity: 'attention',
    rule: 'input',
    meaning: 'Lines whose coordinates are no numbers, or lie thousands of kilometres away, were left out.',
    action: 'Repair or delete these lines in the drawing.',
  },
  'trace.duplicate': {
    severity: 'note',
    rule: 'input',
    meaning: 'Lines that lie on each other were taken as one.',
    action: 'Nothing to do.',
  },
  'trace.gap-closed': {
    severity: 'note',
    rule: 'input',
    meaning: 'Lines that stop short of each other were taken as meeting.',
    action: 'Look at the place in the drawing.',
  },
  'trace.overrun-cut': {
    severity: 'note',
    rule: 'input',
    meaning: 'A line that runs past a corner was taken as ending there.',
    action: 'Look at the place in the drawing.',
  },
  'trace.straightened': {
    severity: 'note',
    rule: 'input',
    meaning: 'Lines a little off the direction of the others were taken as parallel to them.',
    action: 'Nothing to do unless the walls are meant to be out of parallel.',
  },
  'trace.pad': {
    severity: 'note',
    rule: 'input',
    meaning: 'A separate rectangle about as wide as long is a pad or a column, not a wall.',
    action: 'Form it apart; it is not in the layout.',
  },
  'trace.footing-outline': {
    severity: 'attention',
    rule: 'input',
    meaning: 'Lines that run outside both faces of a wall at equal distances were taken as the outline of its footing.',
    action: 'Look at the place; if they are walls of their own put them on a wall layer.',
  },
  'trace.centre-line': {
    severity: 'attention',
    rule: 'input',
    meaning: 'A line midway between two wall faces was taken as the centre line of the wall.',
    action: 'Look at the place; if it parts two walls, put it on another layer or draw them apart.',
  },
  'trace.left-out': {
    severity: 'note',
    rule: 'input',
    meaning: 'Lines on a wall layer that are part of no wall, with the reason.',
    action: 'Look over the long ones, which are listed apart.',
  },
  'trace.line-alone': {
    severity: 'attention',
    rule: 'input',
    meaning: 'A line of more than 300 mm on a wall layer is part of no wall.',
    action: 'If it is a wall face, draw the other face or correct the drawing.',
    ask: {
      keys: ['drawing.centreLineLayers', 'drawing.thicknessMm'],
      question: 'Is this line one face of a wall, its centre line, or no wall at all?',
    },
  },
  'trace.thickness-contradicted': {
    severity: 'failure',
    rule: 'input',
    meaning:
      'A text notes a wall thickness that no wall beside it has: a ledge, insulation or footing may have been read as the wall.',
    action:
      'Put what is no wall face on a layer of its own, or name it under drawing.ignoreLayers; or correct the text.',
    ask: {
      keys: ['drawing.ignoreLayers', 'drawing.wallLayers'],
      question: 'Which of these lines are the faces of the wall?',
    },
  },
  'trace.unread-on-wall-layer': {
    severity: 'attention',
    rule: 'input',
    meaning:
      'Solids, regions, meshes or objects of another program lie on a wall layer and cannot be read as linework.',
    action: 'Have them exploded into lines or polylines, or draw the walls over them.',
  },
  'trace.outline-closed': {
    severity: 'attention',
    rule: 'input',
    meaning: 'The outline of a wall was left open by one whole side; the side was taken as a straight face.',
    action: 'Look at the place; draw the missing side if it is another.',
  },
  'trace.skew-end': {
    severity: 'attention',
    rule: 'input',
    meaning:
      'A wall ends at an angle; it was taken as ending square at its longer face, so that the forms hold all of it.',
    action: 'Set the bulkhead aslant by hand, as the drawing shows.',
  },
  'trace.opening-unclear': {
    severity: 'attention',
    rule: 'input',
    meaning: 'A door, window or opening was seen in a wall, but nothing says where its sill and head are.',
    action: 'Give the place under drawing.openings in the job file with sillMm and headMm, or with wallEnds: true.',
    ask: {
      keys: ['drawing.openings'],
      question: 'Does concrete run above or below this opening, or do two walls end here?',
    },
  },
  'trace.one-sided-noted': {
    severity: 'attention',
    rule: 'T21',
    meaning:
      'A note, or a standing wall along one of its faces, says that a wall is cast against something: it was taken as formed on one side, and nothing is laid out there.',
    action:
      'Confirm it with oneSided in the job file, against what and on which side; oneSided: [] where every wall has two faces formed.',
    ask: {
      keys: ['oneSided'],
      question: 'Is this wall formed on one side only, and on which?',
    },
  },
  'trace.one-sided-unplaced': {
    severity: 'attention',
    rule: 'T21',
    meaning:
      'A note says that a wall is formed on one side, but not clearly which: every wall was taken to have two faces formed.',
    action: 'Give in oneSided in the job file a point beside that wall on the side where the forms stand.',
    ask: {
      keys: ['oneSided'],
      question: 'Which wall is formed on one side only?',
    },
  },
  'trace.one-sided-overruled': {
    severity: 'note',
    rule: 'T21',
    meaning:
      'The drawing shows a wall as formed on one side; oneSided in the job file, which may say the same or not, counts alone.',
    action: 'Compare the two, if the wall is not among those that the job file names.',
  },
  'trace.standing-touches': {
    severity: 'failure',
    rule: 'T21',
    meaning:
      'A wall that stands lies in a wall to be cast, or against a part of its face or both of its faces: forms and ties as laid out cannot stand there.',
    action:
      'Correct the drawing where both are drawn in one place; part the wall where it ends to touch; name it in oneSided in the job file if it is cast against what stands.',
    ask: {
      keys: ['oneSided'],
      question: 'Is this wall cast against what stands, and where?',
    },
  },
  'trace.standing-close': {
    severity: 'attention',
    rule: 'T21',
    meaning:
      'A wall that stands is so near to a face of a wall to be cast that forms are not set, clamped and struck there.',
    action:
      'Look at the room on site; name the wall in oneSided in the job file if that face is cast against what stands.',
    ask: {
      keys: ['oneSided'],
      question: 'Is there room for forms between this wall and what stands beside it?',
    },
  },
  'trace.gap-in-wall': {
    severity: 'attention',
    rule: 'input',
    meaning:
      'Two walls in line face each other with a closed break between them: an opening, or the ends of two walls.',
    action: 'Give the place under drawing.openings in the job file with sillMm and headMm, or with wallEnds: true.',
    ask: {
      keys: ['drawing.openings'],
      question: 'Is this break an opening in one wall, or do two walls end here?',
    },
  },
  'trace.opening-over-wall': {
    severity: 'attention',
    rule: 'input',
    meaning: 'Doors, windows or openings are drawn over walls whose faces run through, without a sill or head.',
    action: 'Those that are openings in these walls: give them under drawing.openings with sillMm or headMm.',
    ask: {
      keys: ['drawing.openings'],
      question: 'Are these openings in the walls under them, or do they belong to the storey above?',
    },
  },
  'trace.opening-noted': {
    severity: 'attention',
    rule: 'input',
    meaning: 'The sill and head of an opening were taken from a text of the drawing.',
    action: 'Compare them with the drawing; give them under drawing.openings in the job file if they are wrong.',
    ask: {
      keys: ['drawing.openings'],
      question: 'Are these the sill and head of this opening?',
    },
  },
  'trace.opening-far': {
    severity: 'attention',
    rule: 'input',
    meaning: 'A place under drawing.openings in the job file is near no opening of the drawing.',
    action: 'Correct the place: drawing coordinates, within 1.5 m of the opening.',
    ask: {
      keys: ['drawing.openings'],
      question: 'Where is the opening that this answer is about?',
    },
  },
  'trace.opening-answered-twice': {
    severity: 'attention',
    rule: 'input',
    meaning: 'Two places under drawing.openings in the job file are about one opening; the nearer one holds.',
    action: 'Take the one that is wrong out of the job file, or correct its place.',
    ask: {
      keys: ['drawing.openings'],
      question: 'Which of the two answers holds for this opening?',
    },
  },
  'trace.levels-assumed': {
    severity: 'attention',
    rule: 'input',
    meaning: 'The level of the footing or of the top of the walls was not given and a default was taken.',
    action: 'Give levels.footingMm and levels.topMm in the job file.',
    ask: {
      keys: ['levels.footingMm', 'levels.topMm'],
      question: 'At which levels are the top of the footing and the top of the walls?',
    },
  },
} satisfies Record<string, FindingKind>;
