/** Codes of the findings that tracing of curves reports. */

import type { FindingKind } from '../findings.js';

export const traceCurvesFindings = {
  'trace.curved': {
    severity: 'attention',
    rule: 'input',
    meaning: 'A curved wall was found, with the radius, angle and thickness measured.',
    action: 'Compare the measures with the drawing.',
  },
  'trace.curve-centred': {
    severity: 'attention',
    rule: 'input',
    meaning: 'The two faces of a curved wall are not drawn about quite the same centre and were taken as concentric.',
    action: 'Check the thickness at both ends of the wall.',
  },
  'trace.curve-fitted': {
    severity: 'note',
    rule: 'input',
    meaning: 'Chains of short lines that lie on a circle were taken as arcs.',
    action: 'Look at the curved walls; if they are meant as straight pieces, draw those longer.',
  },
  'trace.curve-alone': {
    severity: 'attention',
    rule: 'input',
    meaning: 'A curve of more than 300 mm on a wall layer is part of no wall.',
    action: 'If it is a wall face, draw the other face about the same centre; form that wall by hand.',
  },
  'trace.curve-left-out': {
    severity: 'note',
    rule: 'input',
    meaning: 'Short curves and door swings on a wall layer that are part of no wall, with the reason.',
    action: 'Look over the long ones, which are listed apart.',
  },
  'trace.curve-too-much': {
    severity: 'attention',
    rule: 'input',
    meaning:
      'The layers in question hold more arcs or short chords than tracing of curves works through: none was traced.',
    action: 'Name the layers of the foundation walls, or an area, in the job file; form curved walls by hand.',
    ask: {
      keys: ['drawing.wallLayers', 'drawing.area'],
      question: 'Which layers hold the walls, and within which area?',
    },
  },
} satisfies Record<string, FindingKind>;
