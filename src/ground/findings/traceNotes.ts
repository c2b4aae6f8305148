/** Codes of the findings that trace reports about what the drawing's texts say. */

import type { FindingKind } from '../findings.js';

export const traceNoteFindings = {
  'trace.levels-noted': {
    severity: 'note',
    rule: 'input',
    meaning: 'The general level of the footings or of the tops of the walls was taken from the drawing.',
    action: 'Compare it with the drawing; give levels.footingMm and levels.topMm in the job file if it is wrong.',
  },
  'trace.level-near': {
    severity: 'note',
    rule: 'input',
    meaning: 'A note near one wall gives it a level of its own.',
    action: 'See that it is meant for that wall; give the right level under levels.at in the job file if not.',
  },
  'trace.level-conflict': {
    severity: 'attention',
    rule: 'input',
    meaning:
      'Two notes, a note and the job file, or a note and the height at which the lines are drawn give different levels.',
    action: 'Find out which one holds and give it in the job file.',
    ask: {
      keys: ['levels.footingMm', 'levels.topMm', 'levels.at'],
      question: 'Which of these levels holds?',
    },
  },
  'trace.level-unclear': {
    severity: 'attention',
    rule: 'input',
    meaning:
      'A note gives a level but not of what or for which wall, or it is measured from something else; it was not used.',
    action: 'Give the level in the job file if the walls depend on it.',
    ask: {
      keys: ['levels.footingMm', 'levels.topMm', 'levels.at'],
      question: 'Of which wall is this level, and is it the top of its footing or the top of the wall?',
    },
  },
  'trace.level-absurd': {
    severity: 'attention',
    rule: 'input',
    meaning:
      'The levels that are noted would make walls lower than 100 mm or higher than 12 m: two datums are mixed, or a note is misread. They were not used.',
    action: 'Give both levels in one datum in the job file.',
    ask: {
      keys: ['levels.footingMm', 'levels.topMm', 'levels.at'],
      question: 'At which levels, in one datum, are the top of the footing and the top of the wall?',
    },
  },
  'trace.footing-bottom': {
    severity: 'attention',
    rule: 'input',
    meaning:
      'A note gives the bottom of a footing; its top, where the wall stands, follows only from the depth of the footing.',
    action: 'Give the level of the top of the footing in the job file.',
    ask: {
      keys: ['levels.footingMm', 'levels.at'],
      question: 'At which level is the top of this footing?',
    },
  },
  'trace.levels-drawn': {
    severity: 'attention',
    rule: 'input',
    meaning: 'The lines of the walls are drawn at a height of their own, which may be their level.',
    action: 'Compare it with the drawing; give levels.footingMm and levels.topMm in the job file if it is wrong.',
    ask: {
      keys: ['levels.footingMm', 'levels.topMm'],
      question: 'Is the height at which the lines are drawn the level of the walls?',
    },
  },
  'trace.step-noted': {
    severity: 'note',
    rule: 'input',
    meaning: 'A note marks a step of the footing or of the top of a wall.',
    action: 'Compare the place with the drawing; give it under levels.steps in the job file if it is wrong.',
  },
  'trace.step-unclear': {
    severity: 'attention',
    rule: 'input',
    meaning: 'A note speaks of a step, but not of what or not near a wall, so it was not used.',
    action: 'Give the step under levels.steps in the job file if the footing or the wall steps there.',
    ask: {
      keys: ['levels.steps'],
      question: 'Does the footing or the top of a wall step here?',
    },
  },
  'trace.step-where': {
    severity: 'attention',
    rule: 'input',
    meaning:
      'Notes give one wall two levels, and nothing marks where the one changes into the other; none of the two was used.',
    action:
      'Give the place of the step under levels.steps and the levels on both sides of it under levels.at in the job file.',
    ask: {
      keys: ['levels.steps', 'levels.at'],
      question: 'Where on this wall does the level step?',
    },
  },
  'trace.bars-noted': {
    severity: 'attention',
    rule: 'input',
    meaning:
      'The plan notes reinforcement of the walls. It is offered for the check of ties against bars and is not used until a person confirms it.',
    action: 'Compare the bars with the reinforcement drawings before a tie is placed by them.',
  },
  'trace.notes-too-many': {
    severity: 'attention',
    rule: 'input',
    meaning: 'The drawing holds more texts or leaders than tracing reads.',
    action: 'Give the levels in the job file, or an area under drawing.area.',
    ask: {
      keys: ['drawing.area', 'levels.footingMm', 'levels.topMm'],
      question: 'Within which area does the foundation plan stand, and at which levels?',
    },
  },
} satisfies Record<string, FindingKind>;
