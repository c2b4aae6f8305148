/** All of it, as the writers take it. */

import type { Finding } from '../findings.js';
import type { LengthUnit } from '../units.js';
import type { Catalogue } from './catalogue.js';
import type { Foundation } from './foundation.js';
import type { CheckedLayout } from './layout.js';
import type { ModelHeader } from './model.js';
import type { FacePlan } from './plan.js';
import type { Schedule } from './schedule.js';

export interface SourceFacts {
  /** File name without folders. */
  readonly file: string;
  readonly sha256: string;
  readonly kind: 'dxf' | 'ifc';
  readonly lengthUnit: LengthUnit;
}

/** Everything that a writer may need. */
export interface Result {
  readonly source: SourceFacts;
  readonly foundation: Foundation;
  /** Of a model alone: what the model of the formwork takes over. */
  readonly model?: ModelHeader;
  readonly plan: FacePlan;
  readonly catalogue: Catalogue;
  readonly layout: CheckedLayout;
  readonly schedule: Schedule;
  /** All findings so far, in the order of compareFindings. */
  readonly findings: readonly Finding[];
}
