/** The folders of a watched folder, and which files in it are drawings. */

import { join } from 'node:path';

export interface Places {
  /** Where drawings are dropped. */
  readonly drop: string;
  /** Where results go, one folder a drawing. */
  readonly laidOut: string;
  readonly notLaidOut: string;
  /** Jobs that are not done yet, and those done lately. */
  readonly store: string;
  /** Held by the one program that watches. */
  readonly lock: string;
  /** What is in work and what was passed over, in words. */
  readonly status: string;
}

export const placesIn = (root: string, store = join(root, '.jobs')): Places => ({
  drop: join(root, 'drop-here'),
  laidOut: join(root, 'laid-out'),
  notLaidOut: join(root, 'not-laid-out'),
  store,
  lock: join(root, '.watching'),
  status: join(root, 'status.txt'),
});

/** DWG is no drawing that can be read, but whoever drops one is told so. */
const DRAWING = /\.(dxf|ifc|ifczip|dwg)$/i;
/** What programs leave beside a file that they have open or copy. */
const PASSING = /^[.~]|\.(part|tmp|bak|crdownload|filepart|dwl2?|lck|sv\$)$/i;
/** What belongs to a drawing or is named by its job file. */
const BESIDE = /\.(ya?ml|json|csv|txt)$/i;

export type Kind = 'drawing' | 'beside' | 'passing' | 'other';

export const kindOf = (name: string): Kind =>
  PASSING.test(name) ? 'passing' : DRAWING.test(name) ? 'drawing' : BESIDE.test(name) ? 'beside' : 'other';
