/** What a pressure method takes. The types are discriminated by `method`. */

/** How the concrete is placed: what the ACI formulas presuppose. Left out: as presupposed. */
export interface Placing {
  /** mm; null: not given, taken to be within the formula's range, which is said. */
  readonly slumpMm: number | null;
  /** Depth of internal vibration below the surface, mm. */
  readonly vibrationDepthMm?: number;
  readonly externalVibration?: boolean;
  readonly selfCompacting?: boolean;
  readonly expansiveCement?: boolean;
  /** Pumped into the form from its base. */
  readonly pumpedFromBase?: boolean;
}

export interface AciSiInputs extends Placing {
  readonly method: 'aci-347-si';
  readonly rateMPerH: number;
  readonly temperatureC: number;
  readonly densityKgPerM3: number;
  /** Cc: 1.0, 1.2 or 1.4 by cement and retarder. */
  readonly chemistryCoefficient: number;
}

export interface AciUsInputs extends Placing {
  readonly method: 'aci-347-us';
  readonly rateFtPerH: number;
  readonly temperatureF: number;
  readonly densityPcf: number;
  readonly chemistryCoefficient: number;
}

/** Flow classes of EN 206 by spread, and self-compacting concrete. */
export type Consistency = 'F1' | 'F2' | 'F3' | 'F4' | 'F5' | 'F6' | 'SVB';

export interface DinInputs {
  readonly method: 'din-18218';
  readonly rateMPerH: number;
  readonly temperatureC: number;
  readonly densityKgPerM3: number;
  /** null: not given, and then the method says nothing. */
  readonly consistency: Consistency | null;
  /** End of setting tE after mixing, h; null: not given. */
  readonly settingTimeH: number | null;
  readonly externalVibration?: boolean;
  readonly pumpedFromBase?: boolean;
}

export interface CiriaInputs {
  readonly method: 'ciria-108';
  readonly rateMPerH: number;
  readonly temperatureC: number;
  readonly densityKgPerM3: number;
  /** 0.3, 0.45 or 0.6 by cement and admixture. */
  readonly c2: number;
  readonly externalVibration?: boolean;
  readonly selfCompacting?: boolean;
  readonly underwater?: boolean;
  readonly pumpedFromBase?: boolean;
}

export interface HydrostaticInputs {
  readonly method: 'hydrostatic';
  readonly densityKgPerM3: number;
  /** Not used by the method; recorded. */
  readonly rateMPerH: number;
  readonly temperatureC: number;
}

export type ConcreteInputs = AciSiInputs | AciUsInputs | DinInputs | CiriaInputs | HydrostaticInputs;

/** What is poured at once, as far as a method asks. */
export interface PourShape {
  /** Height of the form, mm; left out: that of the pour. */
  readonly formHeightMm?: number;
  /** Stands alone, both sides of its plan no longer than 2 m. */
  readonly isColumn?: boolean;
}
