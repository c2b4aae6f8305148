/** Codes of the findings that trace reports of models. */

import type { FindingKind } from '../findings.js';

export const traceModelFindings = {
  'trace.no-wall-in-model': {
    severity: 'failure',
    rule: 'input',
    meaning: 'No wall of the model was taken; the finding counts why.',
    action:
      'Name the walls under drawing.takeElements in the job file, or their material under drawing.concreteMaterials; layout.json lists each wall with its reason.',
    ask: {
      keys: ['drawing.takeElements', 'drawing.concreteMaterials', 'drawing.storeys'],
      question: 'Which walls of the model are cast in place and belong to the foundation?',
    },
  },
  'trace.model-walls': {
    severity: 'note',
    rule: 'input',
    meaning: 'Which walls of the model were taken as the foundation, and which were left out, by reason.',
    action:
      'Look the list over; name walls under drawing.takeElements or drawing.ignoreElements in the job file if it is wrong.',
    ask: {
      keys: ['drawing.takeElements', 'drawing.ignoreElements', 'drawing.storeys'],
      question: 'Are these the walls of the foundation?',
    },
  },
  'trace.upstands-left-out': {
    severity: 'note',
    rule: 'input',
    meaning:
      'Footing beams, ground beams and upstands at the level of the foundation are no walls of the model and were left out.',
    action: 'Name those that are to be formed under drawing.takeElements by GlobalId, together with the walls.',
    ask: {
      keys: ['drawing.takeElements'],
      question: 'Is any of this formed with the walls?',
    },
  },
  'trace.model-storeys': {
    severity: 'attention',
    rule: 'input',
    meaning:
      'No footing or raft carries the walls, so names or the lowest level decided which walls are the foundation.',
    action: 'Compare the walls taken with the model; name them or their storey in the job file if they are others.',
    ask: {
      keys: ['drawing.takeElements', 'drawing.storeys'],
      question: 'Which walls or storeys are the foundation?',
    },
  },
  'trace.material-unknown': {
    severity: 'attention',
    rule: 'input',
    meaning: 'Nothing says what a wall at the level of the foundation is made of; it was taken as concrete.',
    action:
      'Name it under drawing.ignoreElements if it is not cast in place, or its material under drawing.concreteMaterials.',
    ask: {
      keys: ['drawing.concreteMaterials', 'drawing.ignoreElements'],
      question: 'Is this wall cast in place?',
    },
  },
  'trace.element-unmatched': {
    severity: 'attention',
    rule: 'input',
    meaning:
      'A name or GlobalId of the job file matches no element, storey or material of the model, or none that the key concerns: names mean walls, other elements are taken by GlobalId alone.',
    action: 'Correct it: names, types, tags and GlobalIds stand in the list of walls in layout.json.',
    ask: {
      keys: ['drawing.takeElements', 'drawing.ignoreElements', 'drawing.storeys', 'drawing.concreteMaterials'],
      question: 'What is it called in the model?',
    },
  },
  'trace.body-unusable': {
    severity: 'failure',
    rule: 'input',
    meaning:
      'A wall that may belong to the foundation, or a footing or raft, has no body that can be cut, or not all of its bodies can: none at all, of no height, or with numbers that are none.',
    action: 'Correct the element in the authoring tool and export the model again.',
  },
  'trace.body-open': {
    severity: 'attention',
    rule: 'input',
    meaning:
      'The faces of a body (of a wall, an opening, or what a wall stands on) do not close; the missing side was taken as straight.',
    action: 'Compare the place with the model; correct the body in the authoring tool.',
  },
  'trace.wall-not-formed': {
    severity: 'failure',
    rule: 'input',
    meaning: 'A wall that was taken has no two faces that run side by side, so that it is no wall for forms.',
    action: 'Look at the element: form it apart, or correct it in the model.',
  },
  'trace.layers-left-out': {
    severity: 'note',
    rule: 'input',
    meaning: 'A wall has bodies for several layers; the concrete alone was taken.',
    action: 'See that what the finding names is not cast with the wall.',
  },
  'trace.layers-unclear': {
    severity: 'failure',
    rule: 'input',
    meaning:
      'A wall has several bodies and several materials, and neither styles, thicknesses nor order tell which body is the concrete.',
    action: 'Export the layers as parts, or the materials with the bodies; or model the concrete by itself.',
  },
  'trace.layers-in-one': {
    severity: 'attention',
    rule: 'input',
    meaning: 'A wall of several layers has one body for all; it was taken at its whole thickness.',
    action: 'If the other layers are not in the forms, model the concrete by itself or export layers as parts.',
    ask: {
      keys: ['drawing.ignoreElements'],
      question: 'Do the other layers stand in the forms?',
    },
  },
  'trace.thickness-varies': {
    severity: 'attention',
    rule: 'T1',
    meaning: 'A wall is not equally thick from its base to its top: a ledge, a batter or a change of thickness.',
    action: 'Form the ledge with a box in the form, or give the wall in two parts; the layout has the thickest.',
  },
  'trace.body-in-triangles': {
    severity: 'failure',
    rule: 'T1',
    meaning:
      'A wall that is to be formed has a body of a kind that is not read exactly; the engine made flat triangles of it.',
    action: 'Compare the wall with the model before anything is built, or save it as an extrusion or with flat faces.',
  },
  'trace.not-plumb': {
    severity: 'failure',
    rule: 'T1',
    meaning: 'The faces of a wall are not plumb: it leans, or its thickness changes evenly with its height.',
    action: 'Form it by hand with faces that lean, or correct the wall in the model; the layout has upright faces.',
  },
  'trace.wall-head': {
    severity: 'failure',
    rule: 'T1',
    meaning: 'The upper part of a wall stands out of its faces: a corbel or a nib. It is not in the layout.',
    action: 'Form what stands out by hand, with a soffit under it, or cast it later.',
  },
  'trace.wall-foot': {
    severity: 'attention',
    rule: 'T23',
    meaning: 'A wall is modelled in one body with a wider foot; the foot was taken as its footing.',
    action: 'See that the foot is cast before the wall; the forms stand on it.',
  },
  'trace.footing-gap': {
    severity: 'attention',
    rule: 'T9',
    meaning: 'A wall stands clear of the footing or raft under it.',
    action:
      'Correct the levels in the model, or give levels.at in the job file; the forms stand at the base of the wall.',
    ask: {
      keys: ['levels.at'],
      question: 'At which level does this wall begin?',
    },
  },
  'trace.footing-reached-into': {
    severity: 'note',
    rule: 'T9',
    meaning: 'A wall is modelled down into its footing or raft, or through it; the forms stand on top of that.',
    action: 'Nothing to do unless the wall is cast before what it reaches into; the layout has no wall below that.',
  },
  'trace.footing-in-wall': {
    severity: 'failure',
    rule: 'T9',
    meaning: 'A footing or raft lies within the height of a wall that goes on far below it.',
    action: 'Look at the place in the model: part the wall there, or give its levels under levels.at in the job file.',
    ask: {
      keys: ['levels.at'],
      question: 'At which level does this wall begin?',
    },
  },
  'trace.footing-missing': {
    severity: 'attention',
    rule: 'T9',
    meaning: 'A wall stands on footings or rafts over a part of its length alone; nothing carries the rest.',
    action:
      'Correct the levels or the footing in the model; where the ground or a slab carries the wall, see that the forms are closed at their foot.',
    ask: {
      keys: ['levels.at'],
      question: 'What carries the wall here, and at which level does it begin?',
    },
  },
  'trace.sloping-top': {
    severity: 'attention',
    rule: 'input',
    meaning: 'The top of a wall slopes or is curved; its highest level was taken as the pour line.',
    action: 'Set a strip or a box in the forms along the top; the pressure is that of the highest level.',
  },
  'trace.sloping-base': {
    severity: 'failure',
    rule: 'T9',
    meaning: 'The base of a wall slopes; forms stand on level ground.',
    action: 'Step the footing in the model, or give the levels of the steps in the job file.',
    ask: {
      keys: ['levels.at', 'levels.steps'],
      question: 'Where does the footing step, and to which levels?',
    },
  },
  'trace.levels-side-by-side': {
    severity: 'attention',
    rule: 'input',
    meaning:
      'Two elements that make one wall differ in their base or top; the lower base and the higher top were taken.',
    action: 'Look at the place in the model; correct the element that is wrong.',
  },
  'trace.levels-overruled': {
    severity: 'attention',
    rule: 'input',
    meaning: 'A level of the job file stands in place of the one that most walls have in the model.',
    action: 'Take the key out of the job file if the model is right.',
    ask: {
      keys: ['levels.footingMm', 'levels.topMm'],
      question: 'Is the level of the job file right, or the model?',
    },
  },
  'trace.recess': {
    severity: 'attention',
    rule: 'input',
    meaning: 'An opening does not go through its wall: a recess or a pocket. It was left out.',
    action: 'Fix a box to the form there, by the model.',
  },
  'trace.opening-not-box': {
    severity: 'attention',
    rule: 'input',
    meaning: 'An opening is round or of another shape; the box around it was taken.',
    action: 'Make the box-out to the shape of the model within the box.',
  },
  'trace.opening-not-placed': {
    severity: 'attention',
    rule: 'input',
    meaning:
      'An opening of a wall that was taken lies outside it, meets none of its straight parts, or has bodies that cannot be used. It, or that part of it, was left out.',
    action: 'Look at the place in the model; box the opening out by hand if there is one.',
  },
  'trace.opening-small': {
    severity: 'note',
    rule: 'input',
    meaning: 'Openings of up to 300 mm both ways were taken as sleeves, which ties keep clear of.',
    action: 'Fix sleeves in the forms by the model.',
  },
  'trace.column-in-wall': {
    severity: 'attention',
    rule: 'input',
    meaning: 'A concrete column stands in or against a wall that was taken; it is not in the layout.',
    action:
      'If it is cast with the wall, name it under drawing.takeElements together with the walls; else form it apart.',
    ask: {
      keys: ['drawing.takeElements'],
      question: 'Is this column cast with the wall?',
    },
  },
} satisfies Record<string, FindingKind>;
