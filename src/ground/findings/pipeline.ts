/** Codes of the findings that pipeline reports: the job file, the defaults that mattered, and the limits of a job. */

import type { FindingKind } from '../findings.js';

export const pipelineFindings = {
  'pipeline.job-refused': {
    severity: 'failure',
    rule: 'input',
    meaning: 'The job file has a key that is not known, or a value that cannot be used; nothing was laid out.',
    action: 'Correct the key that the sentence names; docs/reference/job-file.md lists all of them.',
  },
  'pipeline.pour-far': {
    severity: 'attention',
    rule: 'input',
    meaning: 'A point that names a wall of a pour stands far from every wall; the nearest was taken.',
    action: 'Correct the point in the job file; coordinates are those of the drawing, in its unit.',
  },
  'pipeline.pour-joint': {
    severity: 'attention',
    rule: 'T16',
    meaning: 'Walls of different pours meet: the joint between them and its bulkhead are not laid out.',
    action: 'Place the pour joint with the engineer, and detail bulkhead, keyway and lap on the cast concrete there.',
  },
  'pipeline.pour-rest': {
    severity: 'attention',
    rule: 'input',
    meaning: 'The job file names pours, and walls that stand in none of them; they are taken as a last pour.',
    action: 'Name a pour for each wall.',
  },
  'pipeline.pour-twice': {
    severity: 'attention',
    rule: 'input',
    meaning: 'The job file names one wall in two pours; a wall is poured at once, in the pour whose point is nearer.',
    action: 'Keep one of the two points; a wall that is poured in parts is not laid out yet.',
  },
  'pipeline.stock-unknown': {
    severity: 'attention',
    rule: 'input',
    meaning: 'The stock names items that the catalogue does not have; their counts limit nothing.',
    action: 'Write the items as the catalogue does (`shutterwright gear` prints them).',
  },
  'pipeline.stock-refused': {
    severity: 'failure',
    rule: 'input',
    meaning: 'The stock list is not a list of items with whole counts; nothing was laid out.',
    action: 'Give the stock as `item: count`, one a line.',
  },
  'pipeline.not-used-here': {
    severity: 'attention',
    rule: 'input',
    meaning: 'The job file has a key that a file of this kind (drawing or model) has no use for.',
    action: 'Say it by the keys that the message names, or leave the key out.',
  },
  'pipeline.model-not-written': {
    severity: 'failure',
    rule: 'input',
    meaning: 'The model of the forms, or the topics of the findings, could not be written.',
    action: 'Use the drawing, the layout and the lists; report the message to whoever looks after the program.',
  },
  'pipeline.not-used-yet': {
    severity: 'attention',
    rule: 'input',
    meaning: 'The job file gives something that this version reads but does not use: the layout takes no heed of it.',
    action: 'Deal with it by hand; docs/reference/not-yet.md says what is missing.',
  },
  'pipeline.lifts': {
    severity: 'attention',
    rule: 'T11',
    meaning: 'A wall is higher than the pour height of the job file, so it is taken to be poured in lifts.',
    action:
      'Let each lift set before the next; where a wall is poured in one go leave `concrete.pourHeightMm` out, since fresh concrete then presses over its whole height.',
  },
  'pipeline.catalogue-defaulted': {
    severity: 'note',
    rule: 'input',
    meaning: 'No catalogue was named, so an invented demonstration yard was used.',
    action: 'Name the catalogue of your own yard before anything is built from the layout.',
  },
  'pipeline.method-defaulted': {
    severity: 'note',
    rule: 'input',
    meaning: 'No method for the concrete pressure was named; ACI 347 was used, in the units of the job file.',
    action: 'Name concrete.method as your code demands it.',
  },
  'pipeline.rate-defaulted': {
    severity: 'attention',
    rule: 'T20',
    meaning: 'No rate of rise was given; the pressure, and so ties and panels, rest on an assumed one.',
    action: 'Give concrete.rateMPerH as planned, and keep to it on site.',
  },
  'pipeline.temperature-defaulted': {
    severity: 'attention',
    rule: 'T20',
    meaning: 'No concrete temperature was given; the pressure rests on an assumed one. Colder concrete presses more.',
    action: 'Give concrete.temperatureC, that of the concrete when it is placed.',
  },
  'pipeline.concrete-defaulted': {
    severity: 'note',
    rule: 'input',
    meaning: 'A property of the concrete that the method needs was not given and was assumed.',
    action: 'Give it in the job file under the key that the finding names.',
  },
  'pipeline.concrete-not-used': {
    severity: 'attention',
    rule: 'input',
    meaning: 'The job file says something of the concrete that its pressure method does not ask for.',
    action: 'See that the method is the one you mean; take the key out, or choose a method that uses it.',
  },
  'pipeline.overhang-raised': {
    severity: 'attention',
    rule: 'T10',
    meaning: 'The job file allows panels to overhang their outermost support by more than the catalogue does.',
    action: 'Ask the maker of the gear, or take limits.overhangMm out of the job file.',
  },
  'pipeline.drawing-not-written': {
    severity: 'failure',
    rule: 'input',
    meaning: 'The drawing could not be written, or what was written did not read back as meant; it is not handed over.',
    action: 'Use the report and layout.json; try the other output mode; report the drawing as a fault of this program.',
  },
  'pipeline.out-of-time': {
    severity: 'failure',
    rule: 'input',
    meaning: 'The job did not end within its time limit and was ended; nothing was handed over.',
    action: 'Hand in the foundation alone, limit drawing.area, or raise the time limit.',
  },
  'pipeline.out-of-memory': {
    severity: 'failure',
    rule: 'input',
    meaning: 'The job needed more memory than its limit and was ended; nothing was handed over.',
    action: 'Hand in the foundation alone, limit drawing.area, or raise the memory limit.',
  },
  'pipeline.file-too-large': {
    severity: 'failure',
    rule: 'input',
    meaning: 'The file is larger than is taken on; it was not read.',
    action: 'Hand in the foundation alone.',
  },
  'pipeline.survey-refused': {
    severity: 'failure',
    rule: 'input',
    meaning: 'The list of measured levels cannot be used; nothing was laid out.',
    action: 'Give one point a line, as x, y, level; docs/reference/job-file.md tells how.',
  },
  'pipeline.survey-courses': {
    severity: 'attention',
    rule: 'T9',
    meaning: 'At the measured levels other courses stand than at the drawn ones.',
    action: 'Compare the forms on site with the new list before they are set; the report tells both.',
  },
} satisfies Record<string, FindingKind>;
