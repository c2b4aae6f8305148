/** Codes of the findings that read reports of models. */

import type { FindingKind } from '../findings.js';

const SAVE_AGAIN = 'Save the model again from the program that made it, and compare what was laid out with the model.';

export const readIfcFindings = {
  'read.model-refused': {
    severity: 'failure',
    rule: 'input',
    meaning: 'The file cannot be read as a building model; the message says what it is or what is wrong with it.',
    action: 'Hand in the model as IFC2X3, IFC4 or IFC4X3 in STEP text (.ifc), alone or in a ZIP (.ifczip).',
  },
  'read.model-cut': {
    severity: 'failure',
    rule: 'input',
    meaning: 'The model ends before its end mark; what was there was read.',
    action: 'Get the file again: a download or copy broke off. What is laid out covers only the part that was read.',
  },
  'read.model-header': {
    severity: 'attention',
    rule: 'input',
    meaning: 'The header of the model is not well-formed; schema and date were read from what is there.',
    action: SAVE_AGAIN,
  },
  'read.model-encoding': {
    severity: 'attention',
    rule: 'input',
    meaning: 'The model holds bytes that are no letters in UTF-8.',
    action: 'Check names of elements and materials that walls are chosen by.',
  },
  'read.model-instance-twice': {
    severity: 'attention',
    rule: 'input',
    meaning: 'Instance numbers are given to more than one instance.',
    action: SAVE_AGAIN,
  },
  'read.model-missing': {
    severity: 'attention',
    rule: 'input',
    meaning: 'The model refers to instances that it does not hold.',
    action: SAVE_AGAIN,
  },
  'read.model-circular': {
    severity: 'failure',
    rule: 'input',
    meaning: 'Instances refer to themselves, directly or through others, and cannot be resolved.',
    action: SAVE_AGAIN,
  },
  'read.model-broken': {
    severity: 'attention',
    rule: 'input',
    meaning: 'Instances lack what their schema demands and were left out.',
    action: SAVE_AGAIN,
  },
  'read.model-junk': {
    severity: 'attention',
    rule: 'input',
    meaning: 'Part of the data section is not made of instances and was left out.',
    action: SAVE_AGAIN,
  },
  'read.model-project': {
    severity: 'attention',
    rule: 'input',
    meaning: 'The model has no project, which every model must have.',
    action: 'Check the unit of length; save the model again as a whole.',
  },
  'read.model-unit': {
    severity: 'failure',
    rule: 'input',
    meaning: 'A unit of length, angle or area is missing or cannot be read.',
    action: 'Check the sizes that are laid out; give the model its units.',
  },
  'read.model-odd-unit': {
    severity: 'note',
    rule: 'input',
    meaning: 'The unit of length of the model is none that drawings have; sizes are converted exactly.',
    action: 'Nothing; the drawing that is written is in the unit named.',
  },
  'read.model-placement': {
    severity: 'failure',
    rule: 'input',
    meaning:
      'Elements or shapes are placed in a way that is not read: along a grid or an alignment, or a placement is broken.',
    action: 'Export the model with plain local placements.',
  },
  'read.model-direction': {
    severity: 'attention',
    rule: 'input',
    meaning: 'Directions of placements or extrusions say nothing: they are missing, zero, or both are parallel.',
    action: 'Look whether what is placed or swept by them stands as in the model.',
  },
  'read.model-mapping-origin': {
    severity: 'note',
    rule: 'input',
    meaning: 'Shapes that are used many times have an origin other than their own zero.',
    action: 'Look whether they stand as in the model.',
  },
  'read.model-no-body': {
    severity: 'attention',
    rule: 'input',
    meaning: 'Elements that may matter have no body, or one that cannot be read.',
    action: 'Export the model with bodies of these elements, if they are walls, footings or slabs of the foundation.',
  },
  'read.model-opening': {
    severity: 'attention',
    rule: 'input',
    meaning: 'Openings without a body cut nothing.',
    action: 'Look at the walls with these openings.',
  },
  'read.model-size': {
    severity: 'attention',
    rule: 'input',
    meaning: 'Bodies have sizes that no body can have.',
    action: 'Look at the elements named; model them again if they belong to the foundation.',
  },
  'read.model-shape': {
    severity: 'attention',
    rule: 'input',
    meaning:
      'Shapes of a kind that is not read, and that the engine for the rest cannot tessellate either, were left out.',
    action: 'Look at the elements named; export them as extrusions or breps if they belong to the foundation.',
  },
  'read.model-tessellated': {
    severity: 'note',
    rule: 'input',
    meaning: 'Shapes with curved or special surfaces are held as flat triangles.',
    action: 'Nothing, unless walls of the foundation are among them; straight walls are best exported as extrusions.',
  },
  'read.model-clip-left': {
    severity: 'attention',
    rule: 'input',
    meaning: 'What cuts a body off cannot be read, so that the body may be larger than in the model.',
    action: 'Compare ends and tops of the elements named with the model.',
  },
  'read.model-chords': {
    severity: 'note',
    rule: 'input',
    meaning: 'Ellipses and free curves are held as short straight pieces.',
    action: 'Nothing; draw arcs as arcs where a curved wall is to be formed exactly.',
  },
  'read.model-global-id': {
    severity: 'attention',
    rule: 'input',
    meaning:
      'Elements have no GlobalId as IFC defines it, so that findings and forms refer to them by what stands there.',
    action: SAVE_AGAIN,
  },
  'read.model-duplicate-id': {
    severity: 'attention',
    rule: 'input',
    meaning: 'GlobalIds, which should be unique, stand more than once.',
    action: 'Let the author of the model mend it, if forms are to be laid over the model.',
  },
  'read.model-storey-level': {
    severity: 'note',
    rule: 'input',
    meaning: 'The elevation that a storey states differs from where it stands.',
    action: 'Nothing; levels are taken from where things stand.',
  },
  'read.model-world': {
    severity: 'note',
    rule: 'input',
    meaning: 'The model states a coordinate system of its world besides its placements.',
    action: 'Nothing; what is written has the same one.',
  },
  'read.model-georeference': {
    severity: 'attention',
    rule: 'input',
    meaning: 'How the model lies on its map could not be read in full.',
    action: 'Check the place of the forms in the coordinator before they are used.',
  },
  'read.model-bars': {
    severity: 'attention',
    rule: 'input',
    meaning: 'Reinforcement was not read as bars; ties are not checked against it.',
    action: 'Check ties against this reinforcement by hand, or state the bars in the job file.',
  },
  'read.model-open-curve': {
    severity: 'attention',
    rule: 'input',
    meaning: 'Outlines that must be closed are open; they were closed by a straight line.',
    action: 'Compare the elements named with the model.',
  },
  'read.model-parts-left': {
    severity: 'note',
    rule: 'input',
    meaning: 'Parts of elements that have a body themselves were not read: the body of the whole counts.',
    action: 'Nothing, unless the body of the whole does not hold its parts.',
  },
  'read.model-unread': {
    severity: 'note',
    rule: 'input',
    meaning:
      'Elements of kinds that are neither walls nor in their way, or whose shape is no solid body, were not read.',
    action: 'Nothing, unless a wall, a footing or a sleeve is among them: then export it as what it is.',
  },
} satisfies Record<string, FindingKind>;
