/** Codes of the findings that trace reports about its choice of linework, view and unit. */

import type { FindingKind } from '../findings.js';

export const traceChoiceFindings = {
  'trace.unit-doubtful': {
    severity: 'attention',
    rule: 'input',
    meaning: 'In no unit is the linework as large as a building.',
    action: 'Check one known length; scale the drawing, or set drawing.unit in the job file.',
    ask: { keys: ['drawing.unit'], question: 'In which unit is the drawing?' },
  },
  'trace.not-new': {
    severity: 'attention',
    rule: 'input',
    meaning:
      "A layer's name says that what is on it stands already, comes down or is no part of this work, so it was left out.",
    action: 'If walls on it are to be formed, name the layer under drawing.wallLayers in the job file.',
    ask: { keys: ['drawing.wallLayers'], question: 'Are walls on this layer to be formed?' },
  },
  'trace.not-cast': {
    severity: 'attention',
    rule: 'input',
    meaning: "A layer's name says walls of masonry, timber, boards or glass, so it was left out.",
    action: 'If walls on it are of concrete, name the layer under drawing.wallLayers in the job file.',
    ask: { keys: ['drawing.wallLayers'], question: 'Are the walls on this layer cast in concrete?' },
  },
  'trace.layers-doubtful': {
    severity: 'attention',
    rule: 'input',
    meaning: 'Layers with the more telling names hold lines that hardly pair as walls, so others were taken.',
    action: 'Name the layers of the walls under drawing.wallLayers in the job file.',
    ask: { keys: ['drawing.wallLayers'], question: 'On which layers are the walls that are to be formed?' },
  },
  'trace.faces-shared': {
    severity: 'attention',
    rule: 'input',
    meaning: 'Walls have one face on the wall layers and the other on a layer that does not say wall.',
    action: 'Compare these walls with the drawing, or name the layers under drawing.wallLayers in the job file.',
    ask: { keys: ['drawing.wallLayers'], question: 'On which layers are the faces of the walls?' },
  },
  'trace.walls-elsewhere': {
    severity: 'attention',
    rule: 'input',
    meaning: 'Another layer named for structural walls holds walls where the layers that were taken have none.',
    action: 'If they are to be formed, name both layers under drawing.wallLayers in the job file.',
    ask: { keys: ['drawing.wallLayers'], question: 'Are these walls to be formed too?' },
  },
  'trace.apart': {
    severity: 'attention',
    rule: 'input',
    meaning: 'No layer name tells what is a wall, and a pair of lines that meets no other wall was left out.',
    action: 'If it is a wall, put it on a layer of its own and name that under drawing.wallLayers in the job file.',
    ask: { keys: ['drawing.wallLayers'], question: 'Is this pair of lines a wall that is to be formed?' },
  },
  'trace.things': {
    severity: 'note',
    rule: 'input',
    meaning: 'No layer name tells what is a wall; blocks named for doors and furniture were left out.',
    action: 'Rename a block that holds walls, or put them on a layer named under drawing.wallLayers.',
  },
  'trace.broken-lines': {
    severity: 'note',
    rule: 'input',
    meaning:
      'Dashed, hidden or centre lines on wall layers were left out, since the solid ones make walls without them.',
    action: 'If they are faces of walls, draw them solid or put them on a layer named under drawing.wallLayers.',
  },
  'trace.view': {
    severity: 'note',
    rule: 'input',
    meaning: 'The model space holds several drawings, and some were left out: which, where and why.',
    action: 'Look the list over; give drawing.area in the job file if the foundation is drawn in another view.',
    ask: {
      keys: ['drawing.area'],
      question: 'Is this the view that is to be formed?',
    },
  },
  'trace.view-doubtful': {
    severity: 'attention',
    rule: 'input',
    meaning: 'Titles and layers do not settle in which of several views the foundation is drawn.',
    action: 'Give drawing.area in the job file: the corners of the view that is to be formed, in drawing units.',
    ask: { keys: ['drawing.area'], question: 'In which part of the drawing are the walls that are to be formed?' },
  },
} satisfies Record<string, FindingKind>;
