/** All of it, as the writers take it. */

import type { Finding } from '../findings.js';
import type { LengthUnit } from '../units.js';
import type { Catalogue } from './catalogue.js';
import type { Against, Foundation } from './foundation.js';
import type { CheckedLayout } from './layout.js';
import type { ModelHeader } from './model.js';
import type { FacePlan, SurveyedStretch } from './plan.js';
import type { Schedule } from './schedule.js';

export interface SourceFacts {
  /** File name without folders. */
  readonly file: string;
  readonly sha256: string;
  readonly kind: 'dxf' | 'ifc';
  readonly lengthUnit: LengthUnit;
}

/** How a run, or all runs of a stretch, stand by one set of levels. */
export interface Stood {
  readonly basesMm: readonly number[];
  /** Heights of the courses from below, one list for each way in which they stand. */
  readonly courses: readonly (readonly number[])[];
  readonly rowsMm: readonly number[];
  /** Least and greatest gap between footing and base. */
  readonly gapMm: readonly [number, number];
  /** Under the forms, both faces. */
  readonly fillM2: number;
}

/** What measured levels change on a stretch of footing; by the drawn levels, and by the measured ones. */
export interface SurveyChange {
  readonly stretch: SurveyedStretch;
  readonly drawn: Stood;
  readonly measured: Stood;
}

/** A stretch that is not laid out, with what pushes its form per metre of wall. */
export interface SpecialForm {
  readonly wall: string;
  readonly run: string;
  readonly face: string;
  readonly against: Against | null;
  readonly fromMm: number;
  readonly toMm: number;
  readonly footingMm: number;
  readonly topMm: number;
  readonly forceKnPerM: number;
  /** Height of the resultant above the footing, m. */
  readonly armM: number;
  readonly momentKnmPerM: number;
}

/** Hours of one temperature of the surrounding air after the pour, in their order. */
export interface AirSpell {
  readonly hours: number;
  readonly airC: number;
}

/** What is known of the hours that count towards striking: a condition among others. */
export interface Stripping {
  readonly neededH: number;
  readonly leastAirC: number;
  readonly spells: readonly AirSpell[];
  readonly countedH: number;
  /** Hours after the pour at which the count is full; null: not within the spells. */
  readonly fullAfterH: number | null;
}

export type ToleranceCode = 'aci-117' | 'en-13670';

/** How far walls may be off by a code, where the specification says nothing else. */
export interface Tolerances {
  readonly code: ToleranceCode;
  readonly rows: readonly {
    readonly walls: readonly string[];
    readonly thicknessMm: number;
    readonly plusMm: number;
    readonly minusMm: number;
    /** Whether the limits of the thickness were seen in a published page. */
    readonly confirmed: boolean;
    readonly heightMm: number;
    /** Top against foot; null: not known for such a height. */
    readonly plumbMm: number | null;
  }[];
}

/** How high marks and dimensions stand in the model space, and after what. */
export interface Lettering {
  readonly heightMm: number;
  readonly from: 'job' | 'dimensions' | 'texts' | 'usual';
  /** The height that was found or stated, before it was kept within its limits; null: nothing was. */
  readonly statedMm: number | null;
  /** How many dimensions or texts of the drawing it is the median of. */
  readonly count: number;
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
  /** In the order of the walls; absent where there are none. */
  readonly specialForms?: readonly SpecialForm[];
  /** Hours that count towards striking; without spells nothing is known of the air. */
  readonly stripping?: Stripping;
  readonly tolerances?: Tolerances;
  /** Absent: as high as usual. */
  readonly lettering?: Lettering;
  /** Where footings were measured. */
  readonly survey?: readonly SurveyChange[];
  /** All findings so far, in the order of compareFindings. */
  readonly findings: readonly Finding[];
}
